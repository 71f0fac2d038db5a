"""Paths looked at evenly, forty or sixty times a revolution, and where between two looks something turns."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
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

    def roots(self, within: Flags, value: Floats, slope: Floats) -> tuple[Indices, Floats]:
        """Where quantities are zero between two looks that they differ in sign at: pieces and moments (T,).

        Args:
            within: (..., P, L - 1) between which looks.
            value, slope: (..., P, L) the quantities at the looks, and their rates a second; between two looks
                they are taken as cubics, which are out by some hundred-thousandths of what they change by.
        """
        interval = np.flatnonzero(within)
        row = interval // within.shape[-1]
        # In every row there is one more look than intervals.
        at = interval + row, interval + row + 1
        low, high = (self.utc_s.take(one % self.utc_s.size) for one in at)
        ends = [column.take(one) for column in (value, slope) for one in at]
        return row % len(self.utc_s), low + cubic_roots(high - low, *ends) * (high - low)
