"""A pass in the mount frame: the one shape all of the mount's computations read.

Samples are even in time where azimuth is slow and closer near the axis, where it turns by a quarter within a
second: unwrapped over steps of more than half a turn it would go round the wrong way.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices, unwrap_deg
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.mount.model.chain import to_mount_frame
from core.mount.model.station import Tilt
from core.passes.stays import stay_at
from core.passes.track import Pass

#: No step of the unwrapped azimuth is left above this.
_LARGEST_STEP_DEG = 15.0
_FINEST_S = 1e-4
#: Samples of a thinned track are no further apart.
_WIDEST_S = 3.0


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


def telling_samples(track: MountTrack, curves_deg: Floats, out_by_deg: float = 0.005) -> Indices:
    """Indices of the samples that tell the pass to within about ``out_by_deg`` on the sky.

    A straight line over h seconds of a curve errs by |c''| h^2 / 8, so samples are laid as densely as the
    most curved of azimuth (as much of it as is seen on the sky), elevation and ``curves_deg`` wants; at most
    `_WIDEST_S` apart. The ends of stretches stay.

    Args:
        track: the pass.
        curves_deg: (C, N) angles that must be told as well.
        out_by_deg: what a straight line may err by.
    """
    count = track.utc_s.size
    if count < 3:
        return np.arange(count)
    seen = np.cos(np.radians(np.clip(track.elevation_deg, -89.0, 89.0)))
    curves = np.concatenate([np.stack([track.azimuth_deg * 1.0, track.elevation_deg]), curves_deg])
    steps_s = np.diff(track.utc_s)
    bend = np.abs(np.diff(np.diff(curves, axis=1) / steps_s, axis=1)) / ((steps_s[1:] + steps_s[:-1]) / 2.0)
    bend[0] *= seen[1:-1]
    bend[2::2] *= seen[1:-1]
    bend = np.concatenate([bend[:, :1], bend, bend[:, -1:]], axis=1).max(axis=0)
    dense = np.maximum(np.sqrt(bend / (8.0 * out_by_deg)), 1.0 / _WIDEST_S)
    along = np.concatenate([[0.0], np.cumsum(np.maximum(dense[:-1], dense[1:]) * steps_s)])
    wanted = np.linspace(0.0, along[-1], int(np.ceil(along[-1])) + 1)
    changes = np.flatnonzero(np.diff(track.worked.astype(int)) != 0)
    kept = np.concatenate([np.searchsorted(along, wanted), changes, changes + 1, [0, count - 1]])
    return np.unique(np.clip(kept, 0, count - 1))


def picked_out(track: MountTrack, kept: Indices) -> MountTrack:
    """The track at some of its samples, the seconds over the mask kept exactly."""
    seconds = np.concatenate([[0.0], np.cumsum(track.interval_s)])
    return MountTrack(
        utc_s=track.utc_s[kept],
        azimuth_deg=track.azimuth_deg[kept],
        elevation_deg=track.elevation_deg[kept],
        interval_s=np.diff(seconds[kept]),
        worked=track.worked[kept],
    )
