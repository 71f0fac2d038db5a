"""The hole table laid out as lines and labels of a drawing."""

from __future__ import annotations

from core.base.drawing import Anchor, Item, Label, line_of
from core.plate.drawing.dimension import THIN_MM
from core.plate.drawing.lettering import TEXT_PT, fitting
from core.plate.drawing.rows import HEADS, HoleRow

ROW_MM = 4.6
_WIDTHS_MM = (8.0, 36.0, 42.0, 82.0, 16.0, 16.0, 15.0, 17.0, 16.0, 14.0, 13.0)
TABLE_WIDTH_MM = sum(_WIDTHS_MM)
_RIGHT_FROM = 4


def hole_table(rows: tuple[HoleRow, ...], left_mm: float, top_mm: float) -> list[Item]:
    """Heads and rows, ruled; figures end at the right of their column."""
    items: list[Item] = []
    for number, cells in enumerate((HEADS, *(row.cells for row in rows))):
        y_mm = top_mm + number * ROW_MM
        items.append(line_of([(left_mm, y_mm), (left_mm + TABLE_WIDTH_MM, y_mm)], THIN_MM))
        items += _cells(cells, left_mm, y_mm + ROW_MM / 2.0, bold=number == 0)
    bottom_mm = top_mm + (len(rows) + 1) * ROW_MM
    items.append(line_of([(left_mm, bottom_mm), (left_mm + TABLE_WIDTH_MM, bottom_mm)], THIN_MM))
    x_mm = left_mm
    for width_mm in (0.0, *_WIDTHS_MM):
        x_mm += width_mm
        items.append(line_of([(x_mm, top_mm), (x_mm, bottom_mm)], THIN_MM))
    return items


def _cells(cells: tuple[str, ...], left_mm: float, y_mm: float, bold: bool) -> list[Item]:
    items: list[Item] = []
    for column, (text, width_mm) in enumerate(zip(cells, _WIDTHS_MM, strict=True)):
        right = column >= _RIGHT_FROM
        anchor: Anchor = "right" if right else "left"
        x_mm = left_mm + width_mm - 1.0 if right else left_mm + 1.0
        if text:
            items.append(fitting(Label(x_mm, y_mm, text, anchor, TEXT_PT, bold=bold), width_mm - 2.0))
        left_mm += width_mm
    return items
