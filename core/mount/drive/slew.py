"""One move of an axis, or of both: how long it takes and where it is meanwhile. Pure; shapes broadcast.

An axis starts from rest, gains speed at its acceleration up to the rate of that sense, and loses it alike to
stand at the end (constant acceleration; over a distance d with rate v and acceleration a:
d / v + v / a, or 2 sqrt(d / a) where d < v^2 / a and v is never reached). Without an acceleration it is at
its rate at once. It is not started for less than the deadband, nor where the least nudge would bring it
further off than it is; once started it moves the least nudge at least.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from core.base.angles import Floats
from core.mount.model.station import Axis, Mount

#: A move of exactly the deadband is made, however its two ends were rounded.
_ROUNDING_DEG = 1e-9


def rate_of(by_deg: ArrayLike, axis: Axis) -> Floats:
    """(...) degrees a second, unsigned, for a move of that sign; 0 counts as forward."""
    forward, back = axis.rates_deg_s
    if forward == back:
        return np.full(np.shape(by_deg), forward)
    return np.where(np.asarray(by_deg) < 0.0, back, forward)


def travelled_deg(by_deg: ArrayLike, axis: Axis) -> Floats:
    """(...) what the axis really moves when told to move by so much: 0, the least nudge, or all of it."""
    told = np.asarray(by_deg, dtype=np.float64)
    if axis.deadband_deg == axis.least_nudge_deg == 0.0:
        return told
    far = np.abs(told)
    started = (far > 0.0) & (far >= max(axis.deadband_deg, axis.least_nudge_deg / 2.0) - _ROUNDING_DEG)
    return np.where(started, np.copysign(np.maximum(far, axis.least_nudge_deg), told), 0.0)


def slew_seconds(from_deg: ArrayLike, to_deg: ArrayLike, axis: Axis) -> Floats:
    """(...) seconds from rest to rest, settling not counted; 0 where the axis is not started."""
    by = travelled_deg(np.asarray(to_deg, dtype=np.float64) - np.asarray(from_deg), axis)
    far, rate = np.abs(by), rate_of(by, axis)
    if axis.acceleration_deg_s2 is None:
        return np.asarray(far / rate)
    gain = axis.acceleration_deg_s2
    return np.where(
        far >= rate**2 / gain, far / rate + np.where(far > 0.0, rate / gain, 0.0), _peaked(far, gain)
    )


def _peaked(far_deg: Floats, gain: float) -> Floats:
    """Seconds of a move that never reaches its rate."""
    return np.asarray(2.0 * np.sqrt(far_deg / gain))


def slew_angle(from_deg: ArrayLike, to_deg: ArrayLike, seconds_since_start: ArrayLike, axis: Axis) -> Floats:
    """(...) degrees, where the axis is so long after the start of a move; at its end for good afterwards.

    Args:
        from_deg, to_deg: the move.
        seconds_since_start: below 0 it still stands at ``from_deg``.
        axis: rates, acceleration, deadband, least nudge.
    """
    start = np.asarray(from_deg, dtype=np.float64)
    by = travelled_deg(np.asarray(to_deg) - start, axis)
    far, rate = np.abs(by), rate_of(by, axis)
    passed = np.maximum(np.asarray(seconds_since_start, dtype=np.float64), 0.0)
    if axis.acceleration_deg_s2 is None:
        return np.asarray(start + np.copysign(np.minimum(far, rate * passed), by))
    gain = axis.acceleration_deg_s2
    top = np.minimum(rate, np.sqrt(far * gain))
    whole = slew_seconds(from_deg, to_deg, axis)
    gained = np.minimum(passed, top / gain)
    left = np.clip(whole - passed, 0.0, top / gain)
    losing = passed > whole - top / gain
    gone = gain * gained**2 / 2.0 + top * np.maximum(passed - top / gain, 0.0)
    return np.asarray(start + np.copysign(np.where(losing, far - gain * left**2 / 2.0, gone), by))


def move_seconds(
    mount: Mount, m_from_deg: ArrayLike, m_to_deg: ArrayLike, e_from_deg: ArrayLike, e_to_deg: ArrayLike
) -> Floats:
    """(...) seconds of a move of both axes, at once or azimuth first; settling is added where any moves."""
    azimuth = slew_seconds(m_from_deg, m_to_deg, mount.azimuth)
    elevation = slew_seconds(e_from_deg, e_to_deg, mount.elevation)
    together = mount.drive.both_axes_at_once
    moving = np.maximum(azimuth, elevation) if together else azimuth + elevation
    return np.where(moving > 0.0, moving + mount.drive.settle_s, 0.0)


def move_angles(
    mount: Mount,
    m_from_deg: ArrayLike,
    m_to_deg: ArrayLike,
    e_from_deg: ArrayLike,
    e_to_deg: ArrayLike,
    seconds_since_start: ArrayLike,
) -> tuple[Floats, Floats]:
    """(...) mechanical azimuth and (...) elevation axis so long after the start of a move of both axes."""
    passed = np.asarray(seconds_since_start, dtype=np.float64)
    m_deg = slew_angle(m_from_deg, m_to_deg, passed, mount.azimuth)
    if not mount.drive.both_axes_at_once:
        passed = passed - slew_seconds(m_from_deg, m_to_deg, mount.azimuth)
    return m_deg, slew_angle(e_from_deg, e_to_deg, passed, mount.elevation)


def is_ideal(mount: Mount) -> bool:
    """True where the drive is told by its rates alone, the same both ways, and nothing else was measured."""
    drive = mount.drive
    axes_ideal = all(
        axis.rates_deg_s[0] == axis.rates_deg_s[1]
        and axis.acceleration_deg_s2 is None
        and axis.deadband_deg == axis.least_nudge_deg == axis.readout_step_deg == 0.0
        for axis in (mount.azimuth, mount.elevation)
    )
    return axes_ideal and drive.both_axes_at_once and drive.settle_s == 0.0 and drive.duty == 1.0
