"""Splits: the best start moment of one move in mid-pass, over both senses and both postures.

Between any two ways of a pass the satellite may be left at any moment from AOS to LOS; what a start keeps is
what the first way has on the beam until then, what is on the beam during the move, and what the second way
has from being back on (`split_run`). The search looks at all pairs of ways on a coarse grid of
starts, keeps those that could still be best, and closes in on them to a quarter of a second.

Every function works on Z seats at once, since the study of the seat asks the same of many bearings.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.check.split_run import (
    Arrivals,
    Kept,
    Moves,
    PassTable,
    arrivals,
    kept_along,
    kept_in_move,
    look_up,
    pass_table,
    place_of,
)
from core.mount.check.ways import possible_postures, turns_in_travel
from core.mount.drive.motion import Steered
from core.mount.drive.slew import slew_seconds
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import posture_shift_deg
from core.mount.model.station import POSTURES, Mount, Posture

#: Starts looked at first are this many seconds apart at least.
_COARSE_S = 3.0
#: Candidates closed in on finely.
_POLISHED = 3
#: Starts that keep the same to this much, seconds, are level.
_LEVEL_S = 1e-6
#: Moving a start by a second is taken to change what it keeps by no more than this, seconds.
_STEEP = 3.0
#: Starts are told to this many seconds.
_FINEST_S = 0.25
#: A split gains at least this on staying in one of its ways, else it is none.
_SOMETHING_S = 0.1


@dataclass(frozen=True, eq=False)
class SplitBest:
    """The best split of a pass at each of Z seats.

    Attributes:
        seconds_lost: (Z,) infinite where there is none, or none that beats what was to be beaten.
        start_utc_s: (Z,) when the satellite is left; nan where there is none.
        from_row, to_row: (Z,) the two ways' postures, as indices into `core.mount.model.chain.POSTURES`.
        from_k, to_k: (Z,) full turns added to m before and after.
    """

    seconds_lost: Floats
    start_utc_s: Floats
    from_row: Indices
    to_row: Indices
    from_k: Indices
    to_k: Indices


@dataclass(frozen=True)
class Effort:
    """How hard to look: coarse starts, moves simulated and closed in on per seat, samples of a move.

    The last round samples a move ``finely``, and finds its end ``exactly`` or nearly.
    """

    starts: int
    simulated: int
    closed_in: int
    samples: int
    finely: int
    exactly: bool


#: A verdict is looked for carefully; a study of many seats is near enough (a second) with less.
CAREFUL, QUICK = Effort(240, 80, 8, 40, 200, True), Effort(60, 32, 8, 40, 64, False)


@dataclass(frozen=True, eq=False)
class _Ways:
    """All ways at all seats, W = ways x seats rows, seats running faster."""

    posture_row: Indices
    k: Indices
    offset_deg: Floats
    seat: Indices
    kept: Kept


@dataclass(frozen=True, eq=False)
class _Starts:
    """Candidates, each a pair of rows of `_Ways` and a start (R,), with what they keep."""

    first: Indices
    second: Indices
    start_s: Floats
    kept_s: Floats

    def some(self, which: Indices) -> _Starts:
        return _Starts(self.first[which], self.second[which], self.start_s[which], self.kept_s[which])


def best_splits(
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    zetas: dict[Posture, Floats],
    limit_deg: float,
    worth_beating_s: Floats | None = None,
    effort: Effort = CAREFUL,
) -> SplitBest:
    """The best start of one move for each of Z seats.

    Args:
        track, steered, mount: the pass, what the axes do, the mount (its seat is not looked at).
        zetas: per posture (Z,) bearing of boresight on the counter-clockwise stop.
        limit_deg: half the beamwidth.
        worth_beating_s: (Z,) seconds lost by the best of all other means; None: nothing to beat.
        effort: how hard to look.
    """
    count = zetas[POSTURES[0]].size
    beat = np.full(count, track.seconds_in_all) if worth_beating_s is None else worth_beating_s
    worth_s = track.seconds_in_all - np.minimum(beat, track.seconds_in_all)
    nothing = _none_best(count)
    if track.utc_s.size < 3:
        return nothing
    table = pass_table(track, steered, mount, limit_deg)
    ways = _all_ways(table, track, mount, zetas)
    if ways is None:
        return nothing
    pairs = _pairs_worth(table, ways, count, worth_s)
    likely = _coarse(table, ways, pairs, effort)
    if not likely.first.size:
        return nothing
    found = _closed_in(table, ways, likely, effort)
    return _best_of(ways, found, worth_s, track.seconds_in_all)


def _none_best(count: int) -> SplitBest:
    blank = [np.zeros(count, dtype=np.intp) for _ in range(4)]
    return SplitBest(np.full(count, np.inf), np.full(count, np.nan), *blank)


def _all_ways(
    table: PassTable, track: MountTrack, mount: Mount, zetas: dict[Posture, Floats]
) -> _Ways | None:
    """Every way with some of the pass inside the travel at some seat, at every seat."""
    named = [
        (posture, k)
        for posture in possible_postures(mount)
        for k in turns_in_travel(track, mount, zetas[posture], posture)
    ]
    if len(named) < 2:
        return None
    count = zetas[POSTURES[0]].size
    offsets = np.concatenate([posture_shift_deg(p) - zetas[p] + 360.0 * k for p, k in named])
    rows = np.repeat([place_of(p) for p, _k in named], count)
    turns = np.repeat([k for _p, k in named], count)
    return _Ways(
        rows, turns, offsets, np.tile(np.arange(count), len(named)), kept_along(table, rows, offsets)
    )


def _pairs_worth(table: PassTable, ways: _Ways, count: int, worth_s: Floats) -> _Starts:
    """Pairs of ways that could keep more than is to be beaten, had the beam held all through the move.

    What is to be beaten (kept here as ``kept_s``) is at least what staying in either way would keep: a move
    that gains nothing is no split. Near the zenith, or with a wide beam, a move can keep what neither way
    does.
    """
    so_far, total = ways.kept.so_far_s, ways.kept.so_far_s[:, -1]
    rows = np.arange(total.size).reshape(-1, count)
    number = rows.shape[0]
    a, b = (side.ravel() for side in np.meshgrid(np.arange(number), np.arange(number), indexing="ij"))
    differ = a != b
    first, second = rows[a[differ]].ravel(), rows[b[differ]].ravel()
    beaten = np.maximum(np.maximum(total[first], total[second]), worth_s[ways.seat[first]]) + _SOMETHING_S
    later, moving_s = _longest_move(table)
    good = np.flatnonzero(total[first] + total[second] + moving_s.max() > beaten)
    first, second, beaten = first[good], second[good], beaten[good]
    most = (so_far[first] - so_far[second][:, later] + moving_s).max(axis=1, initial=0.0) + total[second]
    enough = np.flatnonzero(most > beaten)
    return _Starts(first[enough], second[enough], np.zeros(enough.size), beaten[enough])


def _longest_move(table: PassTable) -> tuple[Indices, Floats]:
    """(N,) sample by which a move begun before the next sample is over, (N,) seconds over the mask till then.

    No move takes longer than from one end of both axes to the other: by then an axis can be anywhere.
    """
    low, high = table.axis_deg.min(), table.axis_deg.max()
    turning, tipping = (
        max(float(slew_seconds(start, end, axis)), float(slew_seconds(end, start, axis)))
        for start, end, axis in (
            (table.guard_deg, table.top_deg, table.azimuth),
            (low, high, table.elevation),
        )
    )
    whole_s = max(turning, tipping) if table.together else turning + tipping
    utc_s, last = table.track.utc_s, table.track.utc_s.size - 1
    later = np.minimum(np.searchsorted(utc_s, np.append(utc_s[1:], utc_s[-1]) + whole_s), last)
    return later, table.worked_s[later] - table.worked_s


def _spacing_s(track: MountTrack, effort: Effort) -> float:
    span = float(track.utc_s[-1] - track.utc_s[0])
    return max(span / effort.starts, min(_COARSE_S, span / 8.0))


def _grid_s(track: MountTrack, effort: Effort) -> Floats:
    """The coarse starts: even from AOS to LOS, the highest moment, and where the mask hides and shows."""
    utc_s = track.utc_s
    count = max(round(float(utc_s[-1] - utc_s[0]) / _spacing_s(track, effort)), 1)
    edges = np.flatnonzero(np.diff(track.worked.astype(np.intp)) != 0)
    special = [utc_s[int(np.argmax(track.elevation_deg))], *utc_s[edges], *utc_s[edges + 1]]
    return np.unique(np.concatenate([np.linspace(utc_s[0], utc_s[-1], count + 1), special]))


def _coarse(table: PassTable, ways: _Ways, pairs: _Starts, effort: Effort) -> _Starts:
    """Every pair at every coarse start that could be best, simulated roughly.

    Sure is what is kept outside the move; a start is worth simulating where that and all of the move would be
    more than what is to be beaten, and more than what some start of the same seat keeps for sure.
    """
    grid = _grid_s(table.track, effort)
    first, second = np.repeat(pairs.first, grid.size), np.repeat(pairs.second, grid.size)
    all_ = _Starts(first, second, np.tile(grid, pairs.first.size), np.repeat(pairs.kept_s, grid.size))
    there = arrivals(table, _moves(ways, all_), exactly=False)
    sure, between = _outside_the_move(table, ways, all_, there)
    seat = ways.seat[first]
    surest = np.zeros(int(ways.seat.max(initial=0)) + 1)
    np.maximum.at(surest, seat, sure)
    most = sure + between
    # A start near by may keep as much more as the starts are apart.
    slack_s = _spacing_s(table.track, effort)
    could = np.flatnonzero(most + slack_s > np.maximum(all_.kept_s, surest[seat]))
    # A few spread over all that could be first: what they keep rules most of the others out.
    few = np.zeros(could.size, dtype=bool)
    few[_spread(seat[could], effort.simulated)] = True
    tried = _simulated(table, ways, all_.some(could[few]), effort.samples, exactly=False)
    np.maximum.at(surest, seat[could[few]], tried.kept_s)
    rest = could[~few]
    rest = rest[most[rest] + slack_s > surest[seat[rest]]]
    more = _simulated(table, ways, all_.some(rest), effort.samples, exactly=False)
    where = np.concatenate([could[few], rest])
    both = _Starts(
        *(np.concatenate([getattr(tried, f.name), getattr(more, f.name)]) for f in fields(_Starts))
    )
    return both.some(np.argsort(where))


def _spread(seat: Indices, number: int) -> Indices:
    """Indices of about ``number`` of each seat's rows, evenly among them."""
    order = np.argsort(seat, kind="stable")
    counts = np.bincount(seat, minlength=1)
    place = np.arange(order.size) - np.repeat(np.cumsum(counts) - counts, counts)
    return np.asarray(order[place % np.repeat(np.maximum(counts // number, 1), counts) == 0])


def _moves(ways: _Ways, starts: _Starts) -> Moves:
    first, second = starts.first, starts.second
    return Moves(
        ways.posture_row[first],
        ways.posture_row[second],
        ways.offset_deg[first],
        ways.offset_deg[second],
        starts.start_s,
    )


def _outside_the_move(
    table: PassTable, ways: _Ways, starts: _Starts, there: Arrivals
) -> tuple[Floats, Floats]:
    """(R,) seconds kept before the start and from being back on, and (R,) seconds over the mask between."""
    utc_s, kept = table.track.utc_s, ways.kept
    start = look_up(utc_s, starts.start_s)
    back = look_up(utc_s, np.minimum(there.back_on_s, utc_s[-1]))
    after = kept.so_far_s[starts.second, -1] - kept.until(table, starts.second, back)
    between = back.of(table.worked_s) - start.of(table.worked_s)
    return kept.until(table, starts.first, start) + after, between


def _simulated(table: PassTable, ways: _Ways, some: _Starts, samples: int, exactly: bool) -> _Starts:
    """What the candidates really keep."""
    moves = _moves(ways, some)
    there = arrivals(table, moves, exactly)
    sure, _between = _outside_the_move(table, ways, some, there)
    kept_s = sure + kept_in_move(table, moves, there, samples)
    return _Starts(some.first, some.second, some.start_s, kept_s)


def _highest(seat: Indices, value: Floats, number: int) -> Indices:
    """Indices of the ``number`` highest of each seat."""
    order = np.lexsort((-value, seat))
    new = np.concatenate([[True], np.diff(seat[order]) != 0])[: order.size]
    begins = np.maximum.accumulate(np.where(new, np.arange(order.size), 0))
    return order[np.arange(order.size) - begins < number]


def _peaks(found: _Starts) -> Indices:
    """Starts that no neighbour of the same pair beats, of a level row only its ends.

    ``found`` is in order of pairs, then of starts. A gap in the mask can make a long row of starts that keep
    the same, which must not crowd out all others.
    """
    same = (np.diff(found.first) == 0) & (np.diff(found.second) == 0)
    by = np.where(same, np.diff(found.kept_s), 0.0)
    level = same & (np.abs(by) < _LEVEL_S)
    higher_right = np.concatenate([by >= _LEVEL_S, [False]])
    higher_left = np.concatenate([[False], by <= -_LEVEL_S])
    inside = np.concatenate([level, [False]]) & np.concatenate([[False], level])
    return np.flatnonzero(~(higher_right | higher_left | inside))


def _closed_in(table: PassTable, ways: _Ways, likely: _Starts, effort: Effort) -> _Starts:
    """The best few of each seat, started at the best moment near by.

    Whoever could still come up to the best stays in, so that a sharp best between two coarse starts is not
    lost to a flat one that happens to lie on one.
    """
    peaks, width = likely.some(_peaks(likely)), _spacing_s(table.track, effort)
    best = _still_in(ways, peaks, width, effort.closed_in)
    while width > 4.0 * _FINEST_S:
        best = _around(table, ways, best, width, effort.samples, exactly=False)
        width /= 4.0
        best = _still_in(ways, best, width, effort.closed_in)
    last = _still_in(ways, best, 4.0 * _FINEST_S, _POLISHED)
    return _around(table, ways, last, 4.0 * _FINEST_S, effort.finely, effort.exactly)


def _still_in(ways: _Ways, found: _Starts, width_s: float, number: int) -> _Starts:
    """The ``number`` best of each seat, less those that moving by ``width_s`` would not make its best."""
    seat = ways.seat[found.first]
    best = np.zeros(int(seat.max(initial=0)) + 1)
    np.maximum.at(best, seat, found.kept_s)
    near = found.some(np.flatnonzero(found.kept_s >= best[seat] - _STEEP * width_s))
    return near.some(_highest(ways.seat[near.first], near.kept_s, number))


def _around(
    table: PassTable, ways: _Ways, best: _Starts, width_s: float, samples: int, exactly: bool
) -> _Starts:
    """Each candidate at the best of nine starts within ``width_s``."""
    utc_s = table.track.utc_s
    start_s = best.start_s[:, None] + width_s * np.linspace(-1.0, 1.0, 9)
    start_s = np.clip(start_s, utc_s[0], utc_s[-1])
    first, second = np.repeat(best.first, 9), np.repeat(best.second, 9)
    around = _Starts(first, second, start_s.ravel(), np.repeat(best.kept_s, 9))
    tried = _simulated(table, ways, around, samples, exactly)
    top = np.argmax(tried.kept_s.reshape(start_s.shape), axis=1)
    return tried.some(np.arange(best.first.size) * 9 + top)


def _best_of(ways: _Ways, found: _Starts, worth_s: Floats, in_all_s: float) -> SplitBest:
    """The best of each seat, where it keeps more than is to be beaten and than staying in either way."""
    total = ways.kept.so_far_s[:, -1]
    stays = np.maximum(total[found.first], total[found.second])
    gains = found.some(np.flatnonzero(found.kept_s > np.maximum(stays, worth_s[ways.seat[found.first]])))
    top = gains.some(_highest(ways.seat[gains.first], gains.kept_s, 1))
    seat, best = ways.seat[top.first], _none_best(worth_s.size)
    best.seconds_lost[seat] = np.maximum(in_all_s - top.kept_s, 0.0)
    best.start_utc_s[seat] = top.start_s
    best.from_row[seat], best.to_row[seat] = ways.posture_row[top.first], ways.posture_row[top.second]
    best.from_k[seat], best.to_k[seat] = ways.k[top.first], ways.k[top.second]
    return best
