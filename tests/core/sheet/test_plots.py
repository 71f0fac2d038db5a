import math

import numpy as np
import pytest

from core.mount.evening.drawn import drawn_pass
from core.mount.model.station import AzimuthAxis, Mount
from core.place.site import HorizonPoint
from core.sheet.advice import MEANINGS, legend
from core.sheet.plots import Mark, band, evening_strip, seat_picture, sky, verdict_mark
from tests.core.sheet.samples import EVERY_KIND, HORIZON, MOUNT, Wanted, check_of, evening, pass_of

LINE = [(float(x), 5.0) for x in range(20)]


def _inside(drawing):
    for item in drawing.items:
        if item.kind == "stroke":
            points = item.points_mm
        elif item.kind == "disc":
            points = [
                (item.x_mm + a * item.radius_mm, item.y_mm + b * item.radius_mm)
                for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1))
            ]
        else:
            # Inter's widest run of figures and small letters takes 0.66 em a letter.
            width = 0.66 * item.size_pt * 0.3528 * len(item.text)
            left = item.x_mm - {"left": 0.0, "center": 0.5, "right": 1.0}[item.anchor] * width
            points = [(left, item.y_mm - 1.6), (left + width, item.y_mm + 1.6)]
        for x, y in points:
            assert -0.5 <= x <= drawing.width_mm + 0.5, item
            assert -0.5 <= y <= drawing.height_mm + 0.5, item


def test_the_five_marks_differ_without_any_grey():
    filled, hatched = band(LINE, Mark.FILLED), band(LINE, Mark.HATCHED)
    outlined, hidden = band(LINE, Mark.OUTLINED), band(LINE, Mark.HIDDEN)
    assert len(filled) == 1
    assert filled[0].width_mm == 2.0
    assert len(outlined) == 1
    assert outlined[0].fill == "white"
    assert outlined[0].closed
    assert len(hatched) > 8
    assert hidden[0].width_mm < 0.5
    assert band(LINE, Mark.GAP) == []


def test_legend_names_all_five_words_with_their_own_marks():
    assert [line.word for line in legend()] == [word for word, _ in MEANINGS]
    assert len({line.mark for line in legend()}) == 5
    assert verdict_mark("split") != verdict_mark("split", hatched_last=True)


@pytest.mark.parametrize("heading", [0.0, 90.0, 200.0])
def test_the_sky_has_north_up_and_east_right(heading):
    wanted = Wanted("upright", "X", 0.0, 40.0, heading)
    drawn = drawn_pass(check_of(wanted, pass_of(wanted, 1), MOUNT), MOUNT)
    drawing = sky(drawn, ())
    track = next(i for i in drawing.items if i.kind == "stroke" and i.width_mm == 2.0).points_mm
    for index, (x, y) in ((0, track[0]), (-1, track[-1])):
        azimuth, elevation = drawn.azimuth_deg[index], drawn.elevation_deg[index]
        assert math.degrees(math.atan2(x - 31.0, 31.0 - y)) % 360 == pytest.approx(azimuth % 360, abs=0.5)
        assert math.hypot(x - 31.0, y - 31.0) == pytest.approx(26.0 * (90 - elevation) / 90, abs=0.1)
    labels = {i.text: (i.x_mm, i.y_mm) for i in drawing.items if i.kind == "label"}
    assert labels["N"][1] < labels["S"][1]
    assert labels["E"][0] > labels["W"][0]
    _inside(drawing)


@pytest.mark.parametrize("wanted", EVERY_KIND, ids=lambda w: f"{w.word}-{w.peak_deg:.0f}")
def test_every_sky_stays_in_its_box_and_marks_the_minutes(wanted):
    drawn = drawn_pass(check_of(wanted, pass_of(wanted, 1), MOUNT), MOUNT)
    drawing = sky(drawn, HORIZON)
    _inside(drawing)
    minutes = [i.text for i in drawing.items if i.kind == "label" and i.text.isdigit() and len(i.text) == 2]
    whole = math.floor(drawn.utc_s[-1] / 60) - math.ceil(drawn.utc_s[0] / 60) + 1
    assert len(minutes) - 2 >= whole / 2  # two of them are the rings


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


def test_the_strip_puts_time_across_and_the_axis_up():
    plan, result = evening()
    passes = [drawn_pass(contact.check, plan.mount) for contact in result.order.contacts]
    drawing = evening_strip(result.order.contacts, passes, plan.mount, "Europe/Vienna")
    _inside(drawing)
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


@pytest.mark.parametrize("travel", [180.0, 360.0, 450.0, 540.0, 900.0])
@pytest.mark.parametrize("keyway", [0.0, 95.0, 181.0, 271.0])
def test_the_seat_picture_names_both_stops_apart(travel, keyway):
    mount = Mount(
        keyway_bearing_deg=keyway,
        azimuth=AzimuthAxis(travel_deg=travel),
        index_holes=MOUNT.index_holes,
        index_hole="B",
    )
    drawing = seat_picture(mount)
    _inside(drawing)
    spots = {i.text: np.array([i.x_mm, i.y_mm]) for i in drawing.items if i.kind == "label"}
    names = [spots[name] for name in ("keyway", "ccw stop", "cw stop")]
    assert min(np.linalg.norm(a - b) for k, a in enumerate(names) for b in names[k + 1 :]) > 8.0
    figures = [i.text for i in drawing.items if i.kind == "label"]
    assert f"{(keyway - 30.0) % 360:.1f}" in figures
    assert f"{(keyway - 30.0 + travel) % 360:.1f}" in figures
