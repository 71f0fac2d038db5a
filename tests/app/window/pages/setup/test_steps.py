"""Each question answered by typing and pressing, each edit one step of undo."""

from __future__ import annotations

import pytest

from core.base.times import parse_iso
from tests.plans import plan_of, short_plan_data

FITTED = {"deg": 2.0, "keyway_bearing_deg": 0.0, "index_hole": "A"}


# --- level ------------------------------------------------------------------------------------------------


def test_level_readings_become_a_lean_and_the_lean_the_mounts_tilt(make):
    hand = make()
    level = hand.page.level
    hand.add_level("0", "-0.3")
    hand.add_level("90", "0.4")
    hand.wait()
    assert level.answer.figure.text() == "0.50 deg"
    assert "Lean 0.50 deg toward 306.9 true" in hand.written
    hand.click(level.take_button)
    assert hand.plan.mount.tilt.angle_deg == pytest.approx(0.5, abs=0.001)
    assert not level.take_button.isEnabled()
    assert hand.page.next.hasFocus()
    hand.document.undo()
    assert hand.plan.mount.tilt.angle_deg == 0.0
    assert len(hand.plan.level_readings) == 2


def test_a_reading_before_and_after_half_a_turn_is_one_edit(make):
    hand = make()
    hand.add_level("350", "0.3", "-0.1")
    assert [(one.bearing_deg, one.rise_deg) for one in hand.plan.level_readings] == [
        (350.0, 0.3),
        (170.0, -0.1),
    ]
    assert hand.page.level.bearing.text() == ""
    hand.document.undo()
    assert hand.plan.level_readings == ()


def test_what_is_missing_is_told_at_its_field(make):
    hand = make()
    hand.add_level("350", "")
    assert hand.page.level.rise.wrong
    assert hand.plan.level_readings == ()
    hand.add_level("350", "45")
    assert "-30 to 30" in hand.page.level.rise.wrong


def test_readings_are_removed(make):
    hand = make(
        level_readings=[{"bearing_deg": 0.0, "rise_deg": 1.0}, {"bearing_deg": 90.0, "rise_deg": 0.0}]
    )
    level = hand.page.level
    level.table.selectRow(0)
    hand.click(level.remove_button)
    assert [one.bearing_deg for one in hand.plan.level_readings] == [90.0]
    hand.click(level.clear_button)
    assert hand.plan.level_readings == ()


# --- north ------------------------------------------------------------------------------------------------


def test_the_suns_dial_is_told_large_and_by_the_minute(make):
    hand = make()
    hand.open("North")
    minutes = hand.page.north.minutes
    sun = hand.page.set_up.answer.minutes[0]
    assert minutes.dial.text() == sun.dials[0].azimuth.short
    assert minutes.table.rows.lines[0][0] == "14:00"
    assert minutes.table.rows.lines[5][1] == sun.dials[5].azimuth.short
    hand.click(minutes.body.buttons["Moon"])
    assert "The Moon" in minutes.words.text()


def test_the_clock_runs_and_a_new_minute_is_asked_for(make):
    hand = make()
    hand.open("North")
    assert hand.page.north.moment.clock.text() == "14:00:20 UTC"
    hand.context.now_utc_s += 45.0
    hand.page.set_up._on_tick()
    assert hand.page.north.moment.clock.text() == "14:01:05 UTC"
    hand.wait()
    assert hand.page.set_up.answer.at_utc_s == parse_iso("2024-11-01T14:01:00Z")


def test_another_moment_is_typed_and_now_comes_back(make):
    hand = make()
    hand.open("North")
    moment = hand.page.north.moment
    hand.type_into(moment.field, "12:30")
    hand.wait()
    assert hand.page.set_up.answer.at_utc_s == parse_iso("2024-11-01T12:30:00Z")
    assert not moment.now_button.isChecked()
    hand.type_into(moment.field, "noon")
    assert "time of day" in moment.field.wrong
    hand.click(moment.now_button)
    assert hand.page.set_up.typed_utc_s is None
    hand.click(moment.before_button)
    assert hand.page.set_up.at_utc_s == hand.plan.evening.start_utc_s - 3600.0


def test_the_ways_are_told_with_why_not(make):
    hand = make()
    hand.open("North")
    hand.click(hand.page.north.parts.buttons["ways"])
    rows = {row[0]: row[-1] for row in hand.page.north.ways.rows.lines}
    assert rows["Polaris"] == "It is not dark enough for Polaris."
    assert rows["The compass"] == "No compass reading is written down."
    assert hand.page.north.answer.figure.text().startswith("The Sun's shadow: ")


def test_a_landmark_is_typed_changed_and_removed(make):
    hand = make()
    hand.open("North")
    hand.click(hand.page.north.parts.buttons["landmarks"])
    part = hand.page.north.landmarks
    hand.type_into(part.name, "mast", end=None)
    hand.type_into(part.latitude, "47.3", end=None)
    hand.click(part.add_button)
    assert "Type degrees" in part.longitude.wrong
    hand.type_into(part.longitude, "9.2E", end=None)
    hand.click(part.add_button)
    (mast,) = hand.plan.landmarks
    assert (mast.name, mast.longitude_deg, mast.height_m) == ("mast", 9.2, hand.plan.site.height_m)
    assert part.name.text() == ""
    part.table.selectRow(0)
    hand.type_into(part.height_m, "1800", end=None)
    hand.click(part.add_button)
    assert hand.plan.landmarks[0].height_m == 1800.0
    hand.wait()
    assert any(row[0] == "mast" for row in hand.page.north.ways.rows.lines)
    part.table.selectRow(0)
    hand.click(part.remove_button)
    assert hand.plan.landmarks == ()


def test_a_landmarks_name_is_taken_once(make):
    mast = {"name": "mast", "latitude_deg": 47.3, "longitude_deg": 9.2}
    hand = make(landmarks=[mast])
    hand.open("North")
    hand.click(hand.page.north.parts.buttons["landmarks"])
    part = hand.page.north.landmarks
    hand.type_into(part.name, "mast", end=None)
    hand.type_into(part.latitude, "47.31, 9.21", end=None)
    hand.click(part.add_button)
    assert "same name" in part.name.wrong
    assert len(hand.plan.landmarks) == 1


def test_a_compass_reading_is_noted(make):
    hand = make()
    hand.open("North")
    hand.click(hand.page.north.parts.buttons["compass"])
    part = hand.page.north.compass
    assert "magnetic north lies east" in part.declination.text()
    assert "map's grid" in part.grid.text()
    hand.type_into(part.reading, "357,5", end=None)
    part.steel.setChecked(True)
    hand.click(part.take_button)
    compass = hand.plan.compass
    assert (compass.reading_deg, compass.sigma_deg, compass.steel_near) == (357.5, 2.0, True)
    hand.click(part.remove_button)
    assert hand.plan.compass is None


# --- keyway -----------------------------------------------------------------------------------------------


def test_a_bearing_of_the_compass_is_turned_into_the_keyways(make):
    hand = make()
    step = hand.open("Keyway")
    hand.click(step.reference.buttons["magnetic"])
    hand.type_into(step.field, "40")
    declination = hand.page.set_up.answer.declination.deg
    assert step.figures["by the compass"].text() == "40.0"
    assert step.figures["true"].text() == f"{40.0 + declination:.1f}"
    turn = 40.0 + declination
    assert step.answer.figure.text() == f"{turn:.1f} deg counter-clockwise"
    hand.click(step.take_button)
    assert hand.plan.mount.keyway_bearing_deg == pytest.approx(40.0 + declination, abs=0.006)
    assert step.answer.figure.text() == "0.0 deg: it stands"
    hand.wait()
    assert not step.take_button.isEnabled()
    assert f"Keyway {40.0 + declination:.1f} true" in hand.written


def test_a_correction_in_force_is_asked_about_first(make):
    hand = make(mount__sighting_correction=FITTED)
    step = hand.open("Keyway")
    hand.type_into(step.field, "12")
    hand.click(step.take_button)
    assert hand.plan.mount.keyway_bearing_deg == 0.0
    leave = next(b for b in hand.page.taker.question.buttons() if b.text() == "Leave it")
    hand.click(leave)
    assert hand.plan.mount.keyway_bearing_deg == 0.0
    hand.click(step.take_button)
    turn = next(b for b in hand.page.taker.question.buttons() if b.text() == "Turn the keyway")
    hand.click(turn)
    assert hand.plan.mount.keyway_bearing_deg == 12.0


# --- sightings --------------------------------------------------------------------------------------------


def test_a_sighting_of_the_sun_is_noted_now(make):
    hand = make()
    form = hand.open("Sightings").form
    hand.click(form.came_from.buttons["left"])
    hand.note_sighting("212.5", "14")
    (one,) = hand.plan.sightings
    assert (one.time, one.target) == ("2024-11-01T14:00:20.000Z", "Sun")
    assert (one.azimuth_dial_deg, one.elevation_dial_deg, one.came_from) == (212.5, 14.0, "left")
    assert form.azimuth.text() == form.time.text() == ""
    assert "Azimuth dial 212.5" in hand.written
    hand.document.undo()
    assert hand.plan.sightings == ()


def test_a_sighting_needs_its_time_and_a_dial(make):
    hand = make()
    form = hand.open("Sightings").form
    hand.click(form.note_button)
    assert "Press Now" in form.time.wrong
    hand.click(form.now_button)
    hand.click(form.note_button)
    assert "dial reads" in form.azimuth.wrong
    assert hand.plan.sightings == ()


def test_half_power_on_both_sides_of_a_satellite(make):
    hand = make()
    form = hand.open("Sightings").form
    hand.click(form.target.kind.buttons["satellite"])
    name = form.target.which.currentText()
    hand.click(form.read.buttons["half"])
    hand.type_into(form.time, "17:10:05", end=None)
    hand.type_into(form.low, "100", end=None)
    hand.click(form.note_button)
    assert "Both" in form.high.wrong
    hand.type_into(form.high, "131", end=None)
    hand.click(form.note_button)
    (one,) = hand.plan.sightings
    assert (one.target, one.half_power_dials_deg, one.time[11:19]) == (name, (100.0, 131.0), "17:10:05")


def test_a_bearing_that_is_known_has_a_name_of_its_own(make):
    hand = make()
    form = hand.open("Sightings").form
    hand.click(form.target.kind.buttons["bearing"])
    hand.type_into(form.target.bearing, "75.5", end=None)
    hand.note_sighting("60")
    (one,) = hand.plan.sightings
    assert (one.target, one.bearing_deg) == ("known bearing", 75.5)


def test_sightings_are_left_out_used_again_and_removed(make):
    sun = {"time": "2024-11-01T14:00:00Z", "target": "Sun", "azimuth_dial_deg": 200.0}
    hand = make(sightings=[sun])
    step = hand.open("Sightings")
    step.table.selectRow(0)
    hand.click(step.use_button)
    assert not hand.plan.sightings[0].used
    assert step.use_button.text() == "Use again"
    hand.click(step.use_button)
    assert hand.plan.sightings[0].used
    hand.click(step.remove_button)
    assert hand.plan.sightings == ()


def test_a_dial_that_reads_the_same_in_two_directions_is_asked_back(make):
    wraps = {"mount__azimuth__dial_wraps_at_deg": 360.0, "mount__azimuth__dial_wraps_to_deg": 0.0}
    data = short_plan_data()
    hand = make(plan_of(data, mount__azimuth__dial_scale=2.0, mount__azimuth__travel_deg=360.0, **wraps))
    form = hand.open("Sightings").form
    assert not form.rounds.isVisible()
    hand.type_into(form.azimuth, "20")
    assert form.rounds.isVisible()
    hand.click(form.rounds.buttons["2"])
    hand.click(form.now_button)
    hand.click(form.note_button)
    assert hand.plan.sightings[0].time_round == 2
