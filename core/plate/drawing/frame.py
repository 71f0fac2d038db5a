"""A sheet's frame and title block, A4 on its side; which scale a view is drawn at."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.drawing import Item, Label, Stroke, line_of, on_paper
from core.plate.drawing.dimension import THICK_MM, THIN_MM
from core.plate.drawing.lettering import TEXT_PT, fitting, shortened
from core.plate.drawing.tolerances import GENERAL
from core.plate.part import PlatePart

WIDTH_MM, HEIGHT_MM = 297.0, 210.0
LEFT_MM, TOP_MM, RIGHT_MM, BOTTOM_MM = 10.0, 10.0, 287.0, 200.0
#: Where the title block begins: what is drawn stays above.
BLOCK_MM = 178.5
_ROW_MM = (BOTTOM_MM - BLOCK_MM) / 3.0
_COLUMNS_MM = (10.0, 98.0, 143.0, 196.0, 287.0)

FROM_ABOVE = "SEEN FROM ABOVE"
FROM_BELOW = "SEEN FROM BELOW, MIRRORED"
#: ISO 5455, the larger first.
SCALES = ((5.0, "5:1"), (2.0, "2:1"), (1.0, "1:1"), (0.5, "1:2"), (0.2, "1:5"), (0.1, "1:10"))


@dataclass(frozen=True)
class Sheet:
    """What a sheet's title block says of it."""

    view: str
    scale: str
    number: int
    count: int


def identities(part: PlatePart) -> str:
    """``plan 0123abcd, part 89abcdef``; the part's alone where no plan is named."""
    plan = f"plan {part.plan_identity}, " if part.plan_identity else ""
    return f"{plan}part {part.identity}"


def scale_for(size_mm: float, room_mm: float) -> tuple[float, str]:
    """The largest standard scale at which the size fits the room."""
    return next((one for one in SCALES if size_mm * one[0] <= room_mm), SCALES[-1])


def frame(part: PlatePart, sheet: Sheet) -> list[Item]:
    """Border and title block."""
    corners = [(LEFT_MM, TOP_MM), (RIGHT_MM, TOP_MM), (RIGHT_MM, BOTTOM_MM), (LEFT_MM, BOTTOM_MM)]
    items: list[Item] = [Stroke(on_paper(corners), THICK_MM, closed=True)]
    for row in range(3):
        y_mm = BLOCK_MM + row * _ROW_MM
        items.append(line_of([(LEFT_MM, y_mm), (RIGHT_MM, y_mm)], THIN_MM))
    items.extend(line_of([(x_mm, BLOCK_MM), (x_mm, BOTTOM_MM)], THIN_MM) for x_mm in _COLUMNS_MM[1:-1])
    return items + _cells(part, sheet)


def _cells(part: PlatePart, sheet: Sheet) -> list[Item]:
    plate = part.plate
    unit = "inches" if plate.units == "inch" else "mm"
    rows = (
        (
            shortened(part.title or "adapter plate", _COLUMNS_MM[1] - _COLUMNS_MM[0] - 3.0),
            f"plan {part.plan_identity}" if part.plan_identity else "",
            f"part {part.identity}",
            sheet.view,
        ),
        (
            "adapter plate, tripod to rotator",
            f"scale {sheet.scale}",
            f"lengths in {unit}, angles in deg",
            f"general tolerance {GENERAL}",
        ),
        (
            f"{plate.material}, {part.mass_kg:.2f} kg finished",
            f"sheet {sheet.number} of {sheet.count}",
            "do not measure off the print",
            "advice for planning, no structural certificate",
        ),
    )
    items: list[Item] = []
    for row, texts in enumerate(rows):
        for column, text in enumerate(texts):
            left_mm, right_mm = _COLUMNS_MM[column] + 1.5, _COLUMNS_MM[column + 1]
            y_mm = BLOCK_MM + (row + 0.5) * _ROW_MM
            label = Label(left_mm, y_mm, text, "left", TEXT_PT, bold=row == 0)
            if text:
                items.append(fitting(label, right_mm - left_mm - 1.0))
    return items
