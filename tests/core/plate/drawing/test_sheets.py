"""The drawing's sheets: nothing over anything else, nothing off the paper, below mirrored."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings

from core.base.drawing import Disc, Label
from core.base.words import plain
from core.plate.drawing.frame import BLOCK_MM
from core.plate.drawing.lettering import label_box
from core.plate.drawing.rows import hole_rows, whole_holes
from core.plate.drawing.sheets import drawing_sheets
from core.plate.drawing.template import template_pages
from core.plate.drawing.tolerances import place_mm
from core.plate.tables.screws import cap_screw
from tests.core.plate.samples import crowded_part, demo_part, mount_of, part_of, plate_of, plates

PARTS = {
    "demo": demo_part,
    "crowded": crowded_part,
    "bare": lambda: part_of(plate_of(step=None, bolts=None, centre_thread=None), mount_of(0.0)),
    "small in inches": lambda: part_of(
        plate_of(
            units="inch", outside_diameter_mm=60.0, thickness_mm=16.0, step=None, centre_thread="M8",
            bolts={"thread": "M4", "count": 3, "circle_diameter_mm": 48.0},
            index_pin={"thread": "M3", "circle_radius_mm": 15.0},
        )
    ),
    "large, step above": lambda: part_of(
        plate_of(
            outside_diameter_mm=600.0, thickness_mm=150.0, anodise_um=25.0,
            step={"outer_diameter_mm": 600.0, "height_mm": 90.0, "side": "above"},
        )
    ),
    "free places": lambda: part_of(
        plate_of(bolts={"points_mm": [[70.0, 3.0 * k - 30.0] for k in range(20)]})
    ),
}  # fmt: skip


def labels_of(drawing):
    return [item for item in drawing.items if isinstance(item, Label)]


def assert_apart(drawing):
    boxes = [(label.text, label_box(label)) for label in labels_of(drawing)]
    for (one, a), (other, b) in combinations(boxes, 2):
        over = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
        assert min(over) <= 1e-6, (one, other)


def assert_on_paper(drawing):
    for label in labels_of(drawing):
        left, top, right, bottom = label_box(label)
        assert left >= 10.0, label
        assert right <= drawing.width_mm - 10.0, label
        assert top >= 10.0, label
        assert bottom <= drawing.height_mm - 10.0, label
        assert bottom <= BLOCK_MM or top >= BLOCK_MM, label


@pytest.mark.parametrize("name", PARTS)
def test_no_text_lies_over_another_or_off_the_sheet(name):
    for sheet in drawing_sheets(PARTS[name]()):
        assert_apart(sheet.drawing)
        assert_on_paper(sheet.drawing)


@settings(max_examples=20)
@given(plate=plates())
def test_nor_on_any_drawn_plate(plate):
    for sheet in drawing_sheets(part_of(plate)):
        assert_apart(sheet.drawing)
        assert_on_paper(sheet.drawing)


def circles(drawing):
    discs = [item for item in drawing.items if isinstance(item, Disc)]
    return [(disc.x_mm - 148.5, disc.y_mm, disc.radius_mm) for disc in discs]


@settings(max_examples=20)
@given(plate=plates())
def test_the_view_from_below_is_the_mirrored_one(plate):
    above, below, *_ = drawing_sheets(part_of(plate, mount_of(-30.0, 75.0)))
    assert (above.name, below.name) == ("from above", "from below")
    mirrored = [(-x, y, r) for x, y, r in circles(above.drawing)]
    assert np.allclose(mirrored, circles(below.drawing), atol=1e-3)
    assert not np.allclose(circles(above.drawing), circles(below.drawing), atol=1e-3)


def test_a_hole_clockwise_of_the_mark_is_right_from_above_and_left_from_below():
    part = part_of(plate_of(), mount_of(-30.0))
    radius = 0.5 * 2.5  # 1:2, the M6 drill
    for sheet, sign in zip(drawing_sheets(part)[:2], (1.0, -1.0), strict=True):
        (place,) = {
            (d.x_mm, d.y_mm) for d in sheet.drawing.items if isinstance(d, Disc) and d.radius_mm == radius
        }
        assert place == pytest.approx((148.5 + sign * 0.5 * 23.5, 96.0 - 0.5 * 40.70319), abs=1e-3)


def test_every_sheet_says_from_where_it_is_seen():
    part = demo_part()
    words = [{label.text for label in labels_of(sheet.drawing)} for sheet in drawing_sheets(part)]
    assert "SEEN FROM ABOVE" in words[0] - words[1]
    assert "SEEN FROM BELOW, MIRRORED" in words[1] - words[0]
    assert "SECTION, ABOVE IS UP" in words[2]
    assert "HOLE TABLE, SEEN FROM ABOVE" in words[3]
    assert all(f"part {part.identity}" in some for some in words)


def test_both_views_tell_iota_and_h_side_by_side():
    part = part_of(plate_of(), mount_of(-30.0))
    above, below = (
        " ".join(label.text for label in labels_of(sheet.drawing)) for sheet in drawing_sheets(part)[:2]
    )
    assert "h 30, iota -30 deg" in above
    assert "h 30 (330 here), iota -30 deg" in below


def test_the_table_has_every_hole_with_size_depth_tolerance_and_place():
    part = crowded_part()
    printed = [label.text for sheet in drawing_sheets(part)[3:] for label in labels_of(sheet.drawing)]
    rows = hole_rows(part)
    assert len(rows) == 73
    for row, hole in zip(rows, whole_holes(part), strict=True):
        assert printed.count(row.number) >= 1
        assert row.name == hole.main.name
        assert row.name in printed
        assert row.x in printed
        assert row.place.startswith("±")
    index = rows[-1]
    assert (index.h, index.iota) == (plain(38.0), plain(322.0))


def test_what_a_bolts_place_may_be_off_leaves_half_its_clearance_to_the_rotator():
    plate = plate_of()
    bolt = next(hole.main for hole in whole_holes(part_of(plate)) if hole.main.role == "bolt")
    stray_mm = (cap_screw("M8").clearance_mm("normal") - 8.0) / 2.0
    assert 0.0 < 2.0**0.5 * place_mm(plate, bolt) <= stray_mm / 2.0 + 1e-9


@pytest.mark.parametrize("name", PARTS)
def test_a_template_is_in_true_size_on_paper_that_holds_it(name):
    part = PARTS[name]()
    for page, sign in zip(template_pages(part), (1.0, -1.0), strict=True):
        rim = next(item for item in page.items if isinstance(item, Disc))
        assert rim.radius_mm == part.plate.outside_diameter_mm / 2.0
        assert rim.x_mm - rim.radius_mm >= 4.0
        assert rim.y_mm + rim.radius_mm <= page.height_mm - 4.0
        assert rim.y_mm - rim.radius_mm >= 55.0  # under the words and the bar
        places = [(d.x_mm - rim.x_mm, rim.y_mm - d.y_mm) for d in page.items if isinstance(d, Disc)]
        for hole in whole_holes(part):
            assert (sign * hole.main.x_mm, hole.main.y_mm) in [pytest.approx(place) for place in places]


def test_drawing_and_order_of_work_allow_the_centre_hole_the_same():
    part = demo_part()
    centre = next(row for row in hole_rows(part) if row.name == "centre")
    assert centre.place == "±0.02"
    assert any("step to centre hole: dial gauge within 0.02 mm" in one.inspect for one in part.operations)
