"""A pass in the mount frame: the one shape all of the mount's computations read.

Samples are even in time where azimuth is slow and closer near the axis, where it turns by a quarter within a
second: unwrapped over steps of more than half a turn it would go round the wrong way.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices, unwrap_deg, wrap_180
from core.base.errors import Cancelled
from core.base.units import Progress, no_progress
from core.mount.model.chain import to_mount_frame
from core.mount.model.station import Tilt
from core.passes.paths import Paths
from core.passes.track import Pass

#: No step of the unwrapped azimuth is left above this.
_LARGEST_STEP_DEG = 15.0
_FINEST_S = 1e-4
_MOST_HALVINGS = 16


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
    """`mount_tracks` of one pass."""
    return mount_tracks((pass_,), tilt)[0]


def mount_tracks(
    passes: tuple[Pass, ...], tilt: Tilt, progress: Progress = no_progress
) -> tuple[MountTrack, ...]:
    """Passes in the mount frame, azimuth unwrapped after the rotation, finer near the axis.

    Unwrapping comes after the rotation: a 2 deg lean can turn a sweep of -180 into one of +180.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    if not progress(0, len(passes), "turning to the mount"):
        raise Cancelled
    paths = Paths.joined([pass_.stay.path for pass_ in passes], [1] * len(passes))
    utc_s = [pass_.even_utc_s for pass_ in passes]
    row = np.repeat(np.arange(len(passes)), [times.size for times in utc_s])
    samples = _with_small_steps(paths, row, np.concatenate([np.zeros(0), *utc_s]), tilt)
    ends = np.searchsorted(samples.row, np.arange(len(passes) + 1))
    return tuple(
        _track(pass_, samples, slice(first, beyond))
        for pass_, (first, beyond) in zip(passes, pairwise(ends.tolist()), strict=True)
    )


class _Samples(NamedTuple):
    """Samples of many passes, by pass and time: which pass, when, and azimuth (wrapped) and elevation."""

    row: Indices
    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats


def _with_small_steps(paths: Paths, row: Indices, utc_s: Floats, tilt: Tilt) -> _Samples:
    """Samples at these moments, and between them until azimuth makes no large step."""

    def angles(piece: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        return to_mount_frame(paths.position(piece, utc_s), tilt)

    piece = paths.piece_at(row, utc_s)
    azimuth, elevation = angles(piece, utc_s)
    for _ in range(_MOST_HALVINGS):
        coarse = np.abs(wrap_180(np.diff(azimuth))) > _LARGEST_STEP_DEG
        left = np.flatnonzero(coarse & (np.diff(utc_s) > _FINEST_S) & (row[1:] == row[:-1]))
        if not left.size:
            break
        middle = (utc_s[left] + utc_s[left + 1]) / 2.0
        more = (piece[left], row[left], middle, *angles(piece[left], middle))
        columns = zip((piece, row, utc_s, azimuth, elevation), more, strict=True)
        piece, row, utc_s, azimuth, elevation = (np.insert(old, left + 1, new) for old, new in columns)
    return _Samples(row, utc_s, azimuth, elevation)


def _track(pass_: Pass, samples: _Samples, own: slice) -> MountTrack:
    utc_s = samples.utc_s[own]
    return MountTrack(
        utc_s=utc_s,
        azimuth_deg=unwrap_deg(samples.azimuth_deg[own]),
        elevation_deg=samples.elevation_deg[own],
        interval_s=_worked_seconds(utc_s, pass_.stretches),
        worked=_inside_any(utc_s, pass_.stretches),
    )


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
