"""The shop's PDFs: every row of the table in words, the template in true size, text that stays text."""

from __future__ import annotations

import io

import numpy as np
import pytest
from pypdf import PdfReader

from core.base.drawing import Disc, Drawing, Label
from core.mount.model.station import Mount
from core.plate.drawing.rows import hole_rows
from core.plate.drawing.sheets import drawing_sheets
from core.plate.drawing.template import template_pages
from core.plate.shop.paper import drawing_pdf, pages_pdf, shop_sheet_pdf, template_pdf
from core.plate.words import SHOP_CAUTION
from tests.core.plate.samples import demo_part, mount_of, part_of, plate_of
from tests.core.plate.shop.pdf_outlines import circles_of, filled_boxes_of

POINTS_PER_MM = 72.0 / 25.4


def pages_of(content):
    return PdfReader(io.BytesIO(content)).pages


def squeezed(text):
    return "".join(text.split())


def text_of(content):
    return squeezed("".join(page.extract_text() for page in pages_of(content)))


@pytest.fixture(scope="module")
def part():
    return part_of(plate_of(), mount_of(-30.0, 75.0))


@pytest.mark.parametrize("write", [drawing_pdf, shop_sheet_pdf])
def test_every_row_of_the_hole_table_is_printed(write, part):
    text = text_of(write(part))
    for row in hole_rows(part):
        assert squeezed("".join(row.cells)) in text, row.name
    assert "0123abcd" in text
    assert part.identity in text


def test_the_shop_sheet_has_every_step_with_its_measure_and_hazard(part):
    text = text_of(shop_sheet_pdf(part))
    for one in part.operations:
        for words in (one.work, one.tool, one.held_by, one.inspect, one.hazard):
            assert squeezed(words) in text, words
    assert squeezed(SHOP_CAUTION) in text


def test_a_part_that_does_not_hold_is_not_handed_on_in_silence():
    good = demo_part()
    assert not [check for check in good.checks if not check.holds]
    assert "Notreadytobecut" not in text_of(shop_sheet_pdf(good))
    weak = part_of(plate_of(loads={"hand_n": 2000.0}))
    assert [check for check in weak.checks if not check.holds]
    assert "Notreadytobecut" in text_of(shop_sheet_pdf(weak))


def test_the_drawing_has_a_page_a_sheet_on_a4(part):
    pages = pages_of(drawing_pdf(part))
    assert len(pages) == len(drawing_sheets(part))
    for page in pages:
        size = [float(side) / POINTS_PER_MM for side in (page.mediabox.width, page.mediabox.height)]
        assert size == pytest.approx([297.0, 210.0], abs=0.01)


@pytest.mark.parametrize("number", [0, 1])
def test_the_template_is_printed_in_true_size(part, number):
    page = pages_of(template_pdf(part))[number]
    drawing = template_pages(part)[number]
    printed = circles_of(page)
    meant = [
        (
            disc.x_mm * POINTS_PER_MM,
            (drawing.height_mm - disc.y_mm) * POINTS_PER_MM,
            disc.radius_mm * POINTS_PER_MM,
        )
        for disc in drawing.items
        if isinstance(disc, Disc)
    ]
    assert len(printed) == len(meant)
    assert np.allclose(printed, meant, atol=0.01)


def test_the_templates_centres_are_the_hole_table_from_its_rim(part):
    above, below = (circles_of(page) for page in pages_of(template_pdf(part)))
    for circles, sign in ((above, 1.0), (below, -1.0)):
        rim = max(circles, key=lambda circle: circle[2])
        centres = [((x - rim[0]) / POINTS_PER_MM, (y - rim[1]) / POINTS_PER_MM) for x, y, _ in circles]
        for one in part.features:
            assert (sign * one.x_mm, one.y_mm) in [pytest.approx(centre, abs=0.01) for centre in centres]


def test_the_bar_is_told_to_be_measured(part):
    for page in pages_of(template_pdf(part)):
        assert squeezed("Measure this bar: 100 mm") in squeezed(page.extract_text())


def test_a_label_is_centred_on_its_place_in_height():
    page = pages_of(pages_pdf("label", [Drawing(40.0, 20.0, (Label(5.0, 8.0, "H", "left", 10.0),))]))[0]
    baselines = []
    page.extract_text(
        visitor_text=lambda text, cm, tm, *_: (
            baselines.append(cm[5] + cm[3] * tm[5]) if text.strip() else None
        )
    )
    assert baselines[0] == pytest.approx((20.0 - 8.0) * POINTS_PER_MM - 0.727 * 10.0 / 2.0, abs=0.1)


def test_a_label_on_white_hides_what_is_behind_it():
    page = pages_of(pages_pdf("label", [Drawing(40.0, 20.0, (Label(20.0, 8.0, "Ø190", on_white=True),))]))[0]
    ((left, lower, right, upper),) = filled_boxes_of(page)
    assert left < 20.0 * POINTS_PER_MM - 8.0
    assert right > 20.0 * POINTS_PER_MM + 8.0
    assert lower < 12.0 * POINTS_PER_MM - 3.0
    assert upper > 12.0 * POINTS_PER_MM + 3.0


@pytest.mark.parametrize("write", [drawing_pdf, shop_sheet_pdf, template_pdf])
def test_text_from_the_plan_is_never_markup(write):
    name = "#panic() $x$ *b*"
    part = part_of(plate_of(), Mount(index_holes=[{"name": name}], index_hole=name), title='#read("/x")\\')
    text = text_of(write(part))
    assert squeezed(name) in text
    assert '#read("/x")\\' in text


@pytest.mark.parametrize("write", [drawing_pdf, shop_sheet_pdf, template_pdf])
def test_the_same_part_gives_the_same_bytes(write):
    assert write(demo_part()) == write(demo_part())
