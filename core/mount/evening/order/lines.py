"""All ways of following all passes as one ragged table on the evening's grid.

Where no stop is met, a way is its posture's line turned on: those are thinned once for all seats (`joined`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import ranges
from core.base.units import INSIDE_DEG
from core.mount.check.strikes import Barring, barring_of, held_before
from core.mount.check.ways import offsets_deg, possible_postures
from core.mount.drive.aim import on_fraction
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.grid import ON_GRID_S, Clock, GridLines, Stretches, grid_of, since_first
from core.mount.evening.order.joined import JoinedTracks, chord_of, is_outside, share_at_edge
from core.mount.evening.order.rules import Wanted
from core.mount.model.chain import guarded_travel_deg, posture_shift_deg, zeta_deg
from core.mount.model.results import PassCheck, Verdict
from core.mount.model.station import OVER_THE_TOP, Mount, Posture, Station

#: Further from the stops than this is no better.
CLEAR_ENOUGH_DEG = 15.0
#: About so many samples at once stay in the processor's cache.
_PART = 100_000

WayName = tuple[Posture, int]


@dataclass(frozen=True, eq=False)
class FollowedLines:
    """L lines on the grid; one that is never on the beam has no samples.

    Attributes:
        want: (L,) index among the wanted.
        way: (L,) posture and turn; None for a split.
        order: (L,) the lines, upright first, then by pass and turn; splits at the end.
        samples: of all lines.
        clear_deg_s: (M,) as in `Option`.
    """

    want: Indices
    way: tuple[WayName | None, ...]
    order: Indices
    samples: GridLines
    clear_deg_s: Floats

    @property
    def seconds(self) -> Floats:
        """(L,) from the first sample to the last; 0 without any."""
        first, beyond = self.samples.offsets[:-1], self.samples.offsets[1:]
        some = np.flatnonzero(beyond > first)
        found = np.zeros(first.size)
        found[some] = self.samples.utc_s[beyond[some] - 1] - self.samples.utc_s[first[some]]
        return found


class _Part(NamedTuple):
    """Some of the lines: their places in the order of all, and what they are."""

    place: Indices
    want: Indices
    way: tuple[WayName | None, ...]
    samples: GridLines


def followed_lines(
    checks: tuple[PassCheck, ...],
    tracks: tuple[MountTrack, ...],
    joined: JoinedTracks,
    station: Station,
    wanted: tuple[Wanted, ...],
) -> FollowedLines:
    """Every line of every wanted pass in reach; ``joined`` are `joined_tracks` of the tracks."""
    within = [n for n, want in enumerate(wanted) if checks[want.index].verdict is not Verdict.OUT_OF_REACH]
    own = np.array([wanted[n].index for n in within], dtype=np.intp)
    insisted = [_insisted(checks[want.index], want) for want in wanted]
    parts: list[_Part] = []
    for posture in possible_postures(station.mount) if within else ():
        begin = _count(parts)
        some = _in_posture(joined, own, posture, station, np.array(within), insisted)
        parts.extend(part._replace(place=begin + part.place) for part in some)
    for n, index in zip(within, own.tolist(), strict=True):
        if insisted[n] is None and checks[index].verdict is Verdict.SPLIT:
            line = _split_line(checks[index], tracks[index], station, joined.step_s)
            parts.append(_Part(np.array([_count(parts)]), np.array([n]), (None,), line))
    return _one_after_another(parts, station.mount)


def _count(parts: Sequence[_Part]) -> int:
    return sum(part.place.size for part in parts)


def _one_after_another(parts: Sequence[_Part], mount: Mount) -> FollowedLines:
    samples = GridLines.joined([part.samples for part in parts])
    none = np.zeros(0, dtype=np.intp)
    return FollowedLines(
        want=np.concatenate([none, *(part.want for part in parts)]),
        way=tuple(way for part in parts for way in part.way),
        order=np.argsort(np.concatenate([none, *(part.place for part in parts)])),
        samples=samples,
        clear_deg_s=_clear_deg_s(samples, mount),
    )


def _clear_deg_s(samples: GridLines, mount: Mount) -> Floats:
    """(M,) as in `Option`."""
    low, high = guarded_travel_deg(mount.azimuth)
    off_stops = np.minimum(np.minimum(samples.m_deg - low, high - samples.m_deg), CLEAR_ENOUGH_DEG)
    clear = np.diff(samples.signal_s) * (off_stops[1:] + off_stops[:-1]) / 2.0
    return since_first(np.concatenate([[0.0], np.cumsum(clear)]), samples.offsets)


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
) -> Iterator[_Part]:
    """Every turn of some passes (P,) that can have the satellite on the beam, in one posture."""
    mount, held = station.mount, tracks.held[posture]
    number, turn = ranges(*_turns(tracks, own, mount, posture))
    line, wants = own[number], wants[number]
    offset = np.asarray(offsets_deg(zeta_deg(mount, posture), posture, 0) + 360.0 * turn)
    begins = tracks.azimuth_deg[tracks.clock.offsets[line]] + offset
    names = [(posture, int(n)) for n in np.floor((begins + INSIDE_DEG) / 360.0)]
    kept = [n for n, name in enumerate(names) if insisted[wants[n]] in {None, name}]
    line, wants, offset = line[kept], wants[kept], offset[kept]
    low, high = guarded_travel_deg(mount.azimuth)
    stops = (held.least_deg[line] + offset < low) | (held.most_deg[line] + offset > high)
    barring = barring_of(station)
    if barring is not None:  # where a line is held then depends on where it lies in the tripod's frame
        stops[:] = True

    def part(here: Indices, samples: GridLines) -> _Part:
        return _Part(here, wants[here], tuple(names[kept[n]] for n in here), samples)

    free, stopped = np.flatnonzero(~stops), np.flatnonzero(stops)
    yield part(free, held.lines.some(line[free], offset[free]))
    ends = np.cumsum(np.diff(tracks.clock.offsets)[line[stopped]]) // _PART
    for here in np.split(stopped, np.flatnonzero(np.diff(ends)) + 1):
        if here.size:
            some = line[here], offset[here], station, posture
            yield part(
                here, _stopped(tracks, *some) if barring is None else _held_off(tracks, *some, barring)
            )


def _stopped(
    tracks: JoinedTracks, own: Indices, offset_deg: Floats, station: Station, posture: Posture
) -> GridLines:
    """Some lines with azimuth held at the stops: of which tracks, and what is added to azimuth."""
    held, (low, high) = tracks.held[posture], guarded_travel_deg(station.mount.azimuth)
    samples = tracks.within(own, low - offset_deg, high - offset_deg)
    on_s = _stopped_on_s(tracks, samples, offset_deg, station, posture)
    grid = grid_of(tracks.clock, own, samples, on_s, tracks.step_s)
    offset_deg = offset_deg[grid.line]

    def told_deg(sample: Indices) -> Floats:
        return np.minimum(np.maximum(held.azimuth_deg[sample] + offset_deg, low), high)

    m_deg = grid.between(told_deg(grid.before), told_deg(grid.before + 1))
    return GridLines.of(grid, m_deg, grid.of(held.e_deg), np.full(m_deg.size, posture == OVER_THE_TOP))


def _held_off(
    tracks: JoinedTracks,
    own: Indices,
    offset_deg: Floats,
    station: Station,
    posture: Posture,
    barring: Barring,
) -> GridLines:
    """Such lines, held off what they would strike as well."""
    held, (low, high) = tracks.held[posture], guarded_travel_deg(station.mount.azimuth)
    samples = tracks.clock.samples_of(own)
    on_s = _stopped_on_s(tracks, samples, offset_deg, station, posture)
    begins, ends = samples
    offsets = np.concatenate([[0], np.cumsum(ends - begins)])
    slices = [slice(*pair) for pair in zip(begins, ends, strict=True)]
    told_deg = np.concatenate([held.azimuth_deg[one] for one in slices]) + np.repeat(
        offset_deg, ends - begins
    )
    m_deg = np.minimum(np.maximum(told_deg, low), high)
    e_deg = np.concatenate([held.e_deg[one] for one in slices])
    _hold_off(m_deg, e_deg, on_s, offsets, barring)
    grid = grid_of(tracks.clock, own, samples, on_s, tracks.step_s)
    at = grid.before - (begins - offsets[:-1])[grid.line]
    over = np.full(grid.utc_s.size, posture == OVER_THE_TOP)
    return GridLines.of(
        grid, grid.between(m_deg[at], m_deg[at + 1]), grid.between(e_deg[at], e_deg[at + 1]), over
    )


def _stopped_on_s(
    tracks: JoinedTracks, samples: Stretches, offset_deg: Floats, station: Station, posture: Posture
) -> Floats:
    """The ``on_s`` of such lines, as in `grid_of`: as without stops but for what touches one."""
    held, (low, high) = tracks.held[posture], guarded_travel_deg(station.mount.azimuth)
    begins, ends = samples
    sizes = ends - begins
    line, sample = ranges(begins, ends)
    told_deg = held.azimuth_deg[sample] + offset_deg[line]
    away_deg = np.minimum(np.maximum(told_deg, low), high) - told_deg
    outside, on_s = held.outside[sample], held.on_s[sample]
    stops = away_deg != 0.0
    there = np.flatnonzero(stops)
    at = sample[there]
    outside[there] = is_outside(held.reach_deg[at], away_deg[there] + held.lag_deg[at])
    touched = np.flatnonzero(stops[1:] | stops[:-1])
    on_s[touched] = np.where(outside[touched + 1], 0.0, tracks.interval_s[sample[touched]])

    def chord(of: Indices) -> Floats:
        at = sample[of]
        return chord_of(held.height[at], held.flat[at], away_deg[of] + held.lag_deg[at])

    edge = touched[outside[touched] != outside[touched + 1]]
    share = share_at_edge(chord(edge), chord(edge + 1), station.beam_limit_deg)
    on_s[edge] = share * tracks.interval_s[sample[edge]]
    on_s[np.cumsum(sizes) - 1] = 0.0
    return on_s


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


def _split_line(check: PassCheck, track: MountTrack, station: Station, step_s: float) -> GridLines:
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
    left = pointing.utc_s > split.start_utc_s + ON_GRID_S
    over = np.where(left, split.to_posture == OVER_THE_TOP, split.from_posture == OVER_THE_TOP)
    clock = Clock.of(np.array([0, pointing.utc_s.size]), pointing.utc_s)
    only = np.zeros(1, dtype=np.intp)
    grid = grid_of(clock, only, clock.samples_of(only), np.append(on_s, 0.0), step_s)
    over = over[np.where(grid.share < 1.0, grid.before, grid.before + 1)]
    return GridLines.of(grid, grid.of(pointing.m_deg), grid.of(pointing.e_deg), over)
