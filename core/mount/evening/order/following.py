"""What starts are worth after every end that leaves time to move to them.

What a start is worth after a run of ends is at most what the run's last end before it is worth, less what
the run grows by in the seconds by which a move from there would be late. The run that promises most is tried
first, and then only those that promise more than it has brought.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Indices
from core.mount.evening.order.blocks import Block
from core.mount.evening.order.changes import Changes
from core.mount.evening.order.last_ends import LastEnds
from core.mount.evening.order.moves import Mover
from core.mount.evening.order.rows import HOPELESS, Rows
from core.mount.evening.order.runs import Runs, latest_in_time
from core.mount.evening.order.tables import StartTable
from core.mount.evening.order.worth import Ints, Units

Singles = NDArray[np.float32]

#: Seconds and shares of a value by which single precision may be wrong, and more.
_SINGLE_S = 0.05
_SINGLE = 1e-5


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
    starts: StartTable
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
        gap_s = rows.since_s[starts] - rows.since_s[ends]
        away = rows.m_deg[ends], rows.m_deg[starts], rows.e_deg[ends], rows.e_deg[starts]
        return self.units.turning(self.mover.turn_deg(*away, gap_s))


@dataclass(frozen=True, eq=False)
class Cells:
    """The starts of a block as they are filled in, row by moment.

    Attributes:
        start: (A, T) flat indices.
        value, came_from: (A, T) V so far, and the flat index of the end before.
        level: (A, T) what is not more than this is of no use; no less than V, and endless in a hole.
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


def follow_past(following: Following, block: Block, cells: Cells, past: Indices) -> None:
    """Better V after ends so long over that any of the starts is in time; of equals they come before runs."""
    rows, changes, worth = following.rows, following.changes, following.end_value[past]
    if worth.max() < cells.level.min():
        return
    over = changes.over[block.row][:, None]
    if block.change.shape[2] > 1:
        over = following.starts.over[block.table].reshape(cells.start.shape)
    came = past[:, None, None]
    most = worth[:, None, None] + changes.before(
        block.row[:, None], rows.row_of[came], over, rows.over[came], block.reminded
    )
    hopeful = np.flatnonzero(most.max(axis=0) >= cells.level)
    if not hopeful.size:
        return
    of = hopeful if most.shape[2] > 1 else hopeful // cells.start.shape[1]
    value = most.reshape(past.size, -1)[:, of]
    value -= following.turning(cells.start.ravel()[hopeful], past[:, None])
    best = value.argmax(axis=0)
    value, before = value[best, np.arange(hopeful.size)], cells.value.ravel()[hopeful]
    better = (value > before) | ((value == before) & (cells.came_from.ravel()[hopeful] >= 0))
    cells.put(hopeful[better], value[better], past[best[better]])


def follow_runs(following: Following, block: Block, cells: Cells) -> None:
    """Better V by what can follow the ends of runs.

    Of runs after which a start is worth the same, that is taken whose last end before the start is worth
    most, changes counted, else the first.
    """
    promises = _promises(following, block, cells)
    hopeful = np.flatnonzero(promises.most.max(axis=0) > promises.single(cells.level))
    if not hopeful.size:
        return
    hopes = promises.most.take(hopeful, axis=1)
    every, best = np.arange(hopeful.size), hopes.argmax(axis=0)
    first = _after(following, cells, promises, _Pairs(best, hopeful), cells.level.ravel()[hopeful])
    cells.put(first.cell, first.value, first.end)
    cells.raise_levels()
    hopes[best, every] = -np.inf
    left = np.flatnonzero(hopes > promises.single(cells.level)[hopeful])
    if not left.size:
        return
    run, at = np.divmod(left, hopeful.size)
    cell = hopeful[at]
    level, value = cells.level.ravel()[cell], cells.value.ravel()[cell]
    level -= (level == value) & (cells.came_from.ravel()[cell] >= 0)
    more = _after(following, cells, promises, _Pairs(run, cell), level)
    order = more.value.argsort(kind="stable")
    told = more.value[order]
    if (told[1:] == told[:-1]).any() or (told == cells.value.ravel()[more.cell[order]]).any():
        more = first.and_more(more)
        order = np.lexsort((-more.run, more.run == promises.crude(more.cell), more.value))
    cells.put(more.cell[order], more.value[order], more.end[order])
    cells.raise_levels()


class _Pairs(NamedTuple):
    """(P,) numbers of runs near, and of cells."""

    run: Indices
    cell: Indices


class _Found(NamedTuple):
    """Of some pairs (P,) of a run near and a cell what the cell is worth after the run, and the end."""

    run: Indices
    cell: Indices
    value: Ints
    end: Indices

    def and_more(self, other: _Found) -> _Found:
        """Both, one after the other."""
        return _Found(*(np.concatenate(both) for both in zip(self, other, strict=True)))


@dataclass(frozen=True, eq=False)
class _Promises:
    """What starts can be worth at most after each run near them.

    Attributes:
        near: (X,) the runs.
        width: T.
        worth: (X, T) E of the last end of each that comes into question.
        place: (X, T) that end's place among those of all runs.
        change: (X, A or A * T) minus what changes cost.
        late_s: (X, A * T) by so much a move from that end is late.
        base: what ``most`` is told above.
        most: (X, A * T) in whole numbers.
        room: so much ``most`` may be wrong.
    """

    near: Indices
    width: int
    worth: Ints
    place: Indices
    change: Ints
    late_s: Singles
    base: int
    most: Singles
    room: float

    def single(self, level: Ints) -> Singles:
        """(A * T) levels told beside ``most``: what is not more is surely not more than the level."""
        told = (level - self.base).astype(np.float32).ravel()
        told -= np.abs(told) * np.float32(_SINGLE)
        told -= np.float32(self.room)
        return told

    def changes(self, run: Indices | slice, cell: Indices) -> Ints:
        """Minus what changes cost between some runs and cells."""
        return self.change[run, cell if self.change.shape[1] == self.most.shape[1] else cell // self.width]

    def crude(self, cell: Indices) -> Indices:
        """(P,) of some cells the run whose last end before it is worth most, changes counted."""
        worth = self.worth[:, cell % self.width] + self.changes(slice(None), cell)
        return np.asarray(worth.argmax(axis=0))


def _promises(following: Following, block: Block, cells: Cells) -> _Promises:
    runs, last, starts = following.runs, following.last, following.starts
    shape, near = cells.start.shape, block.near
    entries = last.entries(near, following.upto[block.moments])
    place, worth = last.place[entries], following.end_value[last.sample[entries]]
    gap_s = following.rows.moments_s[block.moments] - (runs.since_s[place] + following.mover.margin_s)
    late_s = runs.azimuth_single[place][:, None, :] - starts.azimuth_s[block.table].reshape(shape)
    other_s = runs.elevation_single[place][:, None, :] - starts.elevation_s[block.table].reshape(shape)
    np.abs(late_s, out=late_s)
    np.abs(other_s, out=other_s)
    np.maximum(late_s, other_s, out=late_s)
    late_s -= gap_s.astype(np.float32)[:, None, :]
    base = max(int(worth.max()), HOPELESS)
    most = (worth - base).astype(np.float32)[:, None, :] + block.change.astype(np.float32)
    late_s, most = late_s.reshape(near.size, -1), most.reshape(near.size, -1)
    late_s -= np.float32(_SINGLE_S)
    np.maximum(late_s, np.float32(0.0), out=late_s)
    most -= late_s * block.growth[:, None]
    return _Promises(
        near,
        shape[1],
        worth,
        place,
        block.change.reshape(near.size, -1),
        late_s,
        base,
        most,
        float(following.units.clear_room),
    )


def _after(following: Following, cells: Cells, promises: _Promises, pairs: _Pairs, level: Ints) -> _Found:
    """What some pairs come to, where that is more than a level (P,)."""
    runs, (run, cell) = following.runs, pairs
    start, which = cells.start.ravel()[cell], promises.near[run]
    last, late_s = promises.place[run, cell % promises.width], promises.late_s[run, cell]
    places = latest_in_time(runs, following.rows, following.mover, which, start, last, late_s)
    end = runs.sample[places]
    value = following.end_value[end] + promises.changes(run, cell)
    kept = np.flatnonzero((places >= runs.first[which]) & (value > level))
    end = end[kept]
    value = value[kept] - following.turning(start[kept], end)
    good = np.flatnonzero(value > level[kept])
    kept = kept[good]
    return _Found(run[kept], cell[kept], value[good], end[good])
