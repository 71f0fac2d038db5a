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

    def turning(self, *senses: Callable[[Floats, Floats], Floats]) -> tuple[Indices, Floats]:
        """Where any of some quantities turns from rising to falling: pieces and moments (T,).

        Args:
            senses: each takes positions and velocities (..., 3) and gives what is positive while its quantity
                rises (...,); the smoother it is, the sooner its zeros are found.
        """
        at = [self._falls_after(sense) for sense in senses]
        piece, look = (np.concatenate(column) for column in zip(*at, strict=True))
        parts = np.cumsum([places.size for places, _look in at])[:-1]

        def sense_at(utc_s: Floats) -> Floats:
            states = (np.split(column, parts) for column in self.paths.at(piece, utc_s))
            own = zip(senses, *states, strict=True)
            return np.concatenate([sense(position, velocity) for sense, position, velocity in own])

        return piece, find_roots(
            sense_at, self.utc_s[piece, look], self.utc_s[piece, look + 1], TIME_TOLERANCE_S
        )

    def _falls_after(self, sense: Callable[[Floats, Floats], Floats]) -> tuple[Indices, Indices]:
        """Pieces and looks after which a sense is no more positive."""
        values = sense(self.position_km, self.velocity_km_s)
        return np.nonzero((values[:, :-1] > 0.0) & (values[:, 1:] <= 0.0))  # type: ignore[return-value]
