"""Through the zenith: a plain rule for passes that azimuth cannot follow over the top of the sky.

Azimuth follows to a moment before the peak and stands while elevation runs through 90 to over the top (or
back to upright), then follows on from there. In the other posture the satellite is looked at from half a turn
less, so that azimuth hardly moves in all.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.motion import limited_together
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg, posture_shift_deg
from core.mount.model.station import Mount, Posture

#: Mechanical azimuth and elevation axis angle at a track's moments, (N,) each.
Path = tuple[Floats, Floats]
_STANDS_TRIED = 60


def upright_offset_deg(posture: Posture, offset_deg: float) -> float:
    """What to add to azimuth to get the m that looks at the satellite upright, of a way's own offset."""
    return offset_deg - posture_shift_deg(posture)


def through_the_zenith(track: MountTrack, mount: Mount, posture: Posture, offset_deg: float) -> Path:
    """The path that stands, of some sixty places before the peak, where the worst error is least.

    Args:
        track: the pass in the mount frame.
        mount: rates, guards and elevation range.
        posture, offset_deg: the way at AOS, and what to add to azimuth to get m in it.
    """
    guard, top = guarded_travel_deg(mount.azimuth)
    before = track.azimuth_deg + offset_deg
    upright = track.azimuth_deg + upright_offset_deg(posture, offset_deg)
    peak = int(np.argmax(track.elevation_deg))
    sense = 1.0 if before[-1] >= before[0] else -1.0
    after = before - 180.0 * sense

    stands = np.unique(np.linspace(0, peak, _STANDS_TRIED).astype(int))
    wanted = np.stack([_stood(before, after, sense, peak, stand) for stand in stands.tolist()])
    m_deg = limited_together(track.utc_s, np.clip(wanted, guard, top), mount.azimuth.rates_deg_s)
    e_deg = _nearest_elevation(track, mount, m_deg - upright)
    off = off_boresight_deg(m_deg - upright, e_deg, track.elevation_deg)
    best = int(np.argmin(off[:, track.worked].max(axis=1, initial=0.0)))
    return m_deg[best], e_deg[best]


def _stood(before: Floats, after: Floats, sense: float, peak: int, stand: int) -> Floats:
    """(N,) the m wanted: as before until the place to stand, there until after the peak, and on from it."""
    place = before[stand]
    later = np.flatnonzero(sense * (after[peak:] - place) >= 0.0)
    leave = peak + int(later[0]) if later.size else before.size
    index = np.arange(before.size)
    return np.where(index < stand, before, np.where(index < leave, place, after))


def _nearest_elevation(track: MountTrack, mount: Mount, apart_deg: Floats) -> Floats:
    """(K, N) the elevation nearest the satellite beside azimuth paths, at its rates and in its range."""
    elevation, apart = np.radians(track.elevation_deg), np.radians(apart_deg)
    wanted = np.degrees(np.arctan2(np.sin(elevation), np.cos(elevation) * np.cos(apart)))
    held = np.clip(wanted, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    return limited_together(track.utc_s, held, mount.elevation.rates_deg_s)
