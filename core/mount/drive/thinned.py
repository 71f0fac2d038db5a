"""Passes at as few of their samples as tell them and how they are followed.

A straight line over h seconds of a curve errs by |c''| h^2 / 8, so samples are laid as densely as the most
curved of azimuth (as much of it as is seen on the sky), elevation, what the axes do and how far they are off
the satellite wants: the angle between two that both go straight is still curved. The samples of some passes
lie one after the other, so that they ask numpy hardly more often than one pass does.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import distinct, places_in
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack

#: Samples of a thinned track are no further apart.
_WIDEST_S = 3.0
#: Passes looked at together: as many as stay in the processor's cache.
_TOGETHER = 16
#: What a straight line between samples may err by on the sky, degrees.
_OUT_BY_DEG = 0.005
#: Where a measured drive goes to and fro about the path, its samples tell that to this much, degrees.
_TO_AND_FRO_DEG = 0.1


def thinned(
    tracks: tuple[MountTrack, ...], steered: tuple[Steered, ...]
) -> tuple[tuple[MountTrack, ...], tuple[Steered, ...]]:
    """Passes and how they are followed, at as few samples as tell both."""
    kept: list[Indices] = []
    for first in range(0, len(tracks), _TOGETHER):
        some = slice(first, first + _TOGETHER)
        kept += _kept(tracks[some], steered[some])
    return (
        tuple(picked_out(track, some) for track, some in zip(tracks, kept, strict=True)),
        tuple(one.at(some) for one, some in zip(steered, kept, strict=True)),
    )


def _kept(tracks: tuple[MountTrack, ...], steered: tuple[Steered, ...]) -> list[Indices]:
    """Which samples of each pass are kept."""
    measured = any(one.told_azimuth_deg is not None for one in steered)
    count = np.array([track.utc_s.size for track in tracks])
    curves = off = np.zeros((0, int(count.sum())))
    pairs = tuple(zip(steered, tracks, strict=True))
    if not all(one.over is None and one.is_exactly(track) for one, track in pairs):
        curves = np.concatenate([one.curves for one in steered], axis=1)
        off = np.concatenate([off_deg(one, track) for one, track in pairs], axis=1)
    telling = _telling(tracks, curves, off, _TO_AND_FRO_DEG if measured else _OUT_BY_DEG)
    first = np.cumsum(count) - count
    each = np.split(telling, np.searchsorted(telling, first[1:]))
    return [own - begin for own, begin in zip(each, first.tolist(), strict=True)]


def off_deg(steered: Steered, track: MountTrack) -> Floats:
    """(P, N) how far the axes are off the satellite before stops are, in as many postures as `curves` has."""
    both = [steered] if steered.over is None else [steered, steered.over]
    return np.stack(
        [
            off_boresight_deg(one.azimuth_deg - track.azimuth_deg, one.elevation_deg, track.elevation_deg)
            for one in both
        ]
    )


def telling_samples(
    track: MountTrack, curves_deg: Floats, off_deg: Floats, out_by_deg: float = _OUT_BY_DEG
) -> Indices:
    """Indices of the samples that tell a pass to within about ``out_by_deg`` on the sky.

    They are at most `_WIDEST_S` apart. The ends of stretches stay.

    Args:
        track: the pass.
        curves_deg: (C, N) angles that must be told as well, azimuth and elevation in turn.
        off_deg: (P, N) angles on the sky that must be.
        out_by_deg: what a straight line may err by.
    """
    return _telling((track,), curves_deg, off_deg, out_by_deg)


def _telling(
    tracks: tuple[MountTrack, ...], curves_deg: Floats, off_deg: Floats, out_by_deg: float
) -> Indices:
    """The same of passes whose samples (N,) lie one after the other."""
    utc_s, azimuth, elevation, worked = (
        np.concatenate([getattr(track, name) for track in tracks])
        for name in ("utc_s", "azimuth_deg", "elevation_deg", "worked")
    )
    if utc_s.size < 3:
        return np.arange(utc_s.size)
    beyond = np.cumsum([track.utc_s.size for track in tracks])
    first, last = np.append(0, beyond[:-1]), beyond - 1
    seen = np.cos(np.radians(np.clip(elevation, -89.0, 89.0)))[1:-1]
    steps_s = np.diff(utc_s)
    steps_s[last[:-1]] = 1.0  # no step at all: what is made of it is not looked at
    slopes = np.diff(np.stack([azimuth, elevation, *curves_deg, *off_deg]), axis=1) / steps_s
    bend = np.abs(np.diff(slopes, axis=1)) / ((steps_s[1:] + steps_s[:-1]) / 2.0)
    bend[: 2 + len(curves_deg) : 2] *= seen
    most = np.zeros(utc_s.size)
    most[1:-1] = bend.max(axis=0)
    most[first], most[last] = most[np.minimum(first + 1, last)], most[np.maximum(last - 1, first)]
    dense = np.maximum(np.sqrt(most / (8.0 * out_by_deg)), 1.0 / _WIDEST_S)
    wanted, along = np.maximum(dense[:-1], dense[1:]) * steps_s, np.zeros(utc_s.size)
    bounds = tuple(zip(first.tolist(), beyond.tolist(), strict=True))
    for begin, end in bounds:
        np.cumsum(wanted[begin : end - 1], out=along[begin + 1 : end])
    changes = np.flatnonzero(worked[1:] != worked[:-1])
    kept, evenly = [first, last, changes, changes + 1], _evenly(along[last])
    kept += [a + along[a:b].searchsorted(even) for (a, b), even in zip(bounds, evenly, strict=True)]
    return distinct(np.concatenate(kept))


def _evenly(ends: Floats) -> list[Floats]:
    """Of each of (P,) columns, places no further apart than 1 from 0 to its end, as few as can be."""
    parts = np.ceil(ends).astype(np.intp)
    places = places_in(parts + 1) * np.repeat(ends / np.maximum(parts, 1), parts + 1)
    lasts = np.cumsum(parts + 1)
    places[lasts - 1] = ends
    return np.split(places, lasts[:-1])


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
