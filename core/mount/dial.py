"""The dials: what the controller's indicator shows for a mechanical angle, and what to print of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.mount.stack import AzimuthAxis, ElevationAxis
from core.units import INSIDE_DEG


@dataclass(frozen=True)
class DialReading:
    """What the operator reads.

    Attributes:
        value_deg: the figure on the dial, unrounded.
        shown_deg: to half a division.
        time_round: which of the mechanical azimuths that read this figure is meant, counted from the
            counter-clockwise stop, 1 for the first.
        times_in_all: how many mechanical azimuths inside the travel read this figure.
    """

    value_deg: float
    shown_deg: float
    time_round: int = 1
    times_in_all: int = 1

    @property
    def text(self) -> str:
        """``"212.5"``, or ``"20, second time round"`` where the dial reads the same twice."""
        figure = dial_figure(self.shown_deg)
        return figure if self.times_in_all < 2 else f"{figure}, {ordinal(self.time_round)} time round"

    @property
    def short(self) -> str:
        """``"212.5"``, or ``"20 (2nd)"``: for narrow columns."""
        figure = dial_figure(self.shown_deg)
        if self.times_in_all < 2:
            return figure
        return f"{figure} ({['1st', '2nd', '3rd', '4th', '5th'][min(self.time_round, 5) - 1]})"


def ordinal(number: int) -> str:
    """``first``, ``second``, ... in words."""
    words = ("first", "second", "third", "fourth", "fifth")
    return words[number - 1] if 1 <= number <= len(words) else f"{number}th"


def dial_figure(shown_deg: float) -> str:
    """A rounded reading without needless decimals: 212, 212.5, 212.25."""
    return f"{shown_deg + 0.0:.2f}".rstrip("0").rstrip(".")


def round_to_half_division(value_deg: float, division_deg: float) -> float:
    """Nearest half division, halves upward."""
    half = division_deg / 2.0
    return math.floor(value_deg / half + 0.5) * half + 0.0


def _wrap(value_deg: float, axis: AzimuthAxis) -> float:
    """Into [wraps_to, wraps_at), the dial's own circle; runs on where none is stated."""
    if axis.dial_wraps_at_deg is None or axis.dial_wraps_to_deg is None:
        return value_deg
    span = axis.dial_wraps_at_deg - axis.dial_wraps_to_deg
    return axis.dial_wraps_to_deg + (value_deg - axis.dial_wraps_to_deg) % span


def azimuth_dial(m_deg: float, axis: AzimuthAxis) -> DialReading:
    """The azimuth dial at mechanical azimuth m (0 on the counter-clockwise stop)."""
    running = axis.dial_at_stop_deg + axis.dial_scale * m_deg
    shown = _wrap(round_to_half_division(running, axis.dial_division_deg), axis)
    value = _wrap(running, axis)
    if axis.dial_wraps_at_deg is None or axis.dial_wraps_to_deg is None:
        return DialReading(value, shown)
    turn = (axis.dial_wraps_at_deg - axis.dial_wraps_to_deg) / abs(axis.dial_scale)
    below = math.floor((m_deg + INSIDE_DEG) / turn)
    above = math.floor((axis.travel_deg - m_deg + INSIDE_DEG) / turn)
    return DialReading(value, shown, max(below, 0) + 1, max(below, 0) + max(above, 0) + 1)


def elevation_dial(e_deg: float, axis: ElevationAxis) -> DialReading:
    """The elevation dial at axis angle e (0 level, 90 up, above 90 over the top)."""
    value = e_deg + axis.dial_offset_deg
    return DialReading(value, round_to_half_division(value, axis.dial_division_deg))
