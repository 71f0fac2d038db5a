"""Over a cone of one elevation: when paths are above the search's floor, or the minimum elevation.

The height over the cone, positive above it, is zero just where the elevation is that of the cone, and is
smooth where elevation has a cusp.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats, Indices
from core.passes.frames import range_rate, slant_range
from core.passes.looks import Looks
from core.passes.over_zero import SHORTEST_S, Curve, Stretches, over_zero


def over_cone(looks: Looks, elevation_deg: float) -> Stretches:
    """When paths are over an elevation, for a millisecond or more."""
    paths, utc_s = looks.paths, looks.utc_s
    sin_elevation = float(np.sin(np.radians(elevation_deg)))
    height, rate = _height(sin_elevation, looks.position_km, looks.velocity_km_s)
    piece = np.repeat(np.arange(len(utc_s)), utc_s.shape[1] - 1)

    def at(which: Indices, moments: Floats) -> tuple[Floats, Floats]:
        if sin_elevation == 0.0:
            return paths.up_at(piece[which], moments)
        return _height(sin_elevation, *paths.at(piece[which], moments))

    low, f_low, d_low = (column[:, :-1].ravel() for column in (utc_s, height, rate))
    high, f_high, d_high = (column[:, 1:].ravel() for column in (utc_s, height, rate))
    over = over_zero(paths, Curve(piece, low, high, (f_low, f_high, d_low, d_high), at))
    lasting = over.end_utc_s - over.start_utc_s >= SHORTEST_S
    return over.only(lasting)


def _height(sin_elevation: float, position_km: Floats, velocity_km_s: Floats) -> tuple[Floats, Floats]:
    """Heights over a cone (...,), km, and their rates, km/s, of states (..., 3)."""
    up, up_rate = position_km[..., 2], velocity_km_s[..., 2]
    if sin_elevation == 0.0:
        return up, up_rate
    away, away_rate = slant_range(position_km), range_rate(position_km, velocity_km_s)
    return up - sin_elevation * away, up_rate - sin_elevation * away_rate
