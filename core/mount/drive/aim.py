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
    e_deg = np.clip(told, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    wanted = axis_elevation_deg(track.elevation_deg, posture)
    apart, e_deg = m_deg - (track.azimuth_deg + column), np.broadcast_to(e_deg, m_deg.shape)
    # Most of a pass that is held has both axes right on it.
    row, away = np.nonzero((apart != 0.0) | (e_deg != wanted))
    off = np.zeros(m_deg.shape)
    off[row, away] = off_boresight_deg(apart[row, away], e_deg[row, away], wanted[away])
    return Aimed(m_deg, e_deg, off)


def unstopped_off_deg(track: MountTrack, steered: Steered, mount: Mount, posture: Posture) -> Floats:
    """(N,) angle off the satellite of a way that no stop meets: the same wherever the mount is seated."""
    here = steered.in_posture(posture)
    told = axis_elevation_deg(here.elevation_deg, posture)
    e_deg = np.clip(told, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    wanted = axis_elevation_deg(track.elevation_deg, posture)
    return off_boresight_deg(here.azimuth_deg - track.azimuth_deg, e_deg, wanted)


def on_fraction(off_deg: Floats, limit_deg: float) -> Floats:
    """(..., N-1) share of each interval with the satellite inside the beam, the angle taken as straight."""
    left, right = off_deg[..., :-1], off_deg[..., 1:]
    high, low = np.maximum(left, right), np.minimum(left, right)
    span = high - low
    slanted = span > 1e-9
    share = (limit_deg - low) / np.where(slanted, span, 1.0)
    whole = np.where(low <= limit_deg + 1e-9, 1.0, 0.0)
    return np.asarray(
        np.where(high <= limit_deg + 1e-9, 1.0, np.clip(np.where(slanted, share, whole), 0.0, 1.0))
    )


def seconds_off(track: MountTrack, off_deg: Floats, limit_deg: float) -> Floats:
    """(...,) seconds over the mask with the satellite off the beam; ``off_deg`` is (..., N)."""
    return np.asarray(((1.0 - on_fraction(off_deg, limit_deg)) * track.interval_s).sum(axis=-1))
