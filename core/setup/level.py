"""Levelling: from an inclinometer's readings on the plate to its lean, and what to put under which leg.

The plate is a plane whose normal leans by tau toward phi, the bearing its low edge faces. Along a bearing b
it rises by tan(rise) = -tan(tau) cos(b - phi): exact, so two readings across each other give the lean, and
more are averaged by least squares. An inclinometer that does not read 0 on a level is found out by turning it
half round; readings that allow it take that out too.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, wrap_360
from core.mount.model.station import Tilt
from core.setup.model import LevelReading

#: Steps of Gauss and Newton: a plate leans by a few degrees, and the second is as good as exact.
_ROUNDS = 6
#: Directions whose readings say less of one component than this share of the other are one line.
_LINE = 0.05


@dataclass(frozen=True)
class Level:
    """What the readings say.

    Attributes:
        lean_deg, toward_deg: the top of the azimuth axis leans so much toward that true bearing; there the
            plate is low.
        sigma_deg: one standard deviation of each of the lean's two components.
        zero_deg: what the inclinometer reads on a level; None where the readings do not tell.
        worst_left_deg: how far the reading that fits least is off the plane; 0 where nothing is left over.
    """

    lean_deg: float
    toward_deg: float
    sigma_deg: float
    zero_deg: float | None
    worst_left_deg: float

    @property
    def tilt(self) -> Tilt:
        """The same as the mount's tilt, which is handled exactly."""
        return Tilt(angle_deg=round(self.lean_deg, 3), toward_deg=round(self.toward_deg, 1) % 360.0)


@dataclass(frozen=True)
class Shim:
    """What to put under one leg so that the plate is level."""

    from_keyway_deg: float
    mm: float


def level_of(
    readings: Sequence[LevelReading], reading_sigma_deg: float, zero_sigma_deg: float
) -> Level | None:
    """The lean by least squares; None where the readings lie along one line only.

    Args:
        readings: any number.
        reading_sigma_deg: one standard deviation of each.
        zero_sigma_deg: of the inclinometer's own zero, where the readings do not tell it.
    """
    bearing = np.radians([one.bearing_deg for one in readings])
    rise = np.radians([one.rise_deg for one in readings])
    plane = -np.stack([np.sin(bearing), np.cos(bearing)], axis=1)
    if not _spread(plane):
        return None
    with_zero = np.column_stack([plane, np.ones(len(rise))])
    tells_zero = len(rise) >= 3 and _tells_zero(with_zero)
    columns = 3 if tells_zero else 2
    found, left = np.zeros(3), rise
    for _ in range(_ROUNDS):
        slope = plane @ found[:2]
        design = np.column_stack([plane / (1.0 + slope**2)[:, None], np.ones(len(rise))])[:, :columns]
        left = rise - np.arctan(slope) - found[2]
        found[:columns] += np.linalg.lstsq(design, left, rcond=None)[0]
    spread = np.linalg.inv(design.T @ design)
    variance = spread[:2, :2].trace() / 2.0 * reading_sigma_deg**2
    if not tells_zero:
        # A zero left unknown is one and the same in every reading.
        moved = spread @ design.T @ np.ones(len(rise))
        variance += float(moved @ moved) / 2.0 * zero_sigma_deg**2
    return Level(
        lean_deg=math.degrees(math.atan(math.hypot(found[0], found[1]))),
        toward_deg=wrap_360(math.degrees(math.atan2(found[0], found[1]))),
        sigma_deg=math.sqrt(variance),
        zero_deg=math.degrees(found[2]) if tells_zero else None,
        worst_left_deg=math.degrees(float(np.abs(left).max())),
    )


def _spread(plane: Floats) -> bool:
    """The directions are not all along one line."""
    if len(plane) < 2:
        return False
    sizes = np.linalg.svd(plane, compute_uv=False)
    return bool(sizes[-1] > _LINE * sizes[0])


def _tells_zero(design: Floats) -> bool:
    """The directions are spread about so that the plane and the zero come apart."""
    sizes = np.linalg.svd(design, compute_uv=False)
    return bool(sizes[-1] > 4.0 * _LINE * sizes[0])


def shims(level: Level, keyway_deg: float, legs: Sequence[tuple[float, float]]) -> tuple[Shim, ...]:
    """What to put under each leg, the highest left as it is.

    Args:
        level: the lean.
        keyway_deg: true bearing of the keyway, which the legs are told from.
        legs: (bearing from the keyway in degrees, radius of the foot in mm) of each.
    """
    if not legs:
        return ()
    slope = math.tan(math.radians(level.lean_deg))
    height = [
        -slope * radius_mm * math.cos(math.radians(keyway_deg + from_keyway - level.toward_deg))
        for from_keyway, radius_mm in legs
    ]
    top = max(height)
    return tuple(Shim(leg[0], top - z) for leg, z in zip(legs, height, strict=True))
