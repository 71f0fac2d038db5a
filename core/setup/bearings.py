"""One direction by its three bearings: true, by the compass, and off a map's grid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.base.angles import wrap_360
from core.base.errors import ValueRangeError
from core.place.declination import Declination, magnetic_from_true
from core.setup.grid import GridNorth

#: What a bearing is counted from.
Reference = Literal["true", "magnetic", "grid"]


@dataclass(frozen=True)
class ThreeBearings:
    """The same direction, 0 to 360 clockwise; ``grid_deg`` is None where the map grid has no zone."""

    true_deg: float
    magnetic_deg: float
    grid_deg: float | None


def three_bearings(true_deg: float, declination: Declination, grid: GridNorth | None) -> ThreeBearings:
    """All three of a true bearing."""
    return ThreeBearings(
        true_deg=wrap_360(true_deg),
        magnetic_deg=magnetic_from_true(true_deg, declination.deg),
        grid_deg=None if grid is None else wrap_360(true_deg - grid.convergence_deg),
    )


def bearings_as_typed(
    typed_deg: float, reference: Reference, declination: Declination, grid: GridNorth | None
) -> ThreeBearings:
    """All three of a bearing that was read from one of them: compass + declination, grid + convergence.

    Raises:
        ValueRangeError: a map's bearing, where the standard grid has no zone.
    """
    if reference == "grid" and grid is None:
        raise ValueRangeError("bearing", f"{typed_deg:g} off the map grid", "true or magnetic so near a pole")
    add = {"true": 0.0, "magnetic": declination.deg, "grid": 0.0 if grid is None else grid.convergence_deg}
    return three_bearings(typed_deg + add[reference], declination, grid)
