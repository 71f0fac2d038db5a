"""Lines of what is told of the plate: the hole table, the checks, the order of work; for screen and paper."""

from __future__ import annotations

from core.base.words import figure, signed
from core.plate.body.features import Feature
from core.plate.checks.check import Check
from core.plate.shop.operations import Operation
from core.plate.tables.threads import INCH_MM
from core.plate.words import measure_text


def hole_heads(units: str) -> tuple[str, ...]:
    """Heads of the hole table; both offsets of an index hole side by side, and the view from below."""
    unit = "in" if units == "inch" else "mm"
    return (
        "feature", "kind", f"dia {unit}", f"deep {unit}", "thread", "side", f"x {unit}", f"y {unit}",
        "drilled deg", "offset deg", f"below: x {unit}", "y", "deg",
    )  # fmt: skip


def hole_cells(feature: Feature, units: str) -> tuple[str, ...]:
    """A line of the hole table."""
    inch, decimals = (INCH_MM, 4) if units == "inch" else (1.0, 2)

    def length(mm: float) -> str:
        return figure(mm / inch, decimals)

    below_x_mm, below_y_mm = feature.below_mm
    offset = "" if feature.offset_deg is None else signed(feature.offset_deg)
    return (
        *(feature.name, feature.kind, length(feature.diameter_mm), length(feature.depth_mm)),
        *(feature.thread, feature.side, length(feature.x_mm), length(feature.y_mm)),
        *(figure(feature.angle_deg), offset),
        *(length(below_x_mm), length(below_y_mm), figure(feature.below_angle_deg)),
    )


CHECK_HEADS = ("", "check", "is", "must be", "margin")


def check_cells(check: Check) -> tuple[str, ...]:
    """A line of the table of checks."""
    return (
        "holds" if check.holds else "DOES NOT HOLD",
        check.name,
        f"{measure_text(check.value)} {check.unit}".strip(),
        f"{check.sense} {measure_text(check.limit)}",
        measure_text(check.margin),
    )


def check_lines(check: Check) -> tuple[str, ...]:
    """By what it was found, and what to change where it does not hold."""
    told = (check.formula, check.numbers, f"Source: {check.source}")
    return told if check.holds else (*told, f"Change: {check.advice}")


def operation_lines(one: Operation) -> tuple[str, str, str]:
    """A step of the order of work: what, with which tools and held how, what is measured and minded."""
    return (
        f"{one.number}. {one.work}",
        f"   Tools: {one.tool}. Held: {one.held_by}.",
        f"   Measure: {one.inspect}. Mind: {one.hazard}",
    )
