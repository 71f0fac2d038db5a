"""The Mount page: every number typed and reset, holes and antennas, and what follows."""

from __future__ import annotations

import json

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app.window.pages.mount.numbers import (
    AZIMUTH,
    AZIMUTH_MOTION,
    CAPTIONS,
    DRIVE,
    ELEVATION,
    ELEVATION_MOTION,
    SEAT,
    WORK,
    caption,
)
from core.base.edits import default_at, is_given, reset, value_at
from core.plan.document import Plan
from core.plan.storage import plan_from_text
from tests.app.window.page_object_base import turn_wheel
from tests.app.window.pages.mount.page_object import MountBench
from tests.plans import full_plan_data, short_plan_data

VALUES = (*SEAT, *AZIMUTH, *ELEVATION, *WORK, *AZIMUTH_MOTION, *ELEVATION_MOTION, *DRIVE)


def plan_of(data: dict) -> Plan:
    return plan_from_text(json.dumps(data), "test")


@pytest.fixture
def bench(qtbot):
    made: list[MountBench] = []

    def make(data: dict | None = None, with_result: bool = False) -> MountBench:
        made.append(MountBench(qtbot, plan_of(full_plan_data() if data is None else data), with_result))
        return made[-1]

    yield make
    for one in made:
        one.close()


def without_correction() -> dict:
    data = full_plan_data()
    data["mount"]["sighting_correction"] = None
    return data


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.path)
def test_every_number_is_typed_reset_and_undone(bench, value):
    mount = bench(without_correction())
    before = mount.plan
    old = value_at(before, value.path)
    field = mount.number(value.path)
    assert float(field.text()) == pytest.approx(old)
    mount.type_into(field, f"{old + 0.25:g}")
    assert value_at(mount.plan, value.path) == pytest.approx(old + 0.25)
    mount.reset(value.path)
    assert not is_given(mount.plan, value.path)
    assert value_at(mount.plan, value.path) == default_at(mount.plan, value.path)
    mount.document.undo()
    mount.document.undo()
    assert mount.plan == before
    assert float(field.text()) == pytest.approx(old)


@pytest.mark.parametrize("value", [v for v in VALUES if v.none], ids=lambda value: value.path)
def test_a_number_that_may_be_left_out_says_what_holds_without_it(bench, value):
    mount = bench(short_plan_data())
    field = mount.number(value.path)
    assert (field.text(), field.placeholderText()) == ("", value.none)
    mount.type_into(field, "1.5")
    assert value_at(mount.plan, value.path) == 1.5
    mount.reset(value.path)
    assert value_at(mount.plan, value.path) is None
    assert field.text() == ""


def test_both_axes_move_at_once_or_in_turn(bench):
    mount = bench(short_plan_data())
    assert mount.page.at_once.isChecked()
    mount.page.at_once.click()
    assert not mount.plan.mount.drive.both_axes_at_once
    mount.document.undo()
    assert mount.page.at_once.isChecked()


@pytest.mark.parametrize("axis", ["azimuth", "elevation"])
def test_a_crooked_dial_is_measured_reading_by_reading(bench, axis):
    mount = bench(short_plan_data())
    table = mount.page.calibrations[axis]

    def points() -> list[tuple[float, float]]:
        return [(p.axis_deg, p.dial_deg) for p in value_at(mount.plan, f"mount.{axis}.calibration")]

    assert not table.body.isVisible()
    table.add.click()
    table.add.click()
    assert points() == [(0.0, 0.0), (45.0, 45.0)]
    mount.type_into(table.fields[1]["axis_deg"], "90")
    mount.type_into(table.fields[1]["dial_deg"], "93.5")
    assert points() == [(0.0, 0.0), (90.0, 93.5)]
    side = 0 if axis == "azimuth" else 1
    shown = [reading.text() for _place, reading in mount.page.follows.rows[side]]
    # Beyond the last reading the dial goes on by its scale.
    assert shown == (["0", "228.5", "453.5"] if axis == "azimuth" else ["0", "93.5", "183.5"])
    mount.type_into(table.fields[1]["dial_deg"], "-5")
    assert points()[1] == (90.0, 93.5)
    assert "must rise" in table.fields[1]["dial_deg"].accessibleDescription()
    table.removers[0].click()
    assert points() == [(90.0, 93.5)]
    table.removers[0].click()
    assert not is_given(mount.plan, f"mount.{axis}.calibration")
    mount.document.undo()
    table.reset.click()
    assert points() == []


def test_the_dial_is_set_to_read_true_at_a_sighting(bench):
    data = short_plan_data()
    data["mount"] = {"keyway_bearing_deg": 100.0}
    mount = bench(data)
    field = mount.page.reads_true.field
    mount.type_into(field, "250")
    assert mount.plan.mount.azimuth.dial_at_stop_deg == 100.0
    assert field.text() == ""
    assert [reading.text() for _place, reading in mount.page.follows.rows[0]] == ["100", "325", "550"]
    mount.type_into(field, "1000")
    assert field.accessibleDescription() == "Must be 0 to 360 deg"
    assert mount.plan.mount.azimuth.dial_at_stop_deg == 100.0


def test_all_numbers_of_the_mount_are_here():
    """A number added to the models must get a field."""
    plan = plan_of(full_plan_data())
    shown = {value.path for value in VALUES}
    elsewhere = {"mount.azimuth.dial_wraps_at_deg", "mount.azimuth.dial_wraps_to_deg"}
    for path in ("mount", "mount.azimuth", "mount.elevation", "mount.tilt", "mount.drive"):
        model = value_at(plan, path)
        for name in type(model).model_fields:
            if isinstance(getattr(model, name), float):
                assert f"{path}.{name}" in shown | elsewhere


def test_assumed_numbers_say_so(bench):
    mount = bench(short_plan_data())
    travel = next(group for group in mount.page.groups if "mount.azimuth.travel_deg" in group.resets)
    button = travel.resets["mount.azimuth.travel_deg"]
    assert button.text() == "assumed"
    assert not button.isEnabled()
    mount.type_into(mount.number("mount.azimuth.travel_deg"), "360")
    assert button.text() == "back to 450"
    assert button.isEnabled()


def test_a_number_set_to_its_default_is_set_not_assumed(bench):
    mount = bench(without_correction())
    mount.type_into(mount.number("mount.azimuth.travel_deg"), "450")
    button = mount.page.azimuth.resets["mount.azimuth.travel_deg"]
    assert is_given(mount.plan, "mount.azimuth.travel_deg")
    assert (button.text(), button.isEnabled()) == ("set", False)


def test_a_number_out_of_range_is_marked_and_changes_nothing(bench):
    mount = bench(without_correction())
    before = mount.plan
    field = mount.number("mount.azimuth.guard_deg")
    mount.type_into(field, "89")
    mount.type_into(mount.number("mount.azimuth.travel_deg"), "170")
    assert mount.plan.mount.azimuth.travel_deg == 430.0
    assert mount.number("mount.azimuth.travel_deg").property("wrong")
    assert "Guard leaves no travel" in mount.number("mount.azimuth.travel_deg").wrong
    mount.document.undo()
    assert mount.plan == before


def test_a_reset_that_would_not_be_valid_is_told(bench):
    data = without_correction()
    data["mount"]["azimuth"] |= {"travel_deg": 1000.0, "guard_deg": 90.0}
    data["mount"]["elevation"] |= {"minimum_deg": -5.0, "maximum_deg": 10.0}
    mount = bench(data)
    mount.type_into(mount.number("mount.elevation.minimum_deg"), "9")
    mount.reset("mount.elevation.maximum_deg")
    assert mount.plan.mount.elevation.maximum_deg == 180.0
    assert not mount.problems


def test_the_dial_is_made_to_jump_and_to_run_on(bench):
    data = short_plan_data()
    mount = bench(data)
    wrap = mount.page.wrap
    assert not wrap.at.isVisible()
    mount.page.area.ensureWidgetVisible(wrap)
    wrap.jumps.click()
    axis = mount.plan.mount.azimuth
    assert (axis.dial_wraps_at_deg, axis.dial_wraps_to_deg) == (360.0, 0.0)
    mount.type_into(wrap.at, "180")
    mount.type_into(wrap.to, "-180")
    axis = mount.plan.mount.azimuth
    assert (axis.dial_wraps_at_deg, axis.dial_wraps_to_deg) == (180.0, -180.0)
    mount.type_into(wrap.to, "200")
    assert wrap.to.property("wrong")
    wrap.jumps.click()
    assert mount.plan.mount.azimuth.dial_wraps_at_deg is None
    assert "dial_wraps_at_deg" not in mount.plan.mount.azimuth.model_fields_set


def test_holes_are_added_renamed_moved_chosen_and_removed(bench):
    mount = bench(without_correction())
    holes = mount.page.holes
    assert holes.drilled[0].text() == "30 clockwise from above, 330 from below"
    holes.add.click()
    assert [hole.name for hole in mount.plan.mount.index_holes] == ["A", "B", "C"]
    mount.type_into(holes.offsets[2], "-100")
    assert holes.drilled[2].text() == "100 clockwise from above, 260 from below"
    mount.type_into(holes.names[2], "far")
    holes.uses[2].click()
    assert mount.plan.mount.index_hole == "far"
    mount.type_into(holes.names[2], "farther")
    assert mount.plan.mount.index_hole == "farther"
    mount.type_into(holes.names[2], "A")
    assert mount.plan.mount.index_holes[2].name == "farther"
    assert "same name" in holes.names[2].accessibleDescription()
    holes.removers[2].click()
    assert [hole.name for hole in mount.plan.mount.index_holes] == ["A", "B"]
    assert mount.plan.mount.index_hole == "A"
    holes.removers[1].click()
    assert not holes.removers[0].isEnabled()


def test_antennas_are_added_typed_and_removed(bench):
    mount = bench(short_plan_data())
    antennas = mount.page.antennas
    assert antennas.reset.text() == "assumed"
    assert antennas.numbers[0]["frequency_hz"].text() == ""
    antennas.add.click()
    assert len(mount.plan.antennas) == 2
    mount.type_into(antennas.names[1], "long")
    mount.type_into(antennas.numbers[1]["frequency_hz"], "435.25")
    mount.type_into(antennas.numbers[1]["beamwidth_deg"], "21")
    mount.type_into(antennas.numbers[1]["skew_deg"], "-1.5")
    made = mount.plan.antennas[1]
    assert (made.name, made.frequency_hz) == ("long", pytest.approx(435.25e6))
    assert (made.beamwidth_deg, made.skew_deg) == (21.0, -1.5)
    antennas.removers[0].click()
    assert [antenna.name for antenna in mount.plan.antennas] == ["long"]
    antennas.reset.click()
    assert not is_given(mount.plan, "antennas")


def test_steering_is_chosen_and_reset(bench):
    mount = bench()
    steering = mount.page.steering
    assert steering.currentText() == "chased"
    steering.setFocus()
    mount.qtbot.keyClick(steering, Qt.Key.Key_Down)
    mount.qtbot.waitUntil(lambda: mount.plan.steering == "held")
    mount.page.steering_reset.click()
    assert mount.plan.steering == "led"
    assert steering.currentText() == "led"


def test_turning_the_keyway_asks_before_it_voids_the_correction(bench):
    mount = bench()
    field = mount.number("mount.keyway_bearing_deg")
    assert "in effect" in mount.page.correction.text()
    mount.type_into(field, "150")
    assert mount.plan.mount.keyway_bearing_deg == 143.0
    mount.answer("Leave it")
    assert mount.plan.mount.keyway_bearing_deg == 143.0
    assert field.text() == "143"
    mount.type_into(field, "150")
    mount.answer("Change the seat")
    assert mount.plan.mount.keyway_bearing_deg == 150.0
    assert "void" in mount.page.correction.text()
    assert mount.page.count() == 1
    mount.page.void.click()
    assert mount.plan.mount.sighting_correction is None
    assert not mount.page.void.isVisible()


def test_what_follows_is_said(bench):
    data = short_plan_data()
    data["mount"] = {
        "keyway_bearing_deg": 143.0,
        "index_holes": [{"name": "A", "offset_deg": -30.0}],
        "azimuth": {"travel_deg": 450.0, "guard_deg": 5.0},
    }
    mount = bench(data)
    follows = mount.page.follows
    assert follows.zeta.text() == "113.0 deg true"  # DESIGN, section 3: the check of the chain
    assert follows.clockwise.text() == "203.0 deg true"
    assert "80 deg of usable overlap" in follows.words.text()
    assert [reading.text() for _place, reading in follows.rows[0]] == ["0", "225", "450"]
    assert [reading.text() for _place, reading in follows.rows[1]] == ["0", "90", "180"]
    mount.type_into(mount.number("mount.azimuth.travel_deg"), "350")
    assert "No dial setting points to 98.0 to 118.0 deg true" in follows.words.text()
    mount.type_into(mount.number("mount.elevation.maximum_deg"), "90")
    assert [reading.text() for _place, reading in follows.rows[1]] == ["0", "90", ""]


def test_the_focused_field_stands_out_in_the_picture(bench):
    mount = bench()
    mount.page.picture.show_part("")  # the page opens on its first field, which stands out already
    plain = mount.page.picture.grab().toImage()
    mount.number(VALUES[-1].path).setFocus()
    for value in VALUES:
        field = mount.number(value.path)
        field.setFocus()
        assert mount.page.picture.part == value.part.partition(":")[0]
        assert mount.page.caption.text() == caption(value.part) != ""
        if value.part != "contact":
            assert mount.page.picture.grab().toImage() != plain, value.path
    mount.page.antennas.numbers[1]["skew_deg"].setFocus()
    assert mount.page.picture.part == "skew 1"
    assert mount.page.caption.text() == CAPTIONS["skew"]
    assert "counter-clockwise stop 214.8 deg true" in mount.page.picture.accessibleDescription()


def test_the_compass_bearing_stands_beside_the_true_one(bench):
    mount = bench(with_result=True)
    seat = mount.context.result.seat
    words = mount.page.seat.meanings["mount.keyway_bearing_deg"].text()
    assert f"{seat.keyway_magnetic_deg:.1f} on the compass" in words


def test_two_columns_where_there_is_room(bench):
    mount = bench()
    narrow = mount.page.azimuth.geometry().left()
    mount.page.resize(1786, 970)
    mount.qtbot.waitUntil(lambda: mount.page.azimuth.geometry().left() > narrow + 300)


def test_every_field_has_a_name(bench):
    page = bench().page
    for widget in page.findChildren(QWidget):
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus and widget.window() is page.window():
            assert widget.accessibleName() or widget.__class__.__name__ == "QScrollArea", widget


def test_resetting_an_untouched_plan_changes_nothing():
    plan = plan_of(short_plan_data())
    assert reset(plan, "steering") == plan


# --- by hand ----------------------------------------------------------------------------------------------


def test_tab_goes_to_the_next_number_and_selects_it(bench):
    mount = bench(without_correction())
    travel, guard = (mount.number(f"mount.azimuth.{name}_deg") for name in ("travel", "guard"))
    travel.setFocus(Qt.FocusReason.TabFocusReason)
    mount.qtbot.keyClicks(travel, "450")
    mount.qtbot.keyClick(travel, Qt.Key.Key_Tab)
    assert mount.page.focusWidget() is guard
    mount.page.refresh()  # as when the result comes
    mount.qtbot.keyClicks(guard, "5")
    mount.qtbot.keyClick(guard, Qt.Key.Key_Return)
    assert mount.plan.mount.azimuth.travel_deg == 450.0
    assert mount.plan.mount.azimuth.guard_deg == 5.0


def test_tab_stops_at_no_way_back_to_a_default(bench):
    mount = bench(without_correction())
    first = mount.number("mount.keyway_bearing_deg")
    first.setFocus()
    before, seen = mount.plan, [first]
    while True:
        mount.qtbot.keyClick(seen[-1], Qt.Key.Key_Tab)
        now = mount.page.focusWidget()
        if now is first:
            break
        seen.append(now)
    resets = [button for group in mount.page.groups for button in group.resets.values()]
    assert resets
    assert not set(seen) & set(resets)
    fields = {field for group in mount.page.groups for field in group.fields.values()}
    assert fields <= set(seen)
    assert mount.plan == before


def test_an_emptied_number_goes_back_to_its_default(bench):
    mount = bench(without_correction())
    guard = mount.number("mount.azimuth.guard_deg")
    for _ in range(2):
        guard.setFocus()
        guard.selectAll()
        mount.qtbot.keyClick(guard, Qt.Key.Key_Delete)
        mount.qtbot.keyClick(guard, Qt.Key.Key_Return)
        assert not is_given(mount.plan, "mount.azimuth.guard_deg")
        assert guard.text() == "3"


def test_what_is_refused_stays_until_it_is_mended(bench):
    mount = bench(without_correction())
    guard, travel = (mount.number(f"mount.azimuth.{name}_deg") for name in ("guard", "travel"))
    mount.type_into(guard, "300")
    mount.type_into(travel, "440")
    assert (guard.text(), guard.wrong) == ("300", "Must be 0 to 90 deg")
    assert guard._note.isVisible()
    assert (
        guard._note.geometry().left() > guard.mapTo(guard._note.parentWidget(), guard.rect().topRight()).x()
    )
    mount.qtbot.keyClick(guard, Qt.Key.Key_Escape)
    assert (guard.text(), guard.wrong) == ("4", "")
    assert not guard._note.isVisible()
    mount.type_into(guard, "300")
    mount.document.undo()
    assert guard.wrong  # the undone edit was another one
    mount.type_into(guard, "5")
    assert (guard.wrong, mount.plan.mount.azimuth.guard_deg) == ("", 5.0)
    mount.type_into(guard, "-1")
    mount.document.undo()
    assert (guard.text(), guard.wrong) == ("4", "")


def test_a_bearing_is_taken_round_and_what_no_rotator_has_is_refused(bench):
    mount = bench(without_correction())
    mount.type_into(mount.number("mount.keyway_bearing_deg"), "-30")
    assert mount.plan.mount.keyway_bearing_deg == 330.0
    before = mount.plan
    for path, text in (
        ("mount.azimuth.travel_deg", "4500"),
        ("mount.azimuth.dial_scale", "1000"),
        ("mount.elevation.maximum_deg", "360"),
        ("mount.keyway_bearing_deg", "1e6"),
    ):
        mount.type_into(mount.number(path), text)
        assert mount.number(path).wrong.startswith("Must be ")
    assert mount.plan == before


def test_the_wheel_turns_the_steering_only_while_it_has_the_focus(bench):
    mount = bench(without_correction())
    mount.number("mount.keyway_bearing_deg").setFocus()
    before, box = mount.plan, mount.page.steering
    turn_wheel(box, 1 if box.currentIndex() else -1)
    assert mount.plan == before
    box.setFocus()
    turn_wheel(box, 1 if box.currentIndex() else -1)
    assert mount.plan.steering != before.steering
