"""A pass in the mount frame: the one shape all of the mount's computations read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.angles import Flags, Floats, unwrap_deg
from core.mount.stack import Tilt, to_mount_frame
from core.progress import reported
from core.track import Pass, stay_at
from core.units import Progress, no_progress

#: No step of the unwrapped azimuth is left above this.
_LARGEST_STEP_DEG = 15.0
_FINEST_S = 1e-4


@dataclass(frozen=True, eq=False)
class MountTrack:
    """A pass in the mount frame.

    Attributes:
        utc_s: (N,) from AOS to LOS, no azimuth step above 15 deg unless 0.1 ms apart.
        azimuth_deg: (N,) unwrapped, clockwise positive, in the mount frame.
        elevation_deg: (N,) in the mount frame.
        interval_s: (N-1,) seconds of each interval over the mask.
        worked: (N,) bool, over the mask.
    """

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    interval_s: Floats
    worked: Flags

    @property
    def seconds_in_all(self) -> float:
        """Seconds over the mask."""
        return float(self.interval_s.sum())


def mount_track(pass_: Pass, tilt: Tilt) -> MountTrack:
    """The pass in the mount frame, azimuth unwrapped after the rotation, finer near the axis.

    Unwrapping comes after the rotation: a 2 deg lean can turn a sweep of -180 into one of +180.
    """
    utc_s = pass_.utc_s
    azimuth, elevation = _angles(pass_, utc_s, tilt)
    for _ in range(16):
        coarse = np.abs((np.diff(azimuth) + 180.0) % 360.0 - 180.0) > _LARGEST_STEP_DEG
        coarse &= np.diff(utc_s) > _FINEST_S
        if not coarse.any():
            break
        middles = (utc_s[:-1] + utc_s[1:])[coarse] / 2.0
        utc_s = np.sort(np.concatenate([utc_s, middles]))
        azimuth, elevation = _angles(pass_, utc_s, tilt)
    return MountTrack(
        utc_s=utc_s,
        azimuth_deg=unwrap_deg(azimuth),
        elevation_deg=elevation,
        interval_s=_worked_seconds(utc_s, pass_.stretches),
        worked=_inside_any(utc_s, pass_.stretches),
    )


def mount_tracks(
    passes: tuple[Pass, ...], tilt: Tilt, progress: Progress = no_progress
) -> tuple[MountTrack, ...]:
    """`mount_track` of each pass.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    return tuple(mount_track(pass_, tilt) for pass_ in reported(passes, "turning to the mount", progress))


def _angles(pass_: Pass, utc_s: Floats, tilt: Tilt) -> tuple[Floats, Floats]:
    position_km, _velocity = stay_at(pass_.stay, utc_s)
    return to_mount_frame(position_km, tilt)


def _worked_seconds(utc_s: Floats, stretches: tuple[tuple[float, float], ...]) -> Floats:
    """(N-1,) how many seconds of each interval lie over the mask."""
    total = np.zeros(max(utc_s.size - 1, 0))
    for start, end in stretches:
        total += np.clip(np.minimum(utc_s[1:], end) - np.maximum(utc_s[:-1], start), 0.0, None)
    return total


def _inside_any(utc_s: Floats, stretches: tuple[tuple[float, float], ...]) -> Flags:
    inside = np.zeros(utc_s.size, dtype=bool)
    for start, end in stretches:
        inside |= (utc_s >= start - 1e-6) & (utc_s <= end + 1e-6)
    return inside


def thinned(track: MountTrack, step_s: float, step_deg: float = 4.0) -> MountTrack:
    """A coarser copy for studies of many seats: at most ``step_s`` and about ``step_deg`` of azimuth apart.

    The ends of stretches stay, and the seconds over the mask are kept exactly.
    """
    keep = [0]
    edges = set(np.flatnonzero(np.diff(track.worked.astype(int)) != 0) + 1)
    edges |= {index - 1 for index in edges}
    azimuth, utc_s = track.azimuth_deg, track.utc_s
    for index in range(1, utc_s.size - 1):
        last = keep[-1]
        too_far = (
            utc_s[index + 1] - utc_s[last] > step_s or abs(azimuth[index + 1] - azimuth[last]) > step_deg
        )
        if too_far or index in edges:
            keep.append(index)
    if utc_s.size > 1:
        keep.append(utc_s.size - 1)
    kept = np.array(keep)
    seconds = np.concatenate([[0.0], np.cumsum(track.interval_s)])
    return MountTrack(
        utc_s=utc_s[kept],
        azimuth_deg=azimuth[kept],
        elevation_deg=track.elevation_deg[kept],
        interval_s=np.diff(seconds[kept]),
        worked=track.worked[kept],
    )
