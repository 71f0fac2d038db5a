"""The moment at which a pass without a way meets a stop or an elevation limit: what its reason tells.

Of the turns that lie in the travel the one that falls short by least speaks, and of the ends that it
overruns the one that it overruns most. Where elevation alone forbids a posture, whatever the azimuth, only
its limits are looked at: told of a guard, the operator would turn the tripod for nothing.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Flags, Floats
from core.base.units import INSIDE_DEG
from core.mount.check.ends import LIMITS, STOPS, overruns_deg
from core.mount.check.ways import offset_deg, offset_in_turn, reach_of, turn_of, turns_in_travel
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, ground_bearing_deg, guarded_travel_deg, zeta_deg
from core.mount.model.results import Crossing, Part, Split
from core.mount.model.station import Mount, Posture


def crossing_of(
    track: MountTrack,
    mount: Mount,
    split: Split | None,
    part: Part | None,
    used: tuple[Posture, ...],
    limit: float,
) -> Crossing | None:
    """What a pass without a way meets: a part in its own way, a full turn in the way it begins in."""
    if part is not None:
        found = crossing_in_way(track, mount, (part.posture, part.turn), limit)
        if found is not None:
            return found
    if split is not None and split.kind == "full turn":
        offset = offset_in_turn(track, mount, split.from_posture, split.from_turn)
        found = _crossing_at(track, mount, split.from_posture, offset, STOPS)
        if found is not None:
            return found
    return nearest_crossing(track, mount, used, limit)


def crossing_in_way(
    track: MountTrack, mount: Mount, way: tuple[Posture, int], limit: float
) -> Crossing | None:
    """Where one way, its posture and turn, meets a stop or limit; None where it meets none."""
    return _crossing_with(track, mount, way[0], offset_in_turn(track, mount, *way), limit)


def nearest_crossing(
    track: MountTrack, mount: Mount, postures: tuple[Posture, ...], limit: float
) -> Crossing | None:
    """Where the turn that is least short in these postures meets a stop or limit; None where one is clear."""
    found = [
        _crossing_in(track, mount, posture, k, limit)
        for posture in postures
        for k in turns_in_travel(track, mount, np.array([zeta_deg(mount, posture)]), posture)
    ]
    real = [crossing for crossing in found if crossing is not None]
    return min(real, key=lambda crossing: crossing.short_deg) if len(real) == len(found) and real else None


def least_short_at(
    track: MountTrack, mount: Mount, posture: Posture, among: tuple[str, ...]
) -> Crossing | None:
    """Where the turn that is least short in this posture meets one of these stops or limits.

    The posture need not be one that the mount has: it may be the limit that keeps it from it.
    """
    zeta = np.array([zeta_deg(mount, posture)])
    found = [
        _crossing_at(track, mount, posture, offset_deg(mount, posture, k), among)
        for k in turns_in_travel(track, mount, zeta, posture)
    ]
    real = [crossing for crossing in found if crossing is not None]
    return min(real, key=lambda crossing: crossing.short_deg, default=None)


def _crossing_in(track: MountTrack, mount: Mount, posture: Posture, k: int, limit: float) -> Crossing | None:
    return _crossing_with(track, mount, posture, offset_deg(mount, posture, k), limit)


def _crossing_with(
    track: MountTrack, mount: Mount, posture: Posture, offset: float, limit: float
) -> Crossing | None:
    """The worst overrun of one way: at any stop or limit, or at those that forbid resting."""
    rests = reach_of(track, posture, mount.elevation, limit).can_rest
    among = STOPS + LIMITS if rests else LIMITS
    return _crossing_at(track, mount, posture, offset, among)


def _crossing_at(
    track: MountTrack, mount: Mount, posture: Posture, offset: float, among: tuple[str, ...]
) -> Crossing | None:
    """Which stop or limit of those ``among`` is overrun most, how many degrees, and when it is met."""
    over = overruns_deg(track, posture, offset, mount)
    stop = max(among, key=lambda name: float(over[name][track.worked].max(initial=-np.inf)))
    beyond = (over[stop] > INSIDE_DEG) & track.worked
    if not beyond.any():
        return None
    moment, coming_off = _meeting_s(track, over[stop], beyond)
    azimuth_then = float(np.interp(moment, track.utc_s, track.azimuth_deg))
    elevation_then = float(np.interp(moment, track.utc_s, track.elevation_deg))
    axis_then = axis_elevation_deg(elevation_then, posture)
    guard, top = guarded_travel_deg(mount.azimuth)
    bearing, _elevation = ground_bearing_deg(azimuth_then, elevation_then, mount.tilt)
    return Crossing(
        utc_s=moment,
        stop=stop,
        bearing_deg=bearing,
        m_deg=min(max(azimuth_then + offset, guard), top),
        e_deg=min(max(axis_then, mount.elevation.minimum_deg), mount.elevation.maximum_deg),
        short_deg=float(over[stop][track.worked].max()),
        posture=posture,
        turn=turn_of(track, offset),
        coming_off=coming_off,
    )


def _meeting_s(track: MountTrack, over_deg: Floats, beyond: Flags) -> tuple[float, bool]:
    """When the guard is met: going past it, or (True) for a pass that starts past it, coming back inside."""
    index = int(np.argmax(beyond))
    starts_past = index == 0 or not bool(track.worked[index - 1])
    if starts_past:
        back = np.flatnonzero(~beyond[index:] & track.worked[index:])
        if not back.size:
            return float(track.utc_s[index]), False
        index += int(back[0])
    left, right = float(over_deg[index - 1]), float(over_deg[index])
    share = left / (left - right) if left != right else 1.0
    before, after = float(track.utc_s[index - 1]), float(track.utc_s[index])
    return before + min(max(share, 0.0), 1.0) * (after - before), starts_past
