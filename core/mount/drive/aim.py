"""Where boresight is when the axes are held inside their travel, and how long the satellite is off the beam.

Off the beam is an angle on the sky, by the haversine formula from the axes' angles: near the zenith an
azimuth that is far out costs next to nothing. Between samples the angle is taken as straight, so a second in
which the beam's edge is crossed counts in part.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, guarded_travel_deg
from core.mount.model.station import Mount, Posture

#: Angles that differ by less are one; a touch of the beam's edge is inside.
_EDGE_DEG = 1e-9


@dataclass(frozen=True, eq=False)
class Aimed:
    """Where boresight is for Z offsets at once: m, e and the angle off the satellite, each (Z, N)."""

    m_deg: Floats
    e_deg: Floats
    off_deg: Floats


def off_boresight_deg(azimuth_apart_deg: Floats, axis_deg: Floats, wanted_axis_deg: Floats) -> Floats:
    """Angle on the sky between two pointings given by axis angles (haversine formula).

    Args:
        azimuth_apart_deg: difference of mechanical azimuth.
        axis_deg, wanted_axis_deg: elevation axis angles, -90 to 180; above 90 is over the top.
    """
    return np.asarray(np.degrees(2.0 * np.arcsin(half_chord(azimuth_apart_deg, axis_deg, wanted_axis_deg))))


def half_chord(azimuth_apart_deg: Floats, axis_deg: Floats, wanted_axis_deg: Floats) -> Floats:
    """Half the chord between two pointings, 0..1, as `off_boresight_deg`: the sine of half that angle.

    It rises with the angle, so it tells inside the beam from outside at less cost.
    """
    a, b = np.radians(axis_deg), np.radians(wanted_axis_deg)
    half = np.sin((a - b) / 2) ** 2 + np.cos(a) * np.cos(b) * np.sin(np.radians(azimuth_apart_deg) / 2) ** 2
    return np.asarray(np.sqrt(np.clip(half, 0.0, 1.0)))


def aim(track: MountTrack, steered: Steered, posture: Posture, offsets_deg: Floats, mount: Mount) -> Aimed:
    """The steered angles held inside guards and elevation range, for each offset.

    Args:
        track, steered: the pass and what the axes are told.
        posture: upright or over the top.
        offsets_deg: (Z,) what to add to azimuth to get m.
        mount: for travel, guard and elevation range.
    """
    guard, top = guarded_travel_deg(mount.azimuth)
    steered = steered.in_posture(posture)
    column = np.asarray(offsets_deg)[:, None]
    m_deg = np.clip(steered.azimuth_deg + column, guard, top)
    told = axis_elevation_deg(steered.elevation_deg, posture)
    held_deg = np.clip(told, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    wanted = axis_elevation_deg(track.elevation_deg, posture)
    apart = m_deg - (track.azimuth_deg + column)
    # Most of a pass that is held has both axes right on it.
    away = np.flatnonzero((apart != 0.0) | (held_deg != wanted))
    off, sample = np.zeros(m_deg.shape), away % wanted.size
    off.put(away, off_boresight_deg(apart.take(away), held_deg.take(sample), wanted.take(sample)))
    return Aimed(m_deg, np.broadcast_to(held_deg, m_deg.shape), off)


def unstopped_off_deg(track: MountTrack, steered: Steered, mount: Mount, posture: Posture) -> Floats:
    """(N,) angle off the satellite of a way that no stop meets: the same wherever the mount is seated."""
    here = steered.in_posture(posture)
    told = axis_elevation_deg(here.elevation_deg, posture)
    e_deg = np.clip(told, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    wanted = axis_elevation_deg(track.elevation_deg, posture)
    return off_boresight_deg(here.azimuth_deg - track.azimuth_deg, e_deg, wanted)


def on_fraction(off_deg: Floats, limit_deg: float) -> Floats:
    """(..., N-1) share of each interval with the satellite inside the beam, the angle taken as straight."""
    inside = off_deg <= limit_deg + _EDGE_DEG
    share = np.ones(off_deg[..., 1:].shape)
    if inside.all():  # as most passes are
        return share
    part = np.nonzero(~(inside[..., :-1] & inside[..., 1:]))
    left, right = off_deg[..., :-1][part], off_deg[..., 1:][part]
    low, span = np.minimum(left, right), np.abs(right - left)
    slanted = span > _EDGE_DEG
    crossed = (limit_deg - low) / np.where(slanted, span, 1.0)
    level = np.where(low <= limit_deg + _EDGE_DEG, 1.0, 0.0)
    share[part] = np.clip(np.where(slanted, crossed, level), 0.0, 1.0)
    return share


def seconds_off(track: MountTrack, off_deg: Floats, limit_deg: float) -> Floats:
    """(...,) seconds over the mask with the satellite off the beam; ``off_deg`` is (..., N)."""
    return np.asarray(((1.0 - on_fraction(off_deg, limit_deg)) * track.interval_s).sum(axis=-1))
