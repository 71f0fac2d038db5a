"""All ways of following all passes as one ragged table: first as densely as the tracks, then on the grid.

A *line* is one pass followed in one way from AOS to LOS. Its samples lie side by side in flat columns; line l
has the entries from offsets[l] to offsets[l + 1].
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import entries_of, ranges
from core.base.units import INSIDE_DEG
from core.mount.check.ways import offsets_deg, possible_postures
from core.mount.drive.aim import off_boresight_deg, on_fraction
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.rules import Wanted
from core.mount.model.chain import axis_elevation_deg, guarded_travel_deg, posture_shift_deg, zeta_deg
from core.mount.model.results import PassCheck, Verdict
from core.mount.model.station import OVER_THE_TOP, Mount, Posture, Station

#: Further from the stops than this is no better.
CLEAR_ENOUGH_DEG = 15.0
#: A moment this near a grid moment is on it.
_ON_GRID_S = 1e-6

WayName = tuple[Posture, int]


@dataclass(frozen=True, eq=False)
class FineLines:
    """Passes followed, at their tracks' own sampling.

    Attributes:
        want: (L,) index among the wanted.
        way: (L,) posture and turn; None for a split.
        offsets: (L + 1,) where each line's samples begin, and where the last ends.
        utc_s, m_deg, e_deg: (N,) moments and the axes then.
        over: (N,) bool, over the top then.
        on_s: (N,) seconds on the beam over the mask until the line's next sample; 0 at its last.
    """

    want: Indices
    way: tuple[WayName | None, ...]
    offsets: Indices
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    over: Flags
    on_s: Floats


@dataclass(frozen=True, eq=False)
class FollowedLines:
    """Lines thinned to the grid; a line that is never on the beam has no samples.

    Attributes:
        want, way, offsets: as in `FineLines`.
        utc_s, m_deg, e_deg, over, signal_s, clear_deg_s, turned_deg: (M,) as in `Option`.
    """

    want: Indices
    way: tuple[WayName | None, ...]
    offsets: Indices
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    over: Flags
    signal_s: Floats
    clear_deg_s: Floats
    turned_deg: Floats


def lines_of(
    checks: tuple[PassCheck, ...],
    tracks: tuple[MountTrack, ...],
    steered: tuple[Steered, ...],
    station: Station,
    wanted: tuple[Wanted, ...],
) -> FineLines:
    """Every line of every wanted pass in reach, upright first, then by pass and turn; splits at the end."""
    within = [n for n, want in enumerate(wanted) if checks[want.index].verdict is not Verdict.OUT_OF_REACH]
    insisted = [_insisted(checks[want.index], want) for want in wanted]
    parts = [
        _split_line(checks[wanted[n].index], n, tracks[wanted[n].index], station)
        for n in within
        if insisted[n] is None and checks[wanted[n].index].verdict is Verdict.SPLIT
    ]
    if within:
        own = _Tracks.joined([tracks[wanted[n].index] for n in within])
        followed = [steered[wanted[n].index] for n in within]
        ways = [
            _in_posture(own, followed, posture, station, np.array(within), insisted)
            for posture in possible_postures(station.mount)
        ]
        parts = [*ways, *parts]
    return _joined(parts)


def _insisted(check: PassCheck, want: Wanted) -> WayName | None:
    """The way insisted on, where the pass holds in it."""
    return want.way if any((way.posture, way.turn) == want.way for way in check.ways) else None


@dataclass(frozen=True, eq=False)
class _Tracks:
    """Tracks one after the other; ``interval_s`` is 0 at the last sample of each."""

    offsets: Indices
    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    interval_s: Floats

    @classmethod
    def joined(cls, tracks: Sequence[MountTrack]) -> _Tracks:
        sizes = [track.utc_s.size for track in tracks]
        return cls(
            offsets=np.concatenate([[0], np.cumsum(sizes)]),
            utc_s=np.concatenate([track.utc_s for track in tracks]),
            azimuth_deg=np.concatenate([track.azimuth_deg for track in tracks]),
            elevation_deg=np.concatenate([track.elevation_deg for track in tracks]),
            interval_s=np.concatenate([np.append(track.interval_s, 0.0) for track in tracks]),
        )


def _in_posture(
    tracks: _Tracks,
    followed: Sequence[Steered],
    posture: Posture,
    station: Station,
    wants: Indices,
    insisted: Sequence[WayName | None],
) -> FineLines:
    """Every turn of every pass that can have the satellite on the beam, in one posture."""
    mount, limit = station.mount, station.beam_limit_deg
    first, last = _turns(tracks, mount, posture, limit)
    line, turn = ranges(first, last + 1)
    offset = np.asarray(offsets_deg(zeta_deg(mount, posture), posture, 0) + 360.0 * turn)
    begins = tracks.azimuth_deg[tracks.offsets[line]] + offset
    names = [(posture, int(n)) for n in np.floor((begins + INSIDE_DEG) / 360.0)]
    kept = [insisted[n] in {None, name} for n, name in zip(wants[line].tolist(), names, strict=True)]
    line, offset = line[kept], offset[kept]
    sizes = np.diff(tracks.offsets)[line]
    sample, added = entries_of(line, tracks.offsets), np.repeat(offset, sizes)
    here = [one.in_posture(posture) for one in followed]
    azimuth, elevation = (
        np.concatenate([np.asarray(axis) for axis in axes])
        for axes in zip(*((one.azimuth_deg, one.elevation_deg) for one in here), strict=True)
    )
    low, high = guarded_travel_deg(mount.azimuth)
    m_deg = np.clip(azimuth[sample] + added, low, high)
    told = axis_elevation_deg(elevation, posture)
    e_deg = np.clip(told, mount.elevation.minimum_deg, mount.elevation.maximum_deg)[sample]
    apart = m_deg - (tracks.azimuth_deg[sample] + added)
    off = off_boresight_deg(apart, e_deg, axis_elevation_deg(tracks.elevation_deg, posture)[sample])
    on_s = np.append(on_fraction(off, limit), 0.0) * tracks.interval_s[sample]
    return FineLines(
        want=wants[line],
        way=tuple(name for name, keep in zip(names, kept, strict=True) if keep),
        offsets=np.concatenate([[0], np.cumsum(sizes)]),
        utc_s=tracks.utc_s[sample],
        m_deg=m_deg,
        e_deg=e_deg,
        over=np.full(sample.size, posture == OVER_THE_TOP),
        on_s=on_s,
    )


def _turns(tracks: _Tracks, mount: Mount, posture: Posture, limit_deg: float) -> tuple[Indices, Indices]:
    """First and last k with which some of each pass can be on the beam, (T,) each."""
    low, high = guarded_travel_deg(mount.azimuth)
    azimuth = tracks.azimuth_deg + posture_shift_deg(posture) - zeta_deg(mount, posture)
    least, most = (
        reduce(azimuth, tracks.offsets[:-1]) for reduce in (np.minimum.reduceat, np.maximum.reduceat)
    )
    lag = _widest_lag_deg(np.maximum.reduceat(tracks.elevation_deg, tracks.offsets[:-1]), limit_deg)
    first = np.ceil((low - lag - most) / 360.0)
    last = np.floor((high + lag - least) / 360.0)
    return first.astype(np.intp), last.astype(np.intp)


def _widest_lag_deg(highest_deg: Floats, limit_deg: float) -> Floats:
    """So far off in azimuth the satellite may still be on the beam, at the elevations of a pass; up to 180.

    The sine rule on the sky; the axis may be as much higher than the satellite as the beam is wide.
    """
    flat = np.cos(np.radians(np.minimum(highest_deg + limit_deg, 90.0)))
    ratio = np.sin(np.radians(limit_deg) / 2.0) / np.maximum(flat, 1e-9)
    return np.asarray(np.degrees(2.0 * np.arcsin(np.minimum(ratio, 1.0))))


def _split_line(check: PassCheck, number: int, track: MountTrack, station: Station) -> FineLines:
    """The pass as the verdict's split follows it."""
    pointing, split = check.pointing, check.split
    assert pointing is not None
    assert split is not None
    over_s = np.concatenate([[0.0], np.cumsum(track.interval_s)])
    on_s = on_fraction(pointing.off_deg, station.beam_limit_deg)
    on_s = on_s * np.diff(np.interp(pointing.utc_s, track.utc_s, over_s))
    if split.settling_utc_s is not None:  # the verdict counts none of it
        inside = np.clip(pointing.utc_s, split.settling_utc_s, split.end_utc_s)
        on_s *= 1.0 - np.diff(inside) / np.diff(pointing.utc_s)
    left = pointing.utc_s > split.start_utc_s + _ON_GRID_S
    return FineLines(
        want=np.array([number]),
        way=(None,),
        offsets=np.array([0, pointing.utc_s.size]),
        utc_s=pointing.utc_s,
        m_deg=pointing.m_deg,
        e_deg=pointing.e_deg,
        over=np.where(left, split.to_posture == OVER_THE_TOP, split.from_posture == OVER_THE_TOP),
        on_s=np.append(on_s, 0.0),
    )


def _joined(parts: Sequence[FineLines]) -> FineLines:
    def column(name: str, empty: Floats | Flags | Indices) -> np.ndarray:
        return np.concatenate([empty, *(getattr(part, name) for part in parts)])

    sizes = np.concatenate([np.zeros(0, np.intp), *(np.diff(part.offsets) for part in parts)])
    return FineLines(
        want=column("want", np.zeros(0, np.intp)),
        way=tuple(way for part in parts for way in part.way),
        offsets=np.concatenate([[0], np.cumsum(sizes)]).astype(np.intp),
        utc_s=column("utc_s", np.zeros(0)),
        m_deg=column("m_deg", np.zeros(0)),
        e_deg=column("e_deg", np.zeros(0)),
        over=column("over", np.zeros(0, bool)),
        on_s=column("on_s", np.zeros(0)),
    )


def on_grid(lines: FineLines, mount: Mount, step_s: float) -> FollowedLines:
    """Lines thinned to the grid by linear interpolation.

    Args:
        lines: as followed.
        mount: for the guards.
        step_s: the grid: multiples of it, and the first and the last moment on the beam.
    """
    moments, offsets, first = _grid_moments(lines, step_s)
    line = np.repeat(np.arange(first.size), np.diff(offsets))
    before, share = _placed(lines, line, moments)

    def between(values: Floats) -> Floats:
        return np.asarray(values[before] + share * (values[before + 1] - values[before]))

    m_deg = between(lines.m_deg)
    heard = np.concatenate([[0.0], np.cumsum(lines.on_s)])[before] + share * lines.on_s[before]
    low, high = guarded_travel_deg(mount.azimuth)
    off_stops = np.minimum(np.minimum(m_deg - low, high - m_deg), CLEAR_ENOUGH_DEG)
    clear = np.diff(heard) * (off_stops[1:] + off_stops[:-1]) / 2.0
    return FollowedLines(
        want=lines.want,
        way=lines.way,
        offsets=offsets,
        utc_s=moments,
        m_deg=m_deg,
        e_deg=between(lines.e_deg),
        over=lines.over[np.where(share < 1.0, before, before + 1)],
        signal_s=_since_first(heard, offsets),
        clear_deg_s=_since_first(np.concatenate([[0.0], np.cumsum(clear)]), offsets),
        turned_deg=_since_first(np.concatenate([[0.0], np.cumsum(np.abs(np.diff(m_deg)))]), offsets),
    )


def _since_first(running: Floats, offsets: Indices) -> Floats:
    """A running sum over all lines (one entry too many where there is none), from each line's first on."""
    if offsets[-1] == 0:
        return np.zeros(0)
    sizes = np.diff(offsets)
    return running - np.repeat(running[np.minimum(offsets[:-1], running.size - 1)], sizes)


def _grid_moments(lines: FineLines, step_s: float) -> tuple[Floats, Indices, Indices]:
    """Moments of the grid of each line, where they begin, and each line's first sample on the beam."""
    count = len(lines.way)
    if not count:
        return np.zeros(0), np.zeros(1, np.intp), np.zeros(0, np.intp)
    numbers, on = np.arange(lines.on_s.size), lines.on_s > 0.0
    first = np.minimum.reduceat(np.where(on, numbers, on.size), lines.offsets[:-1])
    last = np.maximum.reduceat(np.where(on, numbers + 1, -1), lines.offsets[:-1])
    real = last > first
    start = lines.utc_s[np.where(real, first, 0)]
    end = lines.utc_s[np.where(real, last, 0)]
    low = np.floor((start + _ON_GRID_S) / step_s).astype(np.intp) + 1
    beyond = np.ceil((end - _ON_GRID_S) / step_s).astype(np.intp)
    sizes = np.where(real, np.maximum(beyond - low, 0) + 2, 0)
    offsets = np.concatenate([[0], np.cumsum(sizes)])
    line, number = ranges(low - 1, low - 1 + sizes)
    moments = np.asarray(number * step_s, dtype=np.float64)
    moments[offsets[:-1][real]], moments[offsets[1:][real] - 1] = start[real], end[real]
    return moments, offsets, first


def _placed(lines: FineLines, line: Indices, moments: Floats) -> tuple[Indices, Floats]:
    """The sample before each moment of each line, and the share of the way to the next one."""
    began = lines.utc_s[np.minimum(lines.offsets[:-1], lines.utc_s.size - 1)]
    of = np.repeat(np.arange(began.size), np.diff(lines.offsets))
    since = lines.utc_s - began[of]
    apart = float(since.max(initial=0.0)) + 10.0  # one line after the other on one axis of time
    before = np.searchsorted(since + apart * of, moments - began[line] + apart * line, side="right") - 1
    before = np.clip(before, lines.offsets[line], lines.offsets[line + 1] - 2)
    wide = lines.utc_s[before + 1] - lines.utc_s[before]
    share = (moments - lines.utc_s[before]) / np.where(wide > 0.0, wide, 1.0)
    return before, np.clip(share, 0.0, 1.0)
