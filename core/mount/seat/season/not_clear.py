"""Where passes of a season are not clear, as open arcs of zeta, and the shares that these add up to.

A pass has at most two clear arcs, one a posture, so what they leave of the circle is at most two arcs. How
many passes of an evening are not clear at a bearing is how many of these hold it: a sum of steps, up where an
arc begins and down where it ends. All curves here are such sums, exact but at the ends themselves, where a
pass is just clear: bearings of no width, which no season turns on.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats, Indices, wrap_360
from core.base.units import INSIDE_DEG
from core.mount.seat.arcs import Arcs


class StepCurve(NamedTuple):
    """A quantity over bearing, constant between its steps.

    Attributes:
        start_deg: (B,) where each piece begins, rising from 0 to below 360.
        value: (B,) on the piece, which goes to the next one's start, the last to 360.
    """

    start_deg: Floats
    value: Floats

    def at(self, bearing_deg: Floats) -> Floats:
        """Values (N,) at bearings (N,) of any turn."""
        return np.asarray(
            self.value[np.searchsorted(self.start_deg, wrap_360(bearing_deg), side="right") - 1]
        )

    @property
    def width_deg(self) -> Floats:
        """(B,) how wide the pieces are."""
        return np.diff(self.start_deg, append=360.0)

    def turned(self, by_deg: float) -> StepCurve:
        """The curve turned clockwise by an angle."""
        start = np.unique(np.append(wrap_360(self.start_deg + by_deg), 0.0))
        middle = start + np.diff(start, append=360.0) / 2.0
        return StepCurve(start, self.at(middle - by_deg))

    def for_picture(self, most: int = 1440) -> StepCurve:
        """The curve where it has no more pieces than ``most``; else its means over as many even pieces."""
        if self.start_deg.size <= most:
            return self
        edges = np.linspace(0.0, 360.0, most + 1)
        past = np.concatenate([[0.0], np.cumsum(self.value * self.width_deg)])
        here = np.interp(edges, np.append(self.start_deg, 360.0), past)
        return StepCurve(edges[:-1], np.diff(here) * most / 360.0)

    def mean(self) -> float:
        """Over the circle."""
        return float(self.value @ self.width_deg / 360.0)


class Steps(NamedTuple):
    """Ends of arcs (N,): where, whose evening, and +1 where an arc begins, -1 where it ends."""

    bearing_deg: Floats
    evening: Indices
    step: Floats


@dataclass(frozen=True, eq=False)
class NotClear:
    """The open arcs of zeta in which passes are not clear, (K,), each of one evening.

    Attributes:
        passes: (E,) how many passes each evening has, above 0.
        evening: (K,) which evening.
        start_deg: (K,) where the arc begins, 0 to below 360.
        width_deg: (K,) above 0 to 360.
    """

    passes: Indices
    evening: Indices
    start_deg: Floats
    width_deg: Floats

    @classmethod
    def of(cls, evening: Indices, evenings: int, upright: Arcs, over_the_top: Arcs) -> NotClear:
        """What the clear arcs of passes (P,) leave.

        Args:
            evening: (P,) of each pass.
            evenings: how many there are; those without a pass are left out and the others numbered anew.
            upright, over_the_top: (P,) clear arcs.
        """
        passes = np.bincount(evening, minlength=evenings)
        number = np.cumsum(passes > 0) - 1
        pass_, start, width = _left_over(upright, over_the_top)
        return cls(passes[passes > 0], number[evening[pass_]], wrap_360(start), width)

    @property
    def evenings(self) -> int:
        """How many evenings have passes."""
        return self.passes.size

    def some(self, evenings: Indices) -> NotClear:
        """Some of the evenings alone, numbered anew in that order."""
        number = np.full(self.evenings, -1)
        number[evenings] = np.arange(evenings.size)
        own = number[self.evening] >= 0
        return NotClear(
            self.passes[evenings], number[self.evening[own]], self.start_deg[own], self.width_deg[own]
        )

    def turned(self, by_deg: float) -> NotClear:
        """All arcs turned clockwise by an angle."""
        return NotClear(self.passes, self.evening, wrap_360(self.start_deg + by_deg), self.width_deg)

    def told(self, shift_deg: float) -> tuple[NotClear, float]:
        """The evenings through a hole that makes zeta so much more than the keyway's bearing.

        Returns:
            These arcs, and what to take from their bearings to have the keyway's.
        """
        return self, shift_deg

    def turned_by(self, offset_deg: float, _zero_deg: float) -> NotClear:
        """The arcs as a hole of that offset meets them, beside one without offset."""
        return self.turned(-offset_deg)

    def shares_seated(self, keyway_deg: float, offset_deg: float, zero_deg: float) -> Floats:
        """(E,) the share at a bearing of the keyway, through a hole of that offset.

        ``zero_deg`` is zeta of a hole without offset where the keyway points north.
        """
        return self.shares_at(float(zero_deg + keyway_deg + offset_deg))

    def seen(self, places: Indices, _keyways_deg: Floats) -> NDArray[np.float32]:
        """(360, E, K) the share at bearings (K,) of the keyway through a hole so many degrees on.

        ``places`` are zeta there through the first hole, in whole degrees.
        """
        count = 360
        shares, holes = self.shares_round(count).astype(np.float32), np.arange(count)[:, None]
        return np.ascontiguousarray(np.moveaxis(shares[:, (places + holes) % count], 0, 1))

    @property
    def ends(self) -> Steps:
        """The ends of all arcs but those that go all round, in no order."""
        partial = self.width_deg < 360.0
        start, evening = self.start_deg[partial], self.evening[partial]
        end = wrap_360(start + self.width_deg[partial])
        step = np.repeat([1.0, -1.0], start.size)
        return Steps(np.concatenate([start, end]), np.concatenate([evening, evening]), step)

    @cached_property
    def steps(self) -> Steps:
        """The ends by bearing."""
        bearing, evening, step = self.ends
        order = np.argsort(bearing)
        return Steps(bearing[order], evening[order], step[order])

    @cached_property
    def at_north(self) -> Indices:
        """(E,) how many arcs of each evening hold the bearings just before 360."""
        held = self.start_deg + self.width_deg >= 360.0
        return np.bincount(self.evening[held], minlength=self.evenings)

    def weighted(self, weight: Floats) -> StepCurve:
        """The sum over evenings (E,) of weight times the count of passes that are not clear."""
        bearing, evening, step = self.steps
        value = np.cumsum(np.concatenate([[self.at_north @ weight], weight[evening] * step]))
        start = np.concatenate([[0.0], bearing])
        last = np.append(np.diff(start) > 0.0, True)  # of steps at one bearing the sum of all
        return StepCurve(start[last], value[last])

    def mean_share(self) -> StepCurve:
        """The share of an evening's passes that are not clear, the mean over the evenings."""
        curve = self.weighted(1.0 / (self.passes * self.evenings))
        # What is left of a sum that ought to be nothing is rounding, far below one pass of any season.
        return StepCurve(curve.start_deg, np.maximum(np.round(curve.value, 12), 0.0))

    def shares_at(self, zeta_deg: float) -> Floats:
        """(E,) the share of every evening's passes that are not clear at one bearing."""
        past = np.mod(zeta_deg - self.start_deg, 360.0)
        held = ((past > 0.0) & (past < self.width_deg)) | (self.width_deg >= 360.0)
        return np.asarray(np.bincount(self.evening[held], minlength=self.evenings) / self.passes)

    def shares_round(self, count: int) -> Floats:
        """(E, count) the same at bearings 360 / count apart, from 0 on."""
        step = 360.0 / count
        first = np.floor(self.start_deg / step).astype(np.intp) + 1
        beyond = np.ceil((self.start_deg + self.width_deg) / step).astype(np.intp)
        whole = self.width_deg >= 360.0
        first, beyond = np.where(whole, 0, first), np.where(whole, count, beyond)
        # Twice round, so that an arc over north runs on.
        table = np.zeros((self.evenings, 2 * count + 2))
        np.add.at(table, (self.evening, first), 1.0)
        np.add.at(table, (self.evening, np.maximum(beyond, first)), -1.0)
        counts = np.cumsum(table, axis=1)
        return np.asarray((counts[:, :count] + counts[:, count : 2 * count]) / self.passes[:, None])


def _left_over(one: Arcs, other: Arcs) -> tuple[Indices, Floats, Floats]:
    """What two closed arcs of each pass (P,) leave of the circle: pass, start and width of each open arc."""
    # An arc that there is not is taken as a width of nothing at the other's start, and then lies on its end.
    none_one, none_other = one.width_deg < 0.0, other.width_deg < 0.0
    begin = np.where(none_one, other.start_deg, one.start_deg)
    first = np.where(none_one, np.where(none_other, 0.0, other.width_deg), one.width_deg)
    second = np.where(none_one | none_other, 0.0, other.width_deg)
    at = np.where(none_one | none_other, 0.0, np.mod(other.start_deg - one.start_deg, 360.0))
    # In degrees past ``begin``: one is [0, first], the other [at, at + second], of which 360 is 0 again.
    low = np.maximum(first, at + second - 360.0)
    after = np.maximum(low, at + second)
    pieces = [(low, at - low), (after, 360.0 - after)]
    pass_, start, width = [], [], []
    for past, wide in pieces:
        open_ = np.flatnonzero(wide > INSIDE_DEG)
        pass_.append(open_)
        start.append(begin[open_] + past[open_])
        width.append(wide[open_])
    return np.concatenate(pass_), np.concatenate(start), np.concatenate(width)
