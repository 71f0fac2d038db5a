"""How soon a pass can be joined: from the idle position, from where the mount stands, from anywhere.

A dead start: nothing has moved yet when the clock says go. The mount then goes straight for where the
boresight has to be at some later moment of the pass, and is on the pass at the first moment that it reaches
in time.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product

import numpy as np

from core.mount.nouns import PassCheck, Pointing
from core.mount.stack import AzimuthAxis, ElevationAxis, Mount, guarded_travel_deg

#: Mechanical azimuth and elevation axis angle, degrees.
Place = tuple[float, float]
_HALVINGS = 30


def axis_seconds(by_deg: float, axis: AzimuthAxis | ElevationAxis) -> float:
    """Seconds to turn by a signed angle: its rate that way, gaining and losing speed where that takes time.

    Over a distance d with rate v and acceleration a: d/v + v/a, or 2 sqrt(d/a) where v is never reached.
    """
    back = axis.rate_back_deg_s if axis.rate_back_deg_s is not None else axis.rate_deg_s
    rate, far = (axis.rate_deg_s if by_deg >= 0.0 else back), abs(by_deg)
    gain = axis.acceleration_deg_s2
    if gain is None or far == 0.0:
        return far / rate
    return far / rate + rate / gain if far >= rate**2 / gain else 2.0 * math.sqrt(far / gain)


def move_seconds(mount: Mount, start: Place, end: Place) -> float:
    """Seconds from one place to another, settling included; 0 where there is nothing to move."""
    azimuth = axis_seconds(end[0] - start[0], mount.azimuth)
    elevation = axis_seconds(end[1] - start[1], mount.elevation)
    moving = max(azimuth, elevation) if mount.drive.both_axes_at_once else azimuth + elevation
    return moving + mount.drive.settle_s if moving > 0.0 else 0.0


def idle_place(mount: Mount, idle_m_deg: float | None = None) -> Place:
    """Where the mount waits between passes: mid travel unless told, elevation as level as it goes."""
    guard, top = guarded_travel_deg(mount.azimuth)
    middle = mount.azimuth.travel_deg / 2.0
    m_deg = middle if idle_m_deg is None else min(max(idle_m_deg, guard), top)
    return m_deg, min(max(0.0, mount.elevation.minimum_deg), mount.elevation.maximum_deg)


def corners(mount: Mount) -> tuple[Place, ...]:
    """The far ends of both axes: from any place no move takes longer than from the worst of these."""
    ends = guarded_travel_deg(mount.azimuth), (mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    return tuple(product(*ends))


def place_at(pointing: Pointing, utc_s: float) -> Place:
    """Where the axes are at a moment of a pass."""
    m_deg = np.interp(utc_s, pointing.utc_s, pointing.m_deg)
    return float(m_deg), float(np.interp(utc_s, pointing.utc_s, pointing.e_deg))


def joined_at(check: PassCheck, mount: Mount, starts: tuple[Place, ...], leave_utc_s: float) -> float | None:
    """First worked moment at which the mount, started at ``leave_utc_s``, is on the pass.

    Args:
        check: the pass as it is worked.
        mount: for rates and settling.
        starts: where it may stand; the moment is reached from every one of them.
        leave_utc_s: when it starts to move.

    Returns:
        POSIX seconds, or None where it is too late or the pass is out of reach.
    """
    pointing = check.pointing
    if pointing is None:
        return None

    def spare(utc_s: float) -> float:
        there = place_at(pointing, utc_s)
        return utc_s - leave_utc_s - max(move_seconds(mount, start, there) for start in starts)

    before: int | None = None
    for index in np.flatnonzero(pointing.worked & ~pointing.moving):
        late = float(pointing.utc_s[index])
        if spare(late) < 0.0:
            before = int(index)
            continue
        if before is None or before != index - 1:
            return late
        early = float(pointing.utc_s[before])
        for _ in range(_HALVINGS):
            middle = (early + late) / 2.0
            early, late = (early, middle) if spare(middle) >= 0.0 else (middle, late)
        return late
    return None


@dataclass(frozen=True)
class Joining:
    """How soon one pass can be joined.

    Attributes:
        start_utc_s: the first worked moment.
        from_idle_utc_s, from_anywhere_utc_s: on the pass when nothing has moved before ``start_utc_s``;
            None where it is over before.
        leave_idle_utc_s, leave_anywhere_utc_s: latest start of a move that is there at ``start_utc_s``.
    """

    start_utc_s: float
    from_idle_utc_s: float | None
    from_anywhere_utc_s: float | None
    leave_idle_utc_s: float
    leave_anywhere_utc_s: float


def joining(check: PassCheck, mount: Mount, idle: Place) -> Joining | None:
    """How soon a pass can be joined from a dead start; None where it is out of reach."""
    pointing = check.pointing
    if pointing is None or not pointing.worked.any():
        return None
    start_s = float(pointing.utc_s[int(pointing.worked.argmax())])
    there, anywhere = place_at(pointing, start_s), corners(mount)
    return Joining(
        start_utc_s=start_s,
        from_idle_utc_s=joined_at(check, mount, (idle,), start_s),
        from_anywhere_utc_s=joined_at(check, mount, anywhere, start_s),
        leave_idle_utc_s=start_s - move_seconds(mount, idle, there),
        leave_anywhere_utc_s=start_s - max(move_seconds(mount, place, there) for place in anywhere),
    )
