"""The set-up card's travel test, forbidden bearings and best seat elsewhere; the rule for a crooked dial."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.times import clock
from core.evaluate import evaluate
from core.mount.dial.readings import azimuth_dial
from core.mount.model.calibration import CalibrationPoint
from core.mount.model.station import AzimuthAxis
from core.mount.seat.choice import elsewhere
from core.sheet.content import sheet_content
from core.sheet.set_up.correction import correction_error_deg, correction_to_add, mean_scale
from core.sheet.set_up.dial_words import azimuth_words
from core.sheet.set_up.second_seat import second_seat
from core.studies import BesideEvening, seat_elsewhere
from tests.core.mount.seat.evenings_by_seat import made_up_evenings
from tests.lasting import result_of
from tests.seat_evening import seat_evening, seat_plan

CROOKED = AzimuthAxis(
    calibration=tuple(
        CalibrationPoint(axis_deg=axis, dial_deg=dial)
        for axis, dial in [(0.0, 4.0), (90.0, 97.0), (200.0, 205.0), (330.0, 331.0), (450.0, 455.0)]
    )
)


def test_the_travel_test_tells_both_stops_the_middle_and_the_levels():
    plan, result, _study = seat_evening()
    card = sheet_content(plan, result, 1.7e9).set_up
    assert [(line.place, line.true_deg, line.dial.figure) for line in card.travel_test] == [
        ("azimuth, counter-clockwise stop", "60.0", "0"),
        ("azimuth, mid travel", "240.0", "180"),
        ("azimuth, clockwise stop", "60.0", "360"),
        ("elevation, level", "", "0"),
        ("elevation, straight up", "", "90"),
    ]


def test_the_hours_are_from_the_evenings_start_to_its_end():
    plan, result, _study = seat_evening()
    first, last = clock(plan.evening.start_utc_s, seconds=False), clock(plan.evening.end_utc_s, seconds=False)
    hours = sheet_content(plan, result, 1.7e9).set_up.hours
    assert first != last
    assert hours.index(first) < hours.index(last)


def test_the_best_seat_elsewhere_stands_with_the_dials_of_its_own_evening():
    plan, result, study = seat_evening()
    beside = BesideEvening(seat_elsewhere(plan, result))
    second = sheet_content(plan, result, 1.7e9, beside).set_up.second
    assert second is not None
    seat = elsewhere(study.best, study.second_best, plan.mount.keyway_bearing_deg)
    assert seat is not None
    assert second.keyway_true_deg == f"{seat.keyway_bearing_deg:.1f}"
    assert second.hole == seat.index_hole
    assert [start.number for start in second.starts] == [*range(1, len(result.order.contacts) + 1)]
    assert [(start.satellite, start.utc) for start in second.starts] == [
        (contact.check.pass_.satellite, clock(contact.start_utc_s)) for contact in result.order.contacts
    ]
    # The evening worked out with the station seated there: same passes, so the dials must be its dials.
    there = evaluate(
        seat_plan(mount__keyway_bearing_deg=seat.keyway_bearing_deg, mount__index_hole=seat.index_hole)
    )
    checks = {(check.pass_.norad_id, check.pass_.aos.utc_s): check for check in there.checks}
    for start, contact in zip(second.starts, result.order.contacts, strict=True):
        pass_ = contact.check.pass_
        pointing = checks[pass_.norad_id, pass_.aos.utc_s].pointing
        if pointing is None:
            assert start.azimuth.figure == ""
            continue
        at = max(contact.start_utc_s, float(pointing.utc_s[pointing.worked][0]))
        m, e = (np.interp(at, pointing.utc_s, axis) for axis in (pointing.m_deg, pointing.e_deg))
        assert abs(float(start.azimuth.figure) - m) <= 0.25 + 1e-6
        assert abs(float(start.elevation.figure) - e) <= 0.25 + 1e-6


def test_a_contact_that_is_joined_late_starts_elsewhere_at_the_dial_of_that_moment():
    """Not at that of its AOS, from which the pass has turned away by then."""
    plan, result, _study = seat_evening()
    found = seat_elsewhere(plan, result)
    assert found is not None
    worked = next(i for i, check in enumerate(found.checks) if check.verdict == "upright")
    late_s = result.order.contacts[worked].start_utc_s + 120.0
    joined = tuple(late_s if i == worked else at for i, at in enumerate(found.joined_utc_s))
    at_once, later = (
        second_seat(one, 0.0).starts[worked] for one in (found, replace(found, joined_utc_s=joined))
    )
    pointing = found.checks[worked].pointing
    m = np.interp(late_s, pointing.utc_s, pointing.m_deg)
    assert abs(float(later.azimuth.figure) - m) <= 0.25 + 1e-6
    assert later.utc == clock(late_s)
    assert (later.azimuth.figure, later.elevation.figure) != (
        at_once.azimuth.figure,
        at_once.elevation.figure,
    )


@pytest.mark.parametrize(
    ("keyway", "good", "words"),
    [
        (
            60.0,
            {150: 3600.0},
            "By the evening the best seat is 150.0 deg true, hole A: worth 3,600 s, this one ",
        ),
        (150.0, {150: 3600.0}, "By the evening this seat is the best: worth "),
        (
            194.0,
            {180: 3560.0, 210: 3560.0, 240: 3560.0},
            "By the evening this seat is as good as the best, 210.0 deg true, hole A: worth ",
        ),
    ],
)
def test_whether_this_seat_is_the_best_by_the_evening_is_told_with_both_worths(keyway, good, words):
    plan = seat_plan(mount__keyway_bearing_deg=keyway)
    result = result_of(plan)
    evenings = made_up_evenings([good.get(30 * place, 3000.0) for place in range(12)], plan.mount)
    card = sheet_content(plan, result, 1.7e9, BesideEvening(by_evening=evenings)).set_up
    assert card.best_seat.startswith(words)
    assert f"{result.order.worth.worth_s:,.0f} s" in card.best_seat


def test_without_the_evenings_of_other_seats_that_is_said_with_the_answer_by_the_passes():
    plan, result, study = seat_evening()
    bare = sheet_content(plan, result, 1.7e9).set_up.best_seat
    assert bare == "Not compared with other seats; northkey sheet --weigh-seats does."
    told = sheet_content(plan, result, 1.7e9, BesideEvening(study=study)).set_up.best_seat
    best = (
        f"turn the keyway to {study.hole_of_best.best_rounded_deg:.1f} deg true, hole {study.best.index_hole}"
    )
    assert told.startswith(f"By the passes alone: {best}")
    assert told.endswith("By the evening not compared; northkey sheet --weigh-seats does.")
    nothing = BesideEvening(by_evening=made_up_evenings([0.0] * 12, plan.mount))
    assert sheet_content(plan, result, 1.7e9, nothing).set_up.best_seat == ""


def test_without_a_study_there_is_no_seat_elsewhere():
    plan, result, _study = seat_evening()
    assert sheet_content(plan, result, 1.7e9).set_up.second is None


def test_the_seat_elsewhere_is_never_where_the_station_is_planned():
    _plan, _result, study = seat_evening()
    best, second = study.best, study.second_best
    assert second is not None
    assert elsewhere(best, second, best.keyway_bearing_deg + 19.0) == second
    assert elsewhere(best, second, best.keyway_bearing_deg + 21.0) == best
    assert elsewhere(best, None, best.keyway_bearing_deg) is None


def test_forbidden_bearings_stand_on_the_card():
    plan = seat_plan(seat_limits=[{"from_deg": 350.0, "to_deg": 20.5, "why": "a rock"}])
    result = evaluate(plan)
    card = sheet_content(plan, result, 1.7e9).set_up
    assert card.forbidden == ("No keyway between 350.0 and 20.5 deg true: a rock.",)


@pytest.mark.parametrize(("from_deg", "told"), [(350.0, True), (70.0, False)])
def test_a_keyway_planned_into_a_forbidden_arc_is_warned_of(from_deg: float, told: bool):
    plan = seat_plan(seat_limits=[{"from_deg": from_deg, "to_deg": 90.0, "why": "a rock"}])
    warnings = sheet_content(plan, evaluate(plan), 1.7e9).set_up.warnings
    where = f"60.0 deg true; forbidden: {from_deg:.1f} to 90.0 deg (a rock)."
    assert any(where in text for text in warnings) == told


@given(m=st.floats(15.0, 435.0), off=st.floats(-10.0, 10.0))
def test_the_rule_corrects_a_crooked_dial_to_what_it_says(m: float, off: float):
    """The keyway came out ``off`` clockwise, so the same bearing lies ``off`` lower on the axis."""
    printed, needed = azimuth_dial(m, CROOKED).value_deg, azimuth_dial(m - off, CROOKED).value_deg
    corrected = printed + correction_to_add(CROOKED, 100.0, 100.0 + off)
    assert abs(corrected - needed) <= correction_error_deg(CROOKED, 10.0) + 0.05


def test_a_straight_dial_is_corrected_exactly():
    axis = AzimuthAxis(dial_scale=-0.5)
    assert correction_error_deg(axis, 10.0) == 0.0
    assert correction_to_add(axis, 100.0, 103.0) == pytest.approx(1.5)


def test_a_crooked_dial_is_told():
    assert "crooked: by a table of 5 pairs" in azimuth_words(CROOKED)
    assert math.ceil(correction_error_deg(CROOKED, 10.0)) == 1


def test_the_mean_scale_of_a_crooked_dial_is_its_figures_at_both_stops_over_the_travel():
    """By hand: 2 on the one stop, 407 on the other, 450 deg of travel between them: 0.9 a degree."""
    pairs = ((0.0, 2.0), (200.0, 192.0), (450.0, 407.0))
    points = tuple(CalibrationPoint(axis_deg=axis, dial_deg=dial) for axis, dial in pairs)
    assert mean_scale(AzimuthAxis(calibration=points)) == pytest.approx(0.9, abs=1e-12)
