"""The horizon unrolled on the dial: what stands where along the azimuth travel, repeats included.

The picture's axis is mechanical azimuth m: 0 on the counter-clockwise stop, which is its seam. A bearing
stands at every m that points to it. Bearings that no m points to follow beyond the travel, up to a circle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, wrap_360
from core.base.units import INSIDE_DEG
from core.mount.dial.readings import DialReading, azimuth_dial, turns_within
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount
from core.place.site import HorizonPoint


@dataclass(frozen=True)
class DialTick:
    """A round true bearing on the axis, with what the dial shows there; None beyond the travel."""

    m_deg: float
    bearing_deg: float
    dial: DialReading | None


def span_deg(mount: Mount) -> float:
    """Length of the axis: the travel, or a full circle where the travel is less."""
    return max(mount.azimuth.travel_deg, 360.0)


def bearing_places_deg(bearing_deg: float, zeta: float, span: float) -> tuple[float, ...]:
    """Every m in [0, span] at which the boresight points to a true bearing, rising; an exact touch is in."""
    return turns_within(bearing_deg - zeta, span)


def unrolled_lines(bearing_deg: Floats, zeta: float, span: float) -> list[Floats]:
    """A continuous (unwrapped) line of bearings (N,) as m (N,), once for every turn that shows any of it."""
    if bearing_deg.size == 0:
        return []
    m = bearing_deg - zeta
    first = int(np.ceil(-m.max() / 360.0))
    last = int(np.floor((span - m.min()) / 360.0))
    return [m + 360.0 * k for k in range(first, last + 1)]


def unrolled_mask(horizon: Sequence[HorizonPoint], zeta: float, span: float) -> tuple[Floats, Floats]:
    """The mask's corners along the axis as (m, elevation), reaching past both its ends; empty without points.

    Steps keep both their corners, in the order the mask defines.
    """
    if not horizon:
        return np.zeros(0), np.zeros(0)
    ordered = sorted(horizon, key=lambda point: (point.azimuth_deg % 360.0, point.azimuth_deg < 360.0))
    azimuth = np.array([point.azimuth_deg % 360.0 for point in ordered])
    elevation = np.array([point.elevation_deg for point in ordered])
    turns = np.arange(-2, int(np.ceil(span / 360.0)) + 2)
    m = (azimuth[None, :] + 360.0 * turns[:, None]).ravel() - wrap_360(zeta)
    # No further than the last corners before the axis and the first ones beyond it: the rest is never seen.
    shown = slice(np.searchsorted(m, m[m < 0.0].max()), np.searchsorted(m, m[m > span].min(), side="right"))
    return m[shown], np.tile(elevation, turns.size)[shown]


def repeated_deg(mount: Mount) -> tuple[tuple[float, float], ...]:
    """The stretches of the axis whose bearings stand on it more than once, (from, to) in m."""
    over = mount.azimuth.travel_deg - 360.0
    if over <= INSIDE_DEG:
        return ()
    if over >= 360.0:
        return ((0.0, mount.azimuth.travel_deg),)
    return ((0.0, over), (360.0, mount.azimuth.travel_deg))


def dial_ticks(mount: Mount, step_deg: float) -> tuple[DialTick, ...]:
    """Round bearings along the axis, ``step_deg`` (a divisor of 360) apart, by rising m."""
    zeta, span = zeta_deg(mount), span_deg(mount)
    axis = mount.azimuth
    bearings = np.arange(0.0, 360.0, step_deg)
    ticks = [
        DialTick(m, float(bearing), azimuth_dial(m, axis) if m <= axis.travel_deg + INSIDE_DEG else None)
        for bearing in bearings
        for m in bearing_places_deg(float(bearing), zeta, span)
    ]
    return tuple(sorted(ticks, key=lambda tick: tick.m_deg))
