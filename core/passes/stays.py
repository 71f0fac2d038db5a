"""A stay of a satellite over the horizon: the moments told of it, and its states at any moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.base.angles import Floats, wrap_180
from core.base.curves import hermite
from core.base.errors import ValueRangeError
from core.base.times import format_iso
from core.passes.frames import azimuth_elevation

Cut = Literal["start", "end", "both"]

#: Crossings, peaks and ends are refined to this many seconds.
TIME_TOLERANCE_S = 1e-5
#: What is over a limit, or between two stretches over it, for less than this is a touch.
SHORTEST_S = 1e-3
#: Times this far outside a stay are taken as its ends.
_OUTSIDE_S = 1e-3
#: No two samples are further apart in azimuth, unless they are closer than this in time.
_AZIMUTH_STEP_DEG = 90.0
_FINEST_S = 1e-4


@dataclass(frozen=True)
class Event:
    """A moment of a pass.

    Attributes:
        utc_s: POSIX seconds UTC.
        azimuth_deg: true, 0 to 360.
        elevation_deg: geometric, -90 to 90.
        range_km: slant range.
    """

    utc_s: float
    azimuth_deg: float
    elevation_deg: float
    range_km: float


@dataclass(frozen=True, eq=False)
class Stay:
    """One stay of a satellite over the search floor (the horizon, or the mask's lowest point if negative).

    Attributes:
        satellite: object name.
        norad_id: catalogue number.
        utc_s: knots (N,), rising.
        position_km: (N, 3) topocentric east, north, up.
        velocity_km_s: (N, 3) the same axes, as seen from the turning ground.
        cut: which ends are the window's (or the element set's last valid moment) and no crossing.
        peak: highest elevation within the stay.
        tca: least range within the stay.
    """

    satellite: str
    norad_id: int
    utc_s: Floats
    position_km: Floats
    velocity_km_s: Floats
    cut: Cut | None
    peak: Event
    tca: Event


def cut_at(at_start: bool, at_end: bool) -> Cut | None:
    """The word for which ends are cut; None where none is."""
    if at_start:
        return "both" if at_end else "start"
    return "end" if at_end else None


def stay_at(stay: Stay, utc_s: Floats) -> tuple[Floats, Floats]:
    """States along a stay by cubic Hermite interpolation, good to some centimetres.

    Args:
        stay: the knots.
        utc_s: (N,) within the stay.

    Returns:
        Topocentric position (N, 3) km and velocity (N, 3) km/s, east, north, up.

    Raises:
        ValueRangeError: a time lies outside the stay.
    """
    knots = stay.utc_s
    if utc_s.size and (utc_s.min() < knots[0] - _OUTSIDE_S or utc_s.max() > knots[-1] + _OUTSIDE_S):
        allowed = f"between {format_iso(float(knots[0]))} and {format_iso(float(knots[-1]))}"
        worst = utc_s.min() if utc_s.min() < knots[0] - _OUTSIDE_S else utc_s.max()
        raise ValueRangeError("utc_s", format_iso(float(worst)), allowed)
    left = np.minimum(np.maximum(np.searchsorted(knots, utc_s, side="right") - 1, 0), knots.size - 2)
    width = knots[left + 1] - knots[left]
    share = (utc_s - knots[left]) / width
    position, velocity = stay.position_km, stay.velocity_km_s
    ends = position[left], position[left + 1], velocity[left], velocity[left + 1]
    return hermite(share[:, None], width[:, None], *ends)


def without_wide_steps(stay: Stay, utc_s: Floats) -> tuple[Floats, Floats, Floats]:
    """Times (N,) with more put between until no step in azimuth is above 90 deg, or steps are down to 0.1 ms.

    Returns:
        The times, and the stay's positions and velocities (N, 3) at them.
    """
    while True:
        position, velocity = stay_at(stay, utc_s)
        step_deg = np.abs(np.asarray(wrap_180(np.diff(azimuth_elevation(position)[0]))))
        wide = np.flatnonzero((step_deg > _AZIMUTH_STEP_DEG) & (np.diff(utc_s) > 2.0 * _FINEST_S))
        if wide.size == 0:
            return utc_s, position, velocity
        utc_s = np.insert(utc_s, wide + 1, 0.5 * (utc_s[wide] + utc_s[wide + 1]))
