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
from core.mount.evening.order.promises import Promises, promises_of
from core.mount.evening.order.runs import latest_in_time
from core.mount.evening.order.worth import Ints


def follow_past(following: Following, block: Block, cells: Cells, past: Indices) -> None:
    """Better V after ends so long over that any of the starts is in time; of equals they come before runs."""
    worth, level = following.end_value[past], cells.level.ravel()
    if worth.max() < level.min():
        return
    cell, kind = following.starts.cell[block.starts], following.starts.kind[block.starts]
    most = worth + following.before(past, block)
    at = np.flatnonzero(most.max(axis=1)[kind] >= level[cell])
    if not at.size:
        return
    hopeful, value = cell[at], most.T[:, kind[at]]
    value -= following.turning(cells.start.ravel()[hopeful], past[:, None])
    best = value.argmax(axis=0)
    value, before = value[best, np.arange(hopeful.size)], cells.value.ravel()[hopeful]
    better = (value > before) | ((value == before) & (cells.came_from.ravel()[hopeful] >= 0))
    cells.put(hopeful[better], value[better], past[best[better]])


def follow_runs(following: Following, block: Block, cells: Cells) -> None:
    """Better V by what can follow the ends of runs."""
    for promises in promises_of(following, block, cells):
        _follow(following, cells, promises)


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
    near, start, which = promises.near, cells.start.ravel()[cell], promises.near.run[run]
    last, late_s = near.place[promises.moment[at], run], promises.late_s[at, run]
    places = latest_in_time(runs, following.rows, following.mover, which, start, last, late_s)
    end = runs.sample[places]
    value = following.end_value[end] + near.change[promises.kind[at], run]
    value -= following.turning(start, end)
    good = np.flatnonzero((value > level) & (places >= runs.first[which]))
    return _Found(run[good], cell[good], value[good], end[good])
