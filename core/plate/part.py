"""The plate worked out: what commands, page and drawings all show."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass

from core.mount.clearance.lengths import Clearance
from core.mount.model.station import Mount
from core.plate.body.features import Feature, features_of
from core.plate.body.fits import fits_ways, play_deg, pushed_deg, rotator_ways
from core.plate.body.mass import blank_mass_kg, plate_mass_kg
from core.plate.checks.all import all_checks
from core.plate.checks.check import Check
from core.plate.holding.bolting import Screwed, bolts_of, clamp_of, pin_of
from core.plate.holding.loads import Turning, turning
from core.plate.model import Plate
from core.plate.shop.operations import Operation, operations_of


@dataclass(frozen=True)
class PlatePart:
    """The part of a plan.

    Attributes:
        plate, identity: as the plan has it; eight hex digits of what the part is made from.
        features, checks, operations: the hole table, what was looked at, the order of work.
        screws: bolts, clamp and pin as tightened, those there are.
        turning: the loads, Nm.
        mass_kg, blank_mass_kg: finished, and of the blank.
        play_deg: each way, free. pushed_deg: off the middle when pushed to one side, and what is then left.
        fits_ways, rotator_ways: into the tripod plate; the rotator onto it.
        title, plan_identity: of the plan, for the shop's papers; empty where they do not matter.
    """

    plate: Plate
    identity: str
    features: tuple[Feature, ...]
    checks: tuple[Check, ...]
    operations: tuple[Operation, ...]
    screws: tuple[Screwed, ...]
    turning: Turning
    mass_kg: float
    blank_mass_kg: float
    play_deg: float
    pushed_deg: tuple[float, float]
    fits_ways: int
    rotator_ways: int
    title: str = ""
    plan_identity: str = ""


def plate_part(plate: Plate, mount: Mount, clearance: Clearance | None = None) -> PlatePart:
    """Everything about the plate with the mount's index holes; the clearance tells how long the booms are."""
    features = features_of(plate, mount)
    mass_kg = plate_mass_kg(plate, features)
    loads = turning(plate.loads, mount.azimuth.rate_deg_s, clearance)
    screws = (bolts_of(plate), clamp_of(plate, loads), pin_of(plate))
    return PlatePart(
        plate,
        part_identity(plate, mount),
        features,
        all_checks(plate, mount, features, loads, mass_kg),
        operations_of(plate, mount),
        tuple(screw for screw in screws if screw is not None),
        loads,
        mass_kg,
        blank_mass_kg(plate),
        play_deg(plate),
        pushed_deg(plate),
        fits_ways(plate, mount),
        rotator_ways(plate),
    )


def part_identity(plate: Plate, mount: Mount) -> str:
    """Eight hex digits of what the part is cut to: the plate and the index holes."""
    holes = [hole.model_dump(mode="json") for hole in mount.index_holes]
    parts = {"plate": plate.model_dump(mode="json"), "index_holes": holes}
    return hashlib.sha256(json.dumps(parts, sort_keys=True, separators=(",", ":")).encode()).hexdigest()[:8]
