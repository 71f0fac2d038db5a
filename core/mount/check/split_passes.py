"""What of the search for a split is the same at every seat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import distinct, first_least, places_in
from core.mount.check.followed import FollowedPasses
from core.mount.drive.slew import slew_seconds

#: Starts looked at first are this many seconds apart at least.
_COARSE_S = 3.0
#: About the zenith they are so many times as near to each other.
_NARROWER = 4.0


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


class SearchedPasses:
    """Passes in which splits are searched for.

    Args:
        passes: the passes.
        effort: how hard to look.

    Attributes:
        spacing_s: (P,) how far apart the coarse starts of each pass are.
    """

    def __init__(self, passes: FollowedPasses, effort: Effort) -> None:
        self.passes, self.effort = passes, effort
        spans_s = passes.end_s - passes.begin_s
        # Between strikes there may be no more than a few moments at which a move is free.
        starts = effort.starts * (1 if passes.barring is None else 2)
        self.spacing_s = np.maximum(spans_s / starts, np.minimum(_COARSE_S, spans_s / 8.0))

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
    def settled(self) -> Indices:
        """(S,) sample by which a move begun before the next is over and the mount has settled."""
        passes, later = self.passes, self.longest_move[0]
        last = np.repeat(passes.first + passes.count - 1, passes.count)
        settled_s = passes.clock_s[later] + passes.mount.drive.settle_s
        return np.minimum(np.searchsorted(passes.clock_s, settled_s), last)

    @cached_property
    def grid(self) -> tuple[Floats, Indices, Indices]:
        """The coarse starts of all passes, and (P,) the first of each pass and how many it has.

        Even from AOS to LOS, more of them where a move may come by the zenith (what it keeps has narrow peaks
        there), the highest moment, and where the mask hides and shows.
        """
        passes = self.passes
        begin_s, end_s, clock_s = passes.begin_s, passes.end_s, passes.clock_s
        parts = np.maximum(np.round((end_s - begin_s) / self.spacing_s), 1.0).astype(np.intp)
        even_s = np.repeat(begin_s, parts) + places_in(parts) * np.repeat((end_s - begin_s) / parts, parts)
        worked = np.concatenate([track.worked for track in passes.tracks])
        edges = np.flatnonzero(worked[1:] != worked[:-1])
        unsteady = passes.unsteady[self.longest_move[0] + 1] > passes.unsteady[: passes.samples]
        of_pass = np.repeat(np.arange(parts.size), passes.count)
        highest = first_least(of_pass, -passes.wanted_deg.values[: passes.samples])
        starts = [even_s, end_s, clock_s[highest], clock_s[edges], clock_s[edges + 1]]
        each_s = np.split(clock_s[unsteady], np.searchsorted(of_pass[unsteady], np.arange(1, parts.size)))
        nearer_s = np.maximum(self.spacing_s / _NARROWER, _COARSE_S)
        starts += [
            np.arange(own[0], own[-1], by) for own, by in zip(each_s, nearer_s, strict=True) if own.size
        ]
        every_s = distinct(np.concatenate(starts))
        first, beyond = np.searchsorted(every_s, begin_s), np.searchsorted(every_s, end_s, side="right")
        return every_s, first, beyond - first

    @cached_property
    def grid_samples(self) -> tuple[Indices, Indices]:
        """The sample before each coarse start, and one by which the beam has let go in a move begun then."""
        passes, (grid_s, _first, count) = self.passes, self.grid
        last = np.repeat(passes.first + passes.count - 1, count)
        let_go = np.searchsorted(passes.clock_s, grid_s + passes.longest_hold_s)
        return passes.at(grid_s).index, np.minimum(let_go, last)

    @cached_property
    def settles_in_gaps(self) -> Flags:
        """(P,) the mount settles after a move, and the mask has gaps to do so in."""
        gaps = [not track.worked.all() for track in self.passes.tracks]
        return np.array(gaps, dtype=bool) & (self.passes.mount.drive.settle_s > 0.0)
