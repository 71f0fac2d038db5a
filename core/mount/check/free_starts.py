"""The best starts of one move in mid-pass where something may strike: a search that passes over what does.

What is left out first costs nothing: starts at which the first way has struck already, and those that get
there before the second one is free for good. Of the others those that keep most are asked first whether their
move strikes, as to ask is dear; about the best of those that do it is looked for a gap between coarse starts.
What is told in the end is asked along its whole path.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property, reduce

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import places_in
from core.mount.check.followed import ragged
from core.mount.check.split_columns import Starts, Ways
from core.mount.check.split_moves import Arrivals, arrivals
from core.mount.check.split_passes import SearchedPasses
from core.mount.check.split_paths import moves_strike, paths_strike, told_s
from core.mount.check.split_starts import AROUND, STEEP, StartSearch
from core.mount.check.ways_struck import struck_along

#: Between coarse starts, in shares of what they are apart, a gap in what strikes is looked for: about so many
#: of each seat as the share `_GAPS_OF` of those simulated.
_BETWEEN, _GAPS_OF = np.array([-0.25, 0.25, 0.5]), 4
#: So many starts of each seat are asked first whether they strike.
_ASKED_FIRST = 4


class FreeStartSearch(StartSearch):
    """As `StartSearch`, of splits of which no piece strikes."""

    def __init__(self, search: SearchedPasses, of_pass: Indices, ways: Ways, worth_s: Floats) -> None:
        super().__init__(search, of_pass, ways, worth_s)
        self._struck = struck_along(self._passes, self._of_pass, ways.posture_row, ways.offset_deg)
        self._staying_s = np.where(self._struck.any, 0.0, self._kept.total_s)

    def _most_s(self, first: Indices, second: Indices, sample: Indices) -> Floats:
        """As without strikes; minus infinite where no move can begin any more.

        Ways count until they strike, and from when they do no more.
        """
        later, moving_s = self._all.longest_move
        shift, so_far_s = self._kept.shift, self._kept.so_far_s
        most = so_far_s[sample + shift[first]] + moving_s[sample]
        most -= np.maximum(so_far_s[later[sample] + shift[second]], self._not_before_s[second])
        most[self._passes.clock_s[sample] > self._struck.free_until_s[first]] = -np.inf
        return np.asarray(most)

    @cached_property
    def _not_before_s(self) -> Floats:
        """(W,) what each way keeps before it is free for good: of no use to a split that goes on in it."""
        passes, every = self._passes, np.arange(self._of_pass.size)
        begin_s = passes.begin_s[self._of_pass]
        return passes.until(self._kept, every, passes.at(np.maximum(self._struck.free_from_s, begin_s)))

    def _coarse(self, pairs: Starts) -> Starts:
        """Every pair at every coarse start that strikes nothing and could be best, simulated roughly."""
        grid_s, grid_first, grid_count = self._all.grid
        of_pass = self._of_pass[pairs.first]
        pair, start = ragged(grid_first[of_pass], grid_count[of_pass])
        pair, start_s = self._with_last_free(pairs, pair, grid_s[start])
        every = replace(pairs.some(pair), start_s=start_s)
        return self._free_of(every.some(self._could_be_free(every)))

    def _with_last_free(self, pairs: Starts, pair: Indices, start_s: Floats) -> tuple[Indices, Floats]:
        """The coarse starts of pairs, and the last moment before the first way would strike.

        If any start of such a pair is free of strikes before and after its move, that one is.
        """
        last_s = self._struck.free_until_s[pairs.first]
        more = np.flatnonzero(np.isfinite(last_s))
        pair, start_s = np.concatenate([pair, more]), np.concatenate([start_s, last_s[more]])
        order = np.lexsort((start_s, pair))
        return pair[order], start_s[order]

    def _could_be_free(self, every: Starts) -> Indices:
        """The starts that are free until their move and could keep what is to be beaten."""
        sample = self._passes.at(every.start_s).index
        most = self._most_s(every.first, every.second, sample) + self._kept.total_s[every.second]
        most += self._all.spacing_s[self._of_pass[every.first]]
        return np.flatnonzero(
            (every.start_s <= self._struck.free_until_s[every.first]) & (most > every.kept_s)
        )

    def _free_of(self, every: Starts) -> Starts:
        """Of starts that are free until their move those that strike nothing and could be best; simulated.

        By pair and start. About the best of those whose move strikes it is looked for a gap that lies between
        the coarse starts.
        """
        tried, there = self._worth_asking(every)
        free = self._asked(tried, there)
        least, seat = self._best_of_seats(tried.first[free], tried.kept_s[free]), self._seat[tried.first]
        struck = tried.some(np.flatnonzero(~free & (tried.kept_s > least[seat])))
        struck = self._highest(struck, self._effort.simulated // _GAPS_OF)
        spacing_s = self._all.spacing_s[self._of_pass[struck.first]]
        between = struck.some(np.repeat(np.arange(spacing_s.size), _BETWEEN.size))
        start_s = between.start_s + np.outer(spacing_s, _BETWEEN).ravel()
        between = replace(between, start_s=self._in_pass(between.first, start_s))
        between = replace(between, kept_s=self._beaten_by(between.first, between.second))
        more, there = self._worth_asking(between.some(self._could_be_free(between)))
        found = tried.some(np.flatnonzero(free)).and_more(more.some(np.flatnonzero(self._asked(more, there))))
        return found.some(np.lexsort((found.start_s, found.second, found.first)))

    def _worth_asking(self, every: Starts) -> tuple[Starts, Arrivals]:
        """The starts that are free after their move too and keep more than is to be beaten; simulated."""
        there = arrivals(self._passes, self._moves(every), exactly=False)
        sure, between = self._outside_the_move(every, there)
        spacing_s = self._all.spacing_s[self._of_pass[every.first]]
        after = there.there_s >= self._struck.free_from_s[every.second]
        good = np.flatnonzero(after & (sure + between + spacing_s > every.kept_s))
        tried = self._simulated(every.some(good), there.some(good), sure[good])
        worth = np.flatnonzero(tried.kept_s + spacing_s[good] > every.kept_s[good])
        return tried.some(worth), there.some(good[worth])

    def _asked(self, tried: Starts, there: Arrivals) -> Flags:
        """(R,) the starts strike nothing, asked as far as they could be the best of their seat, or near it.

        To ask a move is dear, so those that keep most are asked first: what the first free one of a seat
        keeps rules most of the others out.
        """
        seat = self._seat[tried.first]
        near_s = tried.kept_s + STEEP * self._all.spacing_s[self._of_pass[tried.first]]
        order = np.lexsort((-tried.kept_s, seat))
        place, least = np.empty(order.size, dtype=np.intp), np.full(self._worth_s.size, -np.inf)
        place[order] = places_in(np.bincount(seat, minlength=self._worth_s.size))
        free, begin, beyond = np.zeros(order.size, dtype=bool), 0, _ASKED_FIRST
        while (open_ := (place >= begin) & (near_s >= least[seat])).any():
            which = np.flatnonzero(open_ & (place < beyond))
            which = which[self._free(tried.some(which), there.some(which))]
            free[which] = True
            np.maximum.at(least, seat[which], tried.kept_s[which])
            begin, beyond = beyond, 3 * beyond
        return free

    def _finely(self, best: Starts, width_s: Floats) -> Starts:
        """The best of each seat's candidates, at one of nine starts about it, whose whole path is free."""
        return self._best_free(self._tried(best, width_s, AROUND, self._effort.finely, self._effort.exactly))

    def _best_free(self, tried: Starts) -> Starts:
        """Of each seat's starts the first that keeps most and whose whole path, as it is told, is free."""
        tried = tried.some(np.flatnonzero(tried.kept_s > -np.inf))
        order = np.lexsort((-tried.kept_s, self._seat[tried.first]))
        tried, found = tried.some(order), []
        while tried.first.size:
            seat = self._seat[tried.first]
            first = np.flatnonzero(np.diff(seat, prepend=-1))
            best, moves = tried.some(first), self._moves(tried.some(first))
            there = arrivals(self._passes, moves, self._effort.exactly)
            free = ~paths_strike(self._passes, moves, there)
            found.append(best.some(np.flatnonzero(free)))
            done = np.zeros(self._worth_s.size, dtype=bool)
            done[seat[first[free]]] = True
            left = ~done[seat]
            left[first] = False
            tried = tried.some(np.flatnonzero(left))
        return reduce(Starts.and_more, found, tried)

    def _in_pass(self, first: Indices, start_s: Floats) -> Floats:
        """As without strikes, at moments that can be told."""
        return super()._in_pass(first, told_s(start_s))

    def _if_free(self, starts: Starts, there: Arrivals, kept_s: Floats) -> Floats:
        return np.where(self._free(starts, there), kept_s, -np.inf)

    def _free(self, starts: Starts, there: Arrivals) -> Flags:
        """(R,) neither what is followed before the move, nor the move, nor what is followed after strikes."""
        before = starts.start_s <= self._struck.free_until_s[starts.first]
        # Each axis is on the second way from when it has got there.
        after = there.there_s >= self._struck.free_from_s[starts.second]
        free = before & after
        which = np.flatnonzero(free)
        free[which] = ~moves_strike(self._passes, self._moves(starts.some(which)), there.some(which))
        return free
