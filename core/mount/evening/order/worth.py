"""What an evening is worth: three goals, one after the other, in one whole number.

First weighted seconds of signal less what changes of satellite cost; of equals, the greatest sum of degrees
to the nearer guard over the seconds of signal; of equals still, the least travel of both axes, in contacts
and in the moves between them. Each goal is counted in whole units, so that sums are exact and one 64-bit
integer carries all three: value = (signal * clear_room + clear) * travel_room - travel. The units are 0.1
weighted seconds, 10 degree-seconds and 0.1 degrees where that fits 62 bits; a longer evening or a greater
worth doubles them until it does, travel's and clearance's before signal's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats
from core.mount.evening.order.options import Option
from core.mount.model.station import Mount

Ints = NDArray[np.int64]

_BITS = 62
#: Units are doubled in this order, round and round: travel and clearance twice before signal once.
_GROWING = (2, 1, 2, 1, 0)


@dataclass(frozen=True, order=True)
class Score:
    """The three goals in units; greater is better (``travel`` is counted negative here)."""

    signal: int
    clear: int
    less_travel: int


@dataclass(frozen=True)
class Units:
    """The size of a unit of each goal and the room the lesser two take in the whole number.

    Attributes:
        signal_s, clear_deg_s, travel_deg: one unit.
        clear_room, travel_room: above any sum of clearance and of travel, in units.
    """

    signal_s: float
    clear_deg_s: float
    travel_deg: float
    clear_room: int
    travel_room: int

    def counted(self, option: Option) -> tuple[Ints, Ints, Ints]:
        """(K,) signal, clearance and travel of an option since its first moment, in units."""
        signal = _rounded(option.worth * option.signal_s / self.signal_s)
        clear = _rounded(option.clear_deg_s / self.clear_deg_s)
        travel = _rounded(option.travel_deg / self.travel_deg)
        if option.backward:
            # Turned round as whole numbers: a contact is worth the same whichever way time runs.
            signal, clear, travel = (sums[-1] - sums[::-1] for sums in (signal, clear, travel))
        return signal, clear, travel

    def moved(self, travel_deg: Floats) -> Ints:
        """(...) travel of moves in units."""
        return _rounded(travel_deg / self.travel_deg)

    def change(self, change_cost_s: float) -> int:
        """What a change of satellite takes from the whole number."""
        return round(change_cost_s / self.signal_s) * self.clear_room * self.travel_room

    def packed(self, signal: Ints, clear: Ints, travel: Ints) -> Ints:
        """(...) the whole number."""
        return np.asarray((signal * self.clear_room + clear) * self.travel_room - travel)

    def score(self, value: int) -> Score:
        """Back from the whole number."""
        upper = -(-value // self.travel_room)
        signal, clear = divmod(upper, self.clear_room)
        return Score(signal, clear, value - upper * self.travel_room)


def _rounded(values: Floats) -> Ints:
    return np.rint(values).astype(np.int64)


def units_for(options: tuple[Option, ...], mount: Mount) -> Units:
    """Units in which any choice among these options fits one whole number.

    No two contacts are at one time, so signal is at most what lies between the first start and the last end;
    each pass is worked once, so there are no more moves than passes, each by the idle place at most.
    """
    units = [0.1, 10.0, 0.1]
    if not options:
        return Units(units[0], units[1], units[2], 1, 1)
    span_s = max(o.utc_s[-1] for o in options) - min(o.utc_s[0] for o in options)
    most_travel: dict[int, float] = {}
    for one in options:
        most_travel[one.pass_index] = max(most_travel.get(one.pass_index, 0.0), float(one.travel_deg[-1]))
    across = mount.azimuth.travel_deg + mount.elevation.maximum_deg - mount.elevation.minimum_deg
    most = (
        span_s * max(1.0, *(one.worth for one in options)),
        span_s * mount.azimuth.travel_deg / 2.0,
        sum(most_travel.values()) + 2.0 * across * (len(most_travel) + 1),
    )
    doubling = 0
    while True:
        # Half a unit is lost or won to rounding at either end of every contact and at every move.
        room = [int(total / unit) + 2 * len(most_travel) + 4 for total, unit in zip(most, units, strict=True)]
        if sum(r.bit_length() for r in room) <= _BITS:
            return Units(units[0], units[1], units[2], room[1], room[2])
        units[_GROWING[doubling % len(_GROWING)]] *= 2.0
        doubling += 1
