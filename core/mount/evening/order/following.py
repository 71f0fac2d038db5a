"""What starts are worth after every end that leaves time to move to them.

The run that promises most (`promises`) is tried first, and then only those that promise more than it has
brought.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Indices
from core.mount.evening.order.blocks import Block
from core.mount.evening.order.cells import Cells, Following
from core.mount.evening.order.promises import Promises, near_ends, promises_of
from core.mount.evening.order.runs import latest_in_time
from core.mount.evening.order.worth import Ints

#: About so many pairs of a start and a run at once stay in the processor's cache.
_TOGETHER = 60_000


def follow_past(following: Following, block: Block, cells: Cells, past: Indices) -> None:
    """Better V after ends so long over that any of the starts is in time; of equals they come before runs."""
    worth = following.end_value[past]
    if worth.max() < cells.level.min():
        return
    most = worth[:, None, None] + following.before(past, cells, block.reminded)
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
    """Better V by what can follow the ends of runs."""
    near, (rows, moments) = near_ends(following, block), cells.start.shape
    step = max(_TOGETHER // near.worth.size, 1)
    for first in range(0, rows, step):
        some = cells.some(slice(first, first + step))
        begin = block.table.start + first * moments
        promises = promises_of(following, block, near, some, begin)
        if promises.cell.size:
            _follow(following, some, promises)


def _follow(following: Following, cells: Cells, promises: Promises) -> None:
    """The same of some rows of a block.

    Of runs after which a start is worth the same, that is taken whose last end before the start is worth
    most, changes counted, else the first.
    """
    hopes, every = promises.most, np.arange(promises.cell.size)
    best = hopes.argmax(axis=1)
    good = np.flatnonzero(hopes[every, best] > promises.level)
    if not good.size:
        return
    level = cells.level.ravel()
    first = _after(following, cells, promises, _Pairs(best[good], good), level[promises.cell[good]])
    cells.put(first.cell, first.value, first.end)
    cells.raise_levels()
    hopes[every, best] = -np.inf
    levels = level[promises.cell]
    left = np.flatnonzero(hopes > promises.single(levels)[:, None])
    if not left.size:
        return
    at, run = np.divmod(left, hopes.shape[1])
    cell, level = promises.cell[at], levels[at]
    level -= (level == cells.value.ravel()[cell]) & (cells.came_from.ravel()[cell] >= 0)
    more = _after(following, cells, promises, _Pairs(run, at), level)
    order = np.lexsort((more.cell, more.value))
    cell, value = more.cell[order], more.value[order]
    same = (cell[1:] == cell[:-1]) & (value[1:] == value[:-1])
    if same.any() or (value == cells.value.ravel()[cell]).any():
        more = first.and_more(more)
        order = np.lexsort((-more.run, _preferred(promises, more), more.value))
    cells.put(more.cell[order], more.value[order], more.end[order])
    cells.raise_levels()


def _preferred(promises: Promises, found: _Found) -> Flags:
    """(P,) which of those that come to the same for a cell is the one to be taken."""
    order = np.lexsort((found.value, found.cell))
    cell, value = found.cell[order], found.value[order]
    same = np.flatnonzero((cell[1:] == cell[:-1]) & (value[1:] == value[:-1]))
    tied = order[np.concatenate([same, same + 1])]
    preferred = np.zeros(order.size, dtype=bool)
    preferred[tied] = found.run[tied] == promises.crude(found.cell[tied])
    return preferred


class _Pairs(NamedTuple):
    """(P,) numbers of runs near, and of starts that are promised something."""

    run: Indices
    at: Indices


class _Found(NamedTuple):
    """Of some pairs (P,) of a run near and a cell what the cell is worth after the run, and the end."""

    run: Indices
    cell: Indices
    value: Ints
    end: Indices

    def and_more(self, other: _Found) -> _Found:
        """Both, one after the other."""
        return _Found(*(np.concatenate(both) for both in zip(self, other, strict=True)))


def _after(following: Following, cells: Cells, promises: Promises, pairs: _Pairs, level: Ints) -> _Found:
    """What some pairs come to, where that is more than a level (P,)."""
    runs, (run, at) = following.runs, pairs
    cell = promises.cell[at]
    start, which = cells.start.ravel()[cell], promises.number[run]
    last, late_s = promises.near.place[run, promises.moment[at]], promises.late_s[at, run]
    places = latest_in_time(runs, following.rows, following.mover, which, start, last, late_s)
    end = runs.sample[places]
    value = following.end_value[end] + promises.changes(run, at)
    kept = np.flatnonzero((places >= runs.first[which]) & (value > level))
    end = end[kept]
    value = value[kept] - following.turning(start[kept], end)
    good = np.flatnonzero(value > level[kept])
    kept = kept[good]
    return _Found(run[kept], cell[kept], value[good], end[good])
