"""Templates of the holes in true size, to be stuck on the blank: from above, and mirrored from below."""

from __future__ import annotations

from core.base.drawing import Disc, Drawing, Item, Label, Stroke, line_of, on_paper
from core.plate.drawing.dimension import THICK_MM, THIN_MM
from core.plate.drawing.frame import FROM_ABOVE, FROM_BELOW
from core.plate.drawing.lettering import TEXT_PT, fitting
from core.plate.drawing.rows import whole_holes
from core.plate.drawing.view import View
from core.plate.model import Side
from core.plate.part import PlatePart

BAR_MM = 100.0
#: ISO 216, upright, the smallest first.
_PAPERS = (
    ("A4", 210.0, 297.0),
    ("A3", 297.0, 420.0),
    ("A2", 420.0, 594.0),
    ("A1", 594.0, 841.0),
    ("A0", 841.0, 1189.0),
)
#: What printers leave white, and what words and scale bar take above the part.
_MARGIN_MM, _HEAD_MM = 8.0, 62.0
_CROSS_MM = 4.0


def template_pages(part: PlatePart) -> list[Drawing]:
    """One page a side, millimetre for millimetre, each with its scale bar."""
    return [_page(part, "above"), _page(part, "below")]


def _page(part: PlatePart, side: Side) -> Drawing:
    outside_mm = part.plate.outside_diameter_mm
    paper, width_mm, height_mm = next(
        (
            one
            for one in _PAPERS
            if outside_mm + 2.0 * _MARGIN_MM <= one[1] and outside_mm + _HEAD_MM + _MARGIN_MM <= one[2]
        ),
        _PAPERS[-1],
    )
    view = View(side, width_mm / 2.0, (_HEAD_MM + height_mm - _MARGIN_MM) / 2.0, 1.0)
    items = [*_head(part, side, paper, width_mm), *_scale_bar(), *_shapes(part, view)]
    return Drawing(width_mm, height_mm, tuple(items))


def _head(part: PlatePart, side: Side, paper: str, width_mm: float) -> list[Item]:
    name = f"TEMPLATE 1:1, {FROM_ABOVE if side == 'above' else FROM_BELOW}"
    stuck = "Stick it on the rotator's side." if side == "above" else "Stick it on the tripod's side."
    index = [f"{hole.number} {hole.main.name}" for hole in whole_holes(part) if hole.main.role == "index"]
    lines = (
        (name, 13.0, True),
        (
            f"{part.title or 'adapter plate'}, plan {part.plan_identity or 'unnamed'}, part {part.identity}",
            TEXT_PT,
            False,
        ),
        (f"Print on {paper} at 100 %, never fitted to the page. {stuck} Datum mark on top.", TEXT_PT, False),
        ("For marking out and checking; the hole table goes before it. " + ", ".join(index), TEXT_PT, False),
    )
    return [
        fitting(Label(12.0, 14.0 + 6.0 * k, text, "left", size, bold), width_mm - 24.0)
        for k, (text, size, bold) in enumerate(lines)
    ]


def _scale_bar() -> list[Item]:
    """100 mm from tick to tick, each tenth marked."""
    left_mm, y_mm = 20.0, 46.0
    items: list[Item] = [line_of([(left_mm, y_mm), (left_mm + BAR_MM, y_mm)], 0.3)]
    for k in range(11):
        high_mm = 3.0 if k in (0, 10) else 1.5
        x_mm = left_mm + k * BAR_MM / 10.0
        items.append(line_of([(x_mm, y_mm - high_mm), (x_mm, y_mm + high_mm)], THIN_MM))
    note = "Measure this bar: 100 mm (3.937 in). If it is not, the printer has scaled the page."
    return [*items, Label(left_mm, y_mm + 6.0, note, "left", TEXT_PT, bold=True)]


def _shapes(part: PlatePart, view: View) -> list[Item]:
    """Rim, centre cross, every hole's circles with a cross to punch at and its name."""
    plate = part.plate
    radius_mm = plate.outside_diameter_mm / 2.0
    x, y = view.x_mm, view.y_mm
    items: list[Item] = [
        Disc(x, y, radius_mm, 0.3),
        Stroke(on_paper([(x, y - radius_mm), (x, y + radius_mm)]), 0.13, "chain"),
        Stroke(on_paper([(x - radius_mm, y), (x + radius_mm, y)]), 0.13, "chain"),
        line_of([(x, y - radius_mm), (x, y - radius_mm + 6.0)], THICK_MM),
        Label(x + 2.0, y - radius_mm + 5.0, "datum", "left", TEXT_PT, bold=True),
    ]
    for hole in whole_holes(part):
        hole_x, hole_y = view.place(hole.main.x_mm, hole.main.y_mm)
        cuts = [feature for feature in (hole.main, hole.counterbore) if feature is not None]
        items.extend(Disc(hole_x, hole_y, cut.diameter_mm / 2.0, THIN_MM) for cut in cuts)
        items += [
            Stroke(((hole_x - _CROSS_MM, hole_y), (hole_x + _CROSS_MM, hole_y)), 0.13),
            Stroke(((hole_x, hole_y - _CROSS_MM), (hole_x, hole_y + _CROSS_MM)), 0.13),
        ]
        wide_mm = (hole.counterbore or hole.main).diameter_mm / 2.0
        items.append(Label(hole_x, hole_y + wide_mm + 3.0, f"{hole.number}", size_pt=TEXT_PT, on_white=True))
    return items
