"""What the plate weighs, and its blank."""

from __future__ import annotations

import math

from core.plate.body.features import Feature
from core.plate.body.shape import shared_area_mm2, step_radii
from core.plate.model import Plate
from core.plate.tables.strengths import MATERIALS

#: What is left on each side of a blank for sawing and turning, where the plan says no size.
BLANK_ALLOWANCE_MM = 5.0
#: What is left on each face for facing, where the plan says no size.
FACE_ALLOWANCE_MM = 1.0


def _disc_volume_mm3(plate: Plate, apart_mm: float, radius_mm: float) -> float:
    """Of the body within a disc so far from the centre: the plate's thickness there, and the step's."""
    outside_mm = plate.outside_diameter_mm / 2.0
    height_mm = 0.0 if plate.step is None else plate.step.height_mm
    inner_mm, outer_mm = step_radii(plate)
    ring = shared_area_mm2(apart_mm, radius_mm, outer_mm) - shared_area_mm2(apart_mm, radius_mm, inner_mm)
    return (plate.thickness_mm - height_mm) * shared_area_mm2(
        apart_mm, radius_mm, outside_mm
    ) + height_mm * ring


def plate_mass_kg(plate: Plate, features: tuple[Feature, ...]) -> float:
    """Volume times density; a tapped hole counts with its drill, so its thread's share is left in.

    Exact where no hole runs into another one; a through hole that crosses the step's edge counts as it is.
    """
    volume_mm3 = _disc_volume_mm3(plate, 0.0, plate.outside_diameter_mm / 2.0)
    bored: dict[str, float] = {}
    for feature in features:
        if feature.cut is None:
            continue
        area_mm2 = math.pi * feature.cut.radius_mm**2
        if feature.kind == "counterbore":  # its through hole is gone already
            area_mm2 -= bored[feature.hole_name]
            volume_mm3 -= max(0.0, area_mm2) * feature.depth_mm
        elif feature.kind == "through hole" or feature.role == "centre":
            bored[feature.name] = area_mm2
            volume_mm3 -= _disc_volume_mm3(plate, feature.radius_mm, feature.cut.radius_mm)
        else:  # as deep as it is drilled
            volume_mm3 -= area_mm2 * (feature.cut.high_mm - feature.cut.low_mm)
    return volume_mm3 * MATERIALS[plate.material].density_kg_mm3


def blank_size_mm(plate: Plate) -> tuple[float, float]:
    """Width (or diameter) and thickness of the blank."""
    width_mm, thickness_mm = plate.stock.width_mm, plate.stock.thickness_mm
    return (
        plate.outside_diameter_mm + 2.0 * BLANK_ALLOWANCE_MM if width_mm is None else width_mm,
        plate.thickness_mm + 2.0 * FACE_ALLOWANCE_MM if thickness_mm is None else thickness_mm,
    )


def blank_mass_kg(plate: Plate) -> float:
    """Of the blank, square or round."""
    width_mm, thickness_mm = blank_size_mm(plate)
    area_mm2 = width_mm**2 * (1.0 if plate.stock.form == "plate" else math.pi / 4.0)
    return area_mm2 * thickness_mm * MATERIALS[plate.material].density_kg_mm3
