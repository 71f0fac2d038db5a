"""Other fields beside the open plan: which are asked for, what is told of each, what goes on meanwhile."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from core.compare import compare, with_same_evening
from core.plan.document import Plan
from tests.app.window.pages.site.fields_object import FieldsHand, Held
from tests.lasting import MEMO
from tests.plans import plan_of, short_plan_data

WOOD = [{"azimuth_deg": 180.0, "elevation_deg": 0.0}, {"azimuth_deg": 270.0, "elevation_deg": 20.0}]
PICKS = [{"norad_id": 70001, "near": "2024-11-01T17:40:00Z"}]


def field(name: str, **changes) -> Plan:
    return plan_of(short_plan_data(), site__name=name, title=f"{name} plan", **changes)


RIDGE = field("Ridge", picks=PICKS)
MOOR = field("Moor", site__latitude_deg=47.9, site__horizon=WOOD)
HEATH = field("Heath", site__longitude_deg=10.4)


@pytest.fixture
def hand(qtbot, tmp_path):
    made = FieldsHand(qtbot, RIDGE, tmp_path)
    yield made
    made.close()


@pytest.fixture
def compared(hand):
    """The open plan beside two others."""
    hand.open()
    hand.choose_files(hand.file(MOOR, "moor"), hand.file(HEATH, "heath"))
    hand.wait()
    return hand


def figures(*plans: Plan, same_evening: bool = True) -> list[list[str]]:
    """What the table is to show of some plans."""
    told = compare(with_same_evening(plans) if same_evening else plans, MEMO)
    return [
        [
            told.names[k],
            f"{told.usable_s[k] / 60.0:.1f}",
            f"{told.hidden_s[k] / 60.0:.1f}",
            f"{told.contacts[k]}",
            f"{told.worth_s[k]:.0f}",
            f"{told.best[k].keyway_bearing_deg:.1f}, hole {told.best[k].index_hole}",
        ]
        for k in range(len(plans))
    ]


def test_the_button_asks_for_plan_files_and_stops_nothing_else(hand):
    hand.click(hand.site.page.place.compare)
    assert hand.dialog.isVisible()
    assert not hand.dialog.isModal()
    (asking,) = hand.asking
    assert asking.fileMode() == asking.FileMode.ExistingFiles
    asking.reject()
    assert [row[0] for row in hand.cells] == ["Ridge"]
    assert "Add the plan files" in hand.dialog.state.text()
    assert not hand.site.runner.busy_words


def test_the_open_plan_stands_first_and_its_evening_at_every_field(compared):
    dialog = compared.dialog
    assert dialog.same.isChecked()
    assert compared.cells == figures(RIDGE, MOOR, HEATH)
    assert dialog.answer.text().startswith("Worth ")
    assert dialog.state.text() == ""
    assert not dialog.stop_button.isVisible()


def test_each_field_with_its_own_evening_is_told_as_another_one(compared):
    compared.dialog.same.click()
    compared.wait()
    assert compared.cells == figures(RIDGE, MOOR, HEATH, same_evening=False)
    assert compared.dialog.answer.text().splitlines() == [
        "Moor plans another evening than Ridge: they differ in picks.",
        "Heath plans another evening than Ridge: they differ in picks.",
    ]


def test_delete_removes_the_chosen_field_but_never_the_open_plan(compared):
    dialog = compared.dialog
    compared.choose(0)
    assert not dialog.remove_button.isEnabled()
    compared.press(dialog.table, "Delete")
    assert len(compared.cells) == 3
    compared.choose(1)
    compared.press(dialog.table, "Delete")
    compared.wait()
    assert compared.cells == figures(RIDGE, HEATH)
    compared.click(dialog.remove_button)
    assert [row[0] for row in compared.cells] == ["Ridge"]
    assert compared.cells[0][1] == figures(RIDGE, HEATH)[0][1]
    assert not dialog.again_button.isVisible()


def test_delete_means_the_field_that_is_seen_however_the_rows_are_ordered(compared):
    compared.dialog.table.sortByColumn(0, Qt.SortOrder.AscendingOrder)
    assert [row[0] for row in compared.cells] == ["Heath", "Moor", "Ridge"]
    compared.choose(0)
    compared.press(compared.dialog.table, "Delete")
    assert [row[0] for row in compared.cells] == ["Moor", "Ridge"]


def test_a_file_that_cannot_be_read_is_told_and_the_others_are_taken(hand):
    hand.open()
    torn = hand.folder / "torn.northkey.json"
    torn.write_text("{")
    nowhere = hand.file(field("Nowhere", site__time_zone="Europe/Zurch"), "nowhere")
    hand.choose_files(torn, hand.folder / "absent.northkey.json", nowhere, hand.file(MOOR, "moor"))
    hand.wait()
    told = hand.dialog.refused.text().splitlines()
    assert hand.dialog.refused.isVisible()
    assert [line.split(".")[0] for line in told] == ["torn", "absent", "nowhere"]
    assert "Europe/Zurch" in told[2]
    assert [row[0] for row in hand.cells] == ["Ridge", "Moor"]


def test_there_is_room_for_all_that_is_told(hand, qtbot):
    hand.open()
    hand.choose_files(*(hand.folder / f"{'absent ' * 20}{k}.northkey.json" for k in range(9)))
    refused, table = hand.dialog.refused, hand.dialog.table
    assert refused.text().splitlines()[-1] == "and 5 other files."
    qtbot.waitUntil(lambda: refused.height() >= refused.heightForWidth(refused.width()) > 100)
    assert table.height() >= table.minimumHeight()
    assert refused.y() >= table.geometry().bottom()
    hand.dialog.resize(hand.dialog.minimumWidth(), 300)
    qtbot.waitUntil(lambda: refused.height() >= refused.heightForWidth(refused.width()))
    assert refused.y() >= table.geometry().bottom()


def test_four_fields_beside_the_open_plan_are_all(hand):
    hand.open()
    hand.choose_files(*(hand.file(field(name, satellites=[]), name) for name in "abcde"))
    assert [row[0] for row in hand.cells] == ["Ridge", "a", "b", "c", "d"]
    assert hand.dialog.refused.text().startswith("e.northkey.json: left out")
    assert not hand.dialog.add_button.isEnabled()


def test_a_file_asked_for_again_is_read_anew_in_its_row(compared):
    compared.choose_files(compared.file(field("Marsh"), "moor"))
    assert [row[0] for row in compared.cells] == ["Ridge", "Marsh", "Heath"]


def test_an_edit_of_the_open_plan_marks_the_figures_until_there_are_new_ones(compared, qtbot, monkeypatch):
    before = compared.cells
    held = Held(monkeypatch)
    compared.site.type_into(compared.site.page.place.latitude, "48.4")
    qtbot.waitUntil(lambda: "waiting" in compared.dialog.state.text())
    assert "italics are of the plan before" in compared.dialog.state.text()
    assert compared.cells == before
    assert compared.spoken(0, 1) == f"{before[0][1]}, of the plan before"
    assert compared.spoken(1, 1) == before[1][1]  # the evening there is the same still
    assert compared.dialog.answer.text() == ""
    held.let_go.set()
    compared.wait()
    assert compared.cells == figures(compared.site.plan, MOOR, HEATH) != before
    assert compared.spoken(0, 1) == compared.cells[0][1]


def test_a_comparison_can_be_stopped_and_taken_up_again(hand, qtbot, monkeypatch):
    held = Held(monkeypatch)
    hand.open()
    hand.choose_files(hand.file(MOOR, "moor"))
    qtbot.waitUntil(lambda: hand.dialog.state.text() == "Field 1 of 2, waiting.")
    assert (hand.dialog.bar.value(), hand.dialog.bar.maximum()) == (1, 8)
    hand.click(hand.dialog.stop_button)
    qtbot.waitUntil(held.ended.is_set)
    assert hand.dialog.state.text() == "Not compared yet."
    held.let_go.set()
    hand.click(hand.dialog.again_button)
    hand.wait()
    assert hand.cells == figures(RIDGE, MOOR)


def test_what_is_cancelled_elsewhere_is_told_here(hand, qtbot, monkeypatch):
    held = Held(monkeypatch)
    hand.open()
    hand.choose_files(hand.file(MOOR, "moor"))
    qtbot.waitUntil(hand.dialog.bar.isVisible)
    hand.site.runner.cancel()
    qtbot.waitUntil(held.ended.is_set)
    qtbot.waitUntil(hand.dialog.again_button.isVisible)
    assert not hand.dialog.stop_button.isVisible()


def test_closed_it_works_nothing_out_and_keeps_its_fields(compared, qtbot, monkeypatch):
    held = Held(monkeypatch)
    compared.site.type_into(compared.site.page.place.latitude, "48.4")
    qtbot.waitUntil(lambda: compared.dialog.fields.working)
    compared.click(compared.dialog.close_button)
    qtbot.waitUntil(held.ended.is_set)
    compared.site.type_into(compared.site.page.place.latitude, "48.5")
    assert not compared.dialog.fields.working
    held.let_go.set()
    compared.click(compared.site.page.place.compare)
    assert compared.asking == []
    compared.wait()
    assert compared.cells == figures(compared.site.plan, MOOR, HEATH)


def test_picks_that_mean_no_pass_at_a_field_are_told_with_its_name(hand):
    wall = [{"azimuth_deg": 0.0, "elevation_deg": 88.0}]
    hand.open()
    hand.choose_files(hand.file(field("Gorge", site__horizon=wall), "gorge"))
    hand.wait()
    assert hand.dialog.told.text().startswith("Gorge: No pass of Alder near 2024-11-01T17:40:00Z")
    assert hand.cells[1][1:] == ["0.0", figures(RIDGE, RIDGE)[0][1], "0", "0", "none"]


def test_what_the_open_plan_gets_wrong_is_told_in_its_place(compared, qtbot):
    bad = plan_of(short_plan_data(), site__time_zone="Europe/Zurch", picks=PICKS)
    compared.site.document.edit(bad, "zone")
    qtbot.waitUntil(lambda: "Europe/Zurch" in compared.dialog.state.text())
    assert compared.dialog.state.text().startswith("Not compared: ")
    compared.site.document.undo()
    compared.wait()
    assert compared.dialog.state.text() == ""
