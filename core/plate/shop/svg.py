"""The drawing as SVG: every sheet a group, one under the other, in millimetres."""

from __future__ import annotations

from xml.etree import ElementTree as Xml

from core.base.drawing import Drawing
from core.base.drawing_svg import add_items
from core.plate.drawing.sheets import ShopDrawing, drawing_sheets
from core.plate.part import PlatePart


def drawing_svg(part: PlatePart) -> bytes:
    """All sheets; a group's id is the sheet's name with hyphens."""
    return sheets_svg(f"drawing, part {part.identity}", drawing_sheets(part))


def sheets_svg(title: str, sheets: tuple[ShopDrawing, ...]) -> bytes:
    """Sheets under each other; x to the right and y down in mm within each group."""
    width_mm = max(sheet.drawing.width_mm for sheet in sheets)
    height_mm = sum(sheet.drawing.height_mm for sheet in sheets)
    root = Xml.Element(
        "svg", xmlns="http://www.w3.org/2000/svg", width=f"{width_mm:g}mm", height=f"{height_mm:g}mm",
        viewBox=f"0 0 {width_mm:g} {height_mm:g}",
    )  # fmt: skip
    Xml.SubElement(root, "title").text = title
    Xml.SubElement(root, "rect", width="100%", height="100%", fill="white")
    top_mm = 0.0
    names: list[str] = []
    for sheet in sheets:
        names.append(sheet.name)
        again = names.count(sheet.name)
        name = sheet.name.replace(" ", "-") + (f"-{again}" if again > 1 else "")
        _add(root, name, sheet.drawing, top_mm)
        top_mm += sheet.drawing.height_mm
    Xml.indent(root)
    content: bytes = Xml.tostring(root, encoding="utf-8", xml_declaration=True)
    return content + b"\n"


def _add(root: Xml.Element, name: str, drawing: Drawing, top_mm: float) -> None:
    group = Xml.SubElement(root, "g", {"id": name, "transform": f"translate(0 {top_mm:g})"})
    group.set("font-family", "Inter, Arial, Helvetica, sans-serif")
    add_items(group, drawing.items)
