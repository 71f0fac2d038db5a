"""The Site page: each edit it offers, by mouse and by keys, and what it says back."""

from __future__ import annotations

import copy
import json

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QWidget

from core.place.site import HorizonPoint
from core.plan.document import Plan
from core.plan.storage import plan_from_text
from tests.app.window.page_object_base import turn_wheel
from tests.app.window.pages.site.page_object import SiteBench
from tests.plans import full_plan_data, short_plan_data


def plan_of(data: dict) -> Plan:
    return plan_from_text(json.dumps(data), "test")


@pytest.fixture
def bench(qtbot):
    made: list[SiteBench] = []

    def make(data: dict | None = None, with_result: bool = False) -> SiteBench:
        made.append(SiteBench(qtbot, plan_of(full_plan_data() if data is None else data), with_result))
        return made[-1]

    yield make
    for one in made:
        one.close()


def test_position_is_shown_with_its_hemispheres_in_words(bench):
    data = short_plan_data()
    data["site"] = {"latitude_deg": -33.9, "longitude_deg": -70.5}
    page = bench(data).page
    assert "south" in page.place.north_words.text()
    assert "west" in page.place.east_words.text()


def test_a_wrong_sign_is_told_by_the_distance(bench):
    site = bench()
    site.type_into(site.page.place.longitude, "-9.1")
    assert site.plan.site.longitude_deg == -9.1
    words = site.page.place.moved.text()
    # 18.2 degrees along the parallel of 47.2 north are some 1375 km.
    kilometres = float(words.split(" km")[0].replace("\N{NARROW NO-BREAK SPACE}", ""))
    assert 1360.0 < kilometres < 1390.0
    assert "sign" in words
    assert site.page.place.moved.property("rank") == "alarm"


def test_a_small_move_is_no_alarm(bench):
    site = bench()
    site.type_into(site.page.place.latitude, "47.21")
    assert site.page.place.moved.property("rank") == "second"
    assert site.page.place.moved.text().startswith("1.1 km")


def test_a_locator_sets_the_middle_of_its_cell_in_one_step(bench):
    site = bench()
    site.type_into(site.page.place.locator, "jn58td")
    position = site.plan.site.latitude_deg, site.plan.site.longitude_deg
    assert position == (pytest.approx(48.145833, abs=1e-6), pytest.approx(11.625, abs=1e-6))
    assert site.page.place.locator.text() == "JN58td"
    site.document.undo()
    assert site.plan.site.latitude_deg == 47.2
    assert site.page.place.locator.text() == "JN47ne"


def test_what_cannot_be_taken_is_marked_and_changes_nothing(bench):
    site = bench()
    before = site.plan
    for field, text in (
        (site.page.place.latitude, "97"),
        (site.page.place.locator, "ZZ"),
        (site.page.evening.start, "25:10"),
        (site.page.evening.day, "2024-02-30"),
        (site.page.evening.minimum, "abc"),
    ):
        site.type_into(field, text)
        assert site.plan == before
        assert field.property("wrong")
        assert field.accessibleDescription()


def test_height_name_title_and_minimum_elevation(bench):
    site = bench()
    site.type_into(site.page.place.height_field, "812.5")
    site.type_into(site.page.place.name, "Brandkuppe")
    site.type_into(site.page.evening.title, "Second try")
    site.type_into(site.page.evening.minimum, "4")
    plan = site.plan
    assert (plan.site.height_m, plan.site.name, plan.title) == (812.5, "Brandkuppe", "Second try")
    assert plan.site.minimum_elevation_deg == 4.0
    for _ in range(4):
        site.document.undo()
    assert site.plan == plan_of(full_plan_data())


def test_time_zone_is_chosen_typed_and_given_back_to_the_place(bench):
    site = bench()
    line = site.page.place.zone.lineEdit()
    assert line is not None
    site.type_into(line, "America/Bogota")
    assert site.plan.site.time_zone == "America/Bogota"
    assert site.page.evening.start.text() == "12:00"
    line.setFocus()
    assert site.page.place.zone.count() > 300
    site.type_into(line, site.page.place.zone.itemText(0))
    assert site.plan.site.time_zone is None
    assert "time_zone" not in site.plan.site.model_fields_set
    site.type_into(line, "Mars/Olympus")
    assert site.plan.site.time_zone is None
    assert "Mars/Olympus" in site.page.place.zone_words.text()


@pytest.mark.parametrize(("latitude", "before", "after"), [(90.0, 9.0, 40.0), (47.0, 180.0, -180.0)])
def test_one_place_by_another_name_is_no_way_from_itself(bench, latitude, before, after):
    """At a pole every longitude is one place, and so is 180 east and west."""
    data = short_plan_data()
    data["site"] |= {"latitude_deg": latitude, "longitude_deg": before}
    site = bench(data)
    site.type_into(site.page.place.longitude, f"{after:g}")
    assert site.plan.site.longitude_deg == after
    assert site.page.place.moved.text() == "0.0 km from the position before."


def test_each_field_of_the_hours_changes_itself_alone(bench):
    data = short_plan_data()
    data["evening"] = {"start": "2024-11-01T17:00:00Z", "end": "2024-11-02T21:00:00Z"}
    site = bench(data)
    evening = site.page.evening
    assert (evening.start.text(), evening.end.text()) == ("18:00", "2024-11-02 22:00")
    assert "local, Sat 2 Nov" in evening.end_words.text()
    site.type_into(evening.start, "19:00")
    site.type_into(evening.day, "2024-11-03")
    assert site.plan.evening.start == "2024-11-03T18:00:00.000Z"
    assert site.plan.evening.end == "2024-11-04T21:00:00.000Z"
    site.type_into(evening.end, "22:00")
    assert site.plan.evening.end == "2024-11-03T21:00:00.000Z"


def test_an_hour_that_the_clocks_show_twice_is_told_apart_and_kept(bench):
    data = short_plan_data()
    data["evening"] = {"start": "2024-10-27T01:30:00Z", "end": "2024-10-27T04:00:00Z"}
    site = bench(data)
    evening = site.page.evening
    assert evening.start.text() == "02:30 2nd"
    site.type_into(evening.end, "6:00")
    assert site.plan.evening.start == "2024-10-27T01:30:00.000Z"
    site.type_into(evening.start, "2:30 1st")
    assert site.plan.evening.start == "2024-10-27T00:30:00.000Z"
    assert "The clocks change at 01:00 UTC, to UTC+1 (CET)." in evening.note.text()


def test_hours_are_typed_in_local_time_with_utc_beside(bench):
    site = bench()
    evening = site.page.evening
    assert (evening.day.text(), evening.start.text(), evening.end.text()) == ("2024-11-01", "18:00", "21:00")
    assert "17:00 UTC" in evening.start_words.text()
    site.type_into(evening.start, "19:30")
    assert site.plan.evening.start == "2024-11-01T18:30:00.000Z"
    site.type_into(evening.end, "1:15")
    assert site.plan.evening.end == "2024-11-02T00:15:00.000Z"
    assert "local, Sat 2 Nov" in evening.end_words.text()
    site.type_into(evening.day, "2024-07-03")
    assert site.plan.evening.start == "2024-07-03T17:30:00.000Z"  # summer time


def test_sunset_to_midnight_in_one_click(bench, qtbot):
    site = bench()
    qtbot.mouseClick(site.page.evening.sunset, Qt.MouseButton.LeftButton)
    # The minute itself is held to an ephemeris in tests/core/test_evening_hours.py.
    assert "2024-11-01T16:04" <= site.plan.evening.start <= "2024-11-01T16:09"
    assert site.plan.evening.end == "2024-11-01T23:00:00.000Z"
    assert site.page.evening.end.text() == "24:00"


def test_a_day_without_sunset_says_so(bench, qtbot):
    data = full_plan_data()
    data["site"]["latitude_deg"] = 80.0
    data["evening"] = {"start": "2024-06-20T17:00:00Z", "end": "2024-06-20T20:00:00Z"}
    site = bench(data)
    before = site.plan
    qtbot.mouseClick(site.page.evening.sunset, Qt.MouseButton.LeftButton)
    assert site.plan == before
    assert "Sun sets" in site.page.evening.day.accessibleDescription()


def test_notes_are_taken_when_the_field_is_left(bench, qtbot):
    site = bench()
    notes = site.page.evening.notes
    notes.setFocus()
    notes.selectAll()
    qtbot.keyClicks(notes, "gate code")
    site.page.evening.title.setFocus()
    qtbot.waitUntil(lambda: site.plan.notes == "gate code")


def test_a_point_is_dragged_as_one_step(bench):
    site = bench()
    start = site.point_at(1)
    site.drag(start, site.pixel(130.0, 16.0), site.pixel(140.0, 22.0))
    moved = site.plan.site.horizon[1]
    assert moved.azimuth_deg == pytest.approx(140.0, abs=0.3)
    assert moved.elevation_deg == pytest.approx(22.0, abs=0.2)
    site.document.undo()
    assert site.plan.site.horizon[1] == HorizonPoint(azimuth_deg=120.0, elevation_deg=14.0)
    assert site.page.panorama.points == site.plan.site.horizon


def test_a_point_can_be_taken_where_its_bearing_repeats(bench):
    data = full_plan_data()
    # Zeta is 143 + 60 + 12.5 - 1.5 + 0.8 = 214.8, so 250 stands at m 35.2 and again at 395.2.
    data["site"]["horizon"].append({"azimuth_deg": 250.0, "elevation_deg": 12.0})
    site = bench(data)
    site.drag(
        site.point_at(3, place=1), site.point_at(3, place=1) + site.pixel(250, 20) - site.pixel(250, 12)
    )
    assert site.plan.site.horizon[3].azimuth_deg == pytest.approx(250.0, abs=0.3)
    assert site.plan.site.horizon[3].elevation_deg == pytest.approx(20.0, abs=0.2)


def test_double_click_adds_and_delete_removes(bench):
    site = bench()
    place = site.pixel(300.0, 18.0)
    site.mouse(QEvent.Type.MouseButtonDblClick, place)
    assert len(site.plan.site.horizon) == 4
    assert site.plan.site.horizon[3].azimuth_deg == pytest.approx(300.0, abs=0.3)
    assert site.page.panorama.chosen == 3
    site.press(Qt.Key.Key_Delete)
    assert len(site.plan.site.horizon) == 3


def test_keys_choose_move_add_and_remove(bench):
    site = bench()
    site.page.panorama.setFocus(Qt.FocusReason.TabFocusReason)
    first = site.page.panorama.chosen
    assert first == 0  # the first clockwise of the stop at 214.8 is the one at 0
    site.press(Qt.Key.Key_PageDown)
    assert site.page.panorama.chosen == 1
    site.press(Qt.Key.Key_Right)
    site.press(Qt.Key.Key_Up)
    site.press(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    moved = site.plan.site.horizon[1]
    assert (moved.azimuth_deg, moved.elevation_deg) == (121.0, 15.1)
    site.document.undo()
    assert site.plan.site.horizon[1].azimuth_deg == 120.0
    site.press(Qt.Key.Key_Insert)
    assert site.plan.site.horizon[3] == HorizonPoint(azimuth_deg=160.0, elevation_deg=11.5)
    site.press(Qt.Key.Key_Delete)
    assert len(site.plan.site.horizon) == 3


def test_insert_starts_an_empty_horizon(bench):
    site = bench(short_plan_data())
    site.page.panorama.setFocus()
    site.press(Qt.Key.Key_Insert)
    assert len(site.plan.site.horizon) == 1
    site.press(Qt.Key.Key_Delete)
    assert "horizon" not in site.plan.site.model_fields_set


def test_points_are_typed_in_the_table(bench):
    site = bench()
    table = site.page.points.table
    table.item(1, 1).setText("17,5")
    assert site.plan.site.horizon[1].elevation_deg == 17.5
    table.item(2, 0).setText("-150")
    assert site.plan.site.horizon[2].azimuth_deg == 210.0


def test_a_figure_of_a_point_that_is_refused_stays_with_its_reason_beside_it(bench):
    site = bench()
    points = site.page.points
    table = points.table
    table.item(2, 0).setText("4000")
    assert site.plan.site.horizon[2].azimuth_deg == 200.0
    site.page.refresh()
    assert table.item(2, 0).text() == "4000"
    assert points.note.isVisible()
    assert points.note.text() == "Must be 0 to 360 deg"
    table.item(2, 0).setText("201")
    assert site.plan.site.horizon[2].azimuth_deg == 201.0
    assert not points.note.isVisible()
    assert site.problems == []


def test_points_stand_in_the_order_of_the_head_that_is_clicked(bench):
    site = bench()
    points, header = site.page.points, site.page.points.table.horizontalHeader()
    points.table.setCurrentCell(0, 0)
    chosen = site.page.panorama.chosen

    def column(place):
        return [float(points.table.item(row, place).text()) for row in range(points.table.rowCount())]

    for place, falling in ((1, False), (1, True), (0, True)):
        header.setSortIndicator(place, Qt.SortOrder(int(falling)))
        assert column(place) == sorted(column(place), reverse=falling)
        assert site.page.panorama.chosen == chosen
        assert points._order[points.table.currentRow()] == chosen
    header.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
    assert column(0) == sorted(column(0))


# --- what is typed and pasted -----------------------------------------------------------------------------


def test_a_whole_position_may_be_pasted_into_either_coordinate(bench):
    for field, text in (("latitude", "46.5, -8.25"), ("longitude", "46°30'N 8°15'W, 700 m")):
        site = bench()
        site.type_into(getattr(site.page.place, field), text)
        place = site.plan.site
        assert (place.latitude_deg, place.longitude_deg) == (46.5, -8.25)
        site.document.undo()
        assert site.plan == plan_of(full_plan_data())


def test_an_hour_that_is_refused_does_not_hold_up_the_other(bench):
    site = bench()
    evening = site.page.evening
    site.type_into(evening.start, "25")
    site.type_into(evening.end, "2330")
    assert site.plan.evening.end == "2024-11-01T22:30:00.000Z"
    assert (evening.start.text(), evening.end.text()) == ("25", "23:30")
    assert evening.start.wrong
    site.type_into(evening.start, "1930")
    assert not evening.start.wrong
    assert site.plan.evening.start == "2024-11-01T18:30:00.000Z"


def test_tab_past_every_field_and_the_wheel_over_every_box_change_nothing(bench):
    """The plan names the zone that the place would have anyway: that is not the same as leaving it out."""
    site = bench()
    before = site.plan
    zone = site.page.place.zone
    assert before.site.time_zone == "Europe/Zurich"
    site.page.place.name.setFocus()
    for _ in range(24):
        site.qtbot.keyClick(site.page.focusWidget(), Qt.Key.Key_Tab)
    zone.setFocus()
    zone.lineEdit().editingFinished.emit()
    site.page.place.name.setFocus()
    turn_wheel(zone)
    turn_wheel(zone.lineEdit())
    assert site.plan == before
    assert not zone.hasFocus()


def test_a_zone_that_is_none_stays_with_its_reason(bench):
    site = bench()
    zone = site.page.place.zone
    site.type_into(zone.lineEdit(), "Europe/Nowhere")
    site.page.refresh()
    assert zone.currentText() == "Europe/Nowhere"
    assert zone.property("wrong")
    assert "Nowhere" in site.page.place.zone_words.text()
    site.type_into(zone.lineEdit(), "Europe/Oslo")
    assert not zone.property("wrong")
    assert site.plan.site.time_zone == "Europe/Oslo"


def test_choosing_in_the_table_chooses_in_the_picture(bench):
    site = bench()
    site.page.points.table.setCurrentCell(2, 0)
    assert site.page.panorama.chosen == 2
    site.page.panorama.choose(0)
    assert site.page.points.table.currentRow() == 0


def test_a_horizon_file_is_dropped(bench, qtbot, tmp_path):
    site = bench()
    path = tmp_path / "ridge.csv"
    path.write_text("azimuth,elevation\n10,3\n200,18\n")
    site.drop(path)
    qtbot.waitUntil(lambda: len(site.plan.site.horizon) == 2)
    assert site.document.undo_label == "horizon from ridge.csv"


def test_a_bad_horizon_file_is_told_and_changes_nothing(bench, qtbot, tmp_path):
    site = bench()
    before = site.plan
    path = tmp_path / "ridge.csv"
    path.write_text("10,3\n400,18\n")
    site.page.import_horizon(path)
    qtbot.waitUntil(lambda: bool(site.problems))
    assert "line 2" in site.problems[0][1]
    assert site.plan == before


def test_the_cost_of_the_mask_follows_while_it_is_dragged(bench):
    data = full_plan_data()
    del data["picks"]
    site = bench(data, with_result=True)
    site.wait_for_cost()
    before = site.cost
    site.drag(site.point_at(1), site.pixel(120.0, 40.0), release=False)
    assert site.cost != before
    assert site.plan == plan_of(data)  # nothing is edited until the point is let go
    site.mouse(QEvent.Type.MouseButtonRelease, site.pixel(120.0, 40.0))
    assert site.plan != plan_of(data)


def test_picks_that_mean_no_pass_are_not_counted_as_all_passes(bench):
    data = full_plan_data()
    data["picks"] = [{"norad_id": 70001, "near": "2024-11-05T18:00:00Z"}]
    site = bench(data, with_result=True)
    site.wait_for_cost()
    assert "0 minutes" in site.cost
    assert site.page.rest.text().startswith("These are the picks; of all passes the horizon hides ")


def test_other_hours_never_count_new_picks_against_old_paths(bench, qtbot):
    """Paths are laid out later than the result is there: until then what was shown stays."""
    whole, short = full_plan_data(), full_plan_data()
    short["evening"]["end"] = "2024-11-01T18:10:00Z"
    fresh = {}
    for name, data in (("whole", whole), ("short", short)):
        alone = bench(data, with_result=True)
        alone.wait_for_cost()
        fresh[name] = alone.cost, alone.page.rest.text(), len(alone.page.panorama.scene.lines)
    assert fresh["whole"] != fresh["short"]

    def shown():
        return site.cost, site.page.rest.text(), len(site.page.panorama.scene.lines)

    site = bench(short, with_result=True)
    site.wait_for_cost()
    site.document.edit(plan_of(whole), "longer")
    assert shown() == fresh["short"]
    qtbot.waitUntil(lambda: shown() == fresh["whole"])
    site.document.undo()
    assert shown() == fresh["whole"]
    qtbot.waitUntil(lambda: shown() == fresh["short"])
    site.document.redo()
    qtbot.waitUntil(lambda: shown() == fresh["whole"])


def test_an_evening_without_satellites_says_what_to_do(bench):
    data = short_plan_data()
    data["satellites"] = []
    site = bench(data)
    assert "Import elements" in site.page.rest.text()


def test_a_travel_short_of_a_circle_shows_what_it_leaves_out(bench):
    data = copy.deepcopy(full_plan_data())
    data["mount"]["azimuth"]["travel_deg"] = 300.0
    site = bench(data)
    assert site.page.panorama.axes().span == 360.0
    assert not site.page.panorama.grab().isNull()


def test_every_field_and_the_picture_have_names(bench):
    page = bench().page
    for widget in page.findChildren(QWidget):
        inner = widget.objectName().startswith("qt_") or widget.parent().__class__.__name__ in {
            "QTableWidget",
            "QComboBox",
            "QComboBoxListView",
            "QComboBoxPrivateContainer",
        }
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus and not inner and widget.window() is page.window():
            assert widget.accessibleName() or widget.__class__.__name__ == "QScrollArea", widget
    page.panorama.choose(1)
    assert "120 deg true, 14 deg high" in page.panorama.accessibleDescription()
