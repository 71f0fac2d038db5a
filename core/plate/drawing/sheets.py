"""The drawing, sheet by sheet: from above, from below, cut open, the hole table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.base.drawing import Drawing, Item, Label
from core.plate.drawing.dimension import lines_of_text
from core.plate.drawing.frame import (
    BLOCK_MM,
    FROM_ABOVE,
    FROM_BELOW,
    HEIGHT_MM,
    LEFT_MM,
    RIGHT_MM,
    WIDTH_MM,
    Sheet,
    frame,
    scale_for,
)
from core.plate.drawing.labels import Columns, side_labels
from core.plate.drawing.lettering import TEXT_PT, wrapped
from core.plate.drawing.rows import HoleRow, hole_rows
from core.plate.drawing.section import Cut, section
from core.plate.drawing.table import ROW_MM, TABLE_WIDTH_MM, hole_table
from core.plate.drawing.tolerances import datums
from core.plate.drawing.view import View, pointed_holes, shapes, sizes
from core.plate.model import Side
from core.plate.part import PlatePart
from core.plate.words import SHOP_CAUTION

SheetName = Literal["from above", "from below", "section", "hole table"]
#: Middle of the views; how wide a view and the section may be, how high the section.
_VIEW_AT_MM = (148.5, 96.0)
_VIEW_MM, _CUT_MM, _CUT_HIGH_MM = 120.0, 190.0, 50.0
_LABELS_OFF_MM = 14.0
_HEAD_MM = 16.0
_NOTE_PITCH_MM = 4.0
_ROWS = int((BLOCK_MM - 34.0) / ROW_MM) - 1


@dataclass(frozen=True)
class ShopDrawing:
    """A sheet of the drawing: what it shows, and its items on paper A4 on its side."""

    name: SheetName
    drawing: Drawing


def drawing_sheets(part: PlatePart) -> tuple[ShopDrawing, ...]:
    """All sheets of a part's drawing."""
    rows = hole_rows(part)
    tables = [rows[k : k + _ROWS] for k in range(0, len(rows), _ROWS)]
    count = 3 + len(tables)
    return (
        _plan(part, "above", 1, count),
        _plan(part, "below", 2, count),
        _cut(part, count),
        *(_table(part, some, 4 + k, count) for k, some in enumerate(tables)),
    )


def _drawn(name: SheetName, items: list[Item]) -> ShopDrawing:
    return ShopDrawing(name, Drawing(WIDTH_MM, HEIGHT_MM, tuple(items)))


def _heading(text: str, under: str) -> list[Item]:
    return [
        Label(LEFT_MM + 4.0, _HEAD_MM, text, "left", 13.0, bold=True),
        Label(LEFT_MM + 4.0, _HEAD_MM + 6.0, under, "left", TEXT_PT),
    ]


def _plan(part: PlatePart, side: Side, number: int, count: int) -> ShopDrawing:
    scale, words = scale_for(part.plate.outside_diameter_mm, _VIEW_MM)
    view = View(side, *_VIEW_AT_MM, scale)
    name, sense = (FROM_ABOVE, "clockwise") if side == "above" else (FROM_BELOW, "counter-clockwise")
    under = f"h runs {sense} here, from the datum mark on top."
    if side == "below":
        under += " x is the mirrored one."
    off_mm = scale * part.plate.outside_diameter_mm / 2.0 + _LABELS_OFF_MM
    columns = Columns(view.x_mm, off_mm, view.x_mm - LEFT_MM - 2.0 - off_mm, _HEAD_MM + 12.0, BLOCK_MM - 3.0)
    items = [
        *frame(part, Sheet(name, words, number, count)),
        *_heading(name, under),
        *shapes(part, view),
        *sizes(part, view),
        *side_labels(pointed_holes(part, view), columns),
    ]
    return _drawn("from above" if side == "above" else "from below", items)


def _cut(part: PlatePart, count: int) -> ShopDrawing:
    plate = part.plate
    wide, high = (
        scale_for(plate.outside_diameter_mm, _CUT_MM),
        scale_for(plate.thickness_mm, _CUT_HIGH_MM),
    )
    scale, words = min(wide, high)
    cut = Cut(LEFT_MM + 46.0 + scale * plate.outside_diameter_mm / 2.0, 62.0, scale, plate.thickness_mm)
    notes = [
        "Datums. " + " ".join(datums(plate)),
        "Places of holes: hole table; x and y to B and C, depths from the face that the hole begins at.",
        "Edges broken 0.5 x 45 deg. Thread depths are full thread; the drill goes deeper as told.",
        *(
            [f"Anodised {plate.anodise_um:g} um after all cutting; sizes are before it."]
            if plate.anodise_um
            else []
        ),
        SHOP_CAUTION,
    ]
    lines = [line for note in notes for line in wrapped(note, RIGHT_MM - LEFT_MM - 10.0)]
    first_mm = BLOCK_MM - 3.0 - len(lines) * _NOTE_PITCH_MM
    items = [
        *frame(part, Sheet("SECTION, ABOVE IS UP", words, 3, count)),
        *_heading("SECTION", "One hole of each kind turned into the plane; rotator above, tripod below."),
        *section(part, cut, RIGHT_MM - 2.0),
        *lines_of_text(LEFT_MM + 4.0, first_mm, lines, _NOTE_PITCH_MM),
    ]
    return _drawn("section", items)


def _table(part: PlatePart, rows: tuple[HoleRow, ...], number: int, count: int) -> ShopDrawing:
    under = (
        "x to the right, y to the datum mark, from the centre, seen from above; h clockwise from the "
        "datum mark; iota = -h. Seen from below x and h change sign, y stays."
    )
    left_mm = (WIDTH_MM - TABLE_WIDTH_MM) / 2.0
    items = [
        *frame(part, Sheet("HOLE TABLE, SEEN FROM ABOVE", "none", number, count)),
        *_heading("HOLE TABLE", under),
        *hole_table(rows, left_mm, _HEAD_MM + 11.0),
    ]
    return _drawn("hole table", items)
