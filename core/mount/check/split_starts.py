"""The best starts of one move in mid-pass, of many seats at once: from pairs of ways to the best moment.

1. pairs that could not keep what is to be beaten, had the beam held all through the move, are dropped;
2. the others are tried at coarse starts, simulated only where what is sure leaves a chance;
3. every peak that could still come up to the best is closed in on, by nine starts about it at a time,
to a quarter of a second.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.check.followed import Ragged, chunks_of, ragged
from core.mount.check.idle_starts import not_idle
from core.mount.check.split_columns import LEVEL_S, Starts, Ways
from core.mount.check.split_moves import Arrivals, Moves, arrivals, kept_in_move
from core.mount.check.split_passes import SearchedPasses

#: Candidates closed in on finely.
_POLISHED = 3
#: Moving a start by a second is taken to change what it keeps by no more than this, seconds.
STEEP = 3.0
#: Coarse starts further apart than this, in spacings, are not beside each other.
_BESIDE = 1.6
#: Starts are told to this many seconds.
_FINEST_S = 0.25
#: Starts tried about one, in shares of the width; the last round tries the start itself again.
AROUND = np.linspace(-1.0, 1.0, 9)
#: A split gains at least this on staying in one of its ways, else it is none.
_LEAST_GAIN_S = 0.1


class StartSearch:
    """The search at Z seats.

    Args:
        search: the passes, and what is known of them.
        of_pass: (Z,) the pass that is worked at each seat.
        ways: of all seats, seat by seat.
        worth_s: (Z,) seconds that a split must keep more than.
    """

    def __init__(self, search: SearchedPasses, of_pass: Indices, ways: Ways, worth_s: Floats) -> None:
        self._all, self._passes, self._effort = search, search.passes, search.effort
        self._ways, self._seat, self._worth_s = ways, ways.seat, worth_s
        self._pass_of_seat, self._of_pass = of_pass, of_pass[ways.seat]
        asked = self._of_pass, ways.posture_row, ways.offset_deg
        self._kept = self._passes.kept_along(*asked)
        #: What staying in each way would keep.
        self._staying_s = self._kept.total_s

    def best(self) -> Starts:
        """The best start of each seat, where it keeps more than is to be beaten and than staying in a way."""
        pairs = self._pairs_worth()
        likely = self._coarse(pairs) if pairs.first.size else pairs
        if not likely.first.size:
            return likely
        found = self._closed_in(likely)
        staying_s = self._staying_s
        stays = np.maximum(staying_s[found.first], staying_s[found.second]) + LEVEL_S
        beaten = np.maximum(stays, self._worth_s[self._seat[found.first]])
        return self._highest(found.some(np.flatnonzero(found.kept_s > beaten)), 1)

    def _pairs_worth(self) -> Starts:
        """Pairs of ways that could keep more than is to be beaten, had the beam held all through the move.

        What is to be beaten (kept here as ``kept_s``) is at least what staying in either way would keep: a
        move that gains nothing is no split. Near the zenith, or with a wide beam, a move can keep what
        neither way does.
        """
        total, moving_s = self._kept.total_s, self._all.longest_move[1]
        number = np.bincount(self._seat, minlength=self._worth_s.size)
        first, second = ragged((np.cumsum(number) - number)[self._seat], number[self._seat])
        beaten = self._beaten_by(first, second)
        longest_s = np.maximum.reduceat(moving_s, self._passes.first)[self._of_pass[first]]
        good = np.flatnonzero((total[first] + total[second] + longest_s > beaten) & (first != second))
        pairs = Starts(first[good], second[good], np.zeros(good.size), beaten[good])
        worth, count = [np.zeros(0, dtype=np.intp)], self._passes.count[self._of_pass[pairs.first]]
        for some in chunks_of(count):
            here = pairs.some(some)
            pair, sample = self._samples_of(here.first)
            most = self._most_s(here.first.take(pair), here.second.take(pair), sample)
            begins = np.cumsum(count[some]) - count[some]
            most = np.maximum(np.maximum.reduceat(most, begins), 0.0) + total[here.second]
            worth.append(np.flatnonzero(most > here.kept_s) + some.start)
        return pairs.some(np.concatenate(worth))

    def _beaten_by(self, first: Indices, second: Indices) -> Floats:
        """(R,) what a split of two ways must keep more than."""
        staying_s = np.maximum(self._staying_s[first], self._staying_s[second])
        return np.asarray(np.maximum(staying_s, self._worth_s[self._seat[first]]) + _LEAST_GAIN_S)

    def _most_s(self, first: Indices, second: Indices, sample: Indices) -> Floats:
        """(R,) what a move begun before the next sample keeps at most, less all that its second way keeps."""
        later, moving_s = self._all.longest_move
        shift, so_far_s = self._kept.shift, self._kept.so_far_s
        most = so_far_s.take(sample + shift.take(first))
        most += moving_s.take(sample)
        most -= so_far_s.take(later.take(sample) + shift.take(second))
        return most

    def _samples_of(self, row: Indices) -> Ragged:
        of_pass = self._of_pass[row]
        return ragged(self._passes.first[of_pass], self._passes.count[of_pass])

    def _coarse(self, pairs: Starts) -> Starts:
        """Every pair at every coarse start that could be best, simulated roughly.

        Sure is what is kept outside the move; a start is worth simulating where that and all of the move
        would be more than what is to be beaten, and more than what some start of the same seat keeps for
        sure.
        """
        grid_s, grid_first, grid_count = self._all.grid
        of_pass = self._of_pass[pairs.first]
        pair, start = ragged(grid_first[of_pass], grid_count[of_pass])
        good = not_idle(self._all, self._kept, self._of_pass, self._ways, pairs, pair, start)
        pair, start = pair[good], start[good]
        every = replace(pairs.some(pair), start_s=grid_s[start])
        there = arrivals(self._passes, self._moves(every), exactly=False)
        sure, between = self._outside_the_move(every, there)
        seat = self._seat[every.first]
        surest = self._best_of_seats(every.first, sure)
        most = sure + between
        # A start near by may keep as much more as the starts are apart.
        spare = most + self._all.spacing_s[of_pass][pair]
        could = np.flatnonzero(spare > np.maximum(every.kept_s, surest[seat]))
        # A few spread over all that could be first: what they keep rules most of the others out.
        few = np.zeros(could.size, dtype=bool)
        few[_spread(seat[could], self._effort.simulated)] = True

        def simulated(which: Indices) -> Starts:
            return self._simulated(every.some(which), there.some(which), sure[which])

        tried = simulated(could[few])
        np.maximum.at(surest, seat[could[few]], tried.kept_s)
        rest = could[~few]
        rest = rest[spare[rest] > surest[seat[rest]]]
        return tried.and_more(simulated(rest)).some(np.argsort(np.concatenate([could[few], rest])))

    def _simulated(self, starts: Starts, there: Arrivals, sure_s: Floats) -> Starts:
        """The starts (R,) with what they keep: that is sure, and what the move keeps, told roughly."""
        moved_s = kept_in_move(self._passes, self._moves(starts), there, self._effort.samples)
        return replace(starts, kept_s=sure_s + moved_s)

    def _closed_in(self, likely: Starts) -> Starts:
        """The best few of each seat, started at the best moment near by.

        Whoever could still come up to the best stays in, so that a sharp best between two coarse starts is
        not lost to a flat one that happens to lie on one.
        """
        effort, width_s = self._effort, self._all.spacing_s[self._pass_of_seat]
        peaks = _peaks(likely, self._all.spacing_s[self._of_pass[likely.first]])
        best = self._still_in(likely.some(peaks), width_s, effort.closed_in)
        while (width_s > 4.0 * _FINEST_S).any():
            wide = np.flatnonzero(width_s[self._seat[best.first]] > 4.0 * _FINEST_S)
            best = best.mended(wide, self._around(best.some(wide), width_s))
            width_s = np.where(width_s > 4.0 * _FINEST_S, width_s / 4.0, width_s)
            best = self._still_in(best, width_s, effort.closed_in)
        finest_s = np.full(width_s.size, 4.0 * _FINEST_S)
        return self._finely(self._still_in(best, finest_s, _POLISHED), finest_s)

    def _still_in(self, found: Starts, width_s: Floats, number: int) -> Starts:
        """The ``number`` best of each seat, less those that its width (Z,) would not make its best."""
        least = self._best_of_seats(found.first, found.kept_s) - STEEP * width_s
        enough = found.kept_s >= least[self._seat[found.first]]
        return self._highest(found.some(np.flatnonzero(enough)), number)

    def _around(self, best: Starts, width_s: Floats) -> Starts:
        """Each candidate at the best of starts about it; what it keeps itself is known.

        Those that lie a width away were tried with the round before, and kept less.
        """
        others = np.delete(AROUND, [0, AROUND.size // 2, AROUND.size - 1])
        tried = self._tried(best, width_s, others, self._effort.samples, exactly=False)
        # In order of starts: of those that keep the same, the first is gone on from.
        place = np.arange(tried.first.size).reshape(-1, others.size)
        own = tried.first.size + np.arange(best.first.size)
        place = np.insert(place, others.size // 2, own, axis=1)
        return _best_of(tried.and_more(best).some(place.ravel()), others.size + 1)

    def _finely(self, best: Starts, width_s: Floats) -> Starts:
        """Each candidate at the best of nine starts about it, all told finely."""
        return _best_of(
            self._tried(best, width_s, AROUND, self._effort.finely, self._effort.exactly), AROUND.size
        )

    def _tried(self, best: Starts, width_s: Floats, shares: Floats, samples: int, exactly: bool) -> Starts:
        """Each candidate at starts about it, by shares of its seat's width, simulated."""
        row = np.repeat(np.arange(best.first.size), shares.size)
        start_s = best.start_s[row] + width_s[self._seat[best.first]][row] * np.tile(shares, best.first.size)
        some = replace(best.some(row), start_s=self._in_pass(best.first[row], start_s))
        moves = self._moves(some)
        there = arrivals(self._passes, moves, exactly)
        sure, _between = self._outside_the_move(some, there)
        kept_s = sure + kept_in_move(self._passes, moves, there, samples)
        return replace(some, kept_s=self._if_free(some, there, kept_s))

    def _if_free(self, _starts: Starts, _there: Arrivals, kept_s: Floats) -> Floats:
        """(R,) what starts keep, minus infinite where something would strike."""
        return kept_s

    def _moves(self, starts: Starts) -> Moves:
        first, second, ways = starts.first, starts.second, self._ways
        rows = ways.posture_row[first], ways.posture_row[second]
        offsets = ways.offset_deg[first], ways.offset_deg[second]
        return Moves(self._of_pass[first], *rows, *offsets, starts.start_s)

    def _in_pass(self, first: Indices, start_s: Floats) -> Floats:
        """(R,) starts held from AOS to LOS, of the pass of each first way."""
        of_pass = self._of_pass[first]
        return np.clip(start_s, self._passes.begin_s[of_pass], self._passes.end_s[of_pass])

    def _outside_the_move(self, starts: Starts, there: Arrivals) -> tuple[Floats, Floats]:
        """(R,) seconds kept before the start and from being back on, (R,) seconds over the mask between."""
        passes, kept = self._passes, self._kept
        start = passes.at(starts.start_s)
        back = passes.until_los(there.back_on_s, self._of_pass[starts.first])
        after = kept.total_s[starts.second] - passes.until(kept, starts.second, back)
        between = back.of(passes.worked_s) - start.of(passes.worked_s)
        return passes.until(kept, starts.first, start) + after, between

    def _best_of_seats(self, first: Indices, kept_s: Floats) -> Floats:
        """(Z,) the most that any candidate of each seat keeps."""
        best = np.zeros(self._worth_s.size)
        np.maximum.at(best, self._seat[first], kept_s)
        return best

    def _highest(self, found: Starts, number: int) -> Starts:
        """The ``number`` candidates of each seat that keep most."""
        seat = self._seat[found.first]
        order = np.lexsort((-found.kept_s, seat))
        new = np.concatenate([[True], np.diff(seat[order]) != 0])[: order.size]
        begins = np.maximum.accumulate(np.where(new, np.arange(order.size), 0))
        return found.some(order[np.arange(order.size) - begins < number])


def _best_of(tried: Starts, number: int) -> Starts:
    """Of every so many candidates the first that keeps most."""
    top = np.argmax(tried.kept_s.reshape(-1, number), axis=1)
    return tried.some(np.arange(top.size) * number + top)


def _spread(seat: Indices, number: int) -> Indices:
    """Indices of about ``number`` of each seat's rows, evenly among them."""
    order = np.argsort(seat, kind="stable")
    counts = np.bincount(seat, minlength=1)
    place = np.arange(order.size) - np.repeat(np.cumsum(counts) - counts, counts)
    return np.asarray(order[place % np.repeat(np.maximum(counts // number, 1), counts) == 0])


def _peaks(found: Starts, spacing_s: Floats) -> Indices:
    """Starts that no neighbour of the same pair beats, of a level row only its ends.

    ``found`` is in order of pairs, then of starts; one that is further off than coarse starts are apart (R,)
    is no neighbour, since what lay between was passed over. A gap in the mask can make a long row of starts
    that keep the same, which must not crowd out all others.
    """
    same = (np.diff(found.first) == 0) & (np.diff(found.second) == 0)
    same &= np.diff(found.start_s) < _BESIDE * spacing_s[:-1]
    by = np.where(same, np.diff(found.kept_s), 0.0)
    level = same & (np.abs(by) < LEVEL_S)
    higher_right = np.concatenate([by >= LEVEL_S, [False]])
    higher_left = np.concatenate([[False], by <= -LEVEL_S])
    inside = np.concatenate([level, [False]]) & np.concatenate([[False], level])
    return np.flatnonzero(~(higher_right | higher_left | inside))
