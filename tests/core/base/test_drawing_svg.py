from __future__ import annotations

from xml.etree import ElementTree as Xml

from core.base.drawing import POINT_MM, Disc, Drawing, Label, Stroke
from core.base.drawing_svg import svg_of

_ITEMS = (
    Stroke(((1.0, 2.0), (3.0, 4.0)), 0.3),
    Stroke(((5.0, 2.0), (6.5, 4.0)), 0.3),
    Stroke(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), 0.0, closed=True, fill="black"),
    Disc(10.0, 11.0, 2.5, 0.4, "white", "dashed"),
    Label(4.0, 5.0, '<b>"N" & S</b>', bold=True, on_white=True),
)


def _drawn(name=""):
    return Xml.fromstring(svg_of(Drawing(30.0, 20.0, _ITEMS), name))


def _told(root):
    """Every element but groups with all that is said of it, by itself or by the group around it."""
    found = []
    for child in root:
        inside = list(child) if child.tag == "g" else [child]
        around = child.attrib if child.tag == "g" else {}
        found += [(one.tag, {**around, **one.attrib}, one.text) for one in inside]
    return found


def test_every_item_is_there_in_its_order_and_place():
    told = _told(_drawn())
    assert [tag for tag, _, _ in told] == ["polyline", "polyline", "polygon", "circle", "text", "text"]
    line = {"fill": "none", "stroke": "black", "stroke-width": "0.3"}
    assert told[0][1] == {"points": "1,2 3,4", **line}
    assert told[1][1] == {"points": "5,2 6.5,4", **line}
    assert told[2][1] == {"points": "0,0 1,0 1,1", "fill": "black"}
    assert told[3][1]["stroke-dasharray"] == "1.2 0.9"
    assert (told[3][1]["cx"], told[3][1]["cy"], told[3][1]["r"]) == ("10", "11", "2.5")
    assert told[4][1]["fill"] == "white"
    assert told[5][1]["font-size"] == f"{9.0 * POINT_MM:.3f}"


def test_what_neighbours_share_is_said_once():
    group = _drawn()[0]
    assert group.tag == "g"
    assert [one.attrib for one in group] == [{"points": "1,2 3,4"}, {"points": "5,2 6.5,4"}]


def test_a_label_is_text_and_never_markup():
    assert _told(_drawn())[-1][2] == '<b>"N" & S</b>'
    assert "&lt;b&gt;" in svg_of(Drawing(30.0, 20.0, _ITEMS), "")


def test_it_is_named_or_passed_over_when_read_aloud():
    assert _drawn("the sky").attrib["aria-label"] == "the sky"
    assert _drawn().attrib == {"viewBox": "0 0 30 20", "aria-hidden": "true"}
