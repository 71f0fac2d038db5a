"""The checklist's step: ticking by mouse and key, what comes next, undo, and the tables beside it."""

from __future__ import annotations

from core.base.edits import changed
from core.evaluate import identity
from core.setup.model import STEP_NAMES
from core.setup.timetable_words import arrive_words
from tests.app.window.pages.setup.conftest import Make


def test_steps_are_ticked_kept_in_the_plan_and_undone(make: Make) -> None:
    hand = make()
    step = hand.open("Checklist")
    checklist = hand.page.checklist
    assert step is checklist
    assert checklist.answer.figure.text() == "0 of 16 done"
    assert not checklist.over_button.isEnabled()
    before = identity(hand.plan)
    hand.click(checklist.boxes["level"])
    hand.click(checklist.next_button)
    assert hand.plan.checklist.done == ("level", "look up")
    assert identity(hand.plan) == before
    assert checklist.answer.figure.text() == "2 of 16 done"
    assert checklist.boxes["level"].accessibleName() == "level, done"
    hand.document.undo()
    assert hand.plan.checklist.done == ("level",)
    assert not checklist.boxes["look up"].isChecked()
    hand.click(checklist.over_button)
    assert hand.plan.checklist.done == ()


def test_boxes_are_ticked_by_key_and_off_again(make: Make) -> None:
    hand = make()
    hand.open("Checklist")
    box = hand.page.checklist.boxes["torque"]
    box.setFocus()
    hand.press(box, "Space")
    assert hand.plan.checklist.done == ("torque",)
    hand.press(box, "Space")
    assert hand.plan.checklist.done == ()


def test_what_comes_next_is_told_with_its_figures_and_all_done_is_done(make: Make) -> None:
    hand = make(checklist={"done": list(STEP_NAMES[:3])})
    hand.open("Checklist")
    checklist = hand.page.checklist
    assert "Next, keyway: Keyway to 0.0 deg true" in checklist.answer.words.text()
    assert not checklist.done()
    hand.document.edit(changed(hand.plan, "checklist.done", STEP_NAMES[:-1]), "nearly all")
    hand.click(checklist.next_button)
    assert checklist.done()
    assert "done" in hand.page.strip.buttons[6].accessibleName()
    assert not checklist.next_button.isEnabled()
    assert checklist.answer.words.text() == "All done: the first contact can come."


def test_the_tables_tell_when_what_and_with_what(make: Make) -> None:
    hand = make()
    hand.open("Checklist")
    tables = hand.page.checklist.tables
    ready = hand.page.set_up.ready
    assert ready is not None
    assert ready.timetable is not None
    assert tables.arrive.text() == arrive_words(ready.timetable, "Europe/Zurich")[0]
    assert len(tables.times.rows.lines) == len(ready.timetable.stages)
    hand.click(tables.parts.buttons["kit"])
    assert tables.stack.currentWidget() is tables.kit
    assert [line[0] for line in tables.kit.rows.lines] == [one.what for one in ready.kit]


def test_a_line_too_near_is_an_alarm(make: Make) -> None:
    near = [{"name": "wire", "bearing_deg": 10.0, "distance_m": 1.0, "height_m": 3.0}]
    hand = make(stand={"highest_mm": 2600.0, "near": near})
    hand.open("Checklist")
    answer = hand.page.checklist.answer
    assert "does NOT hold" in answer.words.text()
    assert answer.figure.property("rank") == "alarm"


def test_a_tick_asks_for_nothing_that_is_computed(make: Make) -> None:
    """The answer of before serves: no stage of the plan's is run again."""
    hand = make()
    hand.open("Checklist")
    ready = hand.page.set_up.ready
    hand.click(hand.page.checklist.boxes["look up"])
    hand.wait()
    again = hand.page.set_up.ready
    assert ready is not None
    assert again is not None
    assert again.timetable is ready.timetable
    assert again.sky is ready.sky


def test_the_minutes_of_a_line_are_typed_and_the_arrival_follows(make: Make) -> None:
    hand = make()
    hand.open("Checklist")
    tables = hand.page.checklist.tables
    assert not tables.minutes_button.isEnabled()
    before = hand.page.set_up.ready
    tables.times.selectRow(1)
    assert tables.minutes.text().startswith("15")
    hand.type_into(tables.minutes, "45", end=None)
    hand.click(tables.minutes_button)
    assert hand.plan.setup_minutes.tripod == 45.0
    hand.wait()
    after = hand.page.set_up.ready
    arrive_s = [one.timetable.arrive_utc_s for one in (before, after) if one and one.timetable]
    assert arrive_s[0] - arrive_s[1] == 36.0 * 60.0
    assert tables.times.rows.lines[1][3] == "45"
    hand.type_into(tables.minutes, "500", end=None)
    hand.click(tables.minutes_button)
    assert hand.plan.setup_minutes.tripod == 45.0
