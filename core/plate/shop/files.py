"""The files that go to the shop: one list, each with its name and who makes its content."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from core.plate.part import PlatePart
from core.plate.shop.dxf import dxf_from_above, dxf_from_below
from core.plate.shop.hole_table import hole_table_csv
from core.plate.shop.paper import drawing_pdf, shop_sheet_pdf, template_pdf
from core.plate.shop.solid import solids_can_be_made, step_bytes
from core.plate.shop.svg import drawing_svg

Writer = tuple[str, Callable[[PlatePart], bytes]]

#: Name in the folder, and its content; a further form of the part joins here.
WRITERS: tuple[Writer, ...] = (
    ("drawing.pdf", drawing_pdf),
    ("drawing.svg", drawing_svg),
    ("shop_sheet.pdf", shop_sheet_pdf),
    ("template.pdf", template_pdf),
    ("hole_table.csv", hole_table_csv),
    ("seen_from_above.dxf", dxf_from_above),
    ("seen_from_below_mirrored.dxf", dxf_from_below),
)
_SOLID: Writer = ("solid.step", step_bytes)
NO_SOLID = 'No solid (STEP): it needs Northkey\'s extra "shop".'


def writers() -> tuple[Writer, ...]:
    """All that can be made here: the solid only where its kernel is installed."""
    return (*WRITERS, _SOLID) if solids_can_be_made() else WRITERS


def shop_files(part: PlatePart) -> Iterator[tuple[str, bytes]]:
    """Each file's name and content, made when it is asked for."""
    for name, content_of in writers():
        yield name, content_of(part)
