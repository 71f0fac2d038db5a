"""All checks of a plate, in the order in which they are read."""

from __future__ import annotations

from core.mount.model.station import Mount
from core.plate.body.features import Feature
from core.plate.checks.check import Check
from core.plate.checks.fit import fit_checks
from core.plate.checks.joint import joint_checks
from core.plate.checks.pin import pin_checks, pin_holds_nm
from core.plate.checks.pull import pull_checks
from core.plate.checks.screwed import screw_checks
from core.plate.checks.spacing import spacing_checks
from core.plate.holding.loads import Turning
from core.plate.model import Plate


def all_checks(
    plate: Plate, mount: Mount, features: tuple[Feature, ...], turning: Turning, mass_kg: float
) -> tuple[Check, ...]:
    """Fit first, then walls, screws, joints and the pin."""
    return (
        *fit_checks(plate, mount, mass_kg),
        *spacing_checks(plate, features),
        *screw_checks(plate, features, turning),
        *pull_checks(plate, features, turning),
        *joint_checks(plate, turning, pin_holds_nm(plate)),
        *pin_checks(plate, turning),
    )
