"""Angles wrapped and unwrapped, degrees throughout; and the types of the arrays used everywhere."""

from __future__ import annotations

from typing import overload

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


@overload
def wrap_360(angle_deg: float) -> float: ...
@overload
def wrap_360(angle_deg: Floats) -> Floats: ...
def wrap_360(angle_deg: float | Floats) -> float | Floats:
    """Into [0, 360); a value that rounds up to 360 becomes 0."""
    if isinstance(angle_deg, float):  # ten times as fast as an array of one
        alone = float(angle_deg) % 360.0
        return 0.0 if alone >= 360.0 else alone
    wrapped = np.mod(angle_deg, 360.0)
    wrapped = np.where(wrapped >= 360.0, 0.0, wrapped)
    return float(wrapped) if np.ndim(angle_deg) == 0 else wrapped


@overload
def wrap_180(angle_deg: float) -> float: ...
@overload
def wrap_180(angle_deg: Floats) -> Floats: ...
def wrap_180(angle_deg: float | Floats) -> float | Floats:
    """Into (-180, 180]."""
    if isinstance(angle_deg, float):
        return 180.0 - (180.0 - float(angle_deg)) % 360.0
    wrapped = 180.0 - np.mod(180.0 - np.asarray(angle_deg, dtype=float), 360.0)
    return float(wrapped) if np.ndim(angle_deg) == 0 else wrapped


def unwrap_deg(azimuth_deg: Floats) -> Floats:
    """Azimuths (N,) made continuous from the first: A(i) = A(i-1) + wrap(A(i) - A(i-1)).

    Right only where no true step exceeds 180 deg; the tracks see to it that none exceeds 90.
    """
    if azimuth_deg.size == 0:
        return azimuth_deg.copy()
    steps = wrap_180(np.diff(azimuth_deg))
    return np.concatenate([azimuth_deg[:1], azimuth_deg[0] + np.cumsum(steps)])
