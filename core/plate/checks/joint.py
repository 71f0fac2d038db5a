"""What holds the part against turning, and what gives first."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.words import percent, plain
from core.plate.checks.check import PRACTICE, TRADE, Check
from core.plate.holding.bolting import (
    LOSS,
    SCATTER,
    Screwed,
    bolt_radii_mm,
    bolts_of,
    clamp_of,
    contact_radii_mm,
)
from core.plate.holding.loads import LOADS_SOURCE, WIND_SAFETY, Turning, bolts_slip_nm, ring_slip_nm
from core.plate.model import GivesFirst, Plate

#: The two plates touch on a ring at least so wide.
LEAST_RING_MM = 5.0


@dataclass(frozen=True)
class Slip:
    """Torques at which a joint slips, Nm: after the loss of preload, as tightened, with all the scatter."""

    least_nm: float
    usual_nm: float
    greatest_nm: float
    numbers: str


def clamp_slip(plate: Plate, turning: Turning) -> Slip | None:
    """Plate on tripod plate under the centre bolt; None without one, or where the two do not touch on a ring.

    mu F (2/3) (Ro^3 - Ri^3) / (Ro^2 - Ri^2): Shigley, uniform pressure.
    """
    clamp, (inner_mm, outer_mm) = clamp_of(plate, turning), contact_radii_mm(plate)
    if clamp is None or outer_mm <= inner_mm:
        return None
    friction = plate.loads.friction

    def slip_nm(preload: float) -> float:
        return ring_slip_nm(friction, preload, inner_mm, outer_mm)

    numbers = (
        f"{plain(friction)} x {clamp.left_n:.0f} N after {percent(LOSS)} loss, ring {plain(inner_mm)} to "
        f"{plain(outer_mm)} mm; as tightened {plain(slip_nm(clamp.preload_n), 0)} Nm"
    )
    return _slip(clamp, slip_nm(1.0), numbers)


def bolts_slip(plate: Plate) -> Slip | None:
    """Rotator on plate under its bolts; None without any. mu F sum(r), trade practice."""
    bolts, radii_mm = bolts_of(plate), bolt_radii_mm(plate)
    if bolts is None:
        return None
    per_n = bolts_slip_nm(plate.loads.friction, 1.0, radii_mm)
    numbers = (
        f"{plain(plate.loads.friction)} x {bolts.left_n:.0f} N after {percent(LOSS)} loss x "
        f"{len(radii_mm)} bolts, mean radius {plain(sum(radii_mm) / len(radii_mm))} mm; as tightened "
        f"{per_n * bolts.preload_n:.0f} Nm"
    )
    return _slip(bolts, per_n, numbers)


def _slip(screwed: Screwed, per_n: float, numbers: str) -> Slip:
    return Slip(per_n * screwed.left_n, per_n * screwed.preload_n, per_n * screwed.greatest_n, numbers)


def joint_checks(plate: Plate, turning: Turning, pin_holds_nm: float) -> list[Check]:
    """Each joint against each load, and the order in which they give."""
    clamp, bolts = clamp_slip(plate, turning), bolts_slip(plate)
    found: list[Check] = []
    for name, slip, formula in (
        ("centre clamp", clamp, "M = mu F (2/3) (Ro^3 - Ri^3) / (Ro^2 - Ri^2)"),
        ("rotator's bolts", bolts, "M = mu F sum(r), mu n F r on a circle"),
    ):
        if slip is not None:
            found += [_against(name, slip, formula, load, torque) for load, torque in turning.by_name]
    return [*_ring(plate), *found, *_first(plate.loads.gives_first, clamp, bolts, pin_holds_nm)]


def _ring(plate: Plate) -> list[Check]:
    """Something must hold the part down, on a ring."""
    inner_mm, outer_mm = contact_radii_mm(plate)
    if plate.centre_thread is None:
        return [
            Check(
                "what clamps the part onto the tripod plate", 0.0, 1.0, "", "at least",
                "centre threads", "none",
                TRADE, "Give the part a centre thread: the pin clocks it, and only a clamp holds it down.",
            )
        ]  # fmt: skip
    return [
        Check(
            "ring on which the part lies on the tripod plate", outer_mm - inner_mm, LEAST_RING_MM, "mm",
            "at least", "width = Ro - Ri", f"{plain(outer_mm)} - {plain(inner_mm)} mm", PRACTICE,
            "Make the step smaller, or the part or the tripod plate larger.",
        )
    ]  # fmt: skip


def _against(name: str, slip: Slip, formula: str, load: str, torque_nm: float) -> Check:
    limit_nm = torque_nm * (WIND_SAFETY if load == "wind" else 1.0)
    times = (f"{plain(WIND_SAFETY)} x " if load == "wind" else "") + f"{plain(torque_nm, 1)} Nm"
    needs = "" if slip.least_nm >= limit_nm else f"{plain(limit_nm - slip.least_nm, 0)} Nm too little. "
    return Check(
        f"slip of the {name} against {load}",
        slip.least_nm,
        limit_nm,
        "Nm",
        "at least",
        f"{formula}, preload after {percent(LOSS)} loss",
        f"{slip.numbers}; load {times}",
        f"{TRADE} (bolts), Shigley uniform pressure (ring); {LOADS_SOURCE}",
        f"{needs}Tighten more, clamp further out, or roughen the faces; a witness line shows a slip.",
    )


def _first(named: GivesFirst, clamp: Slip | None, bolts: Slip | None, pin_holds_nm: float) -> list[Check]:
    """What is meant to give does so below what the others hold at least.

    The clamp slips before the pin is loaded, as far as the play goes; the pin then holds beside it. So a pin
    gives at the clamp's friction and its own strength together.
    """
    wanted = {"clamp": clamp, "pin": clamp, "bolts": bolts}[named]
    other = {"clamp": bolts, "pin": bolts, "bolts": clamp}[named]
    if wanted is None or other is None:
        return []
    gives_nm = wanted.greatest_nm + (pin_holds_nm if named == "pin" else 0.0)
    words = {
        "clamp": "the clamp slips",
        "pin": f"the clamp slips and the pin yields at {plain(pin_holds_nm, 0)} Nm more",
        "bolts": "the bolts slip",
    }
    return [
        Check(
            f"what gives first: the {named}",
            gives_nm,
            other.least_nm,
            "Nm",
            "at most",
            "greatest torque of what is meant to give <= least torque of the joint that must hold",
            f"{words[named]} at {plain(gives_nm, 0)} Nm with {percent(SCATTER)} more preload; the other "
            f"joint holds {plain(other.least_nm, 0)} Nm after {percent(LOSS)} loss",
            f"{TRADE}: decide on purpose what gives, and let it be seen",
            "Tighten what must hold more, or what may give less; mark both with a witness line.",
        )
    ]
