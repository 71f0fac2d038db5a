"""Paths looked at evenly, some sixty times a revolution, and where between two looks something turns."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.base.angles import Floats, Indices
from core.base.curves import find_roots, hermite
from core.passes.paths import Paths
from core.passes.stays import TIME_TOLERANCE_S

#: Looks at a piece of path.
_LOOKS = 13
#: Over this long a rate is taken to change evenly.
_SECANT_S = 0.01


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

    def turning(self, rate_of: Callable[[Floats, Floats], Floats]) -> tuple[Indices, Floats]:
        """Where a quantity turns from rising to falling: pieces and moments (T,).

        Found on cubics between looks, which are out by metres, and corrected once on the path.

        Args:
            rate_of: takes positions and velocities (..., 3) and gives the quantity's rate (...,).
        """
        rate = rate_of(self.position_km, self.velocity_km_s)
        piece, look = np.nonzero((rate[:, :-1] > 0.0) & (rate[:, 1:] <= 0.0))
        low, high = self.utc_s[piece, look], self.utc_s[piece, look + 1]
        width = (high - low)[:, None]
        ends = [
            column[piece, at] for column in (self.position_km, self.velocity_km_s) for at in (look, look + 1)
        ]
        share = find_roots(
            lambda s: rate_of(*hermite(s[:, None], width, *ends)),
            np.zeros(piece.size),
            np.ones(piece.size),
            TIME_TOLERANCE_S / max(float(width.max(initial=0.0)), 1.0),
        )
        when = low + share * (high - low)
        here, later = (rate_of(*self.paths.at(piece, when + away)) for away in (0.0, _SECANT_S))
        step = -_SECANT_S * here / np.where(later < here, later - here, -np.inf)
        return piece, np.minimum(np.maximum(when + step, low), high)
