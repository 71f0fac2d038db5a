"""What starts can be worth at most after each run of ends near them, in single precision.

What a start is worth after a run of ends is at most what the run's last end before it is worth, less what
the run grows by in the seconds by which a move from there would be late.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Indices
from core.mount.evening.order.blocks import Block
from core.mount.evening.order.cells import Cells, Following
from core.mount.evening.order.rows import HOPELESS
from core.mount.evening.order.worth import Ints

Singles = NDArray[np.float32]

#: Seconds and shares of a value by which single precision may be wrong, and more.
_SINGLE_S = 0.05
_SINGLE = 1e-5


@dataclass(frozen=True, eq=False)
class NearEnds:
    """Of the runs near a block, at each of its moments, the last end that comes into question.

    Attributes:
        place: (X, T) its place among those of all runs; one below the run's first where there is none.
        worth: (X, T) E of it.
        base: the greatest of all.
        above: (X, T) E less that.
        gap_s: (T, X) seconds there are to move from it, and those by which single precision may be wrong.
        azimuth_s, elevation_s: (T, X) as in `Runs`.
    """

    place: Indices
    worth: Ints
    base: int
    above: Singles
    gap_s: Singles
    azimuth_s: Singles
    elevation_s: Singles


def near_ends(following: Following, block: Block) -> NearEnds:
    """Those of a block."""
    runs, last = following.runs, following.last
    entries = last.entries(block.near, following.upto[block.moments])
    place, worth = last.place[entries], following.end_value[last.sample[entries]]
    spare_s = following.mover.margin_s - _SINGLE_S
    gap_s = following.rows.moments_s[block.moments] - (runs.since_s[place] + spare_s)
    base = max(int(worth.max()), HOPELESS)
    return NearEnds(
        place=place,
        worth=worth,
        base=base,
        above=(worth - base).astype(np.float32),
        gap_s=gap_s.T.astype(np.float32, order="C"),
        azimuth_s=runs.azimuth_single[place.T],
        elevation_s=runs.elevation_single[place.T],
    )


@dataclass(frozen=True, eq=False)
class Promises:
    """What some starts of a block can be worth at most after each run near it.

    Attributes:
        number: (X,) the runs.
        near: their last ends.
        cell: (H,) the cells of those starts.
        column, moment: (H,) where their changes and moments stand.
        level: (H,) the levels that they promise to be beyond, as `single`.
        change: (X, A or A * T) minus what changes cost.
        late_s: (H, X) by so much a move from the last end is late at least.
        most: (H, X) in whole numbers, less the base.
        room: so much ``most`` may be wrong.
    """

    number: Indices
    near: NearEnds
    cell: Indices
    column: Indices
    moment: Indices
    level: Singles
    change: Ints
    late_s: Singles
    most: Singles
    room: float

    def single(self, level: Ints) -> Singles:
        """(H,) levels told beside ``most``: what is not more is surely not more than the level."""
        return _single(level, self.near.base, self.room)

    def changes(self, run: Indices, at: Indices) -> Ints:
        """(P,) minus what changes cost between some runs and some of the cells."""
        return self.change[run, self.column[at]]

    def crude(self, cell: Indices) -> Indices:
        """(P,) of some cells the run whose last end before it is worth most, changes counted."""
        at = np.searchsorted(self.cell, cell)
        worth = self.near.worth[:, self.moment[at]] + self.change[:, self.column[at]]
        return np.asarray(worth.argmax(axis=0))


def promises_of(following: Following, block: Block, near: NearEnds, cells: Cells, begin: int) -> Promises:
    """Of some rows, whose starts begin at a place of the table."""
    runs, starts, shape = following.runs, following.starts, cells.start.shape
    table = slice(begin, begin + cells.start.size)
    change = following.before(runs.sample[runs.first[block.near]], cells, block.reminded)
    room = float(following.units.clear_room)
    most = (near.above[:, None, :] + change.astype(np.float32)).reshape(block.near.size, -1)
    level = _single(cells.level.ravel(), near.base, room)
    cell = np.flatnonzero(most.max(axis=0) > level)
    most, (row, moment) = most.T.take(cell, axis=0), np.divmod(cell, shape[1])
    late_s = near.azimuth_s.take(moment, axis=0)
    late_s -= starts.azimuth_s[table][cell, None]
    other_s = near.elevation_s.take(moment, axis=0)
    other_s -= starts.elevation_s[table][cell, None]
    np.abs(late_s, out=late_s)
    np.abs(other_s, out=other_s)
    np.maximum(late_s, other_s, out=late_s)
    late_s -= near.gap_s.take(moment, axis=0)
    np.maximum(late_s, np.float32(0.0), out=late_s)
    most -= np.multiply(late_s, block.growth, out=other_s)
    column, flat = row if change.shape[2] == 1 else cell, change.reshape(block.near.size, -1)
    return Promises(block.near, near, cell, column, moment, level[cell], flat, late_s, most, room)


def _single(level: Ints, base: int, room: float) -> Singles:
    """Levels in single precision less a base, and less by what that may be wrong."""
    told = (level - base).astype(np.float32)
    told -= np.abs(told) * np.float32(_SINGLE)
    told -= np.float32(room)
    return told
