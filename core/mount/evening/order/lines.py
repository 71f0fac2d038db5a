"""All ways of following all passes as one ragged table: first as densely as the tracks, then on the grid.

A *line* is one pass followed in one way from AOS to LOS. Its samples lie side by side in flat columns; line l
has the entries from offsets[l] to offsets[l + 1].
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import ranges
from core.base.units import INSIDE_DEG
from core.mount.check.strikes import Barring, barring_of, held_before
from core.mount.check.ways import offsets_deg, possible_postures
from core.mount.drive.aim import on_fraction
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.joined import JoinedTracks, on_seconds
from core.mount.evening.order.rules import Wanted
from core.mount.model.chain import guarded_travel_deg, posture_shift_deg, zeta_deg
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
    joined: JoinedTracks,
    station: Station,
    wanted: tuple[Wanted, ...],
) -> Iterator[FineLines]:
    """Every line of every wanted pass in reach, upright first, then by pass and turn; splits at the end.

    They come in parts that fit the processor's cache. ``joined`` are `joined_tracks` of the tracks.
    """
    within = [n for n, want in enumerate(wanted) if checks[want.index].verdict is not Verdict.OUT_OF_REACH]
    if not within:
        return
    insisted = [_insisted(checks[want.index], want) for want in wanted]
    for posture in possible_postures(station.mount):
        own = np.array([wanted[n].index for n in within])
        yield from _in_posture(joined, own, posture, station, np.array(within), insisted)
    for n in within:
        check = checks[wanted[n].index]
        if insisted[n] is None and check.verdict is Verdict.SPLIT:
            yield _split_line(check, n, tracks[wanted[n].index], station)


def _insisted(check: PassCheck, want: Wanted) -> WayName | None:
    """The way insisted on, where the pass holds in it."""
    return want.way if any((way.posture, way.turn) == want.way for way in check.ways) else None


def _in_posture(
    tracks: JoinedTracks,
    own: Indices,
    posture: Posture,
    station: Station,
    wants: Indices,
    insisted: Sequence[WayName | None],
) -> Iterator[FineLines]:
    """Every turn of some passes (P,) that can have the satellite on the beam, in one posture."""
    mount = station.mount
    number, turn = ranges(*_turns(tracks, own, mount, posture))
    line, wants = own[number], wants[number]
    offset = np.asarray(offsets_deg(zeta_deg(mount, posture), posture, 0) + 360.0 * turn)
    begins = tracks.azimuth_deg[tracks.offsets[line]] + offset
    names = [(posture, int(n)) for n in np.floor((begins + INSIDE_DEG) / 360.0)]
    kept = [n for n, name in enumerate(names) if insisted[wants[n]] in {None, name}]
    ends = np.cumsum(np.diff(tracks.offsets)[line[kept]]) // _PART
    for part in np.split(np.array(kept, dtype=np.intp), np.flatnonzero(np.diff(ends)) + 1):
        if part.size:
            fine = _part(tracks, line[part], offset[part], station, posture)
            yield replace(fine, want=wants[part], way=tuple(names[n] for n in part))


def _part(
    tracks: JoinedTracks, own: Indices, offset_deg: Floats, station: Station, posture: Posture
) -> FineLines:
    """Some lines: of which tracks, and what is added to azimuth."""
    held = tracks.held[posture]
    low, high = guarded_travel_deg(station.mount.azimuth)
    sizes = np.diff(tracks.offsets)[own]
    slices = [slice(*ends) for ends in zip(tracks.offsets[own], tracks.offsets[own + 1], strict=True)]
    m_deg = np.concatenate([held.azimuth_deg[one] for one in slices]) + np.repeat(offset_deg, sizes)
    on_s = np.concatenate([held.on_s[one] for one in slices])
    offsets = np.concatenate([[0], np.cumsum(sizes)])
    stopped = (held.least_deg[own] + offset_deg < low) | (held.most_deg[own] + offset_deg > high)
    if stopped.any():
        here = np.repeat(stopped, sizes)
        there = [slices[line] for line in np.flatnonzero(stopped)]
        told_deg = m_deg[here]
        m_deg[here] = held_deg = np.minimum(np.maximum(told_deg, low), high)
        on_s[here] = on_seconds(
            np.concatenate([held.height[one] for one in there]),
            np.concatenate([held.flat[one] for one in there]),
            held_deg - told_deg + np.concatenate([held.lag_deg[one] for one in there]),
            np.concatenate([tracks.interval_s[one] for one in there]),
            station.beam_limit_deg,
        )
    e_deg = np.concatenate([held.e_deg[one] for one in slices])
    barring = barring_of(station)
    if barring is not None:
        _hold_off(m_deg, e_deg, on_s, offsets, barring)
    return FineLines(
        want=own,
        way=(None,) * own.size,
        offsets=offsets,
        utc_s=np.concatenate([tracks.utc_s[one] for one in slices]),
        m_deg=m_deg,
        e_deg=e_deg,
        over=np.full(m_deg.size, posture == OVER_THE_TOP),
        on_s=on_s,
    )


def _hold_off(m_deg: Floats, e_deg: Floats, on_s: Floats, offsets: Indices, barring: Barring) -> None:
    """Hold the axes of lines that would strike at the ends of their best free stretch, nothing heard beyond.

    The same stretch as `kept_clear` takes. The columns (N,) are written to.
    """
    of = np.repeat(np.arange(offsets.size - 1), np.diff(offsets))
    struck = barring.along(m_deg, e_deg, of[1:] == of[:-1])
    for line in np.unique(of[:-1][struck]).tolist():
        own = slice(int(offsets[line]), int(offsets[line + 1]))
        steps = slice(own.start, own.stop - 1)
        span = held_before(struck[steps], on_s[steps])
        if span is None:
            on_s[own] = 0.0
            continue
        at = np.arange(own.stop - own.start)
        on_s[own] = np.where((at >= span[0]) & (at < span[1]), on_s[own], 0.0)
        held = own.start + np.clip(at, *span)
        m_deg[own], e_deg[own] = m_deg[held], e_deg[held]


def _turns(tracks: JoinedTracks, own: Indices, mount: Mount, posture: Posture) -> tuple[Indices, Indices]:
    """First k with which some of each pass can be on the beam, and the one beyond the last, (P,) each."""
    low, high = guarded_travel_deg(mount.azimuth)
    shift, lag = posture_shift_deg(posture) - zeta_deg(mount, posture), tracks.lag_deg[own]
    first = np.ceil((low - lag - (tracks.most_deg[own] + shift)) / 360.0)
    beyond = np.floor((high + lag - (tracks.least_deg[own] + shift)) / 360.0) + 1.0
    return first.astype(np.intp), beyond.astype(np.intp)


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
