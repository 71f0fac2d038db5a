"""A drawing's items as SVG: for a file of its own and for a page that holds them."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from xml.etree import ElementTree as Xml

from core.base.drawing import POINT_MM, Dash, Disc, Drawing, Item, Label, Stroke

_DASHES: dict[Dash, str] = {"dashed": "1.2 0.9", "dotted": "0.25 0.9", "chain": "4 0.8 0.4 0.8"}
_ANCHORS = {"left": "start", "center": "middle", "right": "end"}
#: Height of Inter's capitals, in shares of the text's size.
_CAPITALS = 0.727
#: What says where an element is, and not how it looks.
_PLACES = frozenset({"points", "cx", "cy", "r", "x", "y"})


def svg_of(drawing: Drawing, name: str) -> str:
    """One drawing as an element to stand in a page.

    ``name`` says what it shows to those who do not see it; empty where the words beside it say so already.
    """
    box = f"0 0 {drawing.width_mm:g} {drawing.height_mm:g}"
    told = {"role": "img", "aria-label": name} if name else {"aria-hidden": "true"}
    root = Xml.Element("svg", {"viewBox": box} | told)
    add_items(root, drawing.items)
    _grouped(root)
    return Xml.tostring(root, encoding="unicode")


def _grouped(root: Xml.Element) -> None:
    """What neighbours have in common, but their places, is said once, by a group around them."""

    def look(child: Xml.Element) -> tuple[tuple[str, str], ...]:
        return tuple(pair for pair in child.items() if pair[0] not in _PLACES)

    for paint, run in groupby(list(root), key=look):
        alike = list(run)
        if len(alike) < 2 or not paint:
            continue
        group = Xml.Element("g", dict(paint))
        root.insert(list(root).index(alike[0]), group)
        for child in alike:
            root.remove(child)
            for name, _ in paint:
                del child.attrib[name]
            group.append(child)


def add_items(group: Xml.Element, items: Iterable[Item]) -> None:
    """Items in the order they are painted, mm."""
    for item in items:
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
