"""The adapter plate as JSON shapes. Field names are fixed: they are what scripts read."""

from __future__ import annotations

from typing import Any

from app.commands.shapes import number
from core.plate.body.features import Feature
from core.plate.checks.check import Check
from core.plate.holding.bolting import Screwed
from core.plate.part import PlatePart
from core.plate.shop.operations import Operation
from core.plate.words import CAUTION


def plate_shape(part: PlatePart, files: list[str]) -> dict[str, Any]:
    """The part, and the files that were written."""
    off_deg, left_deg = part.pushed_deg
    return {
        "part": part.identity,
        "features": [_feature_shape(feature) for feature in part.features],
        "checks": [_check_shape(check) for check in part.checks],
        "operations": [_operation_shape(operation) for operation in part.operations],
        "mass_kg": number(part.mass_kg),
        "blank_mass_kg": number(part.blank_mass_kg),
        "play_deg": number(part.play_deg),
        "pushed": {"off_deg": number(off_deg), "play_deg": number(left_deg)},
        "fits_ways": part.fits_ways,
        "rotator_ways": part.rotator_ways,
        "screws": [_screw_shape(screw) for screw in part.screws],
        "turning": {
            "wind_nm": number(part.turning.wind_nm),
            "stop_nm": number(part.turning.stop_nm),
            "hand_nm": number(part.turning.hand_nm),
            "overturning_nm": number(part.turning.overturning_nm),
        },
        "caution": CAUTION,
        "files": files,
    }


def _feature_shape(feature: Feature) -> dict[str, Any]:
    below_x_mm, below_y_mm = feature.below_mm
    return {
        "name": feature.name,
        "kind": feature.kind,
        "x_mm": number(feature.x_mm),
        "y_mm": number(feature.y_mm),
        "angle_deg": number(feature.angle_deg),
        "radius_mm": number(feature.radius_mm),
        "diameter_mm": number(feature.diameter_mm),
        "inner_diameter_mm": number(feature.inner_diameter_mm),
        "depth_mm": number(feature.depth_mm),
        "thread": feature.thread or None,
        "side": feature.side,
        "offset_deg": None if feature.offset_deg is None else number(feature.offset_deg),
        "source": feature.source,
        "from_below": {
            "x_mm": number(below_x_mm),
            "y_mm": number(below_y_mm),
            "angle_deg": number(feature.below_angle_deg),
        },
    }


def _check_shape(check: Check) -> dict[str, Any]:
    return {
        "name": check.name,
        "value": number(check.value),
        "limit": number(check.limit),
        "unit": check.unit,
        "sense": check.sense,
        "margin": number(check.margin),
        "holds": check.holds,
        "formula": check.formula,
        "numbers": check.numbers,
        "source": check.source,
        "advice": check.advice,
    }


def _operation_shape(operation: Operation) -> dict[str, Any]:
    return {
        "number": operation.number,
        "work": operation.work,
        "tool": operation.tool,
        "held_by": operation.held_by,
        "inspect": operation.inspect,
        "hazard": operation.hazard,
    }


def _screw_shape(screw: Screwed) -> dict[str, Any]:
    return {
        "name": screw.name,
        "thread": screw.thread.name,
        "torque_nm": number(screw.torque_nm),
        "given": screw.given,
        "preload_n": number(screw.preload_n, 1),
        "preload_left_n": number(screw.left_n, 1),
        "proof_n": number(screw.proof_n, 1),
    }
