"""Passes laid out in points once, so that ways of any seat are asked by shifting bearings alone.

What a pass does to the boom is the same at every seat but for an offset of its bearing, and for where the
guards hold it. So bearing and elevation of points along every pass are worked out once in each posture. Of
sixteen points that follow one another it is told first whether any cell of the rectangle about them is to be
kept out of; few are, and only their points are looked up.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import ranges
from core.mount.check.strikes import Barring
from core.mount.clearance.keep_out import points_along

#: Points of a block.
_BLOCK = 16


class StruckPoints(NamedTuple):
    """Points that strike (K,): of which way, and their number among all points."""

    way: Indices
    point: Indices


class PathPoints:
    """Points along paths of P passes in each posture.

    Args:
        barring: what is to be kept out of.
        first, count: (P,) the passes' samples.
        clock_s: (S,) of the samples.
        turned_deg, axis_deg: (2 S,) both axes, upright and then over the top.
        guards_deg: where azimuth is held.

    Attributes:
        entry: (E,) the sample, of 2 S, that begins each point's step.
        before_s, after_s: (E,) when the points before and after are, of the same step.
    """

    def __init__(
        self,
        barring: Barring,
        first: Indices,
        count: Indices,
        clock_s: Floats,
        turned_deg: Floats,
        axis_deg: Floats,
        guards_deg: tuple[float, float],
    ) -> None:
        self._barring, self._guards_deg, self._passes = barring, guards_deg, count.size
        samples = clock_s.size
        begins = np.concatenate([first, first + samples])
        counts = np.tile(count, 2)
        _path, step = ranges(begins, begins + counts - 1)
        along = points_along(turned_deg, axis_deg, step)
        self.entry, self._turned_deg, self._e_deg = along.step, along.boom_deg, along.e_deg
        begin_s, end_s = clock_s[along.step % samples], clock_s[along.step % samples + 1]
        by = 1.0 / along.of
        self.before_s = begin_s + np.maximum(along.share - by, 0.0) * (end_s - begin_s)
        self.after_s = begin_s + np.minimum(along.share + by, 1.0) * (end_s - begin_s)
        ends = np.searchsorted(along.step, begins + counts - 1)
        starts = np.searchsorted(along.step, begins)
        self._in_blocks(starts, ends)

    def _in_blocks(self, starts: Indices, ends: Indices) -> None:
        number = -(-(ends - starts) // _BLOCK)
        path, nth = ranges(np.zeros(number.size, dtype=np.intp), number)
        self._block_count = number
        self._block_first = np.cumsum(number) - number
        self._begin = starts[path] + _BLOCK * nth
        self._beyond = np.minimum(self._begin + _BLOCK, ends[path])
        row = self._barring.keep_out.row(self._e_deg)
        least, greatest = np.minimum.reduceat, np.maximum.reduceat
        self._low_deg, self._high_deg = (of(self._turned_deg, self._begin) for of in (least, greatest))
        self._low_row, self._high_row = (of(row, self._begin) for of in (least, greatest))

    def struck(self, of_pass: Indices, posture_row: Indices, offset_deg: Floats) -> StruckPoints:
        """The points at which ways (W,) strike, by way and point."""
        keep_out, stop_deg = self._barring.keep_out, self._barring.boom_at_stop_deg
        path = of_pass + posture_row * self._passes
        first = self._block_first[path]
        way, block = ranges(first, first + self._block_count[path])
        low, high = (
            np.clip(side[block] + offset_deg[way], *self._guards_deg) + stop_deg
            for side in (self._low_deg, self._high_deg)
        )
        near = np.flatnonzero(keep_out.somewhere(low, high, self._low_row[block], self._high_row[block]))
        way, block = way[near], block[near]
        which, point = ranges(self._begin[block], self._beyond[block])
        way = way[which]
        boom = np.clip(self._turned_deg[point] + offset_deg[way], *self._guards_deg) + stop_deg
        hit = np.flatnonzero(keep_out.holds(boom, self._e_deg[point]))
        return StruckPoints(way[hit], point[hit])
