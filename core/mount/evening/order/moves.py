"""Moves between contacts: how long, how far, and by way of the idle place where there is time for it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from core.base.angles import Flags, Floats
from core.mount.drive.slew import is_ideal, move_seconds
from core.mount.evening.joining import AxisAngles, corners, idle_place
from core.mount.evening.order.rules import LEAST_IDLE_S, EveningRules
from core.mount.model.station import Mount

#: A move that fits exactly fits, however its seconds were rounded.
ROUNDING_S = 1e-9


@dataclass(frozen=True)
class Mover:
    """The mount as far as moves between contacts go.

    Attributes:
        mount: rates and settling.
        margin_s: what a gap has beside the move.
        idle: where it waits; None: where the next contact starts.
        ideal: both axes at once at one rate each, nothing else.
        backward: time runs backward: a move from here to there is made from there to here.
    """

    mount: Mount
    margin_s: float
    idle: AxisAngles | None
    ideal: bool
    backward: bool = False

    def seconds(self, m_from: ArrayLike, m_to: ArrayLike, e_from: ArrayLike, e_to: ArrayLike) -> Floats:
        """(...) seconds of a move."""
        if self.backward:
            m_from, m_to, e_from, e_to = m_to, m_from, e_to, e_from
        return move_seconds(self.mount, m_from, m_to, e_from, e_to)

    @property
    def rates_deg_s(self) -> tuple[float, float]:
        """The faster rate of azimuth and of elevation: no move takes less than either axis at that."""
        return max(self.mount.azimuth.rates_deg_s), max(self.mount.elevation.rates_deg_s)

    def turn_deg(
        self, m_from: ArrayLike, m_to: ArrayLike, e_from: ArrayLike, e_to: ArrayLike, gap_s: ArrayLike
    ) -> Floats:
        """(...) what azimuth turns in a move, by way of the idle place where the gap has room."""
        straight = np.abs(np.subtract(m_to, m_from))
        if self.idle is None:
            return np.asarray(straight)
        around = np.abs(np.subtract(self.idle.m_deg, m_from)) + np.abs(np.subtract(m_to, self.idle.m_deg))
        return np.where(self.idles(m_from, m_to, e_from, e_to, gap_s), around, straight)

    def idles(
        self, m_from: ArrayLike, m_to: ArrayLike, e_from: ArrayLike, e_to: ArrayLike, gap_s: ArrayLike
    ) -> Flags:
        """(...) the gap has room to move to the idle place, to stand there, to move on, and the margin."""
        if self.idle is None:
            return np.zeros(np.shape(gap_s), dtype=bool)
        m_idle, e_idle = self.idle
        both = self.seconds(m_from, m_idle, e_from, e_idle) + self.seconds(m_idle, m_to, e_idle, e_to)
        return np.asarray(both + self.margin_s + LEAST_IDLE_S <= np.asarray(gap_s) + ROUNDING_S)

    def longest_s(self) -> float:
        """A gap that long has room for any move, and for standing idle on the way."""
        ends = corners(self.mount)
        far = max(float(self.seconds(a.m_deg, b.m_deg, a.e_deg, b.e_deg)) for a in ends for b in ends)
        axes = (self.mount.azimuth, self.mount.elevation)
        nudges = sum(axis.least_nudge_deg / min(axis.rates_deg_s) for axis in axes)
        slow = [axis.acceleration_deg_s2 for axis in axes if axis.acceleration_deg_s2 is not None]
        nudges += sum(2.0 * math.sqrt(axis.least_nudge_deg / min(slow)) for axis in axes if slow)
        once = max(far, nudges + self.mount.drive.settle_s if nudges else 0.0)
        return once + self.margin_s if self.idle is None else 2.0 * once + LEAST_IDLE_S + self.margin_s


def mover_of(mount: Mount, rules: EveningRules) -> Mover:
    """The mount with the evening's rules."""
    idle = None if rules.idle_m_deg is None else idle_place(mount, rules.idle_m_deg)
    return Mover(mount, rules.move_margin_s, idle, is_ideal(mount))
