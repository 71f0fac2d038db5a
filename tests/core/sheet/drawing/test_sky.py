"""The polar plot of a pass: where things lie, that all of it is in its box, that labels stay apart."""

import math

import pytest

from core.mount.evening.drawn import drawn_pass
from core.place.site import HorizonPoint
from core.sheet.drawing.sky import sky
from tests.core.sheet.drawing.boxes import inside_its_box
from tests.core.sheet.samples import EVERY_KIND, HORIZON, MOUNT, Wanted, check_of, pass_of


@pytest.mark.parametrize("heading", [0.0, 90.0, 200.0])
def test_the_sky_has_north_up_and_east_right(heading):
    wanted = Wanted("upright", "X", 0.0, 40.0, heading)
    drawn = drawn_pass(check_of(wanted, pass_of(wanted, 1), MOUNT), MOUNT)
    drawing = sky(drawn, ())
    track = next(i for i in drawing.items if i.kind == "stroke" and i.width_mm == 2.0).points_mm
    for index, (x, y) in ((0, track[0]), (-1, track[-1])):
        azimuth, elevation = drawn.azimuth_deg[index], drawn.elevation_deg[index]
        assert math.degrees(math.atan2(x - 23.0, 23.0 - y)) % 360 == pytest.approx(azimuth % 360, abs=0.5)
        assert math.hypot(x - 23.0, y - 23.0) == pytest.approx(18.2 * (90 - elevation) / 90, abs=0.1)
    labels = {i.text: (i.x_mm, i.y_mm) for i in drawing.items if i.kind == "label"}
    assert labels["N"][1] < labels["S"][1]
    assert labels["E"][0] > labels["W"][0]
    inside_its_box(drawing)


@pytest.mark.parametrize("wanted", EVERY_KIND, ids=lambda w: f"{w.word}-{w.peak_deg:.0f}")
def test_every_sky_stays_in_its_box_and_marks_the_minutes(wanted):
    drawn = drawn_pass(check_of(wanted, pass_of(wanted, 1), MOUNT), MOUNT)
    drawing = sky(drawn, HORIZON)
    inside_its_box(drawing)
    minutes = [i.text for i in drawing.items if i.kind == "label" and i.text.isdigit() and len(i.text) == 2]
    whole = math.floor(drawn.utc_s[-1] / 60) - math.ceil(drawn.utc_s[0] / 60) + 1
    assert len(minutes) - 2 >= whole / 3  # two of them are the rings


def test_minute_labels_do_not_cover_each_other():
    for wanted in EVERY_KIND:
        drawing = sky(drawn_pass(check_of(wanted, pass_of(wanted, 1), MOUNT), MOUNT), HORIZON)
        spots = [(i.x_mm, i.y_mm) for i in drawing.items if i.kind == "label" and i.text.isdigit()]
        spots = spots[2:]
        assert min((math.dist(a, b) for k, a in enumerate(spots) for b in spots[k + 1 :]), default=9.0) > 4.0


def test_a_sky_under_a_high_mask_is_combed():
    drawn = drawn_pass(check_of(EVERY_KIND[0], pass_of(EVERY_KIND[0], 1), MOUNT), MOUNT)
    bare = sky(drawn, ())
    wooded = sky(drawn, (HorizonPoint(azimuth_deg=0.0, elevation_deg=20.0),))
    assert len(wooded.items) > len(bare.items) + 50
