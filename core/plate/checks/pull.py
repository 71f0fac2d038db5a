"""The wind pulls the rotator over: what its bolts bear, and whether the joint stays closed."""

from __future__ import annotations

import math

from core.base.words import percent, plain
from core.plate.body.features import Feature
from core.plate.body.shape import bolt_places
from core.plate.checks.check import PRACTICE, Check
from core.plate.holding.bolting import LOSS, Screwed, bolts_of
from core.plate.holding.loads import WIND_SAFETY, Turning
from core.plate.holding.sharing import (
    bolt_stiffness,
    bolt_stress,
    greatest_pull_n,
    load_share,
    member_stiffness,
)
from core.plate.model import Plate
from core.plate.tables.strengths import MATERIALS

_SOURCE = (
    "Shigley 9th ed., eq. 8-23 (constants from memory), 8-24 and example 8-3; bolt group on a rigid plate"
)


def pull_checks(plate: Plate, features: tuple[Feature, ...], turning: Turning) -> list[Check]:
    """Stress of the worst bolt, and the preload that is left between the faces."""
    bolts = bolts_of(plate)
    if bolts is None or plate.bolts is None:
        return []
    pull_n = greatest_pull_n(bolt_places(plate.bolts), WIND_SAFETY * turning.overturning_nm)
    if math.isinf(pull_n):
        return [_in_a_line()]
    share = _share(plate, bolts, features)
    told = (
        f"P = {pull_n:.0f} N of the worst bolt at {plain(WIND_SAFETY)} x "
        f"{plain(turning.overturning_nm, 0)} Nm, C = {plain(share)}"
    )
    return [_stress(bolts, pull_n, share, told), _closed(bolts, pull_n, share, told)]


def _share(plate: Plate, bolts: Screwed, features: tuple[Feature, ...]) -> float:
    """Of the pull that the bolt takes; its grip is the counterbore's floor and half a diameter of thread."""
    through = next(one.depth_mm for one in features if one.kind == "through hole")
    bore = next(one.depth_mm for one in features if one.kind == "counterbore")
    diameter_mm = bolts.thread.diameter_mm
    grip_mm = max(0.0, through - bore) + diameter_mm / 2.0
    members = member_stiffness(diameter_mm, grip_mm, MATERIALS[plate.material].modulus_mpa)
    return load_share(bolt_stiffness(bolts.thread.stress_area_mm2, grip_mm), members)


def _stress(bolts: Screwed, pull_n: float, share: float, told: str) -> Check:
    return Check(
        "rotator's bolts pulled by the wind",
        bolt_stress(pull_n, bolts.greatest_n, share, bolts.thread.stress_area_mm2),
        bolts.strength.proof_mpa,
        "MPa",
        "at most",
        "sigma = (C P + Fi) / At, C = kb / (kb + km)",
        f"{told}, Fi = {bolts.greatest_n:.0f} N, At = {plain(bolts.thread.stress_area_mm2)} mm2",
        f"{_SOURCE}; limit the proof stress, {bolts.strength.source}",
        "Tighten less, put the bolts on a wider circle, or take stronger ones.",
    )


def _closed(bolts: Screwed, pull_n: float, share: float, told: str) -> Check:
    return Check(
        "rotator's joint stays closed in the wind",
        bolts.left_n,
        (1.0 - share) * pull_n,
        "N",
        "at least",
        f"Fi after {percent(LOSS)} loss >= (1 - C) P",
        told,
        _SOURCE,
        "Tighten more, put the bolts on a wider circle, or take more of them: an opening joint wears.",
    )


def _in_a_line() -> Check:
    return Check(
        "spread of the rotator's bolts", 0.0, 5.0, "mm", "at least", "distance of the bolts from every line",
        "all bolts in one line, or one bolt alone", PRACTICE,
        "Put a bolt aside of the line: the wind tips the rotator about it.",
    )  # fmt: skip
