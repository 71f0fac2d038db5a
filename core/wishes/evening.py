"""What the evening loses over the keyway's bearing, also where the keyway is placed a little off.

The best bearing by the passes may lie at the very end of an arc, where half a degree costs a pass. So the
seconds counted are the most within a few degrees to both sides.
"""

from __future__ import annotations

from functools import cached_property
from itertools import combinations

import numpy as np

from core.base.angles import Floats, wrap_360
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.seat.curve import LossCurve
from core.mount.seat.losses.means import APART_DEG
from core.mount.seat.losses.table import SeatTable

#: A keyway is placed this well without trouble; common practice, no source.
PLACED_DEG = 2.0


class EveningLost:
    """The seconds that the studied passes lose over zeta, boresight's bearing on the counter-clockwise stop.

    Attributes:
        table: of the passes.
        zeta_deg: (K,) rising: where the curve bends or jumps; between them it is straight, to the half second
            or so that the study's table is good to (a pass may change its verdict between).
    """

    def __init__(self, table: SeatTable, over_zeta: LossCurve) -> None:
        self.table = table
        knots = np.concatenate([np.mod(table.key, APART_DEG), over_zeta.bearing_deg, [0.0]])
        self.zeta_deg: Floats = np.unique(np.asarray(wrap_360(knots)))

    def at(self, zeta_deg: Floats) -> Floats:
        """(N,) seconds lost."""
        if not self.table.seconds_in_all.size:
            return np.zeros(zeta_deg.shape)
        _code, lost = self.table.decided_at(zeta_deg)
        return np.asarray(lost.sum(axis=1))

    @cached_property
    def _most(self) -> list[Floats]:
        """Row k: the most of 2**k knots from each on, once round and on."""
        rows = [np.tile(self.at(self.zeta_deg), 3)]
        while 2 ** len(rows) < rows[0].size:
            half = 2 ** (len(rows) - 1)
            last = rows[-1]
            rows.append(np.maximum(last, np.append(last[half:], np.full(half, -np.inf))))
        return rows

    def placed(self, zeta_deg: Floats) -> Floats:
        """(N,) the most seconds lost within `PLACED_DEG` to both sides."""
        zeta = np.asarray(wrap_360(zeta_deg))
        ends = np.maximum(self.at(zeta - PLACED_DEG), self.at(zeta + PLACED_DEG))
        return np.maximum(ends, self._inside(zeta))

    def _inside(self, zeta_deg: Floats) -> Floats:
        """(N,) the most of the knots within `PLACED_DEG`: of two runs of 2**k that cover them; 0 of none."""
        knots = np.concatenate([self.zeta_deg - 360.0, self.zeta_deg, self.zeta_deg + 360.0])
        first = np.searchsorted(knots, zeta_deg - PLACED_DEG)
        count = np.searchsorted(knots, zeta_deg + PLACED_DEG, side="right") - first
        power = np.floor(np.log2(np.maximum(count, 1))).astype(int)
        most = np.zeros(zeta_deg.shape)
        for k in np.unique(power[count > 0]).tolist():
            some = (count > 0) & (power == k)
            values, begin = self._most[k], first[some]
            most[some] = np.maximum(values[begin], values[begin + count[some] - 2**k])
        return most

    @cached_property
    def bends_deg(self) -> Floats:
        """Zetas at which `placed` bends, and where it comes to be as good as its least.

        Between a knot that comes into the window and the next, both of the window's ends are straight and
        what is inside is constant: it bends where two of these three cross.
        """
        knots = self.zeta_deg
        at = np.unique(wrap_360(np.concatenate([knots, knots - PLACED_DEG, knots + PLACED_DEG])))
        left, right = self.at(at - PLACED_DEG), self.at(at + PLACED_DEG)
        inside = self._inside((at[:-1] + at[1:]) / 2.0)
        rows = (left[:-1], left[1:]), (right[:-1], right[1:]), (inside, inside)
        crossing = [
            _crossings(at, one[0] - other[0], one[1] - other[1]) for one, other in combinations(rows, 2)
        ]
        at = np.unique(np.concatenate([at, *crossing]))
        over = self.placed(at)
        over = over - (float(over.min()) + NEAR_ENOUGH_S)
        return np.union1d(at, _crossings(at, over[:-1], over[1:]))


def _crossings(at: Floats, begin: Floats, end: Floats) -> Floats:
    """Where lines from ``begin`` (N - 1,) to ``end`` between neighbours of ``at`` (N,) go through 0."""
    some = np.flatnonzero(begin * end < 0.0)
    share = begin[some] / (begin[some] - end[some])
    return np.asarray(at[some] + share * (at[some + 1] - at[some]))
