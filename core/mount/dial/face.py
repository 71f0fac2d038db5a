"""The azimuth dial as it is drawn: where its figures and divisions stand along the travel."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.units import INSIDE_DEG
from core.mount.dial.readings import DialReading, azimuth_curve, azimuth_dial
from core.mount.model.station import AzimuthAxis

_ROUND_DEG = (1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 45.0, 90.0, 180.0, 360.0)


@dataclass(frozen=True)
class DialFace:
    """Marks along the travel, by mechanical azimuth.

    Attributes:
        figures: where a round figure stands, and the reading there.
        divisions_m_deg: where the dial's divisions stand; empty where there are too many to draw.
        wraps_m_deg: where the dial jumps from "wraps at" to "wraps to".
    """

    figures: tuple[tuple[float, DialReading], ...]
    divisions_m_deg: tuple[float, ...]
    wraps_m_deg: tuple[float, ...]


def dial_face(axis: AzimuthAxis, most_figures: int = 9, most_divisions: int = 120) -> DialFace:
    """The face of a dial with at most so many figures and divisions."""
    curve = azimuth_curve(axis)
    swing = abs(curve.dial_at(axis.travel_deg) - curve.dial_at(0.0))
    step = next((step for step in _ROUND_DEG if swing / step < most_figures), 0.0)
    if not step:
        step = 360.0 * math.ceil(swing / 360.0 / most_figures)
    marks = figure_places_deg(axis, step)
    division = axis.dial_division_deg
    fine = figure_places_deg(axis, division) if swing / division <= most_divisions else ()
    return DialFace(tuple((m, azimuth_dial(m, axis)) for m in marks), fine, _wraps(axis))


def figure_places_deg(axis: AzimuthAxis, step: float, first: float = 0.0) -> tuple[float, ...]:
    """Every m in the travel at which the running dial is ``first`` plus a multiple of the step, rising."""
    curve = azimuth_curve(axis)
    ends = curve.dial_at(0.0), curve.dial_at(axis.travel_deg)
    numbers = range(
        math.ceil((min(ends) - first - INSIDE_DEG) / step),
        math.floor((max(ends) - first + INSIDE_DEG) / step) + 1,
    )
    places = (curve.axis_at(first + number * step) for number in numbers)
    return tuple(sorted(min(max(m, 0.0), axis.travel_deg) for m in places))


def _wraps(axis: AzimuthAxis) -> tuple[float, ...]:
    if axis.dial_wraps_at_deg is None or axis.dial_wraps_to_deg is None:
        return ()
    return figure_places_deg(axis, axis.dial_wraps_at_deg - axis.dial_wraps_to_deg, axis.dial_wraps_at_deg)
