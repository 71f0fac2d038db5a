"""The sweep over time: what the best evening up to every start and every end of a contact is worth.

The recurrence is that of `solve`. It is filled in block by block: no contact being shorter than the least,
what ends within a block of that length began before it, so that a whole block is a few array operations.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Indices
from core.base.errors import Cancelled
from core.base.units import Progress, no_progress
from core.mount.evening.order.following import Following, Starts, fill_starts
from core.mount.evening.order.moves import Mover
from core.mount.evening.order.past import PastEnds
from core.mount.evening.order.rows import HOPELESS, NOTHING, Rows
from core.mount.evening.order.rules import GRID_S, MountStart
from core.mount.evening.order.runs import runs_of_ends
from core.mount.evening.order.worth import Ints, Units

#: A block is no longer, so that what it needs stays in the processor's cache.
_LONGEST_BLOCK_S = 36.0 * GRID_S
#: Moments closer than this are taken for one.
_SAME_S = 1e-6


def sweep(
    rows: Rows, mover: Mover, units: Units, mount_start: MountStart | None, progress: Progress = no_progress
) -> None:
    """Fill in start_value, end_value, came_from, won and won_spare of the rows.

    Args:
        rows: laid out, nothing filled in yet.
        mover, units, mount_start: as in `ChoiceProblem`.
        progress: called for every block.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    runs, past = runs_of_ends(rows, mover, units), PastEnds(rows, units)
    settings = Following(rows, runs, mover, units, mount_start, mover.longest_s() + _SAME_S)
    done = rows.offsets[:-1].copy()
    over, begin_s, end_s = 0, 0.0, float(rows.last_s.max())
    while begin_s <= end_s:
        if not progress(int(begin_s), int(end_s) + 1, "choosing the evening"):
            raise Cancelled
        stop_s = _stop_of_block(rows, begin_s)
        upto = int(np.searchsorted(runs.last_s, begin_s - settings.longest_s))
        if upto > over:
            past.add(runs.sample[runs.beyond[over:upto] - 1], begin_s)
            over = upto
        active = np.flatnonzero((rows.first_s < stop_s) & (done < rows.offsets[1:]))
        if active.size:
            beyond = rows.places_before(active, stop_s)
            _block(settings, _Block(active, done[active], beyond, begin_s, stop_s), past.ends, over)
            done[active] = beyond
        later = rows.first_s[rows.first_s >= stop_s]
        begin_s = stop_s if active.size or not later.size else float(later.min())


def _stop_of_block(rows: Rows, begin_s: float) -> float:
    """No contact that ends before then begins at ``begin_s`` or later."""
    open_ = rows.last_s >= begin_s
    ends = np.maximum(rows.first_s[open_], begin_s) + rows.least_s[open_] - 2.0 * _SAME_S
    # What must be remembered is the same all through a block.
    until_s = rows.remembered_until_s + 2.0 * _SAME_S
    later_s = until_s[until_s > begin_s]
    return min(begin_s + _LONGEST_BLOCK_S, float(ends.min()), float(later_s.min(initial=np.inf)))


@dataclass(frozen=True, eq=False)
class _Block:
    """The samples from one moment up to another, that not included.

    Attributes:
        active: (A,) rows with samples in it.
        first, beyond: (A,) where those lie in the flat columns.
        begin_s, stop_s: the moments.
    """

    active: Indices
    first: Indices
    beyond: Indices
    begin_s: float
    stop_s: float

    def samples(self) -> tuple[Indices, Flags]:
        """(A, W) flat indices, held inside each row's part of the block, and where they are inside."""
        wide = np.arange(int((self.beyond - self.first).max(initial=0)))
        flat = self.first[:, None] + wide
        inside = flat < self.beyond[:, None]
        return np.where(inside, flat, np.maximum(self.beyond - 1, 0)[:, None]), inside


def _block(settings: Following, block: _Block, past: Indices, over: int) -> None:
    """Ends, then starts, then what was won of either."""
    rows = settings.rows
    flat, inside = block.samples()
    if not flat.size:
        return
    _fill_ends(rows, flat[inside & rows.may_end[flat]])
    place, number = np.nonzero(inside & rows.may_start[flat])
    if place.size:
        which = over + np.flatnonzero(settings.runs.first_s[over:] < block.stop_s)
        starts = Starts(flat[place, number], block.active, place, block.begin_s)
        fill_starts(settings, starts, which, past)
    for won, worth in ((rows.won, rows.whole), (rows.won_spare, rows.spare)):
        mine = np.where(
            inside & (rows.start_value[flat] > HOPELESS), rows.start_value[flat] - worth[flat], NOTHING
        )
        carried = np.where(
            block.first > rows.offsets[block.active], won[np.maximum(block.first - 1, 0)], NOTHING
        )
        mine[:, 0] = np.maximum(mine[:, 0], carried)
        won[flat[inside]] = np.maximum.accumulate(mine, axis=1)[inside]


def _fill_ends(rows: Rows, ends: Indices) -> None:
    """E of some ends, from the starts before their block."""
    row = rows.row_of[ends]
    base, latest, full_from = rows.offsets[row], rows.latest_start[ends], rows.full_from[ends]
    real = latest >= base
    value = np.where(real, rows.won[np.maximum(latest, 0)] + rows.whole[ends], NOTHING)
    long_ = np.flatnonzero(real & (full_from > base))
    if long_.size:
        ends_, row_ = ends[long_], row[long_]
        spare = rows.won_spare[np.minimum(full_from[long_] - 1, latest[long_])]
        spare = spare + rows.spare[ends_] + rows.bonus[row_]
        value[long_] = np.maximum(spare, _in_full(rows, ends_))
    rows.end_value[ends] = np.where(value > HOPELESS, value, NOTHING)


def _in_full(rows: Rows, ends: Indices) -> Ints:
    """(N,) E of ends whose contact has no more than enough signal."""
    first, latest = rows.full_from[ends], rows.latest_start[ends]
    width = int((latest - first).max()) + 1
    if width <= 0:
        return np.full(ends.size, NOTHING, dtype=np.int64)
    starts = first[:, None] + np.arange(width)
    inside = starts <= latest[:, None]
    starts = np.where(inside, starts, 0)
    won = np.where(inside, rows.start_value[starts] - rows.whole[starts], NOTHING)
    return np.asarray(won.max(axis=1) + rows.whole[ends])
