"""Threads and heads: engagement, stripping, preload, pressure under heads, the counterbore's floor."""

from __future__ import annotations

import math

from core.base.words import percent, plain
from core.plate.body.features import Feature
from core.plate.checks.check import TRADE, Check
from core.plate.holding.bolting import (
    LOSS,
    PRELOAD_SHARE,
    SCATTER,
    Screwed,
    bolts_of,
    clamp_of,
    engagement_wanted_mm,
    pin_of,
)
from core.plate.holding.loads import Turning
from core.plate.holding.sharing import torque_by_friction
from core.plate.model import Plate
from core.plate.tables.screws import cap_screw
from core.plate.tables.strengths import MATERIALS, TORQUE_SOURCE

_WHERE = {"bolts": "rotator's bolts", "clamp": "centre clamp", "pin": "index pin"}
_NUT = {"bolts": "the rotator's body", "clamp": "the plate", "pin": "the plate"}
_WORKED_OUT = {
    "bolts": "the most that proof load, thread and seat bear",
    "clamp": "what holds every load after the loss",
    "pin": "the most that proof load, thread and seat bear",
}
#: Friction of oiled threads and heads, for the torque told beside K's (Shigley 9th ed., example 8-3).
_RUBS = 0.15


def screw_checks(plate: Plate, features: tuple[Feature, ...], turning: Turning) -> list[Check]:
    """Of bolts, clamp and pin, as far as there are any."""
    found: list[Check] = []
    for screwed in (bolts_of(plate), clamp_of(plate, turning), pin_of(plate)):
        if screwed is not None:
            found += [_preload(screwed), _engagement(screwed), _stripping(screwed)]
            found += [_seat(screwed)] if screwed.seat_mm2 else []
    return found + _floor(plate, features)


def _preload(screwed: Screwed) -> Check:
    """Preload with its scatter against the proof load.

    F = T / (K d), Shigley 9th ed., eq. 8-27; 75 % of proof is usual for what is loosened again, eq. 8-31.
    """
    told = "as the plan says" if screwed.given else _WORKED_OUT[screwed.name]
    thread = screwed.thread
    rubbed = torque_by_friction(
        screwed.preload_n, thread.diameter_mm, thread.root_diameter_mm, thread.pitch_mm, _RUBS, _RUBS
    )
    return Check(
        f"preload of the {_WHERE[screwed.name]}",
        screwed.greatest_n,
        screwed.proof_n,
        "N",
        "at most",
        f"F = (1 + scatter) T / (K d); proof load = Sp At; usual {percent(PRELOAD_SHARE)} of it",
        f"1.25 x {plain(screwed.torque_nm, 1)} Nm ({told}) / ({plain(screwed.coefficient)} x "
        f"{plain(screwed.thread.diameter_mm)} mm); {plain(screwed.strength.proof_mpa, 0)} MPa x "
        f"{plain(screwed.thread.stress_area_mm2)} mm2; "
        f"{screwed.left_n:.0f} N left after {percent(LOSS)} loss; with friction of {plain(_RUBS)} the same "
        f"preload takes {plain(rubbed / 1000.0, 1)} Nm (eq. 8-26)",
        f"{TORQUE_SOURCE}; {screwed.strength.source}; "
        f"scatter {percent(SCATTER)} and loss {percent(LOSS)}: {TRADE}",
        f"Tighten to {plain(0.95 * screwed.torque_nm * screwed.proof_n / screwed.greatest_n, 1)} Nm at most, "
        "or take stronger screws.",
    )


def _engagement(screwed: Screwed) -> Check:
    """Thread long enough for the screw to break first: Machinery's Handbook, length of engagement."""
    wanted_mm = engagement_wanted_mm(screwed.thread, screwed.strength, screwed.nut_shear_mpa)
    per_mm = screwed.thread.internal_strip_mm
    return Check(
        f"thread engagement of the {_WHERE[screwed.name]}",
        screwed.engaged_mm,
        wanted_mm,
        "mm",
        "at least",
        "L = Sut At / (tau An), An the thread's area per mm in the softer part: the screw breaks first",
        f"{plain(screwed.strength.tensile_mpa, 0)} MPa x {plain(screwed.thread.stress_area_mm2)} mm2 / "
        f"({plain(screwed.nut_shear_mpa, 0)} MPa x {plain(per_mm)} mm2/mm)",
        f"Machinery's Handbook, length of engagement; {screwed.thread.source}",
        f"Engage {plain(wanted_mm, 1)} mm in {_NUT[screwed.name]}, fit a thread insert, or take weaker "
        "screws so that not the thread goes first.",
    )


def _stripping(screwed: Screwed) -> Check:
    """Shear in the softer thread at the greatest preload: FED-STD-H28/2 areas."""
    area_mm2 = screwed.thread.internal_strip_mm * screwed.engaged_mm
    stress_mpa = screwed.greatest_n / area_mm2
    return Check(
        f"stripping of the {_WHERE[screwed.name]}' thread" if screwed.name == "bolts" else
        f"stripping of the {_WHERE[screwed.name]}'s thread",
        stress_mpa,
        screwed.nut_shear_mpa,
        "MPa",
        "at most",
        "tau = F / (An L)",
        f"{screwed.greatest_n:.0f} N / ({plain(screwed.thread.internal_strip_mm)} mm2/mm x "
        f"{plain(screwed.engaged_mm, 1)} mm)",
        f"Machinery's Handbook, shear area of internal threads; {screwed.thread.source}",
        "Engage more thread, fit a thread insert, or tighten less.",
    )  # fmt: skip


def _seat(screwed: Screwed) -> Check:
    """Mean pressure under the head at the greatest preload; VDI 2230's idea, held to the plate's yield."""
    return Check(
        f"pressure under the head of the {_WHERE[screwed.name]}",
        screwed.greatest_n / screwed.seat_mm2,
        screwed.seat_mpa,
        "MPa",
        "at most",
        "p = F / (pi/4 (dk^2 - dh^2))",
        f"{screwed.greatest_n:.0f} N / {plain(screwed.seat_mm2, 1)} mm2",
        "VDI 2230 (from memory), limit taken as the plate's yield",
        "Put hardened washers under the heads (a wider counterbore), a closer hole, or tighten less.",
    )


def _floor(plate: Plate, features: tuple[Feature, ...]) -> list[Check]:
    """Material under a counterbored head: it must not be punched through."""
    bolts = bolts_of(plate)
    bores = [feature for feature in features if feature.kind == "counterbore"]
    if bolts is None or plate.bolts is None:
        return []
    through = {feature.name: feature for feature in features if feature.kind == "through hole"}
    floors_mm = [through[bore.hole_name].depth_mm - bore.depth_mm for bore in bores]
    floor_mm, head_mm = min(floors_mm), cap_screw(plate.bolts.thread).head_mm
    shear_mpa = MATERIALS[plate.material].shear_mpa
    wanted_mm = bolts.greatest_n / (math.pi * head_mm * shear_mpa)
    least_mm = max(wanted_mm, bolts.thread.diameter_mm / 2.0)
    return [
        Check(
            "floor under the counterbores",
            floor_mm,
            least_mm,
            "mm",
            "at least",
            "t = F / (pi dk tau), and half the bolt's diameter at least",
            f"{bolts.greatest_n:.0f} N / (pi x {plain(head_mm)} mm x {plain(shear_mpa, 0)} MPa) = "
            f"{plain(wanted_mm)} mm; d / 2 = {plain(bolts.thread.diameter_mm / 2)} mm",
            "Shear on the cylinder under the head; least floor: common practice, no source",
            f"Make the plate {plain(max(0.0, least_mm - floor_mm), 1)} mm thicker there, or take smaller "
            "bolts.",
        )
    ]
