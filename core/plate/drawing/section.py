"""The part cut open: one hole of each kind turned into the plane of the cut.

Bolt to the left and index hole to the right, each at its own distance from the axis.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise, product

from core.base.drawing import POINT_MM, Item, Stroke, line_of, on_paper
from core.plate.body.features import Feature
from core.plate.body.shape import step_radii
from core.plate.drawing.dimension import THICK_MM, THIN_MM, across, called_out, datum_flag, upright
from core.plate.drawing.lettering import LINE_SHARE, TEXT_PT, wrapped
from core.plate.drawing.rows import WholeHole, hole_row, whole_holes
from core.plate.drawing.tolerances import length, short_length, step_text
from core.plate.part import PlatePart
from core.plate.tables.threads import thread_named

_HATCH_MM = 2.4
_ROW_MM = 6.5
_PITCH_MM = LINE_SHARE * TEXT_PT * POINT_MM


@dataclass(frozen=True)
class Slot:
    """What a hole takes out of the cut: from and to along it, bottom and top."""

    from_mm: float
    to_mm: float
    low_mm: float
    high_mm: float


@dataclass(frozen=True)
class Turned:
    """A hole turned into the plane of the cut, its axis at ``at_mm``."""

    hole: WholeHole
    at_mm: float

    @property
    def slots(self) -> list[Slot]:
        """Of the hole and its counterbore."""
        found = []
        for feature in (self.hole.main, self.hole.counterbore):
            if feature is not None and feature.cut is not None:
                half_mm = feature.cut.radius_mm
                found.append(
                    Slot(self.at_mm - half_mm, self.at_mm + half_mm, feature.cut.low_mm, feature.cut.high_mm)
                )
        return found


@dataclass(frozen=True)
class Cells:
    """The cut as a grid: whether there is metal between one edge and the next, along and up."""

    along_mm: tuple[float, ...]
    up_mm: tuple[float, ...]
    metal: tuple[tuple[bool, ...], ...]


def turned_holes(part: PlatePart) -> list[Turned]:
    """The first of each kind: bolt, centre, index."""
    found: list[Turned] = []
    for role, sign in (("bolt", -1.0), ("centre", 0.0), ("index", 1.0)):
        first = next((hole for hole in whole_holes(part) if hole.main.role == role), None)
        if first is not None:
            found.append(Turned(first, sign * first.main.radius_mm))
    return found


def cells_of(part: PlatePart, turned: list[Turned]) -> Cells:
    """Metal and air in the plane of the cut, z upward from the lowest plane."""
    plate = part.plate
    half_mm = plate.outside_diameter_mm / 2.0
    inner_mm, outer_mm = step_radii(plate)
    slots = [slot for one in turned for slot in one.slots]
    along = {-half_mm, half_mm, -outer_mm, outer_mm, -inner_mm, inner_mm}
    along |= {edge for slot in slots for edge in (slot.from_mm, slot.to_mm) if abs(edge) < half_mm}
    up = {0.0, plate.thickness_mm} | {edge for slot in slots for edge in (slot.low_mm, slot.high_mm)}
    if plate.step is not None:
        up |= {plate.step.height_mm, plate.thickness_mm - plate.step.height_mm}
    along_mm, up_mm = sorted(along), sorted(up)

    def metal(x_mm: float, z_mm: float) -> bool:
        cut = any(s.from_mm < x_mm < s.to_mm and s.low_mm < z_mm < s.high_mm for s in slots)
        return not cut and _in_body(part, x_mm, z_mm)

    return Cells(
        tuple(along_mm),
        tuple(up_mm),
        tuple(
            tuple(metal((x + x2) / 2.0, (z + z2) / 2.0) for z, z2 in pairwise(up_mm))
            for x, x2 in pairwise(along_mm)
        ),
    )


def _in_body(part: PlatePart, x_mm: float, z_mm: float) -> bool:
    step, thick_mm = part.plate.step, part.plate.thickness_mm
    if step is None:
        return True
    in_step = z_mm < step.height_mm if step.side == "below" else z_mm > thick_mm - step.height_mm
    inner_mm, outer_mm = step_radii(part.plate)
    return not in_step or inner_mm < abs(x_mm) < outer_mm


@dataclass(frozen=True)
class Cut:
    """Where the section lies on the paper: its axis, the highest face's y, paper for one of the part."""

    x_mm: float
    top_mm: float
    scale: float
    thickness_mm: float

    def place(self, along_mm: float, up_mm: float) -> tuple[float, float]:
        """On the paper."""
        return self.x_mm + self.scale * along_mm, self.top_mm + self.scale * (self.thickness_mm - up_mm)


def section(part: PlatePart, cut: Cut, right_mm: float) -> list[Item]:
    """The cut with its dimensions; call-outs end at ``right_mm``."""
    items = [*section_shapes(part, cut), *_diameters(part, cut), *_heights(part, cut)]
    return [*items, *_call_outs(part, turned_holes(part), cut, right_mm)]


def section_shapes(part: PlatePart, cut: Cut) -> list[Item]:
    """The cut alone: hatching, edges, axes and threads."""
    turned = turned_holes(part)
    cells = cells_of(part, turned)
    return [*_hatching(cells, cut), *_outlines(cells, cut), *_axes(turned, cut), *_threads(turned, cut)]


def _outlines(cells: Cells, cut: Cut) -> list[Item]:
    """Where metal meets air."""
    items: list[Item] = []
    nx, nz = len(cells.along_mm) - 1, len(cells.up_mm) - 1

    def metal(i: int, k: int) -> bool:
        return 0 <= i < nx and 0 <= k < nz and cells.metal[i][k]

    for i, k in product(range(nx + 1), range(nz + 1)):
        if metal(i - 1, k) != metal(i, k):
            items.append(_edge(cut, (i, k), (i, k + 1), cells))
        if metal(i, k - 1) != metal(i, k):
            items.append(_edge(cut, (i, k), (i + 1, k), cells))
    return items


def _edge(cut: Cut, one: tuple[int, int], other: tuple[int, int], cells: Cells) -> Stroke:
    ends = [cut.place(cells.along_mm[i], cells.up_mm[k]) for i, k in (one, other)]
    return Stroke(on_paper(ends), THICK_MM)


def _hatching(cells: Cells, cut: Cut) -> list[Item]:
    """Lines at 45 degrees on one lattice, so that they run on from cell to cell."""
    items: list[Item] = []
    for i, column in enumerate(cells.metal):
        for k, metal in enumerate(column):
            if metal:
                left, bottom = cut.place(cells.along_mm[i], cells.up_mm[k])
                right, top = cut.place(cells.along_mm[i + 1], cells.up_mm[k + 1])
                items += _hatched(left, top, right, bottom)
    return items


def _hatched(left: float, top: float, right: float, bottom: float) -> list[Item]:
    """Lines x + y = n * pitch within a rectangle."""
    items: list[Item] = []
    pitch_mm = _HATCH_MM * math.sqrt(2.0)
    for n in range(math.ceil((left + top) / pitch_mm), math.floor((right + bottom) / pitch_mm) + 1):
        total = n * pitch_mm
        from_x, to_x = max(left, total - bottom), min(right, total - top)
        if to_x - from_x > 0.05:
            items.append(Stroke(on_paper([(from_x, total - from_x), (to_x, total - to_x)]), 0.13))
    return items


def _axes(turned: list[Turned], cut: Cut) -> list[Item]:
    items: list[Item] = []
    for at_mm in dict.fromkeys([0.0, *(one.at_mm for one in turned)]):
        x_mm, top_mm = cut.place(at_mm, cut.thickness_mm)
        _, bottom_mm = cut.place(at_mm, 0.0)
        items.append(Stroke(on_paper([(x_mm, top_mm - 2.0), (x_mm, bottom_mm + 2.0)]), THIN_MM, "chain"))
    return items


def _threads(turned: list[Turned], cut: Cut) -> list[Item]:
    """A thread's outer diameter as thin lines as deep as it is full (ISO 6410-1)."""
    items: list[Item] = []
    for one in turned:
        main = one.hole.main
        if not main.thread or main.cut is None:
            continue
        half_mm = thread_named(main.thread).diameter_mm / 2.0
        low_mm, high_mm = main.cut.low_mm, main.cut.low_mm + main.depth_mm
        for side in (-half_mm, half_mm):
            ends = [cut.place(one.at_mm + side, z_mm) for z_mm in (low_mm, high_mm)]
            items.append(Stroke(on_paper(ends), THIN_MM))
    return items


def _diameters(part: PlatePart, cut: Cut) -> list[Item]:
    """Under the section, the smallest nearest."""
    plate, step = part.plate, part.plate.step
    datum = "" if step is not None else ", datum B"
    rows = [
        (plate.outside_diameter_mm, f"Ø{short_length(plate.outside_diameter_mm, plate.units)} outside{datum}")
    ]
    if step is not None:
        rows.insert(0, (step.outer_diameter_mm, f"{step_text(plate)} step, datum B"))
        if step.inner_diameter_mm > 0.0:
            rows.insert(
                0,
                (
                    step.inner_diameter_mm,
                    f"Ø{short_length(step.inner_diameter_mm, plate.units)} inside the step",
                ),
            )
    items: list[Item] = []
    _, bottom_mm = cut.place(0.0, 0.0)
    for number, (diameter_mm, text) in enumerate(rows, start=1):
        left_mm, _ = cut.place(-diameter_mm / 2.0, 0.0)
        right_mm, _ = cut.place(diameter_mm / 2.0, 0.0)
        items += across(left_mm, right_mm, bottom_mm + 0.8, bottom_mm + 1.0 + number * _ROW_MM, text)
    return items


def _heights(part: PlatePart, cut: Cut) -> list[Item]:
    """The whole thickness to the right; what the step leaves and its height to the left."""
    plate, step = part.plate, part.plate.step
    left_mm, top_mm = cut.place(-plate.outside_diameter_mm / 2.0, plate.thickness_mm)
    right_mm, bottom_mm = cut.place(plate.outside_diameter_mm / 2.0, 0.0)
    items = upright(
        top_mm, bottom_mm, right_mm + 0.8, right_mm + 7.0, f"{length(plate.thickness_mm, plate.units)} whole"
    )
    step_below = step is not None and step.side == "below"
    face = cut.place(0.0, step.height_mm if step is not None and step_below else 0.0)[1]
    items += [line_of([(left_mm - 0.8, face), (left_mm - 18.0, face)], THIN_MM)]
    items += datum_flag(left_mm - 15.0, face, "A")
    if step is None:
        return items
    at_mm = step.height_mm if step.side == "below" else plate.thickness_mm - step.height_mm
    _, shoulder_mm = cut.place(0.0, at_mm)
    body = (top_mm, shoulder_mm) if step.side == "below" else (shoulder_mm, bottom_mm)
    ring = (shoulder_mm, bottom_mm) if step.side == "below" else (top_mm, shoulder_mm)
    body_mm = length(plate.thickness_mm - step.height_mm, plate.units)
    items += upright(*body, left_mm - 0.8, left_mm - 7.0, body_mm)
    step_left_mm, _ = cut.place(-step.outer_diameter_mm / 2.0, 0.0)
    return items + upright(
        *ring, step_left_mm - 0.8, left_mm - 27.0, f"{length(step.height_mm, plate.units)} step"
    )


def _call_outs(part: PlatePart, turned: list[Turned], cut: Cut, right_mm: float) -> list[Item]:
    """Above the section: the leftmost hole's on top, so that no leader crosses a text."""
    _, face_mm = cut.place(0.0, cut.thickness_mm)
    items: list[Item] = []
    at_mm = face_mm - 4.0
    for one in sorted(turned, key=lambda hole: -hole.at_mm):
        tip = cut.place(one.at_mm, cut.thickness_mm)
        lines = wrapped(_said(part, one.hole), max(40.0, right_mm - tip[0] - 4.0))
        at_mm -= len(lines) * _PITCH_MM + 1.0
        items += called_out(tip, at_mm, lines, _PITCH_MM)
    return items


def _said(part: PlatePart, hole: WholeHole) -> str:
    row = hole_row(part.plate, hole)
    cuts = "; ".join(text for text in (row.drill, row.then) if text)
    return f"{_kind(part, hole.main)}: {cuts}"


def _kind(part: PlatePart, feature: Feature) -> str:
    count = sum(one.role == feature.role and one.kind != "counterbore" for one in part.features)
    words = {"bolt": "bolts", "index": "index holes" if count > 1 else "index hole", "centre": "centre"}
    return words[feature.role] if count == 1 else f"{count} x {words[feature.role]}"
