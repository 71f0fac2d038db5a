"""The horizon mask as straight pieces, in columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import ranges
from core.place.site import HorizonPoint, mask_elevation_deg, mask_vertices_deg

#: Where the pieces begin, and in how many cells a degree of them they are looked up.
_FIRST_DEG, _CELLS_A_DEGREE = -720.0, 2.0


@dataclass(frozen=True, eq=False)
class MaskPieces:
    """The mask as straight pieces (K,), five times round: each runs from its bearing to the next one's.

    Attributes:
        start_deg: bearings, rising, -720 to below 1080.
        height_deg: the mask's elevation there, clockwise of a step.
        slope: degrees of elevation a degree of bearing.
        lowest_deg, highest_deg: what it is there at least and at most, on either side of a step.
    """

    start_deg: Floats
    height_deg: Floats
    slope: Floats
    lowest_deg: Floats
    highest_deg: Floats

    @classmethod
    def of(cls, horizon: Sequence[HorizonPoint]) -> MaskPieces:
        """The pieces of a mask of one point or more."""
        start = mask_vertices_deg(horizon)
        width = np.diff(start, append=start[0] + 360.0)
        # Inside the pieces too: a vertical step leaves two heights at a corner, of which the highest holds.
        bearings = np.stack([start, start + width / 3.0, start + 2.0 * width / 3.0])
        corner, one_third, two_thirds = mask_elevation_deg(horizon, bearings)
        first, last = 2.0 * one_third - two_thirds, 2.0 * two_thirds - one_third
        # Points nearer than a millionth of a degree make a step, whose slope nobody meets.
        slope = np.where(width > 1e-6, (last - first) / np.maximum(width, 1e-6), 0.0)
        sides = np.stack([np.roll(last, 1), first, corner])
        turns = 360.0 * np.arange(-2.0, 3.0)
        columns = first, slope, sides.min(axis=0), sides.max(axis=0)
        return cls((start + turns[:, None]).ravel(), *(np.tile(column, turns.size) for column in columns))

    def at(self, bearing_deg: Floats) -> Indices:
        """The piece under each bearing (N,)."""
        cell = ((bearing_deg - _FIRST_DEG) * _CELLS_A_DEGREE).astype(np.intp)
        piece: Indices = self._begun.take(cell)
        while (begun := self._next_deg.take(piece) <= bearing_deg).any():
            piece += begun
        return piece

    @cached_property
    def _begun(self) -> Indices:
        """The piece at the start of each cell of bearing: to look there is quicker than to search."""
        cells = np.arange(_FIRST_DEG, -_FIRST_DEG + 360.0, 1.0 / _CELLS_A_DEGREE)
        return np.searchsorted(self.start_deg, cells, side="right") - 1

    @cached_property
    def _next_deg(self) -> Floats:
        """Where the next piece starts."""
        return np.append(self.start_deg[1:], np.inf)

    def line(self, piece: Indices, bearing_deg: Floats) -> Floats:
        """The height of pieces (N,), drawn on in a straight line, over bearings (N,)."""
        past = bearing_deg - self.start_deg.take(piece)
        return np.asarray(self.height_deg.take(piece) + self.slope.take(piece) * past)

    def corners_between(self, low_deg: Floats, high_deg: Floats) -> tuple[Indices, Indices]:
        """Corners beyond ``low_deg``, up to ``high_deg`` (N,): the interval, and the piece starting there."""
        return ranges(self.at(low_deg) + 1, self.at(high_deg) + 1)

    def extremes_between(self, low_deg: Floats, high_deg: Floats) -> tuple[Floats, Floats]:
        """The lowest and the highest that the mask is over [low, high] (N,)."""
        first, last = self.at(low_deg), self.at(high_deg)
        ends = self.line(first, low_deg), self.line(last, high_deg)
        lowest, highest = np.minimum(*ends), np.maximum(*ends)
        interval, corner = ranges(first + 1, last + 1)
        np.minimum.at(lowest, interval, self.lowest_deg[corner])
        np.maximum.at(highest, interval, self.highest_deg[corner])
        return lowest, highest
