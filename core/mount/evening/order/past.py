"""Ends of contacts that are so long over that any later start is in time after them.

Of those only the ones are kept that no other is better than wherever one goes on: worth no less even after
turning over to where the other ended, with what the change of satellite and of posture would cost.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Flags, Indices
from core.mount.evening.order.rows import HOPELESS, Rows
from core.mount.evening.order.worth import Ints, Units

#: So many may be kept before they are gone through.
_MANY = 48


class PastEnds:
    """The ends kept.

    Attributes:
        ends: flat indices.
    """

    def __init__(self, rows: Rows, units: Units, end_value: Ints) -> None:
        self._rows, self._units, self._end_value = rows, units, end_value
        self.ends: Indices = np.zeros(0, dtype=np.intp)

    def add(self, ends: Indices, since_s: float) -> None:
        """Take in ends that are over, and let go of all that others are better than from now on."""
        real = ends[self._end_value[ends] > HOPELESS]
        if real.size:
            self.ends = np.concatenate([self.ends, real])
            if self.ends.size > _MANY:
                self.ends = self.ends[~self._outdone(self.ends, since_s)]

    def _outdone(self, ends: Indices, since_s: float) -> Flags:
        """(N,) which of some ends others are better than, wherever one goes on from now on."""
        rows, units = self._rows, self._units
        row, value = rows.row_of[ends], self._end_value[ends]
        cost = units.turning(np.abs(rows.m_deg[ends][:, None] - rows.m_deg[ends]))
        cost += units.changing(
            rows.satellite[row][:, None] != rows.satellite[row], rows.over[ends][:, None] != rows.over[ends]
        )
        # Rounded once from each: up to two units may be lost on the way.
        cost = np.where(cost > 0, cost + 2 * units.clear_room, 0)
        passes, over = rows.pass_index[row], rows.pass_until_s[row] < since_s
        anywhere = over[:, None] | (passes[:, None] == passes)
        for one in np.flatnonzero(rows.remembered_until_s >= since_s):
            leaves = rows.leaves[row, one]
            anywhere &= ~leaves[:, None] | leaves
        better = anywhere & (value[:, None] - cost >= value)
        # Of two that are each as good as the other the first is kept.
        number = np.arange(ends.size)
        return np.asarray((better & (~better.T | (number[:, None] < number))).any(axis=0))
