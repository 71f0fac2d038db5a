"""The evening on the dial: time across, the azimuth axis up."""

from core.mount.evening.drawn import drawn_pass
from core.sheet.drawing.strip import evening_strip
from tests.core.sheet.drawing.boxes import inside_its_box
from tests.core.sheet.samples import EVERY_KIND, Wanted, evening


def test_the_strip_puts_time_across_and_the_axis_up():
    plan, result = evening()
    passes = [drawn_pass(contact.check, plan.mount) for contact in result.order.contacts]
    drawing = evening_strip(result.order.contacts, passes, plan.mount, "Europe/Vienna")
    inside_its_box(drawing)
    tracks = [i for i in drawing.items if i.kind == "stroke" and i.width_mm == 1.6]
    first = tracks[0].points_mm
    assert first[0][0] < first[-1][0]
    assert first[0][1] < first[-1][1]  # pass 1 turns counter-clockwise: down from the clockwise stop
    labels = [i.text for i in drawing.items if i.kind == "label"]
    assert {"1", "2", "3", "4", "5", "7", "8"} <= set(labels)
    assert "113.0 true" in labels
    assert "UTC" in labels
    assert "local" in labels


def test_no_strip_for_many_days():
    plan, result = evening((EVERY_KIND[0], Wanted("upright", "LATE", 100_000.0, 36.0, 20.0)))
    passes = [drawn_pass(contact.check, plan.mount) for contact in result.order.contacts]
    assert evening_strip(result.order.contacts, passes, plan.mount, "UTC") is None
