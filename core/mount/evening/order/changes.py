"""What going over from one row to another costs, and where it is not allowed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Indices
from core.mount.evening.order.rows import NOTHING, Rows
from core.mount.evening.order.worth import Ints, Units


@dataclass(frozen=True, eq=False)
class Changes:
    """What changes cost, by row.

    Attributes:
        pass_index, satellite: (R,) as in `Rows`.
        price: (R,) as in `Rows`; None where none has one.
        leaves, layer: (R,) as in `Rows`, a bit for each remembered pass.
        change, flip: what a change of satellite and one of posture take, in whole numbers.
    """

    pass_index: Indices
    satellite: Indices
    price: Ints | None
    leaves: Indices
    layer: Indices
    change: int
    flip: int

    @classmethod
    def of(cls, rows: Rows, units: Units) -> Changes:
        """The changes among some rows."""
        rules = units.rules
        return cls(
            pass_index=rows.pass_index,
            satellite=rows.satellite,
            price=rows.price if rows.price.any() else None,
            leaves=bits_of(rows.leaves),
            layer=bits_of(rows.layer),
            change=units.seconds(rules.change_cost_s),
            flip=units.seconds(rules.posture_change_cost_s),
        )

    def before(self, row: Indices, came_row: Indices, over: Flags, came_over: Flags, reminded: int) -> Ints:
        """(...) minus what changes and the contact cost before a start of a row after an end of another.

        Args:
            row, over: of the start.
            came_row, came_over: of the end.
            reminded: the remembered passes that can still be started, a bit each.

        Returns:
            `NOTHING` where the start may not follow the end.
        """
        banned = self.pass_index[row] == self.pass_index[came_row]
        if reminded:
            banned |= (self.leaves[came_row] & (~self.layer[row] & reminded)) != 0
        cost: Ints = -self.flip * (over != came_over)
        if self.price is not None:
            cost -= self.price[row]
        if self.change:
            cost -= self.change * (self.satellite[row] != self.satellite[came_row])
        np.copyto(cost, NOTHING, where=banned)
        return cost


def bits_of(flags: Flags) -> Indices:
    """(R,) flags (R, P) as bits of one number."""
    return np.asarray((flags * (1 << np.arange(flags.shape[1]))).sum(axis=1), dtype=np.intp)
