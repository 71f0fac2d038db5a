"""All ways of following all passes as one ragged table: first as densely as the tracks, then on the grid.

A *line* is one pass followed in one way from AOS to LOS. Its samples lie side by side in flat columns; line l
has the entries from offsets[l] to offsets[l + 1].
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import entries_of, ranges
from core.base.units import INSIDE_DEG
from core.mount.check.ways import offsets_deg, possible_postures
from core.mount.drive.aim import on_fraction
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
#: About so many samples at once stay in the processor's cache.
_PART = 30_000

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
) -> Iterator[FineLines]:
    """Every line of every wanted pass in reach, upright first, then by pass and turn; splits at the end.

    They come in parts that fit the processor's cache.
    """
    within = [n for n, want in enumerate(wanted) if checks[want.index].verdict is not Verdict.OUT_OF_REACH]
    if not within:
        return
    insisted = [_insisted(checks[want.index], want) for want in wanted]
    own = _Tracks.joined([tracks[wanted[n].index] for n in within])
    followed = [steered[wanted[n].index] for n in within]
    for posture in possible_postures(station.mount):
        yield from _in_posture(own, followed, posture, station, np.array(within), insisted)
    for n in within:
        check = checks[wanted[n].index]
        if insisted[n] is None and check.verdict is Verdict.SPLIT:
            yield _split_line(check, n, tracks[wanted[n].index], station)


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
) -> Iterator[FineLines]:
    """Every turn of every pass that can have the satellite on the beam, in one posture."""
    mount = station.mount
    line, turn = ranges(*_turns(tracks, mount, posture, station.beam_limit_deg))
    offset = np.asarray(offsets_deg(zeta_deg(mount, posture), posture, 0) + 360.0 * turn)
    begins = tracks.azimuth_deg[tracks.offsets[line]] + offset
    names = [(posture, int(n)) for n in np.floor((begins + INSIDE_DEG) / 360.0)]
    held = _HeldTracks.of(tracks, followed, posture, mount)
    kept = [n for n, name in enumerate(names) if insisted[wants[line[n]]] in {None, name}]
    ends = np.cumsum(np.diff(tracks.offsets)[line[kept]]) // _PART
    for part in np.split(np.array(kept, dtype=np.intp), np.flatnonzero(np.diff(ends)) + 1):
        if part.size:
            fine = _part(tracks, held, line[part], offset[part], station, posture)
            yield replace(fine, want=wants[line[part]], way=tuple(names[n] for n in part))


@dataclass(frozen=True, eq=False)
class _HeldTracks:
    """All of a posture that is the same in every turn, by sample of the tracks.

    Attributes:
        azimuth_deg, e_deg: what the axes do, elevation held inside its range.
        height, flat: sin^2 of half of what elevation is off, and the product of both elevations' cosines.
    """

    azimuth_deg: Floats
    e_deg: Floats
    height: Floats
    flat: Floats

    @classmethod
    def of(cls, tracks: _Tracks, followed: Sequence[Steered], posture: Posture, mount: Mount) -> _HeldTracks:
        here = [one.in_posture(posture) for one in followed]
        told = axis_elevation_deg(np.concatenate([one.elevation_deg for one in here]), posture)
        e_deg = np.clip(told, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
        a, b = np.radians(e_deg), np.radians(axis_elevation_deg(tracks.elevation_deg, posture))
        azimuth_deg = np.concatenate([one.azimuth_deg for one in here])
        return cls(azimuth_deg, e_deg, np.sin((a - b) / 2.0) ** 2, np.cos(a) * np.cos(b))


def _part(
    tracks: _Tracks, held: _HeldTracks, own: Indices, offset_deg: Floats, station: Station, posture: Posture
) -> FineLines:
    """Some lines: of which tracks, and what is added to azimuth."""
    low, high = guarded_travel_deg(station.mount.azimuth)
    sizes = np.diff(tracks.offsets)[own]
    sample, added = entries_of(own, tracks.offsets), np.repeat(offset_deg, sizes)
    m_deg = np.minimum(np.maximum(held.azimuth_deg[sample] + added, low), high)
    apart = m_deg - (tracks.azimuth_deg[sample] + added)
    chord = held.height[sample] + held.flat[sample] * np.sin(np.radians(apart) / 2.0) ** 2
    on_s = np.append(_on_share(chord, station.beam_limit_deg), 0.0) * tracks.interval_s[sample]
    return FineLines(
        want=own,
        way=(None,) * own.size,
        offsets=np.concatenate([[0], np.cumsum(sizes)]),
        utc_s=tracks.utc_s[sample],
        m_deg=m_deg,
        e_deg=held.e_deg[sample],
        over=np.full(sample.size, posture == OVER_THE_TOP),
        on_s=on_s,
    )


def _on_share(chord: Floats, limit_deg: float) -> Floats:
    """(N-1,) share of each interval on the beam, as `on_fraction`; angles are worked out at its edge alone.

    Args:
        chord: (N,) sin^2 of half the angle off boresight.
        limit_deg: half the beamwidth.
    """
    outside = chord > np.sin(np.radians(limit_deg) / 2.0) ** 2
    edge = np.flatnonzero(outside[1:] != outside[:-1])
    share = np.where(outside[1:], 0.0, 1.0)
    off = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(chord[np.concatenate([edge, edge + 1])], 0.0, 1.0))))
    inner, outer = np.sort(off.reshape(2, -1), axis=0)
    share[edge] = np.clip((limit_deg - inner) / np.maximum(outer - inner, 1e-12), 0.0, 1.0)
    return share


def _turns(tracks: _Tracks, mount: Mount, posture: Posture, limit_deg: float) -> tuple[Indices, Indices]:
    """First k with which some of each pass can be on the beam, and the one beyond the last, (T,) each."""
    low, high = guarded_travel_deg(mount.azimuth)
    azimuth = tracks.azimuth_deg + posture_shift_deg(posture) - zeta_deg(mount, posture)
    least, most = (
        reduce(azimuth, tracks.offsets[:-1]) for reduce in (np.minimum.reduceat, np.maximum.reduceat)
    )
    lag = _widest_lag_deg(np.maximum.reduceat(tracks.elevation_deg, tracks.offsets[:-1]), limit_deg)
    first = np.ceil((low - lag - most) / 360.0)
    beyond = np.floor((high + lag - least) / 360.0) + 1.0
    return first.astype(np.intp), beyond.astype(np.intp)


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


def followed_lines(parts: Iterable[FineLines], mount: Mount, step_s: float) -> FollowedLines:
    """`on_grid` of all parts of a table, one after the other."""
    found = [on_grid(part, mount, step_s) for part in parts]

    def column(name: str, kind: type) -> np.ndarray:
        return np.concatenate([np.zeros(0, dtype=kind), *(getattr(one, name) for one in found)])

    sizes = np.concatenate([np.zeros(0, np.intp), *(np.diff(one.offsets) for one in found)])
    return FollowedLines(
        want=column("want", np.intp),
        way=tuple(way for one in found for way in one.way),
        offsets=np.concatenate([[0], np.cumsum(sizes)]),
        utc_s=column("utc_s", np.float64),
        m_deg=column("m_deg", np.float64),
        e_deg=column("e_deg", np.float64),
        over=column("over", np.bool_),
        signal_s=column("signal_s", np.float64),
        clear_deg_s=column("clear_deg_s", np.float64),
        turned_deg=column("turned_deg", np.float64),
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
    _, number = ranges(low - 1, low - 1 + sizes)
    moments = np.asarray(number * step_s, dtype=np.float64)
    moments[offsets[:-1][real]], moments[offsets[1:][real] - 1] = start[real], end[real]
    return moments, offsets, first


def _placed(lines: FineLines, line: Indices, moments: Floats) -> tuple[Indices, Floats]:
    """The sample before each moment of each line, and the share of the way to the next one."""
    began = lines.utc_s[lines.offsets[:-1]]
    of = np.repeat(np.arange(began.size), np.diff(lines.offsets))
    since = lines.utc_s - began[of]
    apart = float(since.max(initial=0.0)) + 10.0  # one line after the other on one axis of time
    before = np.searchsorted(since + apart * of, moments - began[line] + apart * line, side="right") - 1
    before = np.clip(before, lines.offsets[line], lines.offsets[line + 1] - 2)
    wide = lines.utc_s[before + 1] - lines.utc_s[before]
    share = (moments - lines.utc_s[before]) / np.where(wide > 0.0, wide, 1.0)
    return before, np.clip(share, 0.0, 1.0)
