"""The starts of a block as they are filled in, and what may go before them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Indices
from core.mount.evening.order.blocks import Block
from core.mount.evening.order.changes import Changes
from core.mount.evening.order.last_ends import LastEnds
from core.mount.evening.order.moves import Mover
from core.mount.evening.order.rows import Rows
from core.mount.evening.order.runs import Runs
from core.mount.evening.order.tables import Starts
from core.mount.evening.order.worth import Ints, Units


@dataclass(frozen=True, eq=False)
class Following:
    """What may follow what.

    Attributes:
        rows, starts, runs, last: the samples, the starts and the ends among them, the last ends of the runs.
        upto: (M,) of each moment the last at which an end is in time where nothing has to move.
        mover, units: as in `ChoiceProblem`.
        end_value: (F + 1,) E; the place beyond the samples is worth `NOTHING`.
        changes: what they cost.
    """

    rows: Rows
    starts: Starts
    runs: Runs
    last: LastEnds
    upto: Indices
    mover: Mover
    units: Units
    end_value: Ints
    changes: Changes

    def turning(self, starts: Indices, ends: Indices) -> Ints:
        """(...) what turning from each end to each start costs."""
        rows = self.rows
        if self.mover.idle is None:  # straight, however long there is
            return self.units.turning(np.abs(rows.m_deg[starts] - rows.m_deg[ends]))
        gap_s = rows.since_s[starts] - rows.since_s[ends]
        away = rows.m_deg[ends], rows.m_deg[starts], rows.e_deg[ends], rows.e_deg[starts]
        return self.units.turning(self.mover.turn_deg(*away, gap_s))

    def before(self, ends: Indices, block: Block) -> Ints:
        """(K, X) `Changes.before` of each kind of a block's starts after some ends (X,)."""
        rows, (row, over) = self.rows, block.kinds_of(self.starts)
        return self.changes.before(
            row[:, None], rows.row_of[ends], over[:, None], rows.over[ends], block.reminded
        )


@dataclass(frozen=True, eq=False)
class Cells:
    """The starts of a block as they are filled in, row by moment.

    Attributes:
        start: (A, T) flat indices.
        value, came_from: (A, T) V so far, and the flat index of the end before.
        level: (A, T) what is not more than this is of no use, as far as is known; endless in a hole.
        whole, sure: (A, T) as in `StartTable`; None where the worth of every start is wanted.
    """

    start: Indices
    value: Ints
    came_from: Indices
    level: Ints
    whole: Ints
    sure: Ints | None

    def put(self, cells: Indices, value: Ints, ends: Indices) -> None:
        """V of some cells (numbered row after row), no less than it was; of one cell the last one counts."""
        self.value.ravel()[cells] = value
        self.came_from.ravel()[cells] = ends

    def raise_levels(self) -> None:
        """Let levels follow what is known."""
        np.maximum(self.level, self.value, out=self.level)
        if self.sure is not None:
            won = np.maximum.accumulate(self.value - self.sure, axis=1)
            won += self.whole
            np.maximum(self.level, won, out=self.level)
