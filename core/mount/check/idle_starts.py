"""Coarse starts of a split that need not be tried, since another is surely as good.

To wait where the first way keeps nothing more, even a while on with the move begun, is no better than to have
left before. To leave is no better than to wait, if even the longest move then is over, and the mount settled,
before the second way keeps anything. Of a pass that crosses a stop this leaves the minute about the crossing:

    first way   ==========.                  ===  in the beam
    second way        .  .  .  ============
    starts      - - - o  o  o - - - - - - -       o  tried

Both hold for moves in which the beam lets go of the satellite once and meets it once: in one posture, with
elevation on the satellite all the while, and where nothing is unsteady. Near the zenith a later start may
come by the satellite where an earlier one has gone past already. To leave before can be worse, too, where a
mount settles: in a gap in the mask that costs nothing.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Flags, Indices
from core.mount.check.followed import Kept
from core.mount.check.split_columns import LEVEL_S, Starts, Ways
from core.mount.check.split_passes import SearchedPasses


def not_idle(
    search: SearchedPasses,
    kept: Kept,
    of_pass: Indices,
    ways: Ways,
    pairs: Starts,
    pair: Indices,
    start: Indices,
) -> Indices:
    """Which of coarse starts (R,) are not surely as good as a start before or after them.

    Args:
        search: the passes.
        kept, of_pass, ways: (W,) what each way keeps, and of which pass it is.
        pairs: the pairs of ways.
        pair, start: (R,) of which pair each start is, and which of the coarse starts; rising.
    """
    later, (before, let_go) = search.longest_move[0], search.grid_samples
    first, second = pairs.first[pair], pairs.second[pair]
    row = ways.posture_row[first]
    mixed = row != ways.posture_row[second]
    if not search.passes.mount.drive.both_axes_at_once:
        return np.arange(pair.size)

    def steady(row: Indices, begin: Indices, end: Indices) -> Flags:
        shift, unsteady = row * search.passes.samples, search.passes.unsteady
        return np.asarray(unsteady.take(end + shift + 1) == unsteady.take(begin + shift))

    def keeps(way: Indices, begin: Indices, end: Indices) -> Flags:
        shift = kept.shift.take(way)
        return np.asarray(kept.so_far_s.take(end + shift) > kept.so_far_s.take(begin + shift) + LEVEL_S)

    begins = np.diff(pair, prepend=-1) != 0
    since = before[start - ~begins]
    idle = ~(mixed | begins | search.settles_in_gaps[of_pass[first]])
    idle &= steady(row, since, later[before[start]]) & ~keeps(first, since, let_go[start])
    good = np.flatnonzero(~idle)
    pair, start, second, row, mixed = pair[good], start[good], second[good], row[good], mixed[good]
    ends = np.diff(pair, append=-1) != 0
    over = search.settled[before[np.where(ends, start, np.append(start[1:], 0))]]
    early = ~(mixed | ends) & steady(row, before[start], over) & ~keeps(second, before[start], over)
    return np.asarray(good[~early])
