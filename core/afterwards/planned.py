"""The dials that were noted beside those that were planned for the same moment."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.afterwards.rows import LogRow
from core.base.units import INSIDE_DEG
from core.mount.dial.readings import (
    DialReading,
    azimuth_curve,
    azimuth_dial,
    azimuth_from_dial,
    elevation_dial,
    elevation_from_dial,
    round_to_half_division,
)
from core.mount.evening.drawn import postures_of
from core.mount.model.station import AzimuthAxis, Mount, Posture

#: A moment may lie so far outside its pass before it cannot be meant, s: clocks and elements are off.
OUTSIDE_S = 60.0


@dataclass(frozen=True)
class Planned:
    """Where the mount was to be at one moment of a pass.

    Attributes:
        m_deg, e_deg: the axes.
        off_deg: of the satellite, by plan: at a stop, in a move.
        posture: upright or over the top; None in a split's move.
        azimuth, elevation: the dials as they were printed.
    """

    m_deg: float
    e_deg: float
    off_deg: float
    posture: Posture | None
    azimuth: DialReading
    elevation: DialReading


def planned_at(row: LogRow, utc_s: float, mount: Mount) -> Planned | None:
    """What was planned for a moment, held inside the pass; None where the pass is out of reach."""
    pointing = row.check.pointing
    if pointing is None:
        return None
    m_deg, e_deg, off_deg = (
        float(np.interp(utc_s, pointing.utc_s, values))
        for values in (pointing.m_deg, pointing.e_deg, pointing.off_deg)
    )
    return Planned(
        m_deg=m_deg,
        e_deg=e_deg,
        off_deg=off_deg,
        posture=_posture(row, utc_s),
        azimuth=azimuth_dial(m_deg, mount.azimuth),
        elevation=elevation_dial(e_deg, mount.elevation),
    )


def _posture(row: LogRow, utc_s: float) -> Posture | None:
    split = row.check.split
    first, last = postures_of(row.check)
    if split is None or utc_s <= split.start_utc_s:
        return first
    return last if utc_s >= split.end_utc_s else None


def is_within(row: LogRow, utc_s: float) -> bool:
    """Whether a moment can be one of the pass."""
    pass_ = row.pass_
    return pass_.aos.utc_s - OUTSIDE_S <= utc_s <= pass_.los.utc_s + OUTSIDE_S


def place_meant(
    dial_deg: float, time_round: int | None, planned_m_deg: float | None, axis: AzimuthAxis
) -> float | None:
    """The mechanical azimuth that a figure means: as told, else the nearest to what was planned.

    None where no place of the travel shows it, or not so many.
    """
    places = azimuth_from_dial(dial_deg, axis)
    if time_round is not None:
        return places[time_round - 1] if time_round <= len(places) else None
    if not places:
        return None
    return places[0] if planned_m_deg is None else min(places, key=lambda m: abs(m - planned_m_deg))


def azimuth_more_deg(row: LogRow, mount: Mount) -> float | None:
    """Azimuth dial noted less planned, of the dial running on; None where there is nothing to compare."""
    entry, planned = row.entry, planned_at(row, row.best_utc_s, mount)
    if entry is None or entry.azimuth_dial_deg is None or planned is None:
        return None
    axis = mount.azimuth
    place = place_meant(entry.azimuth_dial_deg, entry.time_round, planned.m_deg, axis)
    if place is None:
        return None
    curve = azimuth_curve(axis)
    return _more(
        curve.dial_at(place), round_to_half_division(curve.dial_at(planned.m_deg), axis.dial_division_deg)
    )


def elevation_more_deg(row: LogRow, mount: Mount) -> float | None:
    """Elevation dial noted less planned; None where there is nothing to compare."""
    entry, planned = row.entry, planned_at(row, row.best_utc_s, mount)
    if entry is None or entry.elevation_dial_deg is None or planned is None:
        return None
    if elevation_from_dial(entry.elevation_dial_deg, mount.elevation) is None:
        return None
    return _more(entry.elevation_dial_deg, planned.elevation.shown_deg)


def _more(noted_deg: float, planned_deg: float) -> float:
    more = noted_deg - planned_deg
    return 0.0 if abs(more) <= INSIDE_DEG else more
