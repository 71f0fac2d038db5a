"""What a turn in mid-pass keeps: the beam lets go of the satellite once, and meets it again a turn later.

While elevation stays on the satellite, the beam holds it where azimuth is less than some lag off, and less
than that lag off a full turn on:

    off the satellite's azimuth
    360 + lag  - - - - - - - - - - - - - -
    360 - lag  - - - - - - - - - - - o==== there
                                  .'
                               .'            o  the two moments looked for
         lag   - - - - - - o.'
           0   =========='
        begins

An axis that is there at once with its rate goes from the one to the other without turning back, as long as it
is much faster than the satellite and the lag. So two roots tell the whole move, where a simulation would take
dozens of samples. Near the zenith neither holds: such a move is left to whoever simulates.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.check.followed import FollowedPasses, Moments
from core.mount.drive.slew import rate_of

if TYPE_CHECKING:
    from core.mount.check.split_moves import Arrivals, Moves

#: The first moment is where azimuth is the lag ahead of the satellite, the second as far short of a turn.
_TURNED_DEG, _LAGS = np.array([[0.0], [360.0]]), np.array([[1.0], [-1.0]])
#: Both bend at samples only, so a few straight steps end on the very root.
_STEPS = 2
_TINY_S = 1e-9


def kept_in_turn(passes: FollowedPasses, moves: Moves, there: Arrivals) -> tuple[Floats, Flags]:
    """(R,) seconds over the mask in the beam, from start until azimuth is there; (R,) bool, they are told."""
    told = (moves.from_row == moves.to_row) & (there.elevation_s <= moves.start_s)
    told &= there.azimuth_s > moves.start_s + _TINY_S
    if passes.mount.azimuth.acceleration_deg_s2 is not None:
        told[:] = False
    kept, which = np.zeros(told.size), np.flatnonzero(told)
    if which.size:
        kept[which], told[which] = _Turns(passes, moves.some(which), there.some(which)).kept()
    return kept, told


class _Turns:
    """R turns of azimuth alone."""

    def __init__(self, passes: FollowedPasses, moves: Moves, there: Arrivals) -> None:
        self._passes, self._begin_s = passes, moves.start_s
        self._end_s = np.minimum(there.azimuth_s, passes.end_s[moves.of_pass])
        self._shift: Indices = moves.from_row * passes.samples
        self._ends = passes.at(np.stack([self._begin_s, self._end_s]))
        end = Moments(self._ends.index[1], self._ends.past_s[1])
        by_deg = passes.m_deg(end, moves.to_row, moves.to_offset_deg) - there.m_deg
        self._rate, self._sign = rate_of(by_deg, passes.mount.azimuth), np.where(by_deg < 0.0, -1.0, 1.0)
        self._from_deg = self._sign * (there.m_deg - moves.from_offset_deg)

    def kept(self) -> tuple[Floats, Flags]:
        """(R,) seconds kept, (R,) bool, they can be told."""
        ends_s, at = np.stack([self._begin_s, self._end_s]), self._ends
        ahead, lag = self._ahead_deg(ends_s, at), at.of(self._passes.lag_deg, self._shift)
        told = (
            self._passes.unsteady[at.index[1] + self._shift + 1]
            == (self._passes.unsteady[at.index[0] + self._shift])
        )
        told &= (ahead[0] >= -lag[0]) & (ahead[1] <= 360.0 + lag[1])
        found = self._passes.at(self._roots(ends_s, at, ahead, lag))
        between = found.of(self._passes.worked_s) - at.of(self._passes.worked_s)
        return np.asarray(between[0] - between[1]), told

    def _roots(self, moments_s: Floats, at: Moments, ahead: Floats, lag: Floats) -> Floats:
        """(2, R) when the beam lets go and when it meets: begin or end where it does not in the turn."""
        passes = self._passes
        for step in range(_STEPS):
            if step:
                at = passes.at(moments_s)
                ahead, lag = self._ahead_deg(moments_s, at), at.of(passes.lag_deg, self._shift)
            gaining = self._rate - self._sign * passes.azimuth_deg.slope.take(at.index)
            gaining -= _LAGS * passes.lag_deg.slope.take(at.index + self._shift)
            # Where it cannot be told anyway, one may be as fast as the other.
            late_deg = ahead - _TURNED_DEG - _LAGS * lag
            moments_s = moments_s - late_deg / np.maximum(gaining, self._rate / 4.0)
            moments_s = np.clip(moments_s, self._begin_s, self._end_s)
        return moments_s

    def _ahead_deg(self, moments_s: Floats, at: Moments) -> Floats:
        """(2, R) how far azimuth has turned ahead of the satellite, to the side it turns."""
        turned = self._rate * (moments_s - self._begin_s)
        return np.asarray(self._from_deg + turned - self._sign * at.of(self._passes.azimuth_deg))
