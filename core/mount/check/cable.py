"""The cable that leaves what turns: what the travel winds up, against the slack."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.angles import wrap_180
from core.mount.clearance.lengths import Cable


@dataclass(frozen=True)
class TakeUp:
    """What a cable needs from the counter-clockwise to the clockwise stop.

    Attributes:
        needed_mm: wound on a circle of its radius by the whole travel, radius x travel x pi / 180.
        spare_mm: slack less that; negative where it is too short.
    """

    needed_mm: float
    spare_mm: float


def take_up(cable: Cable, travel_deg: float) -> TakeUp:
    """The take-up over a travel in degrees: an arc's length is its radius times its angle in radians."""
    needed_mm = cable.radius_mm * math.radians(travel_deg)
    return TakeUp(needed_mm, cable.slack_mm - needed_mm)


def cable_words(cable: Cable, travel_deg: float) -> str:
    """Where it leaves, what it winds up with the formula, and whether the slack is enough."""
    off = round(float(wrap_180(cable.from_keyway_deg)))
    side = "at the keyway" if off == 0 else f"{abs(off)} deg {'right' if off > 0 else 'left'} of the keyway"
    found = take_up(cable, travel_deg)
    enough = f"enough, {found.spare_mm:.0f} mm left" if found.spare_mm >= 0.0 else "too little: "
    if found.spare_mm < 0.0:
        enough += f"{-found.spare_mm:.0f} mm short"
    return (
        f"The cable leaves {side}, {cable.height_mm:g} mm up. From stop to stop it winds up "
        f"{found.needed_mm:.0f} mm ({cable.radius_mm:g} mm x {travel_deg:g} deg x pi / 180). "
        f"Slack of {cable.slack_mm:g} mm is {enough}."
    )
