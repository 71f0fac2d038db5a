"""The drawing as SVG, read back."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree

import numpy as np

from core.mount.model.station import Mount
from core.plate.drawing.sheets import drawing_sheets
from core.plate.shop.svg import drawing_svg
from tests.core.plate.samples import crowded_part, demo_part, mount_of, part_of, plate_of

SVG = "{http://www.w3.org/2000/svg}"


def sheets_in(content):
    root = ElementTree.fromstring(content)
    return root, {group.get("id"): group for group in root.findall(f"{SVG}g")}


def circles(group):
    return [
        (float(one.get("cx")) - 148.5, float(one.get("cy")), float(one.get("r")))
        for one in group.iter(f"{SVG}circle")
    ]


def test_the_sheet_from_below_is_the_mirrored_one():
    _, sheets = sheets_in(drawing_svg(part_of(plate_of(), mount_of(-30.0, 75.0))))
    above, below = circles(sheets["from-above"]), circles(sheets["from-below"])
    assert np.allclose([(-x, y, r) for x, y, r in above], below, atol=0.01)
    assert not np.allclose(above, below, atol=0.01)


def test_every_item_is_drawn_once():
    part = demo_part()
    _, sheets = sheets_in(drawing_svg(part))
    assert [sum(not is_ground(one) for one in group) for group in sheets.values()] == [
        len(sheet.drawing.items) for sheet in drawing_sheets(part)
    ]


def is_ground(one: ElementTree.Element) -> bool:
    """The white rim below a label, an element of its own."""
    return one.tag == f"{SVG}text" and one.get("fill") == "white"


def test_a_figure_is_readable_where_strokes_are_painted_over_fillings():
    """Not every reader of SVG knows an order of painting: the rim lies below, the letters have none."""
    _, sheets = sheets_in(drawing_svg(demo_part()))
    grounds = 0
    for group in sheets.values():
        parts = list(group)
        for one, after in pairwise([*parts, parts[-1]]):
            if is_ground(one):
                grounds += 1
                assert (after.text, after.get("x"), after.get("y")) == (one.text, one.get("x"), one.get("y"))
                assert "stroke" not in after.attrib
    assert grounds > 5


def test_a_millimetre_of_the_sheet_is_one_of_the_paper():
    root, _ = sheets_in(drawing_svg(demo_part()))
    assert (root.get("width"), root.get("height")) == ("297mm", "840mm")
    assert root.get("viewBox") == "0 0 297 840"


def test_more_table_sheets_have_names_of_their_own():
    _, sheets = sheets_in(drawing_svg(crowded_part()))
    assert list(sheets)[3:] == ["hole-table", "hole-table-2", "hole-table-3"]


def test_text_from_the_plan_stays_text():
    name = "<script/>&]]>'\""
    part = part_of(plate_of(), Mount(index_holes=[{"name": name}], index_hole=name), title=name)
    root, _ = sheets_in(drawing_svg(part))
    tags = {one.tag.removeprefix(SVG) for one in root.iter()}
    assert tags == {"svg", "title", "rect", "g", "circle", "polyline", "polygon", "text"}
    texts = [one.text for one in root.iter(f"{SVG}text")]
    assert name in texts
    assert f"index {name}" in texts
