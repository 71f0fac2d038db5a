"""The plate's body as geometry: faces over the plane, where the holes are, what the body weighs.

z is counted from the lowest plane upward, mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.base.angles import wrap_360
from core.mount.model.station import Mount
from core.plate.model import Bolts, Plate

#: Floats of sums of lengths: nothing is made nearer than this.
TOUCH_MM = 1e-9


@dataclass(frozen=True)
class Hole:
    """A cylinder cut out of the plate, upright, from ``low_mm`` to ``high_mm``."""

    x_mm: float
    y_mm: float
    radius_mm: float
    low_mm: float
    high_mm: float


def at_angle(radius_mm: float, angle_deg: float) -> tuple[float, float]:
    """X and y of a place, the angle clockwise from the datum mark seen from above."""
    return radius_mm * math.sin(math.radians(angle_deg)), radius_mm * math.cos(math.radians(angle_deg))


def angle_of(x_mm: float, y_mm: float) -> float:
    """Clockwise from the datum mark seen from above, 0 to 360; 0 at the centre."""
    return wrap_360(math.degrees(math.atan2(x_mm, y_mm))) if x_mm or y_mm else 0.0


def bolt_places(bolts: Bolts) -> tuple[tuple[float, float], ...]:
    """X and y of the rotator's bolts, clockwise from the first on a circle, as given for free coordinates."""
    if bolts.points_mm is not None:
        return tuple((x_mm, y_mm) for x_mm, y_mm in bolts.points_mm)
    if bolts.rectangle_mm is not None:
        half_x, half_y = bolts.rectangle_mm[0] / 2.0, bolts.rectangle_mm[1] / 2.0
        corners = ((half_x, half_y), (half_x, -half_y), (-half_x, -half_y), (-half_x, half_y))
        return tuple(at_angle(math.hypot(x, y), angle_of(x, y) + bolts.first_angle_deg) for x, y in corners)
    radius_mm = (bolts.circle_diameter_mm or 0.0) / 2.0
    pitch_deg = 360.0 / bolts.count
    return tuple(at_angle(radius_mm, bolts.first_angle_deg + k * pitch_deg) for k in range(bolts.count))


def index_places(plate: Plate, mount: Mount) -> tuple[tuple[float, float], ...]:
    """X and y of the index holes, in the mount's order: drilled at h = -iota from the datum mark."""
    return tuple(at_angle(plate.index_pin.circle_radius_mm, hole.drilled_deg) for hole in mount.index_holes)


def step_radii(plate: Plate) -> tuple[float, float]:
    """Inner and outer radius of the step; 0 and 0 where there is none."""
    step = plate.step
    return (0.0, 0.0) if step is None else (step.inner_diameter_mm / 2.0, step.outer_diameter_mm / 2.0)


def on_step(plate: Plate, x_mm: float, y_mm: float) -> bool:
    """Whether the step is under or over this place."""
    inner_mm, outer_mm = step_radii(plate)
    radius_mm = math.hypot(x_mm, y_mm)
    return outer_mm > 0.0 and (inner_mm == 0.0 or radius_mm >= inner_mm) and radius_mm <= outer_mm


def faces_at(plate: Plate, x_mm: float, y_mm: float) -> tuple[float, float]:
    """Where the body begins and ends above the lowest plane, at this place."""
    step = plate.step
    if step is None or on_step(plate, x_mm, y_mm):
        return 0.0, plate.thickness_mm
    if step.side == "below":
        return step.height_mm, plate.thickness_mm
    return 0.0, plate.thickness_mm - step.height_mm


def mirrored(points_mm: npt.ArrayLike) -> npt.NDArray[np.float64]:
    """Places as the view from below shows them: left and right change, the datum mark stays on top.

    Args:
        points_mm: x and y from above, shape (..., 2).

    Returns:
        x and y on the paper of the view from below, the same shape. Twice is the identity.
    """
    turned: npt.NDArray[np.float64] = np.asarray(points_mm, dtype=np.float64) * np.array([-1.0, 1.0]) + 0.0
    return turned


def mirrored_angle(angle_deg: float) -> float:
    """An angle clockwise from above as the view from below has it, clockwise there: its sign reversed."""
    return wrap_360(-angle_deg)


def gap_mm(one: Hole, other: Hole) -> float:
    """What is left between two upright cylinders; below 0 how far they run into each other.

    Beside each other it is the wall, one over the other the floor, else the shortest way between their rims.
    """
    apart_mm = math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)
    wall_mm = apart_mm - (one.radius_mm + other.radius_mm)
    floor_mm = max(one.low_mm, other.low_mm) - min(one.high_mm, other.high_mm)
    if wall_mm > 0.0 and floor_mm > 0.0:
        return math.hypot(wall_mm, floor_mm)
    return max(wall_mm, floor_mm)


def shared_area_mm2(apart_mm: float, one_mm: float, other_mm: float) -> float:
    """Area common to two discs, their centres so far apart: two segments (plane geometry)."""
    if apart_mm >= one_mm + other_mm or min(one_mm, other_mm) <= 0.0:
        return 0.0
    if apart_mm <= abs(one_mm - other_mm):
        return math.pi * min(one_mm, other_mm) ** 2
    total = 0.0
    for near_mm, far_mm in ((one_mm, other_mm), (other_mm, one_mm)):
        chord_mm = (apart_mm**2 + near_mm**2 - far_mm**2) / (2.0 * apart_mm)
        half_rad = math.acos(max(-1.0, min(1.0, chord_mm / near_mm)))
        total += near_mm**2 * (half_rad - math.sin(2.0 * half_rad) / 2.0)
    return total
