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

Everything works on Z seats at once, each of a pass of its own, since the study of the seat asks the same of
many passes and bearings.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import distinct
from core.mount.check.followed import FollowedPasses, Ragged, chunks_of, ragged
from core.mount.check.split_moves import Arrivals, Columns, Moves, arrivals, kept_in_move
from core.mount.check.ways import offsets_deg, possible_postures, turns_at
from core.mount.drive.motion import Steered
from core.mount.drive.slew import slew_seconds
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import zeta_deg
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
#: Starts tried about one, in shares of the width; the last round tries the start itself again.
_AROUND = np.linspace(-1.0, 1.0, 9)
#: Samples of ways worked on together: these tables bound the memory of a search.
_TOGETHER = 200_000
#: A split gains at least this on staying in one of its ways, else it is none.
_LEAST_GAIN_S = 0.1


@dataclass(frozen=True, eq=False)
class SplitBest(Columns):
    """The best split of a pass at each of Z seats.

    Attributes:
        seconds_lost: (Z,) infinite where there is none, or none that beats what was to be beaten.
        start_utc_s: (Z,) when the satellite is left, of a `SplitSearch` on its clock; nan for none.
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
    """The best start of one move of one pass for each of Z seats.

    Args:
        track, steered, mount: the pass, what the axes do, the mount (its seat is not looked at).
        zetas: per posture (Z,) bearing of boresight on the counter-clockwise stop.
        limit_deg: half the beamwidth.
        worth_beating_s: (Z,) seconds lost by the best of all other means; None: nothing to beat.
        effort: how hard to look.
    """
    count = zetas[POSTURES[0]].size
    beat = np.full(count, np.inf) if worth_beating_s is None else worth_beating_s
    search = SplitSearch(FollowedPasses((track,), (steered,), mount, limit_deg), effort)
    best = search.best(np.zeros(count, dtype=np.intp), zetas, beat)
    return replace(best, start_utc_s=best.start_utc_s + track.utc_s[0])


def best_split_each(
    tracks: tuple[MountTrack, ...],
    steered: tuple[Steered, ...],
    mount: Mount,
    limit_deg: float,
    worth_beating_s: Floats,
) -> SplitBest:
    """The best start of one move for each of P passes at the mount's own seat; as `best_splits`, (P,)."""
    search = SplitSearch(FollowedPasses(tracks, steered, mount, limit_deg), CAREFUL)
    zetas = {posture: np.full(len(tracks), zeta_deg(mount, posture)) for posture in POSTURES}
    best = search.best(np.arange(len(tracks)), zetas, worth_beating_s)
    aos_s = np.array([track.utc_s[0] for track in tracks])
    return replace(best, start_utc_s=best.start_utc_s - search.passes.begin_s + aos_s)


def _none_best(count: int) -> SplitBest:
    blank = [np.zeros(count, dtype=np.intp) for _ in range(4)]
    return SplitBest(np.full(count, np.inf), np.full(count, np.nan), *blank)


@dataclass(frozen=True, eq=False)
class _Starts(Columns):
    """Candidates, each a pair of the search's rows and a start (R,), with what they keep."""

    first: Indices
    second: Indices
    start_s: Floats
    kept_s: Floats


class SplitSearch:
    """What of a search is the same at every seat.

    Args:
        passes: the passes.
        effort: how hard to look.

    Attributes:
        spacing_s: (P,) how far apart the coarse starts of each pass are.
    """

    def __init__(self, passes: FollowedPasses, effort: Effort) -> None:
        self.passes, self.effort = passes, effort
        spans_s = passes.end_s - passes.begin_s
        self.spacing_s = np.maximum(spans_s / effort.starts, np.minimum(_COARSE_S, spans_s / 8.0))

    def best(
        self,
        of_pass: Indices,
        zetas: dict[Posture, Floats],
        worth_beating_s: Floats,
        tick: Callable[[], None] = lambda: None,
    ) -> SplitBest:
        """The best start of one move at each of Z seats, on the passes' clock.

        Args:
            of_pass: (Z,) which pass is worked there.
            zetas: per posture (Z,) bearing of boresight on the counter-clockwise stop.
            worth_beating_s: (Z,) seconds lost by the best of all other means.
            tick: called before every few hundred seats; what it raises goes through.
        """
        in_all_s = self.in_all_s[of_pass]
        worth_s = in_all_s - np.minimum(worth_beating_s, in_all_s)
        best, ways = _none_best(of_pass.size), self._ways(of_pass, zetas)
        sizes = np.bincount(ways.seat, minlength=of_pass.size) * self.passes.count[of_pass]
        for some in chunks_of(sizes, _TOGETHER):
            tick()
            first, beyond = np.searchsorted(ways.seat, [some.start, some.stop])
            here = ways.some(slice(int(first), int(beyond)))
            here = replace(here, seat=here.seat - some.start)
            _Search(self, of_pass[some], here, worth_s[some]).tell(best.some(some))
        return best

    def _ways(self, of_pass: Indices, zetas: dict[Posture, Floats]) -> _Ways:
        """Every way with some of the pass inside the travel, seat by seat."""
        passes, found = self.passes, []
        for row, posture in enumerate(possible_postures(passes.mount)):
            low, high = passes.low_deg[of_pass], passes.high_deg[of_pass]
            first, last = turns_at(low, high, passes.mount, zetas[posture], posture)
            seat, k = ragged(first, np.maximum(last - first + 1, 0))
            posture_row = np.full(seat.size, row)
            found.append(
                _Ways(seat, posture_row, k, offsets_deg(zetas[posture][seat], posture, 0) + 360.0 * k)
            )
        ways = found[0] if len(found) == 1 else found[0].and_more(found[1])
        ways = ways.some(np.argsort(ways.seat, kind="stable"))
        return ways.some(np.flatnonzero(passes.count[of_pass[ways.seat]] >= 3))

    @cached_property
    def in_all_s(self) -> Floats:
        """(P,) seconds over the mask."""
        return np.array([track.seconds_in_all for track in self.passes.tracks])

    @cached_property
    def longest_move(self) -> tuple[Indices, Floats]:
        """(S,) sample by which a move begun before the next is over, (S,) seconds over the mask till then.

        No move takes longer than from one end of both axes to the other: by then an axis can be anywhere.
        """
        passes, mount = self.passes, self.passes.mount
        both = np.minimum.reduceat, np.maximum.reduceat
        halves = passes.axis_deg.values.reshape(2, -1)
        low, high = (
            side(along, passes.first)
            for side, along in zip(both, (halves.min(axis=0), halves.max(axis=0)), strict=True)
        )
        ends = ((*passes.guards_deg, mount.azimuth), (low, high, mount.elevation))
        turning, tipping = (
            np.maximum(slew_seconds(low, high, axis), slew_seconds(high, low, axis))
            for low, high, axis in ends
        )
        whole_s = np.maximum(turning, tipping) if mount.drive.both_axes_at_once else turning + tipping
        last = passes.first + passes.count - 1
        of_pass = np.repeat(np.arange(last.size), passes.count)
        over_s = passes.clock_s + passes.steps_s + whole_s[of_pass]
        later = np.minimum(np.searchsorted(passes.clock_s, over_s), last[of_pass])
        return later, passes.worked_s.values[later] - passes.worked_s.values

    @cached_property
    def grid(self) -> tuple[Floats, Indices, Indices]:
        """The coarse starts of all passes, and (P,) the first of each pass and how many it has.

        Even from AOS to LOS, the highest moment, and where the mask hides and shows.
        """
        passes, starts = self.passes, []
        for index, track in enumerate(passes.tracks):
            clock_s = passes.clock_s[passes.first[index] :][: track.utc_s.size]
            even = max(round(float((clock_s[-1] - clock_s[0]) / self.spacing_s[index])), 1)
            edges = np.flatnonzero(track.worked[1:] != track.worked[:-1])
            special = [clock_s[int(np.argmax(track.elevation_deg))], *clock_s[edges], *clock_s[edges + 1]]
            even_s = np.linspace(clock_s[0], clock_s[-1], even + 1)
            starts.append(distinct(np.array([*even_s, *special])))
        count = np.array([each.size for each in starts])
        return np.concatenate(starts), np.cumsum(count) - count, count


@dataclass(frozen=True, eq=False)
class _Ways(Columns):
    """W ways: each at which seat, in which posture (as index into `POSTURES`) and turn; what to add for m."""

    seat: Indices
    posture_row: Indices
    k: Indices
    offset_deg: Floats


class _Search:
    """The search at Z seats.

    Args:
        search: the passes, and what is known of them.
        of_pass: (Z,) the pass that is worked at each seat.
        ways: of all seats, seat by seat.
        worth_s: (Z,) seconds that a split must keep more than.
    """

    def __init__(self, search: SplitSearch, of_pass: Indices, ways: _Ways, worth_s: Floats) -> None:
        self._all, self._passes, self._effort = search, search.passes, search.effort
        self._ways, self._seat, self._worth_s = ways, ways.seat, worth_s
        self._pass_of_seat, self._of_pass = of_pass, of_pass[ways.seat]
        self._kept = self._passes.kept_along(self._of_pass, ways.posture_row, ways.offset_deg)

    def tell(self, best: SplitBest) -> None:
        """Write the best of each seat, where it keeps more than is to be beaten and than staying in a way."""
        pairs = self._pairs_worth()
        likely = self._coarse(pairs) if pairs.first.size else pairs
        if not likely.first.size:
            return
        found = self._closed_in(likely)
        total = self._kept.total_s
        stays = np.maximum(total[found.first], total[found.second]) + _LEVEL_S
        beaten = np.maximum(stays, self._worth_s[self._seat[found.first]])
        top = self._highest(found.some(np.flatnonzero(found.kept_s > beaten)), 1)
        seat, ways = self._seat[top.first], self._ways
        in_all_s = self._all.in_all_s[self._of_pass[top.first]]
        best.seconds_lost[seat] = np.maximum(in_all_s - top.kept_s, 0.0)
        best.start_utc_s[seat] = top.start_s
        best.from_row[seat], best.to_row[seat] = ways.posture_row[top.first], ways.posture_row[top.second]
        best.from_k[seat], best.to_k[seat] = ways.k[top.first], ways.k[top.second]

    def _pairs_worth(self) -> _Starts:
        """Pairs of ways that could keep more than is to be beaten, had the beam held all through the move.

        What is to be beaten (kept here as ``kept_s``) is at least what staying in either way would keep: a
        move that gains nothing is no split. Near the zenith, or with a wide beam, a move can keep what
        neither way does.
        """
        total, later, moving_s = self._kept.total_s, *self._all.longest_move
        number = np.bincount(self._seat, minlength=self._worth_s.size)
        first, second = ragged((np.cumsum(number) - number)[self._seat], number[self._seat])
        beaten = np.maximum(np.maximum(total[first], total[second]), self._worth_s[self._seat[first]])
        beaten = beaten + _LEAST_GAIN_S
        longest_s = np.maximum.reduceat(moving_s, self._passes.first)[self._of_pass[first]]
        good = np.flatnonzero((total[first] + total[second] + longest_s > beaten) & (first != second))
        pairs = _Starts(first[good], second[good], np.zeros(good.size), beaten[good])
        worth = [np.zeros(0, dtype=np.intp)]
        for some in chunks_of(self._passes.count[self._of_pass[pairs.first]]):
            here = pairs.some(some)
            pair, sample = self._samples_of(here.first)
            shift = self._kept.shift
            most = self._kept.so_far_s[sample + shift[here.first][pair]] + moving_s[sample]
            most -= self._kept.so_far_s[later[sample] + shift[here.second][pair]]
            begins = np.searchsorted(pair, np.arange(here.first.size))
            most = np.maximum(np.maximum.reduceat(most, begins), 0.0) + total[here.second]
            worth.append(np.flatnonzero(most > here.kept_s) + some.start)
        return pairs.some(np.concatenate(worth))

    def _samples_of(self, row: Indices) -> Ragged:
        of_pass = self._of_pass[row]
        return ragged(self._passes.first[of_pass], self._passes.count[of_pass])

    def _coarse(self, pairs: _Starts) -> _Starts:
        """Every pair at every coarse start that could be best, simulated roughly.

        Sure is what is kept outside the move; a start is worth simulating where that and all of the move
        would be more than what is to be beaten, and more than what some start of the same seat keeps for
        sure.
        """
        grid_s, grid_first, grid_count = self._all.grid
        of_pass = self._of_pass[pairs.first]
        pair, start = ragged(grid_first[of_pass], grid_count[of_pass])
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

        def simulated(which: Indices) -> _Starts:
            some, meanwhile = every.some(which), there.some(which)
            kept_s = kept_in_move(self._passes, self._moves(some), meanwhile, self._effort.samples)
            return replace(some, kept_s=sure[which] + kept_s)

        tried = simulated(could[few])
        np.maximum.at(surest, seat[could[few]], tried.kept_s)
        rest = could[~few]
        rest = rest[spare[rest] > surest[seat[rest]]]
        return tried.and_more(simulated(rest)).some(np.argsort(np.concatenate([could[few], rest])))

    def _closed_in(self, likely: _Starts) -> _Starts:
        """The best few of each seat, started at the best moment near by.

        Whoever could still come up to the best stays in, so that a sharp best between two coarse starts is
        not lost to a flat one that happens to lie on one.
        """
        effort, width_s = self._effort, self._all.spacing_s[self._pass_of_seat]
        best, shares = self._still_in(likely.some(_peaks(likely)), width_s, effort.closed_in), _AROUND
        while (width_s > 4.0 * _FINEST_S).any():
            wide = np.flatnonzero(width_s[self._seat[best.first]] > 4.0 * _FINEST_S)
            best = best.mended(wide, self._around(best.some(wide), width_s, shares))
            width_s, shares = np.where(width_s > 4.0 * _FINEST_S, width_s / 4.0, width_s), _AROUND[1:-1]
            best = self._still_in(best, width_s, effort.closed_in)
        finest_s = np.full(width_s.size, 4.0 * _FINEST_S)
        return self._finely(self._still_in(best, finest_s, _POLISHED), finest_s)

    def _still_in(self, found: _Starts, width_s: Floats, number: int) -> _Starts:
        """The ``number`` best of each seat, less those that its width (Z,) would not make its best."""
        least = self._best_of_seats(found.first, found.kept_s) - _STEEP * width_s
        enough = found.kept_s >= least[self._seat[found.first]]
        return self._highest(found.some(np.flatnonzero(enough)), number)

    def _around(self, best: _Starts, width_s: Floats, shares: Floats) -> _Starts:
        """Each candidate at the best of starts about it; what it keeps itself is known.

        Those that lie a width away were tried with the round before, and kept less.
        """
        others = np.delete(shares, shares.size // 2)
        tried = self._tried(best, width_s, others, self._effort.samples, exactly=False)
        # In order of starts: of those that keep the same, the first is gone on from.
        place = np.arange(tried.first.size).reshape(-1, others.size)
        own = tried.first.size + np.arange(best.first.size)
        place = np.insert(place, others.size // 2, own, axis=1)
        return _best_of(tried.and_more(best).some(place.ravel()), shares.size)

    def _finely(self, best: _Starts, width_s: Floats) -> _Starts:
        """Each candidate at the best of nine starts about it, all told finely."""
        tried = self._tried(best, width_s, _AROUND, self._effort.finely, self._effort.exactly)
        return _best_of(tried, _AROUND.size)

    def _tried(self, best: _Starts, width_s: Floats, shares: Floats, samples: int, exactly: bool) -> _Starts:
        """Each candidate at starts about it, by shares of its seat's width, simulated."""
        row = np.repeat(np.arange(best.first.size), shares.size)
        seat, of_pass = self._seat[best.first][row], self._of_pass[best.first][row]
        start_s = best.start_s[row] + width_s[seat] * np.tile(shares, best.first.size)
        start_s = np.clip(start_s, self._passes.begin_s[of_pass], self._passes.end_s[of_pass])
        some = replace(best.some(row), start_s=start_s)
        there = arrivals(self._passes, self._moves(some), exactly)
        sure, _between = self._outside_the_move(some, there)
        return replace(some, kept_s=sure + kept_in_move(self._passes, self._moves(some), there, samples))

    def _moves(self, starts: _Starts) -> Moves:
        first, second, ways = starts.first, starts.second, self._ways
        rows = ways.posture_row[first], ways.posture_row[second]
        offsets = ways.offset_deg[first], ways.offset_deg[second]
        return Moves(self._of_pass[first], *rows, *offsets, starts.start_s)

    def _outside_the_move(self, starts: _Starts, there: Arrivals) -> tuple[Floats, Floats]:
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

    def _highest(self, found: _Starts, number: int) -> _Starts:
        """The ``number`` candidates of each seat that keep most."""
        seat = self._seat[found.first]
        order = np.lexsort((-found.kept_s, seat))
        new = np.concatenate([[True], np.diff(seat[order]) != 0])[: order.size]
        begins = np.maximum.accumulate(np.where(new, np.arange(order.size), 0))
        return found.some(order[np.arange(order.size) - begins < number])


def _best_of(tried: _Starts, number: int) -> _Starts:
    """Of every so many candidates the first that keeps most."""
    top = np.argmax(tried.kept_s.reshape(-1, number), axis=1)
    return tried.some(np.arange(top.size) * number + top)


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
