"""Moves between contacts: how long, how far, and by way of the idle place where there is time for it.

The sweep asks for the move from every end to every start. A mount that is described by its rates alone is
therefore reckoned here, in two divisions; only one that was measured further goes through `drive.slew`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from core.base.angles import Floats
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
        if not self.ideal:
            return move_seconds(self.mount, m_from, m_to, e_from, e_to)
        azimuth = np.abs(np.subtract(m_to, m_from)) / self.mount.azimuth.rate_deg_s
        elevation = np.abs(np.subtract(e_to, e_from)) / self.mount.elevation.rate_deg_s
        return np.asarray(np.maximum(azimuth, elevation))

    def repeated_moves(
        self, ends: tuple[Floats, Floats], starts: tuple[Floats, Floats], shape: tuple[int, ...]
    ) -> Callable[[slice], Floats]:
        """`seconds` of the moves from some columns of ends (X, W) to starts (Y, 1, S), asked again and again.

        A mount told by its rates alone is reckoned in place: what comes back is overwritten by the next call.

        Args:
            ends, starts: both axes, m and e.
            shape: (Y, X, S) of an answer, S columns wide.
        """
        if not self.ideal:
            return lambda then: self.seconds(ends[0][:, then], starts[0], ends[1][:, then], starts[1])
        rates = self.mount.azimuth.rate_deg_s, self.mount.elevation.rate_deg_s
        (m_from, e_from), (m_to, e_to) = (
            tuple(axis / rate for axis, rate in zip(pair, rates, strict=True)) for pair in (ends, starts)
        )
        azimuth, elevation = np.empty(shape), np.empty(shape)

        def needed(then: slice) -> Floats:
            np.abs(np.subtract(m_from[:, then], m_to, out=azimuth), out=azimuth)
            np.abs(np.subtract(e_from[:, then], e_to, out=elevation), out=elevation)
            return np.maximum(azimuth, elevation, out=azimuth)

        return needed

    def travel_deg(
        self, m_from: ArrayLike, m_to: ArrayLike, e_from: ArrayLike, e_to: ArrayLike, gap_s: ArrayLike
    ) -> Floats:
        """(...) what both axes turn in a move, by way of the idle place where the gap has room."""
        straight = np.asarray(np.abs(np.subtract(m_to, m_from)) + np.abs(np.subtract(e_to, e_from)))
        if self.idle is None:
            return straight
        m_idle, e_idle = self.idle
        around = np.abs(m_idle - np.asarray(m_from)) + np.abs(e_idle - np.asarray(e_from))
        around = around + np.abs(np.asarray(m_to) - m_idle) + np.abs(np.asarray(e_to) - e_idle)
        return np.where(self.idles(m_from, m_to, e_from, e_to, gap_s), around, straight)

    def idles(
        self, m_from: ArrayLike, m_to: ArrayLike, e_from: ArrayLike, e_to: ArrayLike, gap_s: ArrayLike
    ) -> ArrayLike:
        """(...) the gap has room to move to the idle place, to stand there, to move on, and the margin."""
        if self.idle is None:
            return np.zeros(np.shape(gap_s), dtype=bool)
        m_idle, e_idle = self.idle
        both = self.seconds(m_from, m_idle, e_from, e_idle) + self.seconds(m_idle, m_to, e_idle, e_to)
        return np.asarray(both + self.margin_s + LEAST_IDLE_S <= np.asarray(gap_s) + ROUNDING_S)

    def longest_s(self) -> float:
        """No move takes longer, the margin included: from one far end of both axes to the other."""
        ends = corners(self.mount)
        far = max(float(self.seconds(a.m_deg, b.m_deg, a.e_deg, b.e_deg)) for a in ends for b in ends)
        axes = (self.mount.azimuth, self.mount.elevation)
        nudges = sum(axis.least_nudge_deg / min(axis.rates_deg_s) for axis in axes)
        slow = [axis.acceleration_deg_s2 for axis in axes if axis.acceleration_deg_s2 is not None]
        nudges += sum(2.0 * math.sqrt(axis.least_nudge_deg / min(slow)) for axis in axes if slow)
        return max(far, nudges + self.mount.drive.settle_s if nudges else 0.0) + self.margin_s


def mover_of(mount: Mount, rules: EveningRules) -> Mover:
    """The mount with the evening's rules."""
    idle = None if rules.idle_m_deg is None else idle_place(mount, rules.idle_m_deg)
    return Mover(mount, rules.move_margin_s, idle, is_ideal(mount))
