"""The sweep over time: what the best evening up to every start and every end of a contact is worth.

The recurrence is that of `solve`, filled in block by block (`blocks`): ends, then starts, then what was won
of either.

A start s need not be known where it cannot be better, for any end, than an earlier start r of its row: where
V[o, s] is no more than V[o, r] + whole[s] - whole[r], less what the longest contact from r loses to seconds
beyond enough. Every end is as good from r then, and of equals the first is taken.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Indices
from core.base.errors import Cancelled
from core.base.units import Progress, no_progress
from core.mount.evening.order.blocks import SAME_S, Block, blocks_of
from core.mount.evening.order.cells import Cells, Following
from core.mount.evening.order.changes import Changes
from core.mount.evening.order.following import follow_past, follow_runs
from core.mount.evening.order.last_ends import last_ends
from core.mount.evening.order.moves import ROUNDING_S, Mover
from core.mount.evening.order.past import PastEnds
from core.mount.evening.order.rows import HOPELESS, NEVER, NOTHING, Rows
from core.mount.evening.order.rules import MountStart
from core.mount.evening.order.runs import runs_of_ends
from core.mount.evening.order.worth import Ints, Units

#: `came_from` of a contact that begins the evening.
_FIRST = -1


def sweep(
    rows: Rows,
    mover: Mover,
    units: Units,
    mount_start: MountStart | None,
    every: bool = True,
    progress: Progress = no_progress,
) -> None:
    """Fill in start_value, end_value and came_from of the rows.

    Args:
        rows: laid out, nothing filled in yet.
        mover, units, mount_start: as in `ChoiceProblem`.
        every: the worth of every start is wanted, of those too that an earlier one is as good as.
        progress: called for every block.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    state = _Sweep(rows, mover, units, mount_start, every)
    end_s = int(rows.last_s.max())
    for block in state.blocks:
        if not progress(int(block.begin_s), end_s + 1, "choosing the evening"):
            raise Cancelled
        state.fill(block)
    state.tell()


class _Sweep:
    """The values as they are filled in.

    Attributes:
        blocks: what is to be filled in.
    """

    def __init__(
        self, rows: Rows, mover: Mover, units: Units, mount_start: MountStart | None, every: bool
    ) -> None:
        self._rows, self._every = rows, every
        runs, longest_s = runs_of_ends(rows, mover, units), mover.longest_s() + SAME_S
        last, changes = last_ends(rows, runs), Changes.of(rows, units)
        found = blocks_of(rows, runs, last, longest_s)
        self.blocks, self._ends, self._long, self._table = found.blocks, found.ends, found.long, found.table
        size, begins = rows.row_of.size, rows.offsets[:-1]
        self._end_value = np.full(size + 1, NOTHING)
        self._following = Following(
            rows=rows,
            starts=found.starts,
            runs=runs,
            last=last,
            upto=_upto(rows, mover),
            mover=mover,
            units=units,
            end_value=self._end_value,
            changes=changes,
        )
        long_ = rows.full_from > rows.offsets[rows.row_of]
        self._long_row = np.logical_or.reduceat(long_, begins)
        self._value = np.append(_begun(self._following, mount_start), NOTHING)[self._table.sample]
        self._level = np.where(self._table.sample == size, NEVER, np.maximum(self._value, HOPELESS))
        self._start_won, self._came_from = np.full(size + 1, NOTHING), np.full(self._value.size, _FIRST)
        self._won, self._won_spare = np.full((2, self._value.size + 1), NOTHING)
        self._carried, self._carried_spare, self._carried_sure = np.full((3, rows.count), NOTHING)
        self._past, self._over = PastEnds(rows, units, self._end_value), 0

    def fill(self, block: Block) -> None:
        """Fill in one block; all before it are."""
        runs = self._following.runs
        if block.over > self._over:
            self._past.add(runs.sample[runs.beyond[self._over : block.over] - 1], block.begin_s)
            self._over = block.over
        if block.ends.stop > block.ends.start:
            self._fill_ends(block.number, block.ends)
        if block.row.size:
            self._fill_starts(block)

    def tell(self) -> None:
        """Write what was found to the rows."""
        rows = self._rows
        starts, place = self._following.starts.sample, self._table.place[self._following.starts.sample]
        rows.start_value[starts] = np.maximum(self._value[place], NOTHING)
        rows.came_from[starts] = self._came_from[place]
        rows.end_value[:] = self._end_value[:-1]

    def _fill_ends(self, number: int, which: slice) -> None:
        """E of some ends, from the starts before their block."""
        ends, long_ = self._ends, self._long
        value = self._won[ends.latest[which]] + ends.whole[which]
        here = slice(long_.upto[number], long_.upto[number + 1])
        if here.stop > here.start:
            at, stretch = long_.number[here], long_.stretch[here]
            full = np.maximum.reduceat(self._start_won, stretch.ravel())[::2] + ends.whole[at]
            full[stretch[:, 0] == stretch[:, 1]] = NOTHING
            value[at - which.start] = np.maximum(
                full, self._won_spare[long_.before[here]] + long_.spare[here]
            )
        self._end_value[ends.sample[which]] = np.maximum(value, NOTHING)

    def _fill_starts(self, block: Block) -> None:
        """V of the starts, and what was won up to each."""
        row, shape = block.row, (block.row.size, -1)

        def told(values: Ints) -> Ints:
            return values[block.table].reshape(shape)

        start, whole = told(self._table.sample), told(self._table.whole)
        value, level, sure = told(self._value), told(self._level), None
        if not self._every:
            sure = told(self._table.sure)
            np.maximum(level, self._carried_sure[row][:, None] + whole, out=level)
        cells = Cells(start, value, told(self._came_from), level, whole, sure)
        if block.near.size:
            follow_runs(self._following, block, cells)
        if self._past.ends.size:
            follow_past(self._following, block, cells, self._past.ends)
        won, long_ = value - whole, self._long_row[row].any()
        if long_:
            self._start_won[start] = won
        _carry(won, self._won[block.table], self._carried, row)
        if sure is not None:
            won = (value - sure).max(axis=1)
            self._carried_sure[row] = np.maximum(self._carried_sure[row], won)
        if long_:
            won = value - told(self._table.spare)
            _carry(won, self._won_spare[block.table], self._carried_spare, row)


def _carry(won: Ints, told: Ints, carried: Ints, row: Indices) -> None:
    """The greatest so far in each row, told row after row, and carried on to the next block.

    Args:
        won: (A, T) of some rows in one block.
        told: (A * T,) where it is told.
        carried: (R,) the greatest so far.
        row: (A,) the rows.
    """
    won[:, 0] = np.maximum(won[:, 0], carried[row])
    np.maximum.accumulate(won, axis=1, out=told.reshape(won.shape))
    carried[row] = told.reshape(won.shape)[:, -1]


def _upto(rows: Rows, mover: Mover) -> Indices:
    """(M,) of each moment the last at which an end is in time where nothing has to move."""
    until_s = rows.moments_s - mover.margin_s + ROUNDING_S
    return np.searchsorted(rows.moments_s, until_s, side="right") - 1


def _begun(following: Following, mount_start: MountStart | None) -> Ints:
    """(F,) what each sample is worth as the evening's first."""
    rows, mover = following.rows, following.mover
    price = rows.price[rows.row_of]
    if mount_start is None:
        return -price
    m_deg, e_deg = mount_start.axes
    gap_s = rows.since_s - (mount_start.utc_s - rows.begin_utc_s)
    away = m_deg, rows.m_deg, e_deg, rows.e_deg
    fits = mover.seconds(*away) + mover.margin_s <= gap_s + ROUNDING_S
    return np.where(fits, -price - following.units.turning(mover.turn_deg(*away, gap_s)), NOTHING)
