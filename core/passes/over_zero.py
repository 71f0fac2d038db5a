"""Where a smooth quantity along paths is over zero, told from its values and rates at moments side by side.

A crossing shows as a change of sign between two moments, or as a turn between them beyond zero, and is
settled on the path itself.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.curves import corrected_roots, near_cubic_roots, turns_of_cubic
from core.base.ragged import joined
from core.passes.paths import Paths

#: Crossings are refined to this many seconds.
TIME_TOLERANCE_S = 1e-5
#: What is over a limit, or between two stretches over it, for less than this is a touch.
SHORTEST_S = 1e-3
#: Where the tangents at two moments meet beyond this (km or deg), no crossing is hidden between them.
_NEAR = 0.5


class Curve(NamedTuple):
    """A quantity along intervals of paths (N,), by owner of the path and time.

    Attributes:
        piece: the piece of path each interval lies on.
        low_utc_s, high_utc_s: its ends, POSIX seconds.
        ends: the quantity at both of them, and its rates there, (N,) each.
        at: takes intervals and moments in them (M,), and gives the quantity and its rate (M,).
    """

    piece: Indices
    low_utc_s: Floats
    high_utc_s: Floats
    ends: tuple[Floats, Floats, Floats, Floats]
    at: Callable[[Indices, Floats], tuple[Floats, Floats]]


class Stretches(NamedTuple):
    """Stretches along paths (N,), by owner and time: both ends, POSIX seconds, and the pieces they lie on."""

    piece: Indices
    start_utc_s: Floats
    last_piece: Indices
    end_utc_s: Floats

    def only(self, some: Flags) -> Stretches:
        """Some of them."""
        return Stretches(
            self.piece[some], self.start_utc_s[some], self.last_piece[some], self.end_utc_s[some]
        )


def over_zero(paths: Paths, curve: Curve) -> Stretches:
    """Where a quantity along some paths is over zero, joined over gaps of less than a millisecond."""
    above = curve.ends[0] > 0.0
    which, utc_s, again = _crossings(curve)
    # Every interval is as many parts as it has crossings, and one more.
    part = np.repeat(np.arange(above.size), 1 + np.bincount(which, minlength=above.size))
    within = part[1:] == part[:-1]
    over, start, end = above[part], curve.low_utc_s[part], curve.high_utc_s[part]
    over[1:][within], start[1:][within], end[:-1][within] = above[which] == again, utc_s, utc_s
    piece, start, end = curve.piece[part[over]], start[over], end[over]
    first, last = joined(paths.owner[piece], start, end, SHORTEST_S)
    return Stretches(piece[first], start[first], piece[last], end[last])


def _crossings(curve: Curve) -> tuple[Indices, Floats, Flags]:
    """All crossings (C,), by interval and time: which one, the moment, and whether it is the second there."""
    low, high, above = curve.low_utc_s, curve.high_utc_s, curve.ends[0] > 0.0
    crossed = np.flatnonzero(above != (curve.ends[1] > 0.0))
    hiding, turn, at_turn = _hidden_turns(curve)
    which = np.concatenate([crossed, hiding, hiding])
    again = np.arange(which.size) >= crossed.size + hiding.size
    first_half = np.arange(crossed.size, crossed.size + hiding.size)
    f_low, f_high, d_low, d_high = (end[which] for end in curve.ends)
    low, high = low[which], high[which]
    high[first_half], f_high[first_half], d_high[first_half] = turn, at_turn, 0.0
    low[again], f_low[again], d_low[again] = turn, at_turn, 0.0
    utc_s = corrected_roots(
        lambda some, moment: curve.at(which[some], moment),
        low + near_cubic_roots(high - low, f_low, f_high, d_low, d_high) * (high - low),
        low,
        high,
        TIME_TOLERANCE_S,
    )
    order = np.lexsort((again, which))
    return which[order], utc_s[order], again[order]


def _hidden_turns(curve: Curve) -> tuple[Indices, Floats, Floats]:
    """Intervals with both ends on one side of zero and a turn on the other, its moment, the value then."""
    low, high, low_rate, high_rate = curve.ends
    above = low > 0.0
    which = np.flatnonzero(
        (low_rate * high_rate < 0.0) & ((low_rate < 0.0) == above) & ((high > 0.0) == above)
    )
    side, width = np.where(above[which], 1.0, -1.0), (curve.high_utc_s - curve.low_utc_s)[which]
    low, high, low_rate, high_rate = (side * end[which] for end in curve.ends)
    near = np.minimum(low + width * low_rate, high - width * high_rate) < _NEAR
    which = which[near]
    turning, share = turns_of_cubic(width[near], *(end[which] for end in curve.ends))
    which, side, width = which[turning], side[near][turning], width[near][turning]
    turn = curve.low_utc_s[which] + share * width
    value, rate = curve.at(which, turn)
    # The cubic's turn is a tenth of a second off the path's own, where a touch of a second may be missed.
    bend = (curve.ends[3][which] - curve.ends[2][which]) / width
    missed = np.flatnonzero(((value > 0.0) == (side > 0.0)) & (side * (value - rate**2 / bend) < 0.0))
    if missed.size:
        moved = turn[missed] - rate[missed] / bend[missed]
        turn[missed] = np.clip(moved, curve.low_utc_s[which[missed]], curve.high_utc_s[which[missed]])
        value[missed] = curve.at(which[missed], turn[missed])[0]
    through = (value > 0.0) != (side > 0.0)
    return which[through], turn[through], value[through]
