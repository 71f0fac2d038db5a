"""The frame of the set-up: the strip, from step to step, whose answer is shown, when it is asked."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication

from app.window.look.scheme import SCHEMES, use_type
from app.window.pages.setup.big import LEAST_PX
from app.window.pages.setup.state import SET_UP
from core.base.edits import changed
from core.setup.words import SUN_CAUTION
from tests.app.window.overlaps import overlaps
from tests.plans import plan_of, short_plan_data

LEAST_PAGE = (938, 597)


def test_steps_are_gone_through_by_next_and_back(make):
    hand = make()
    page = hand.page
    assert (page.step.title, page.back.isEnabled()) == ("Level", False)
    seen = [page.step.title]
    while page.next.isEnabled():
        hand.click(page.next)
        seen.append(page.step.title)
    assert seen == ["Level", "North", "Keyway", "Sightings", "Fit", "How good", "Checklist"]
    hand.click(page.back)
    hand.click(page.back)
    assert page.step.title == "Fit"
    assert [button.isChecked() for button in page.strip.buttons].index(True) == 4


def test_steps_are_reached_by_keys_alone(make):
    hand = make()
    hand.page.next.setFocus()
    hand.press(hand.page.next, "Space")
    assert hand.page.step.title == "North"
    strip = hand.page.strip.buttons[4]
    strip.setFocus()
    hand.press(strip, "Space")
    assert hand.page.step.title == "Fit"


def test_everything_that_is_pressed_is_large_enough_for_gloves(make):
    hand = make()
    for step in hand.page.steps:
        hand.open(step.title)
        QApplication.processEvents()
        low = [
            button.accessibleName()
            for button in hand.page.findChildren(QAbstractButton)
            if button.isVisible() and button.height() < LEAST_PX
        ]
        assert low == [], step.title


@pytest.mark.parametrize("scheme", ["light", "dusk"])
def test_no_step_is_cut_or_lies_over_itself_in_the_least_window(make, scheme):
    hand = make()
    hand.context.scheme = SCHEMES[scheme]
    use_type(hand.context.scheme)
    hand.page.resize(*LEAST_PAGE)
    told = {}
    for step in hand.page.steps:
        hand.open(step.title)
        for _ in range(3):
            QApplication.processEvents()
        told[step.title] = overlaps(hand.page)
    for part, button in hand.page.north.parts.buttons.items():
        hand.open("North")
        hand.click(button)
        QApplication.processEvents()
        told[part] = overlaps(hand.page)
    assert {title: faults for title, faults in told.items() if faults} == {}


def test_nothing_is_asked_while_the_page_is_hidden(make):
    hand = make()
    hand.page.hide()
    hand.document.edit(changed(hand.plan, "mount.keyway_bearing_deg", 12.0), "keyway")
    hand.page.set_up.take_moment(hand.context.now_utc_s + 3600.0)
    assert not hand.context.runner.under_way(SET_UP)
    assert not hand.page.set_up.fresh
    hand.page.show()
    hand.wait()


def test_an_answer_belongs_to_the_plan_it_was_asked_for(make):
    hand = make(
        level_readings=[{"bearing_deg": 0.0, "rise_deg": 1.0}, {"bearing_deg": 90.0, "rise_deg": 0.0}]
    )
    page = hand.page
    assert page.level.take_button.isEnabled()
    hand.document.edit(changed(hand.plan, "level_readings.0.rise_deg", 2.0), "reading")
    assert not page.set_up.holds
    assert not page.level.take_button.isEnabled()
    assert page.state.text() == "Being worked out..."
    hand.wait()
    assert page.level.answer.figure.text() == "2.00 deg"
    assert page.level.take_button.isEnabled()


def test_what_was_stopped_can_be_asked_again(make):
    hand = make(wait=False)
    hand.context.runner.cancel()
    hand.qtbot.waitUntil(hand.page.again.isVisible, timeout=30_000)
    hand.click(hand.page.again)
    hand.wait()
    assert not hand.page.again.isVisible()


def test_another_document_forgets_the_moment_and_the_answer(make):
    hand = make()
    hand.page.set_up.take_moment(hand.context.now_utc_s - 7200.0)
    hand.wait()
    hand.type_into(hand.page.level.bearing, "45")
    hand.open("Keyway")
    hand.type_into(hand.page.keyway.field, "45")
    hand.document.start(plan_of(short_plan_data(), title="another"))
    assert hand.page.set_up.typed_utc_s is None
    assert hand.page.level.bearing.text() == hand.page.keyway.field.text() == ""
    hand.wait()


def test_a_plan_without_anything_says_what_to_do_first(make):
    hand = make(satellites=[])
    assert "No level readings yet" in hand.page.level.answer.words.text()
    hand.open("Fit")
    assert "No sightings yet" in hand.page.fit.answer.words.text()
    hand.open("Sightings")
    hand.click(hand.page.sightings.form.target.kind.buttons["landmark"])
    assert "No landmarks yet" in hand.page.sightings.form.target.words.text()
    hand.click(hand.page.sightings.form.target.kind.buttons["satellite"])
    assert "No satellites yet" in hand.page.sightings.form.target.words.text()


def test_the_caution_stands_wherever_the_sun_is_used(make):
    hand = make()
    hand.open("North")
    assert hand.page.north.caution.isVisible()
    assert hand.page.north.caution.text() == SUN_CAUTION
    hand.open("Sightings")
    target = hand.page.sightings.form.target
    assert target.caution.isVisible()
    hand.click(target.kind.buttons["Moon"])
    assert not target.caution.isVisible()


def test_done_steps_are_ticked(make):
    hand = make()
    assert "done" not in hand.page.strip.buttons[0].accessibleName()
    hand.add_level("0", "0.4")
    hand.add_level("90", "-0.2")
    assert "done" in hand.page.strip.buttons[0].accessibleName()
    assert Qt.FocusPolicy.StrongFocus == hand.page.strip.buttons[0].focusPolicy()
