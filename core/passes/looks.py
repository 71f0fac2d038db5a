"""Paths looked at evenly, forty or sixty times a revolution, and where between two looks something turns."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, Indices
from core.base.curves import cubic_roots
from core.passes.paths import Paths


@dataclass(frozen=True, eq=False)
class Looks:
    """Every piece of some paths (P,) looked at L times, both its ends included.

    Attributes:
        paths: the paths.
        utc_s: (P, L) moments.
        position_km, velocity_km_s, acceleration_km_s2: (P, L, 3) positions and their derivatives.
    """

    paths: Paths
    utc_s: Floats
    position_km: Floats
    velocity_km_s: Floats
    acceleration_km_s2: Floats

    @classmethod
    def along(cls, paths: Paths, count: int) -> Looks:
        """So many looks at every piece of some paths."""
        return cls(paths, *paths.looks(count))

    def taken(self, pieces: Indices, owner: Indices) -> Looks:
        """The looks at some of the pieces, for these owners."""
        columns = self.utc_s, self.position_km, self.velocity_km_s, self.acceleration_km_s2
        return Looks(self.paths.taken(pieces, owner), *(column[pieces] for column in columns))

    def falls(self, value: Floats, slope: Floats) -> tuple[Indices, Floats]:
        """Where a quantity falls through zero: pieces and moments (T,).

        Args:
            value, slope: (P, L) the quantity at the looks, and its rate a second; between two looks it is
                taken as a cubic, which is out by some hundred-thousandths of what it changes by there.
        """
        falling = np.flatnonzero((value[:, :-1] > 0.0) & (value[:, 1:] <= 0.0))
        piece = falling // (value.shape[1] - 1)
        # One more look than intervals in every row before.
        at = falling + piece, falling + piece + 1
        low, high = (self.utc_s.take(one) for one in at)
        ends = [column.take(one) for column in (value, slope) for one in at]
        return piece, low + cubic_roots(high - low, *ends) * (high - low)
