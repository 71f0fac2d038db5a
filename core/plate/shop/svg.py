"""The drawing as SVG: every sheet a group, one under the other, in millimetres."""

from __future__ import annotations

from xml.etree import ElementTree as Xml

from core.base.drawing import Dash, Disc, Drawing, Item, Label, Stroke
from core.plate.drawing.lettering import POINT_MM
from core.plate.drawing.sheets import ShopDrawing, drawing_sheets
from core.plate.part import PlatePart

_DASHES: dict[Dash, str] = {"dashed": "1.2 0.9", "dotted": "0.25 0.9", "chain": "4 0.8 0.4 0.8"}
_ANCHORS = {"left": "start", "center": "middle", "right": "end"}
#: Height of Inter's capitals, in shares of the text's size.
_CAPITALS = 0.727


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
    for item in drawing.items:
        _draw(group, item)


def _draw(group: Xml.Element, item: Item) -> None:
    if isinstance(item, Label):
        _write(group, item)
    elif isinstance(item, Disc):
        place = {"cx": f"{item.x_mm:g}", "cy": f"{item.y_mm:g}", "r": f"{item.radius_mm:g}"}
        Xml.SubElement(group, "circle", place | _paint(item))
    else:
        points = " ".join(f"{x:g},{y:g}" for x, y in item.points_mm)
        Xml.SubElement(group, "polygon" if item.closed else "polyline", {"points": points} | _paint(item))


def _paint(item: Stroke | Disc) -> dict[str, str]:
    paint: dict[str, str] = {"fill": item.fill}
    if item.width_mm > 0.0:
        paint |= {"stroke": "black", "stroke-width": f"{item.width_mm:g}"}
    if item.dash != "solid":
        paint["stroke-dasharray"] = _DASHES[item.dash]
    return paint


def _write(group: Xml.Element, label: Label) -> None:
    """A label; on white it has a broad white rim under its letters."""
    size_mm = label.size_pt * POINT_MM
    attributes = {
        "x": f"{label.x_mm:g}",
        "y": f"{label.y_mm + _CAPITALS * size_mm / 2.0:.3f}",
        "font-size": f"{size_mm:.3f}",
        "text-anchor": _ANCHORS[label.anchor],
    }
    if label.bold:
        attributes["font-weight"] = "bold"
    if label.on_white:  # a ground of its own: not every reader of SVG paints a stroke below its filling
        ground = {"fill": "white", "stroke": "white", "stroke-width": f"{0.5 * size_mm:.3f}"}
        Xml.SubElement(group, "text", attributes | ground).text = label.text
    Xml.SubElement(group, "text", attributes).text = label.text
