"""Over a cone of one elevation: when paths are above the search's floor, or the minimum elevation.

The height over the cone, positive above it, is zero just where the elevation is that of the cone, and is
smooth where elevation has a cusp. A crossing shows as a change of sign between two looks at the path, or as a
turn between them beyond zero, and is settled on the path itself.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.curves import corrected_roots, cubic_roots, turns_of_cubic
from core.passes.frames import range_rate, slant_range
from core.passes.looks import Looks
from core.passes.stays import SHORTEST_S, TIME_TOLERANCE_S

#: Where the tangents at two looks meet beyond this (km), no crossing is hidden between them.
_NEAR_KM = 0.5


class Ends(NamedTuple):
    """Stretches over a cone (N,), by owner of the path and time.

    Attributes:
        low_piece, low: the piece of path each begins on, and when, POSIX seconds; -inf where with the path.
        high_piece, high: the same of its end, inf where it ends with the path.
    """

    low_piece: Indices
    low: Floats
    high_piece: Indices
    high: Floats


def over_cone(looks: Looks, elevation_deg: float) -> Ends:
    """When paths are over an elevation, for a millisecond or more."""
    cone = _Cone(looks, float(np.sin(np.radians(elevation_deg))))
    piece, when, upward = cone.crossings()
    first = np.flatnonzero(cone.first & cone.above[:, 0])
    last = np.flatnonzero(cone.last & cone.above[:, -1])
    low_piece = np.concatenate([first, piece[upward]])
    low = np.concatenate([np.full(first.size, -np.inf), when[upward]])
    high_piece = np.concatenate([last, piece[~upward]])
    high = np.concatenate([np.full(last.size, np.inf), when[~upward]])
    by_low, by_high = np.lexsort((low, low_piece)), np.lexsort((high, high_piece))
    lasting = high[by_high] - low[by_low] >= SHORTEST_S
    by_low, by_high = by_low[lasting], by_high[lasting]
    return Ends(low_piece[by_low], low[by_low], high_piece[by_high], high[by_high])


class _Crossings(NamedTuple):
    """Moments (C,) at which a height passes zero: the piece of path, when, and whether upward."""

    piece: Indices
    utc_s: Floats
    upward: Flags


class _Cone:
    """Heights over a cone at every look (P, L): in km, their rates in km/s, and whether they are positive."""

    def __init__(self, looks: Looks, sin_elevation: float) -> None:
        self.looks, self._sin = looks, sin_elevation
        self.height_km, self.rate_km_s = self._height(looks.position_km, looks.velocity_km_s)
        owner = looks.paths.owner
        self.first, self.last = np.diff(owner, prepend=-1) != 0, np.diff(owner, append=-1) != 0
        self.above = self.height_km > 0.0
        # Two pieces that meet may differ by a hair in what they say of the moment where they do.
        self.above[:, 0] = np.where(self.first, self.above[:, 0], np.roll(self.above[:, -1], 1))

    def _height(self, position_km: Floats, velocity_km_s: Floats) -> tuple[Floats, Floats]:
        up, up_rate = position_km[..., 2], velocity_km_s[..., 2]
        if self._sin == 0.0:
            return up, up_rate
        return (
            up - self._sin * slant_range(position_km),
            up_rate - self._sin * range_rate(position_km, velocity_km_s),
        )

    def height_at(self, piece: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        """Height and rate at any moments (N,) on pieces (N,)."""
        return self._height(*self.looks.paths.at(piece, utc_s))

    def crossings(self) -> _Crossings:
        """All crossings of the floor, by piece and time."""
        f, d, utc_s, above = self.height_km, self.rate_km_s, self.looks.utc_s, self.above
        p, j, turn, at_turn = self._hidden_turns()
        level = np.zeros(turn.size)
        piece, look = np.nonzero(above[:, 1:] != above[:, :-1])
        ends = (
            np.concatenate([f[piece, look], f[p, j], at_turn]),
            np.concatenate([f[piece, look + 1], at_turn, f[p, j + 1]]),
            np.concatenate([d[piece, look], d[p, j], level]),
            np.concatenate([d[piece, look + 1], level, d[p, j + 1]]),
        )
        low = np.concatenate([utc_s[piece, look], utc_s[p, j], turn])
        high = np.concatenate([utc_s[piece, look + 1], turn, utc_s[p, j + 1]])
        upward = np.concatenate([above[piece, look + 1], ~above[p, j], above[p, j]])
        piece = np.concatenate([piece, p, p])
        when = corrected_roots(
            lambda which, moment: self.height_at(piece[which], moment),
            low + cubic_roots(high - low, *ends) * (high - low),
            low,
            high,
            TIME_TOLERANCE_S,
        )
        order = np.lexsort((when, piece))
        return _Crossings(piece[order], when[order], upward[order])

    def _hidden_turns(self) -> tuple[Indices, Indices, Floats, Floats]:
        """Intervals whose ends are on one side of the floor, and whose turn between them is on the other.

        Returns:
            Piece and look at which each begins, moment of the turn, height there.
        """
        f, d, above, utc_s = self.height_km, self.rate_km_s, self.above, self.looks.utc_s
        width, side = np.diff(utc_s, axis=1), np.where(above[:, :-1], 1.0, -1.0)
        hidden = (above[:, 1:] == above[:, :-1]) & (side * d[:, :-1] < 0.0) & (side * d[:, 1:] > 0.0)
        reach = np.minimum(side * (f[:, :-1] + width * d[:, :-1]), side * (f[:, 1:] - width * d[:, 1:]))
        p, j = np.nonzero(hidden & (reach < _NEAR_KM))
        turning, share = turns_of_cubic(width[p, j], f[p, j], f[p, j + 1], d[p, j], d[p, j + 1])
        p, j = p[turning], j[turning]
        turn = utc_s[p, j] + share * width[p, j]
        height = self.height_at(p, turn)[0]
        through = (height > 0.0) != above[p, j]
        return p[through], j[through], turn[through], height[through]
