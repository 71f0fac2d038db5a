"""Re-plan from now on the Evening page: asked, shown apart from the plan, kept or left."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from core.base.edits import changed
from core.base.times import clock, format_iso
from core.plan.document import Plan
from core.replan import replan
from tests.app.window.pages.evening.now_object import NowHand
from tests.app.window.test_accessible_names import letters, nameless
from tests.lasting import result_of
from tests.seat_evening import seat_plan

WRAPS = {
    "mount__azimuth": {
        "travel_deg": 450.0,
        "guard_deg": 5.0,
        "dial_wraps_at_deg": 360.0,
        "dial_wraps_to_deg": 0.0,
    }
}


@pytest.fixture
def hand_on(qtbot):
    made: list[NowHand] = []

    def make(plan: Plan | None = None, after_s: float = 3600.0) -> NowHand:
        plan = seat_plan() if plan is None else plan
        made.append(NowHand(qtbot, plan, plan.evening.start_utc_s + after_s))
        return made[-1]

    yield make
    for hand in made:
        hand.close()


def test_an_azimuth_dial_and_enter_are_enough(hand_on):
    hand = hand_on()
    plan, now_s = hand.context.plan, hand.context.now_utc_s
    again = hand.plan_from("100")
    assert hand.dialog is None
    assert (again.now.utc_s, again.place.m_deg, again.place.e_deg) == (now_s, 100.0, 0.0)
    assert hand.context.plan == plan
    assert not hand.context.document.undo_label
    assert hand.page.now_band.isVisible()
    assert not hand.page.seat_head.isVisible()
    words = hand.page.now_band.words()
    first = again.result.order.contacts[0]
    assert f"re-planned from {clock(now_s)} UTC" in words
    assert "azimuth dial 100" in words
    assert clock(again.on_first_utc_s) in words
    assert first.check.pass_.satellite in words
    assert hand.state.full_s[0] == now_s
    assert hand.state.legs[0].m_deg[0] == 100.0
    assert hand.state.check(hand.state.chosen).pass_ is first.check.pass_


def test_back_to_the_plan_shows_what_was_shown(hand_on):
    hand = hand_on()
    before, order = hand.contacts, hand.state.order
    hand.plan_from()
    assert len(hand.contacts) < len(before)
    hand.hand.click(hand.page.now_band.back_button)
    assert hand.state.order is order
    assert hand.page.seat_head.isVisible()
    assert not hand.page.now_band.isVisible()


def test_a_dial_that_shows_a_figure_twice_is_asked_of(hand_on):
    hand = hand_on(seat_plan(**WRAPS))
    dialog = hand.ask()
    assert not dialog.round.isVisible()
    hand.hand.type_into(dialog.azimuth, "20")
    assert dialog.isVisible()
    assert [b.text().split(":")[0] for b in dialog.round.group.buttons()] == ["first", "second"]
    first, second = dialog.round.group.buttons()
    assert first.hasFocus()
    hand.key(first, Qt.Key.Key_Down)
    hand.key(second, Qt.Key.Key_Space)
    assert second.isChecked()
    hand.key(second, Qt.Key.Key_Return)
    assert hand.planned().place.m_deg == 380.0


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("azimuth", "", "what the azimuth dial reads now"),
        ("azimuth", "380", "between 0 and 360"),
        ("azimuth", "north", "-3600 to 3600 deg"),
        ("elevation", "120", "between 0 and 90 deg"),
        ("time", "soon", "18:42"),
        ("time", "23:50", "before the evening's end"),
        ("keyway", "800", "0 to 360 deg"),
    ],
)
def test_what_cannot_be_is_told_beside_its_field(hand_on, field, typed, words):
    hand = hand_on()
    dialog = hand.ask()
    hand.type_into(dialog.azimuth, "100")
    if (field, typed) == ("azimuth", ""):
        hand.hand.press(dialog.azimuth, "Esc")
        dialog = hand.ask()
    else:
        hand.type_into(getattr(dialog, field), typed)
    dialog.submit()
    refused = getattr(dialog, field)
    assert words in refused.wrong
    assert refused.hasFocus()
    assert hand.context.present.now is None
    hand.hand.press(refused, "Esc")
    assert not refused.wrong
    dialog.reject()


def test_everything_told_is_planned_with(hand_on):
    hand = hand_on()
    coming = hand.state.order.contacts[-1].check.pass_
    dialog = hand.ask()
    now_s = hand.context.plan.evening.start_utc_s + 1800.0
    hand.type_into(dialog.time, clock(now_s, False))
    hand.type_into(dialog.azimuth, "40")
    hand.type_into(dialog.elevation, "30")
    hand.type_into(dialog.keyway, "71.5")
    dialog.hole.setCurrentIndex(dialog.hole.findData("B"))
    last = dialog.missed.count() - 1
    dialog.missed.setCurrentRow(last)
    hand.key(dialog.missed, Qt.Key.Key_Space)
    dialog.submit()
    again = hand.planned()
    mount = again.plan.mount
    assert (again.now.utc_s, *again.place) == (now_s, 40.0, 30.0)
    assert (mount.keyway_bearing_deg, mount.index_hole) == (71.5, "B")
    assert [one.norad_id for one in again.missed] == [coming.norad_id]
    los_s = [one.los.utc_s for one in again.result.passes]
    index = min(range(len(los_s)), key=lambda i: abs(los_s[i] - coming.los.utc_s))
    assert hand.state.absence(index) == "missed"
    asked = hand.ask()
    assert (asked.keyway.text(), asked.hole.currentData()) == ("71.5", "B")
    assert asked.missed.missed == again.now.missed
    assert (asked.time.text(), asked.azimuth.text()) == ("now", "")
    asked.reject()


def test_the_missed_list_says_what_has_become_of_each(hand_on):
    hand = hand_on()
    dialog = hand.ask()
    contacts = hand.state.order.contacts
    lines = [dialog.missed.item(row).text() for row in range(dialog.missed.count())]
    assert len(lines) == len(contacts)
    over = contacts[0].check.pass_
    assert lines[0].endswith(f"{over.satellite}, over since {clock(over.los.utc_s, False)}")
    assert lines[-1].endswith("to come")
    hand.type_into(dialog.time, clock(over.peak.utc_s))
    assert dialog.missed.item(0).text().endswith(f"under way to {clock(over.los.utc_s, False)}")
    dialog.reject()


def test_kept_it_is_the_plan_in_one_step_and_goes_on_from_the_same_place(hand_on):
    hand = hand_on()
    plan = hand.context.plan
    dialog = hand.ask()
    hand.type_into(dialog.azimuth, "100")
    dialog.missed.item(0).setCheckState(Qt.CheckState.Checked)
    dialog.submit()
    again, worked = hand.planned(), hand.contacts
    hand.hand.click(hand.page.now_band.keep_button)
    assert hand.context.plan == again.plan
    kept = hand.planned()
    assert (kept.plan, kept.place, hand.contacts) == (again.plan, again.place, worked)
    assert not hand.page.now_band.keep_button.isEnabled()
    hand.context.document.undo()
    assert hand.context.plan == plan
    assert hand.planned().now == again.now
    assert not hand.context.document.undo_label
    assert hand.told == []


def test_an_edit_is_followed_and_what_leaves_nothing_shows_the_plan(hand_on):
    hand = hand_on()
    hand.plan_from()
    hand.page.toggle_pick(len(hand.state.paths) - 1)
    again = hand.planned()
    assert len(again.plan.picks) == len(hand.context.plan.picks) == 1
    early = format_iso(hand.context.now_utc_s - 60.0)
    hand.context.document.edit(changed(hand.context.plan, "evening.end", early), "shorter")
    hand.qtbot.waitUntil(lambda: hand.context.present.now is None)
    assert [title for title, _sentence in hand.told] == ["Rest of the evening not planned"]
    assert not hand.page.now_band.isVisible()


def test_another_document_or_a_cancel_leaves_it(hand_on):
    hand = hand_on()
    hand.plan_from()
    hand.context.document.start(seat_plan(title="Another"))
    assert hand.context.rest is None
    dialog = hand.ask()
    hand.type_into(dialog.azimuth, "100")
    dialog.submit()
    hand.runner.cancel()
    hand.qtbot.waitUntil(lambda: hand.context.present.now is None)
    assert hand.context.rest is None


def test_reasons_come_for_the_rest(hand_on):
    hand = hand_on()
    hand.plan_from()
    hand.from_now.request_reasons()
    hand.qtbot.waitUntil(lambda: bool(hand.state.why_so))
    assert len(hand.state.why_so) == len(hand.contacts)


def test_the_dialog_and_the_head_have_names_and_letters_of_their_own(hand_on):
    hand = hand_on(seat_plan(**WRAPS))
    dialog = hand.ask()
    hand.type_into(dialog.azimuth, "20")
    dialog.azimuth.setFocus()
    dialog.focusNextChild()
    assert dialog.focusWidget() is dialog.round.group.buttons()[0]
    for _ in range(12):
        dialog.focusNextChild()
        assert dialog.isAncestorOf(dialog.focusWidget())
    assert nameless(dialog) == []
    assert {k: v for k, v in letters(dialog).items() if len(v) > 1} == {}
    assert dialog.sizeHint().height() < 720
    dialog.round.group.buttons()[0].setChecked(True)
    dialog.submit()
    hand.planned()
    assert nameless(hand.page.now_band) == []


def test_the_plan_is_asked_of_only_once_it_is_worked_out(hand_on):
    hand = hand_on()
    hand.context.result_plan = None
    dialog = hand.ask()
    assert not dialog.plan_button.isEnabled()
    hand.evaluate()
    assert dialog.plan_button.isEnabled()
    dialog.reject()


def test_it_is_what_the_command_gives(hand_on):
    hand = hand_on()
    again = hand.plan_from("100")
    same = replan(hand.context.plan, again.now)
    assert result_of(hand.context.plan).order is not None
    assert [c.start_utc_s for c in same.result.order.contacts] == [
        c.start_utc_s for c in again.result.order.contacts
    ]
