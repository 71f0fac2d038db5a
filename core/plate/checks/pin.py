"""The index pin as what it is: a short cantilever out of a thread, its head against the keyway's flank."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.words import plain
from core.plate.body.features import pin_engaged_mm, pin_screw, pin_thread
from core.plate.checks.check import Check
from core.plate.checks.joint import clamp_slip
from core.plate.holding.loads import Turning
from core.plate.model import Plate
from core.plate.tables.strengths import MATERIALS, SCREW_STRENGTHS, SHEAR_SHARE

#: Young's modulus of the screw, MPa, and Poisson's ratio of both metals; usual values.
_STEEL_MPA, _POISSON = 205_000.0, 0.3
#: Mean pressure at which a dent is there to be seen: hardness, some three times yield (Tabor, from memory).
_DENTS = 3.0


@dataclass(frozen=True)
class PinLoad:
    """The force on the pin's head and where it acts.

    Attributes:
        torque_nm, force_n: about the azimuth axis, and at the pin's radius.
        why: which case it is.
        flank_mm: height of head that touches the flank. arm_mm: from the first thread to its middle.
    """

    torque_nm: float
    force_n: float
    why: str
    flank_mm: float
    arm_mm: float


def pin_load(plate: Plate, turning: Turning) -> PinLoad:
    """The worse of two: the clamp forgotten, wind or stop on the pin; a hand beyond what the clamp holds."""
    slip = clamp_slip(plate, turning)
    held_nm = 0.0 if slip is None else slip.least_nm
    loose_nm, beyond_nm = max(turning.wind_nm, turning.stop_nm), turning.hand_nm - held_nm
    if beyond_nm > loose_nm:
        why = f"hand {plain(turning.hand_nm, 0)} Nm beyond the clamp's {plain(held_nm, 0)} Nm"
    else:
        why = "clamp loose, all of wind or stop on the pin"
    torque_nm = max(loose_nm, beyond_nm)
    flank_mm = flank_height_mm(plate)
    force_n = torque_nm * 1000.0 / plate.index_pin.circle_radius_mm
    return PinLoad(torque_nm, force_n, why, flank_mm, flank_mm / 2.0)


def flank_height_mm(plate: Plate) -> float:
    """How much of the head lies in the keyway."""
    return min(pin_screw(plate).height_mm, plate.keyway.depth_mm)


def bending_mpa(force_n: float, arm_mm: float, root_mm: float) -> float:
    """32 F a / (pi d3^3): a round cantilever at its thread's root (Shigley, bending of a round bar)."""
    return 32.0 * force_n * arm_mm / (math.pi * root_mm**3)


def thread_bearing_mpa(force_n: float, arm_mm: float, diameter_mm: float, engaged_mm: float) -> float:
    """F / (d s) (4 + 6 h / s): a pin held on its length s, loaded at h.

    Roloff/Matek, bending pin (from memory): the sum of the force spread evenly, F / (d s), and of its moment
    F (h + s/2) spread as a line.
    """
    return force_n / (diameter_mm * engaged_mm) * (4.0 + 6.0 * arm_mm / engaged_mm)


def line_pressure_mpa(
    force_n: float, height_mm: float, diameter_mm: float, flank_modulus_mpa: float
) -> float:
    """sqrt(F E* / (pi L R)): a cylinder on a flat (Hertz; Shigley 9th ed., section 3-19)."""
    softness = (1.0 - _POISSON**2) * (1.0 / _STEEL_MPA + 1.0 / flank_modulus_mpa)
    return math.sqrt(force_n / (softness * math.pi * height_mm * diameter_mm / 2.0))


def pin_checks(plate: Plate, turning: Turning) -> list[Check]:
    """Bending, shear, the flank, the thread in the plate, and whether the head goes in at all."""
    load = pin_load(plate, turning)
    return [*_strength(plate, load), *_flank(plate, load), *_goes_in(plate)]


def pin_holds_nm(plate: Plate) -> float:
    """Torque at which the pin yields, bends or bears too much: the least of its checks, Nm.

    The head's print in the flank is left out: it marks, it does not let go.
    """
    unit = PinLoad(
        plate.index_pin.circle_radius_mm / 1000.0,
        1.0,
        "",
        flank_height_mm(plate),
        flank_height_mm(plate) / 2.0,
    )
    force_n = min(check.limit / check.value for check in (*_strength(plate, unit), _flank(plate, unit)[0]))
    return force_n * plate.index_pin.circle_radius_mm / 1000.0


def _strength(plate: Plate, load: PinLoad) -> list[Check]:
    pin, thread = plate.index_pin, pin_thread(plate)
    strength = SCREW_STRENGTHS[pin.strength]
    engaged_mm = min(pin_engaged_mm(plate), plate.thickness_mm)
    radius_mm = plain(pin.circle_radius_mm)
    force = f"F = {plain(load.torque_nm, 1)} Nm / {radius_mm} mm = {load.force_n:.0f} N ({load.why})"
    root_mm, area_mm2 = thread.root_diameter_mm, thread.stress_area_mm2
    stress_mpa = bending_mpa(load.force_n, load.arm_mm, root_mm)
    material = MATERIALS[plate.material]
    return [
        Check(
            "index pin, bending at the first thread", stress_mpa, strength.proof_mpa, "MPa", "at most",
            "sigma = 32 F a / (pi d3^3)",
            f"{force}; a = {plain(load.arm_mm)} mm, d3 = {plain(root_mm)} mm",
            f"Shigley, round cantilever; limit the proof stress, {strength.source}",
            "Put the pin further out, take the next larger screw or a stronger one, or clamp harder.",
        ),
        Check(
            "index pin, shear", load.force_n / area_mm2, SHEAR_SHARE * strength.tensile_mpa, "MPa", "at most",
            "tau = F / As, limit 0.6 Rm",
            f"{force}; As = {plain(area_mm2)} mm2",
            f"common practice (0.6 Rm); {strength.source}",
            "Put the pin further out, or take the next larger screw.",
        ),
        Check(
            "index pin, bearing of the thread in the plate",
            thread_bearing_mpa(load.force_n, load.arm_mm, thread.diameter_mm, engaged_mm),
            material.yield_mpa, "MPa", "at most",
            "p = F / (d s) (4 + 6 h / s)",
            f"{force}; h = {plain(load.arm_mm)} mm, s = {plain(engaged_mm, 1)} mm",
            f"Roloff/Matek, bending pin (from memory); limit the yield, {material.source}",
            "Tap deeper, put the pin further out, or fit a thread insert.",
        ),
    ]  # fmt: skip


def _flank(plate: Plate, load: PinLoad) -> list[Check]:
    """The head on the keyway's flank: mean over what it covers, and the line on which it really touches."""
    head_mm, flank = pin_screw(plate).head_mm, MATERIALS[plate.keyway.material]
    where = f"{load.force_n:.0f} N on {plain(load.flank_mm)} mm of a {plain(head_mm)} mm head"
    return [
        Check(
            "index pin, bearing on the keyway's flank", load.force_n / (head_mm * load.flank_mm),
            flank.yield_mpa,
            "MPa", "at most", "p = F / (dk h)", where,
            f"mean bearing on the projected area, common practice; limit the yield, {flank.source}",
            "Put the pin further out, or deepen the keyway so that more of the head bears.",
        ),
        Check(
            "index pin, print in the keyway's flank",
            math.pi / 4.0 * line_pressure_mpa(load.force_n, load.flank_mm, head_mm, flank.modulus_mpa),
            _DENTS * flank.yield_mpa, "MPa", "at most",
            "p = pi/4 sqrt(F E* / (pi L R)), limit 3 x yield", where,
            "Hertz line contact, Shigley 9th ed. section 3-19; a dent to be seen: Tabor (from memory)",
            "A round head prints a line: push it to the same side each time and look at the flank; a flat "
            "filed on the head spares it.",
        ),
    ]  # fmt: skip


def _goes_in(plate: Plate) -> list[Check]:
    screw, keyway = pin_screw(plate), plate.keyway
    widest_mm = screw.knurled_mm
    return [
        Check(
            "pin's head in the keyway's width", widest_mm, keyway.width_mm, "mm", "at most",
            "dk <= b", f"head {plain(screw.head_mm)} mm plain, {plain(widest_mm)} mm knurled, keyway "
            f"{plain(keyway.width_mm)} mm",
            screw.source,
            f"Widen the keyway by {plain(max(0.0, widest_mm - keyway.width_mm))} mm, or turn the head "
            "down and give head_diameter_mm.",
        ),
        Check(
            "pin's head in the keyway's depth", screw.height_mm, keyway.depth_mm, "mm", "at most",
            "k <= t", f"head {plain(screw.height_mm)} mm high, keyway {plain(keyway.depth_mm)} mm deep",
            screw.source,
            "Deepen the keyway, or take a lower head: one that touches the floor keeps the plates apart.",
        ),
    ]  # fmt: skip
