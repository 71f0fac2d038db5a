"""A season with lengths for clearance: where its passes are not clear depends on the keyway and on the hole.

Stops are met by zeta, the bearing of boresight on the counter-clockwise stop, whichever hole makes it; what
strikes stands in the tripod's frame, and is met by the keyway's own bearing. So both are kept, a pass' clear
arcs over zeta and its struck arcs over the keyway's bearing, and put together for a hole when it is asked of.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats, Indices, wrap_360
from core.base.units import INSIDE_DEG
from core.mount.model.station import POSTURES, Posture
from core.mount.seat.arcs import Arcs, Struck, holds
from core.mount.seat.season.not_clear import NotClear

#: More than a turn: it keeps passes apart in one column of bearings.
_APART = 1024.0
_ROUND = 360


@dataclass(frozen=True, eq=False)
class StruckSeason:
    """The passes of a season (P,), by evening.

    Attributes:
        passes: (E,) how many passes each evening has, above 0.
        evening: (P,) of each pass.
        clear: per posture the arcs of zeta in which no stop is met.
        struck: per posture the arcs of the keyway's bearing at which something is struck.
    """

    passes: Indices
    evening: Indices
    clear: dict[Posture, Arcs]
    struck: dict[Posture, Struck]
    _known: dict[float, NotClear] = field(default_factory=dict, repr=False)

    @classmethod
    def of(
        cls, evening: Indices, evenings: int, clear: dict[Posture, Arcs], struck: dict[Posture, Struck]
    ) -> StruckSeason:
        """As `NotClear.of`: evenings without a pass are left out and the others numbered anew."""
        passes = np.bincount(evening, minlength=evenings)
        number = np.cumsum(passes > 0) - 1
        return cls(passes[passes > 0], number[evening], clear, struck)

    @property
    def evenings(self) -> int:
        """How many evenings have passes."""
        return self.passes.size

    def some(self, evenings: Indices) -> StruckSeason:
        """Evenings that follow one another alone, numbered anew."""
        first, beyond = np.searchsorted(self.evening, [evenings[0], evenings[-1] + 1])
        own = slice(int(first), int(beyond))
        clear = {p: Arcs(a.start_deg[own], a.width_deg[own]) for p, a in self.clear.items()}
        struck = {p: arcs.some(own) for p, arcs in self.struck.items()}
        return StruckSeason(self.passes[evenings], self.evening[own] - evenings[0], clear, struck)

    def told(self, shift_deg: float) -> tuple[NotClear, float]:
        """As `NotClear.told`."""
        return self.through(shift_deg), 0.0

    def turned_by(self, offset_deg: float, zero_deg: float) -> NotClear:
        """As `NotClear.turned_by`."""
        return self.through(zero_deg + offset_deg)

    def shares_seated(self, keyway_deg: float, offset_deg: float, zero_deg: float) -> Floats:
        """As `NotClear.shares_seated`."""
        return self.through(zero_deg + offset_deg).shares_at(keyway_deg)

    def through(self, shift_deg: float) -> NotClear:
        """Where passes are not clear over keyway bearings, through a hole that makes zeta so much more."""
        key = round(float(wrap_360(shift_deg)), 9)
        if key not in self._known:
            self._known[key] = self._through(key)
        return self._known[key]

    def _through(self, shift_deg: float) -> NotClear:
        """Sums of steps, up where an arc begins in which a posture does not serve, down where it ends."""
        ends = [self._shut(posture, shift_deg) for posture in POSTURES]
        of_pass = np.concatenate([one[0] for one in ends for _side in range(2)])
        bearing = np.concatenate([side for one in ends for side in one[1:]])
        step = np.concatenate([np.repeat([1, -1], one[0].size) for one in ends])
        row = np.repeat(np.arange(2), [2 * one[0].size for one in ends])
        order = np.argsort(of_pass * _APART + bearing, kind="stable")
        of_pass, bearing, step, row = of_pass[order], bearing[order], step[order], row[order]
        shut = np.ones(of_pass.size, dtype=bool)
        for posture in range(2):
            shut &= np.cumsum(np.where(row == posture, step, 0)) > 0
        # Of steps at one bearing the sum of all counts.
        last = np.append((np.diff(of_pass) > 0) | (np.diff(bearing) > INSIDE_DEG), True)[: of_pass.size]
        of_pass, bearing, shut = of_pass[last], bearing[last], shut[last]
        before = np.append(False, shut[:-1])[: shut.size]
        begins, closes = np.flatnonzero(shut & ~before), np.flatnonzero(~shut & before)
        width = np.minimum(bearing[closes] - bearing[begins], 360.0)
        wide = width > INSIDE_DEG
        evening = self.evening[of_pass[begins]]
        return NotClear(self.passes, evening[wide], bearing[begins][wide], width[wide])

    def _shut(self, posture: Posture, shift_deg: float) -> tuple[Indices, Floats, Floats]:
        """Arcs (K,) of keyway bearings in which a posture does not serve: pass, from, to, cut at north."""
        clear, struck = self.clear[posture], self.struck[posture]
        every = np.arange(self.evening.size)
        open_ = clear.width_deg < 360.0
        # Where there is no clear arc at all, all of the circle is shut.
        none = clear.width_deg < 0.0
        start = np.where(none, 0.0, wrap_360(clear.start_deg + clear.width_deg - shift_deg))
        width = np.where(none, 360.0, 360.0 - clear.width_deg)
        of_pass = np.concatenate([every[open_], struck.of_pass])
        start = np.concatenate([start[open_], wrap_360(struck.start_deg)])
        end = start + np.concatenate([width[open_], struck.width_deg])
        over = end > 360.0
        return (
            np.concatenate([of_pass, of_pass[over]]),
            np.concatenate([start, np.zeros(int(over.sum()))]),
            np.concatenate([np.minimum(end, 360.0), end[over] - 360.0]),
        )

    def seen(self, places: Indices, keyways_deg: Floats) -> NDArray[np.float32]:
        """As `NotClear.seen`. A pass is clear upright or over the top, or both, which counts but once."""
        zetas = np.arange(float(_ROUND))
        clear = [holds(self.clear[p], zetas).astype(np.float32) for p in POSTURES]
        passes = self.evening.size
        free = [(~self.struck[p].holds(keyways_deg, passes, INSIDE_DEG)).astype(np.float32) for p in POSTURES]
        at = (places[None, :] + np.arange(_ROUND)[:, None]) % _ROUND
        found = np.empty((_ROUND, self.evenings, places.size), dtype=np.float32)
        begins = np.cumsum(self.passes) - self.passes
        for index, (first, count) in enumerate(zip(begins.tolist(), self.passes.tolist(), strict=True)):
            own = slice(first, first + count)
            upright, over = (c[:, own] @ f[:, own].T for c, f in zip(clear, free, strict=True))
            both = (clear[0][:, own] * clear[1][:, own]) @ (free[0][:, own] * free[1][:, own]).T
            share = 1.0 - (upright + over - both) / count
            found[:, index] = share[at, np.arange(places.size)]
        return found


#: A season through whichever hole: without lengths for clearance, or with.
AnySeason = NotClear | StruckSeason
