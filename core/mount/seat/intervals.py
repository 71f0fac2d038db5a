"""How many passes have a clear way over the keyway's bearing, exactly: intervals and isolated bearings.

The counts change only at the ends of the clear arcs, and those are closed: where the arc of one pass ends at
the very bearing at which another's begins, that single bearing lets both through. Counting at the ends would
credit the intervals on both sides with it, counting in their middles would miss it. So an interval carries
the counts of its interior, and a bearing that is better than both sides of it is listed by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.base.angles import Flags, wrap_360
from core.mount.model.station import OVER_THE_TOP, POSTURES, UPRIGHT, Posture
from core.mount.seat.arcs import Arcs, ends_deg, holds, middles_deg


@dataclass(frozen=True)
class ClearCounts:
    """How the passes studied divide.

    Attributes:
        clear_upright, clear_over_the_top_only: how many have a clear way upright, or only over the top.
        not_clear_indices: which of them have none.
    """

    clear_upright: int
    clear_over_the_top_only: int
    not_clear_indices: tuple[int, ...]

    @property
    def not_clear(self) -> int:
        """How many have no clear way."""
        return len(self.not_clear_indices)

    @property
    def trouble(self) -> tuple[int, int]:
        """Sorts them: fewest not clear is best, then fewest that need the other posture."""
        return self.not_clear, self.clear_over_the_top_only


@dataclass(frozen=True)
class Interval:
    """Keyway bearings over which the clear ways do not change.

    Attributes:
        from_deg: start, 0 to 360.
        to_deg: end, above ``from_deg``; may run past 360.
        counts: of its interior.
    """

    from_deg: float
    to_deg: float
    counts: ClearCounts


@dataclass(frozen=True)
class IsolatedBearing:
    """A single keyway bearing, where closed arcs meet, that is better than both sides of it."""

    keyway_bearing_deg: float
    counts: ClearCounts


def clear_intervals(
    clear: dict[Posture, Arcs], shift_deg: float
) -> tuple[tuple[Interval, ...], tuple[IsolatedBearing, ...]]:
    """The intervals, which cover the circle once, and the isolated better bearings.

    Args:
        clear: per posture the arcs of zeta in which each pass is clear.
        shift_deg: zeta less the keyway's bearing, with one hole in use.
    """
    ends = ends_deg(*clear.values())
    inner = _counts({p: holds(clear[p], middles_deg(ends), 0.0) for p in POSTURES})
    if ends.size == 0:
        return (Interval(0.0, 360.0, inner[0]),), ()
    at_ends = _counts({p: holds(clear[p], ends) for p in POSTURES})
    lengths = np.diff(ends, append=ends[0] + 360.0)
    intervals: list[Interval] = []
    isolated: list[IsolatedBearing] = []
    for k in np.argsort(wrap_360(ends - shift_deg), kind="stable"):
        begin = wrap_360(float(ends[k] - shift_deg))
        here, before, at = inner[k], inner[k - 1], at_ends[k]
        if at.trouble < min(here.trouble, before.trouble):
            isolated.append(IsolatedBearing(begin, at))
        joined = bool(intervals) and before == here == at
        start = intervals.pop().from_deg if joined else begin
        intervals.append(Interval(start, begin + float(lengths[k]), here))
    return tuple(intervals), tuple(isolated)


def _counts(inside: dict[Posture, Flags]) -> list[ClearCounts]:
    """Of each bearing (M,), of which passes are clear there in each posture, (M, P) bool."""
    upright, over = inside[UPRIGHT], inside[OVER_THE_TOP]
    bearing, index = np.nonzero(~(upright | over))
    bounds = pairwise(np.searchsorted(bearing, np.arange(upright.shape[0] + 1)).tolist())
    not_clear, only_over = index.tolist(), over & ~upright
    numbers = (upright.sum(axis=1).tolist(), only_over.sum(axis=1).tolist(), bounds)
    return [ClearCounts(u, o, tuple(not_clear[a:b])) for u, o, (a, b) in zip(*numbers, strict=True)]
