"""Paths looked at evenly, some sixty times a revolution, and where between two looks something turns."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.base.angles import Floats, Indices
from core.base.curves import find_roots
from core.passes.paths import Paths
from core.passes.stays import TIME_TOLERANCE_S

#: Looks at a piece of path.
_LOOKS = 13


class Looks:
    """Every piece of some paths (P,) looked at L times, both its ends included.

    Attributes:
        paths: the paths.
        utc_s: (P, L) moments.
        position_km, velocity_km_s: (P, L, 3) states.
    """

    def __init__(self, paths: Paths) -> None:
        self.paths = paths
        self.utc_s, self.position_km, self.velocity_km_s = paths.looks(_LOOKS)

    def turning(self, sense_of: Callable[[Floats, Floats], Floats]) -> tuple[Indices, Floats]:
        """Where a quantity turns from rising to falling: pieces and moments (T,).

        Args:
            sense_of: takes positions and velocities (..., 3) and gives what is positive while the quantity
                rises (...,); the smoother it is, the sooner its zeros are found.
        """
        sense = sense_of(self.position_km, self.velocity_km_s)
        piece, look = np.nonzero((sense[:, :-1] > 0.0) & (sense[:, 1:] <= 0.0))
        return piece, find_roots(
            lambda utc_s: sense_of(*self.paths.at(piece, utc_s)),
            self.utc_s[piece, look],
            self.utc_s[piece, look + 1],
            TIME_TOLERANCE_S,
        )
