"""What an evening is worth: one number, in weighted seconds.

    the sum over its contacts of worth x counted seconds of signal
    - change_cost_s          for every change of satellite
    - posture_change_cost_s  for every change of posture, between contacts and in the move of a split
    - turn_cost_s            for every full turn of azimuth, in contacts and in the moves between them

Signal is counted while the satellite is on the beam over the mask; seconds of one contact beyond ``enough_s``
count a tenth. Of evenings worth the same the one further from the stops is taken: the greatest sum over the
seconds of signal of the degrees to the nearer guard, of which only the part below 15 counts.

Both are counted in whole units, so that sums are exact and one 64-bit integer carries both:
value = worth * clear_room + clear. The units are 0.01 weighted seconds and 1 degree second where that fits 60
bits; a longer evening or a greater worth doubles them until it does, clearance's before the seconds'.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.base.angles import Flags, Floats
from core.mount.evening.order.lines import CLEAR_ENOUGH_DEG
from core.mount.evening.order.options import Option
from core.mount.evening.order.rules import EveningRules

Ints = NDArray[np.int64]

#: What a second of one contact counts beyond ``enough_s``.
SPARE_SHARE = 0.1
_BITS = 60
#: Units are doubled in this order, round and round.
_GROWING = (1, 1, 0)


@dataclass(frozen=True, order=True)
class Score:
    """Both goals in units; greater is better."""

    worth: int
    clear: int


@dataclass(frozen=True)
class Units:
    """What things cost and the whole number they are counted in.

    Attributes:
        rules: the costs.
        worth_s, clear_deg_s: one unit.
        clear_room: above any sum of clearance, in units.
    """

    rules: EveningRules
    worth_s: float
    clear_deg_s: float
    clear_room: int

    def packed(self, worth_s: Floats, clear_deg_s: Floats) -> Ints:
        """(...) the whole number."""
        return _rounded(worth_s / self.worth_s) * self.clear_room + _rounded(clear_deg_s / self.clear_deg_s)

    def turning(self, azimuth_deg: ArrayLike) -> Ints:
        """(...) what so many degrees of azimuth motor take from the whole number."""
        share = self.rules.turn_cost_s / 360.0 / self.worth_s
        return _rounded(np.asarray(azimuth_deg) * share) * self.clear_room

    def changing(self, satellite: Flags, posture: Flags) -> Ints:
        """(...) what changes of satellite and of posture take from the whole number."""
        change, flip = self.seconds(self.rules.change_cost_s), self.seconds(self.rules.posture_change_cost_s)
        return np.asarray(change * satellite + flip * posture, dtype=np.int64)

    def seconds(self, worth_s: float) -> int:
        """Weighted seconds in the whole number."""
        return round(worth_s / self.worth_s) * self.clear_room

    def score(self, value: int) -> Score:
        """Back from the whole number."""
        return Score(*divmod(value, self.clear_room))


def _rounded(values: Floats) -> Ints:
    return np.rint(values).astype(np.int64)


def units_for(options: tuple[Option, ...], rules: EveningRules) -> Units:
    """Units in which any choice among these options fits one whole number.

    No two contacts are at one time, so that signal is at most what lies between the first start and the last
    end; costs stay below what is won, else nothing would be worked.
    """
    units = [0.01, 1.0]
    if not options:
        return Units(rules, units[0], units[1], 1)
    span_s = max(o.utc_s[-1] for o in options) - min(o.utc_s[0] for o in options)
    dearest = max(1.0, *(one.worth for one in options))
    spent_s = max(
        rules.turn_cost_s * one.turned_deg[-1] / 360.0 + rules.posture_change_cost_s for one in options
    )
    most = (span_s + rules.enough_s) * dearest + spent_s, span_s * CLEAR_ENOUGH_DEG
    passes = len({one.pass_index for one in options})
    doubling = 0
    while True:
        # Half a unit is lost or won to rounding at either end of every contact and at every move.
        room = [int(total / unit) + 2 * passes + 4 for total, unit in zip(most, units, strict=True)]
        if sum(r.bit_length() for r in room) <= _BITS:
            return Units(rules, units[0], units[1], room[1])
        units[_GROWING[doubling % len(_GROWING)]] *= 2.0
        doubling += 1
