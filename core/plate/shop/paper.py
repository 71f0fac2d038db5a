"""The part on paper: drawing, shop sheet and template as PDF."""

from __future__ import annotations

import json

from core.base.drawing import Drawing
from core.base.typesetting import typeset
from core.plate.drawing.sheets import drawing_sheets
from core.plate.drawing.template import template_pages
from core.plate.part import PlatePart
from core.plate.shop.sheet import shop_sheet


def drawing_pdf(part: PlatePart) -> bytes:
    """The drawing, one sheet a page."""
    return pages_pdf(f"drawing, part {part.identity}", [sheet.drawing for sheet in drawing_sheets(part)])


def template_pdf(part: PlatePart) -> bytes:
    """The templates in true size, from above and from below."""
    return pages_pdf(f"template, part {part.identity}", template_pages(part))


def shop_sheet_pdf(part: PlatePart) -> bytes:
    """Hole table, order of work, what to measure, hazards."""
    return typeset("plate_shop.typ", {"shop": _sheet_json(part)}, format="pdf")[0]


def _sheet_json(part: PlatePart) -> str:
    return json.dumps(shop_sheet(part), ensure_ascii=False)


def pages_pdf(title: str, drawings: list[Drawing]) -> bytes:
    """Drawings as PDF in their own size."""
    return typeset("plate_drawing.typ", {"drawings": _as_json(title, drawings)}, format="pdf")[0]


def _as_json(title: str, drawings: list[Drawing]) -> str:
    return json.dumps({"title": title, "drawings": drawings}, default=vars, ensure_ascii=False)
