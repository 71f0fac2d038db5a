"""The search for a split: the best start of one move in mid-pass, over both senses and both postures.

Between any two ways of a pass the satellite may be left at any moment from AOS to LOS; what a start keeps is
what the first way has on the beam until then, what is on the beam during the move, and what the second way
has from being back on (`split_moves`). That has many peaks over the start, and the best is seldom where a
stop is met: near the zenith the beam holds the satellite wherever azimuth is, so the time to turn back is
then, and a gap in the mask is a free moment anywhere. So all pairs of ways are looked at:

    1. pairs that could not keep what is to be beaten, had the beam held all through the move, are dropped;
    2. the others are tried at coarse starts, simulated only where what is sure leaves a chance;
    3. every peak that could still come up to the best is closed in on, by nine starts about it at a time,
       to a quarter of a second.

Everything works on Z seats at once, since the study of the seat asks the same of many bearings.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.check.split_moves import Arrivals, FollowedPass, Moves
from core.mount.check.ways import offsets_deg, possible_postures, turns_in_travel
from core.mount.drive.motion import Steered
from core.mount.drive.slew import slew_seconds
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg
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
_LEAST_GAIN_S = 0.1


@dataclass(frozen=True, eq=False)
class SplitBest:
    """The best split of a pass at each of Z seats.

    Attributes:
        seconds_lost: (Z,) infinite where there is none, or none that beats what was to be beaten.
        start_utc_s: (Z,) when the satellite is left; nan where there is none.
        from_row, to_row: (Z,) the two ways' postures, as indices into `POSTURES`.
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
    ways = [
        (posture, k)
        for posture in possible_postures(mount)
        for k in turns_in_travel(track, mount, zetas[posture], posture)
    ]
    if track.utc_s.size < 3 or len(ways) < 2:
        return _none_best(count)
    return _Search(FollowedPass(track, steered, mount, limit_deg), ways, zetas, worth_s, effort).best()


def _none_best(count: int) -> SplitBest:
    blank = [np.zeros(count, dtype=np.intp) for _ in range(4)]
    return SplitBest(np.full(count, np.inf), np.full(count, np.nan), *blank)


@dataclass(frozen=True, eq=False)
class _Starts:
    """Candidates, each a pair of the search's rows and a start (R,), with what they keep."""

    first: Indices
    second: Indices
    start_s: Floats
    kept_s: Floats

    def some(self, which: Indices) -> _Starts:
        return _Starts(*(getattr(self, field.name)[which] for field in fields(_Starts)))

    def and_more(self, more: _Starts) -> _Starts:
        pairs = [(getattr(self, field.name), getattr(more, field.name)) for field in fields(_Starts)]
        return _Starts(*(np.concatenate(pair) for pair in pairs))


class _Search:
    """One pass at Z seats: all its ways at all seats are W = ways x seats rows, seats running faster.

    Args:
        followed: the pass.
        ways: posture and k of each way with some of the pass inside the travel at some seat.
        zetas: per posture (Z,).
        worth_s: (Z,) seconds that a split must keep more than.
        effort: how hard to look.
    """

    def __init__(
        self,
        followed: FollowedPass,
        ways: list[tuple[Posture, int]],
        zetas: dict[Posture, Floats],
        worth_s: Floats,
        effort: Effort,
    ) -> None:
        self._pass, self._effort, self._worth_s = followed, effort, worth_s
        self._posture_row = np.repeat([POSTURES.index(posture) for posture, _k in ways], worth_s.size)
        self._k = np.repeat([k for _posture, k in ways], worth_s.size)
        self._offset_deg = np.concatenate([offsets_deg(zetas[posture], posture, k) for posture, k in ways])
        self._seat = np.tile(np.arange(worth_s.size), len(ways))
        self._kept = followed.kept_along(self._posture_row, self._offset_deg)
        utc_s = followed.track.utc_s
        span_s = float(utc_s[-1] - utc_s[0])
        self._spacing_s = max(span_s / effort.starts, min(_COARSE_S, span_s / 8.0))

    def best(self) -> SplitBest:
        """The best of each seat, where it keeps more than is to be beaten and than staying in either way."""
        likely = self._coarse(self._pairs_worth())
        if not likely.first.size:
            return _none_best(self._worth_s.size)
        found = self._closed_in(likely)
        total = self._kept.total_s
        stays = np.maximum(total[found.first], total[found.second])
        beaten = np.maximum(stays, self._worth_s[self._seat[found.first]])
        top = self._highest(found.some(np.flatnonzero(found.kept_s > beaten)), 1)
        seat, best = self._seat[top.first], _none_best(self._worth_s.size)
        best.seconds_lost[seat] = np.maximum(self._pass.track.seconds_in_all - top.kept_s, 0.0)
        best.start_utc_s[seat] = top.start_s
        best.from_row[seat], best.to_row[seat] = self._posture_row[top.first], self._posture_row[top.second]
        best.from_k[seat], best.to_k[seat] = self._k[top.first], self._k[top.second]
        return best

    def _pairs_worth(self) -> _Starts:
        """Pairs of ways that could keep more than is to be beaten, had the beam held all through the move.

        What is to be beaten (kept here as ``kept_s``) is at least what staying in either way would keep: a
        move that gains nothing is no split. Near the zenith, or with a wide beam, a move can keep what
        neither way does.
        """
        so_far, total = self._kept.so_far_s, self._kept.total_s
        rows = np.arange(total.size).reshape(-1, self._worth_s.size)
        number = rows.shape[0]
        a, b = (side.ravel() for side in np.meshgrid(np.arange(number), np.arange(number), indexing="ij"))
        differ = a != b
        first, second = rows[a[differ]].ravel(), rows[b[differ]].ravel()
        beaten = np.maximum(np.maximum(total[first], total[second]), self._worth_s[self._seat[first]])
        beaten = beaten + _LEAST_GAIN_S
        later, moving_s = self._longest_move()
        good = np.flatnonzero(total[first] + total[second] + moving_s.max() > beaten)
        first, second, beaten = first[good], second[good], beaten[good]
        most = (so_far[first] - so_far[second][:, later] + moving_s).max(axis=1, initial=0.0) + total[second]
        enough = np.flatnonzero(most > beaten)
        return _Starts(first[enough], second[enough], np.zeros(enough.size), beaten[enough])

    def _longest_move(self) -> tuple[Indices, Floats]:
        """(N,) sample by which a move begun before the next is over, (N,) seconds over the mask till then.

        No move takes longer than from one end of both axes to the other: by then an axis can be anywhere.
        """
        mount, axis_deg = self._pass.mount, self._pass.axis_deg
        ends = (
            (*guarded_travel_deg(mount.azimuth), mount.azimuth),
            (axis_deg.min(), axis_deg.max(), mount.elevation),
        )
        turning, tipping = (
            max(float(slew_seconds(low, high, axis)), float(slew_seconds(high, low, axis)))
            for low, high, axis in ends
        )
        whole_s = max(turning, tipping) if mount.drive.both_axes_at_once else turning + tipping
        utc_s, worked_s = self._pass.track.utc_s, self._pass.worked_s
        later = np.searchsorted(utc_s, np.append(utc_s[1:], utc_s[-1]) + whole_s)
        later = np.minimum(later, utc_s.size - 1)
        return later, worked_s[later] - worked_s

    def _grid_s(self) -> Floats:
        """The coarse starts: even from AOS to LOS, the highest moment, and where the mask hides and shows."""
        track = self._pass.track
        utc_s = track.utc_s
        count = max(round(float(utc_s[-1] - utc_s[0]) / self._spacing_s), 1)
        edges = np.flatnonzero(np.diff(track.worked.astype(np.intp)) != 0)
        special = [utc_s[int(np.argmax(track.elevation_deg))], *utc_s[edges], *utc_s[edges + 1]]
        return np.unique(np.concatenate([np.linspace(utc_s[0], utc_s[-1], count + 1), special]))

    def _coarse(self, pairs: _Starts) -> _Starts:
        """Every pair at every coarse start that could be best, simulated roughly.

        Sure is what is kept outside the move; a start is worth simulating where that and all of the move
        would be more than what is to be beaten, and more than what some start of the same seat keeps for
        sure.
        """
        grid, samples = self._grid_s(), self._effort.samples
        first, second = np.repeat(pairs.first, grid.size), np.repeat(pairs.second, grid.size)
        every = _Starts(first, second, np.tile(grid, pairs.first.size), np.repeat(pairs.kept_s, grid.size))
        there = self._pass.arrivals(self._moves(every), exactly=False)
        sure, between = self._outside_the_move(every, there)
        seat = self._seat[first]
        surest = self._best_of_seats(every.first, sure)
        most = sure + between
        # A start near by may keep as much more as the starts are apart.
        could = np.flatnonzero(most + self._spacing_s > np.maximum(every.kept_s, surest[seat]))
        # A few spread over all that could be first: what they keep rules most of the others out.
        few = np.zeros(could.size, dtype=bool)
        few[_spread(seat[could], self._effort.simulated)] = True
        tried = self._simulated(every.some(could[few]), samples, exactly=False)
        np.maximum.at(surest, seat[could[few]], tried.kept_s)
        rest = could[~few]
        rest = rest[most[rest] + self._spacing_s > surest[seat[rest]]]
        more = self._simulated(every.some(rest), samples, exactly=False)
        return tried.and_more(more).some(np.argsort(np.concatenate([could[few], rest])))

    def _closed_in(self, likely: _Starts) -> _Starts:
        """The best few of each seat, started at the best moment near by.

        Whoever could still come up to the best stays in, so that a sharp best between two coarse starts is
        not lost to a flat one that happens to lie on one.
        """
        effort, width_s = self._effort, self._spacing_s
        best = self._still_in(likely.some(_peaks(likely)), width_s, effort.closed_in)
        while width_s > 4.0 * _FINEST_S:
            best = self._around(best, width_s, effort.samples, exactly=False)
            width_s /= 4.0
            best = self._still_in(best, width_s, effort.closed_in)
        last = self._still_in(best, 4.0 * _FINEST_S, _POLISHED)
        return self._around(last, 4.0 * _FINEST_S, effort.finely, effort.exactly)

    def _still_in(self, found: _Starts, width_s: float, number: int) -> _Starts:
        """The ``number`` best of each seat, less those that moving by ``width_s`` would not make its best."""
        best = self._best_of_seats(found.first, found.kept_s)[self._seat[found.first]]
        return self._highest(found.some(np.flatnonzero(found.kept_s >= best - _STEEP * width_s)), number)

    def _around(self, best: _Starts, width_s: float, samples: int, exactly: bool) -> _Starts:
        """Each candidate at the best of nine starts within ``width_s``."""
        utc_s = self._pass.track.utc_s
        start_s = best.start_s[:, None] + width_s * np.linspace(-1.0, 1.0, 9)
        start_s = np.clip(start_s, utc_s[0], utc_s[-1])
        first, second = np.repeat(best.first, 9), np.repeat(best.second, 9)
        around = _Starts(first, second, start_s.ravel(), np.repeat(best.kept_s, 9))
        tried = self._simulated(around, samples, exactly)
        top = np.argmax(tried.kept_s.reshape(start_s.shape), axis=1)
        return tried.some(np.arange(best.first.size) * 9 + top)

    def _moves(self, starts: _Starts) -> Moves:
        first, second = starts.first, starts.second
        row, offset_deg = self._posture_row, self._offset_deg
        return Moves(row[first], row[second], offset_deg[first], offset_deg[second], starts.start_s)

    def _outside_the_move(self, starts: _Starts, there: Arrivals) -> tuple[Floats, Floats]:
        """(R,) seconds kept before the start and from being back on, (R,) seconds over the mask between."""
        start, back = self._pass.at(starts.start_s), self._pass.until_los(there.back_on_s)
        after = self._kept.total_s[starts.second] - self._kept.until(starts.second, back)
        between = back.of(self._pass.worked_s) - start.of(self._pass.worked_s)
        return self._kept.until(starts.first, start) + after, between

    def _simulated(self, some: _Starts, samples: int, exactly: bool) -> _Starts:
        """What the candidates really keep."""
        moves = self._moves(some)
        there = self._pass.arrivals(moves, exactly)
        sure, _between = self._outside_the_move(some, there)
        kept_s = sure + self._pass.kept_in_move(moves, there, samples)
        return _Starts(some.first, some.second, some.start_s, kept_s)

    def _best_of_seats(self, first: Indices, kept_s: Floats) -> Floats:
        """(Z,) the most that any candidate of each seat keeps."""
        best = np.zeros(self._worth_s.size)
        np.maximum.at(best, self._seat[first], kept_s)
        return best

    def _highest(self, found: _Starts, number: int) -> _Starts:
        """The ``number`` candidates of each seat that keep most."""
        seat = self._seat[found.first]
        order = np.lexsort((-found.kept_s, seat))
        new = np.concatenate([[True], np.diff(seat[order]) != 0])[: order.size]
        begins = np.maximum.accumulate(np.where(new, np.arange(order.size), 0))
        return found.some(order[np.arange(order.size) - begins < number])


def _spread(seat: Indices, number: int) -> Indices:
    """Indices of about ``number`` of each seat's rows, evenly among them."""
    order = np.argsort(seat, kind="stable")
    counts = np.bincount(seat, minlength=1)
    place = np.arange(order.size) - np.repeat(np.cumsum(counts) - counts, counts)
    return np.asarray(order[place % np.repeat(np.maximum(counts // number, 1), counts) == 0])


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
