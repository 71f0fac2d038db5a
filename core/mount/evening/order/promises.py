"""What starts can be worth at most after each run of ends near them, in single precision.

What a start is worth after a run of ends is at most what the run's last end before it is worth, less what
the run grows by in the seconds by which a move from there would be late.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from core.base.angles import Indices
from core.mount.evening.order.blocks import Block
from core.mount.evening.order.cells import Cells, Following
from core.mount.evening.order.near import NearEnds, Singles, near_ends
from core.mount.evening.order.worth import Ints

#: The share of a value by which single precision may be wrong, and more.
_SINGLE = 1e-5
#: About so many pairs of a start and a run at once stay in the processor's cache.
_TOGETHER = 60_000


@dataclass(frozen=True, eq=False)
class Promises:
    """What some starts of a block can be worth at most after each run near it.

    Attributes:
        near: the last ends of the runs.
        cell, moment, kind: (H,) as in `Starts`.
        level: (H,) the levels that they promise to be beyond, as `single`.
        late_s: (H, X) by so much a move from the last end is late at least.
        most: (H, X) in whole numbers, less the base.
        room: so much ``most`` may be wrong.
    """

    near: NearEnds
    cell: Indices
    moment: Indices
    kind: Indices
    level: Singles
    late_s: Singles
    most: Singles
    room: float

    def single(self, level: Ints) -> Singles:
        """(H,) levels told beside ``most``: what is not more is surely not more than the level."""
        return _single(level, self.near.base, self.room)

    def crude(self, cell: Indices) -> Indices:
        """(P,) of some cells the run whose last end before it is worth most, changes counted."""
        at, best = np.searchsorted(self.cell, cell), np.full(self.cell.size, -1)
        best[at] = 0
        once = np.flatnonzero(best == 0)  # of a cell there may be as many pairs as there are runs
        worth = self.near.worth[self.moment[once]] + self.near.change[self.kind[once]]
        best[once] = worth.argmax(axis=1)
        return best[at]


def promises_of(following: Following, block: Block, cells: Cells) -> Iterator[Promises]:
    """Of all starts of a block, by turns of so many that they stay in the processor's cache."""
    near = near_ends(following, block)
    above, change = (near.worth - near.base).astype(np.float32), near.change.astype(np.float32)
    starts, room = following.starts, float(following.units.clear_room)
    step = max(_TOGETHER // near.run.size, 1)
    for first in range(block.starts.start, block.starts.stop, step):
        some = slice(first, min(first + step, block.starts.stop))
        cell, moment, kind = starts.cell[some], starts.moment[some], starts.kind[some]
        most = above.take(moment, axis=0)
        most += change.take(kind, axis=0)
        late_s = near.azimuth_s.take(moment, axis=0)
        late_s -= starts.azimuth_s[some, None]
        other_s = near.elevation_s.take(moment, axis=0)
        other_s -= starts.elevation_s[some, None]
        np.abs(late_s, out=late_s)
        np.abs(other_s, out=other_s)
        np.maximum(late_s, other_s, out=late_s)
        late_s -= near.gap_s.take(moment, axis=0)
        np.maximum(late_s, np.float32(0.0), out=late_s)
        most -= np.multiply(late_s, block.growth, out=other_s)
        level = _single(cells.level.ravel()[cell], near.base, room)
        yield Promises(near, cell, moment, kind, level, late_s, most, room)


def _single(level: Ints, base: int, room: float) -> Singles:
    """Levels in single precision less a base, and less by what may be wrong where they are below it."""
    return np.asarray((level - base) * (1.0 + _SINGLE) - room, dtype=np.float32)
