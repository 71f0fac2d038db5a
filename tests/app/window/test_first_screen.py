"""The sentence of the first screen: where to turn the keyway and what it saves, from an empty plan on."""

from __future__ import annotations

import re

import pytest

from app.opening import demo_plan
from app.window.frame.plan_files import fresh_plan
from core.base.edits import changed
from tests.app.window.conftest import NOW_UTC_S
from tests.app.window.first_screen_object import FirstScreen
from tests.core.mount.seat.evenings_by_seat import made_up_evenings
from tests.lasting import result_of
from tests.plans import elements_data, write_elements_file
from tests.seat_evening import seat_plan
from tests.shared_data import shared_file

MOST_ACTIONS = 6
LEAVE = re.compile(
    r"(?:By the passes alone: leave|Leave) the keyway at (?P<bearing>[\d.]+) deg true, hole \w+: "
    r"all (?P<passes>\d+) passes go"
)
TURN = re.compile(
    r"By the passes alone: turn the keyway to (\d+\.\d) deg true, hole (\w+)(?: instead of \w+)?: "
    r"(?:(\d+) of|all) (\d+) passes go(?:es)? without turning back; "
    r"as it stands (?:(\d+) do(?:es)?|none does) \((\d+) saved\)"
)


def _held(result):
    return sum(check.verdict in {"upright", "over the top"} for check in result.checks)


def _agrees(sentence, plan):
    """The figures of the sentence are those of the plan, turned and worked out afresh."""
    if left := LEAVE.match(sentence):
        now = result_of(plan)
        assert float(left["bearing"]) == plan.mount.keyway_bearing_deg
        assert _held(now) == len(now.passes) == int(left["passes"])
        return
    found = TURN.fullmatch(sentence.split(";")[0] + ";" + sentence.split(";")[1].rstrip("."))
    assert found, sentence
    bearing, hole, held, passes, here, saved = found.groups()
    turned = changed(changed(plan, "mount.index_hole", hole), "mount.keyway_bearing_deg", float(bearing))
    now, then = result_of(plan), result_of(turned)
    assert len(now.passes) == int(passes)
    assert _held(then) == int(held or passes)
    assert _held(now) == int(here or 0)
    assert int(saved) == _held(then) - _held(now) > 0


def _made_file(folder):
    records = [
        elements_data(
            72000 + i,
            f"ALDER {i}",
            INCLINATION=[97.5, 64.0, 51.0, 82.0, 98.7, 70.0][i],
            RA_OF_ASC_NODE=[330.0, 180.0, 60.0, 200.0, 20.0, 300.0][i],
            MEAN_ANOMALY=[120.0, 10.0, 200.0, 300.0, 80.0, 40.0][i],
        )
        for i in range(6)
    ]
    return write_elements_file(folder, *records)


@pytest.fixture(params=["made", "real"])
def elements(request, tmp_path):
    return _made_file(tmp_path) if request.param == "made" else shared_file("data/amateur_20241101.csv")


def test_from_an_empty_plan_in_six_actions(qtbot, window_of, elements):
    """The demo stands first; the first action leaves nothing of it but the position."""
    screen = FirstScreen(qtbot, window_of(demo_plan()))
    screen.choose_menu("new")
    assert screen.window.document.plan.satellites == ()
    screen.click_page("Site")
    screen.type_locator("JN47NE")
    screen.click_sunset_to_midnight()
    screen.drop(elements)
    screen.wait_satellites()
    screen.click_page("Evening")
    screen.wait_studied()
    assert len(screen.actions) <= MOST_ACTIONS, screen.actions
    plan = screen.window.document.plan
    assert plan.picks == ()
    _agrees(screen.sentence, plan)


def test_the_keyway_page_says_the_same_words_and_turning_there_changes_both(qtbot, window_of):
    window = window_of(seat_plan())
    screen = FirstScreen(qtbot, window)
    before = screen.sentence
    _agrees(before, window.document.plan)
    window.open_page("Keyway")
    keyway = window.page("Keyway")
    assert keyway.sentence.text() == before
    keyway.turn_to_best()
    screen.wait_studied()
    assert keyway.sentence.text().startswith("By the passes alone: the keyway stands best as it is")
    window.open_page("Evening")
    assert screen.sentence == keyway.sentence.text()


def test_the_evenings_are_weighed_after_the_study_and_an_edit_drops_them(qtbot, window_of, monkeypatch):
    asked = []

    def weigh(plan, result, study, memo, progress):
        asked.append(plan)
        return made_up_evenings([3000.0] * 5 + [3600.0] + [3000.0] * 6, plan.mount)

    monkeypatch.setattr("core.studies.orient_by_evening", weigh)
    window = window_of(seat_plan(), weighs=True)
    screen = FirstScreen(qtbot, window)
    qtbot.waitUntil(lambda: window.context.by_evening is not None)
    assert asked == [window.document.plan]
    assert screen.sentence.startswith(
        "Turn the keyway to 150.0 deg true, hole A: the evening is worth 3,600 s;"
    )
    window.open_page("Keyway")
    assert window.page("Keyway").sentence.text() == screen.window.page("Evening").seat_head.sentence.text()
    window.document.edit(changed(window.document.plan, "evening_rules.change_cost_s", 90.0), "cost")
    assert window.page("Keyway").sentence.text().startswith("By the passes alone")
    qtbot.waitUntil(lambda: window.context.by_evening_plan == window.document.plan)
    assert window.page("Keyway").sentence.text().startswith("Turn the keyway to 150.0")
    assert len(asked) == 2


def test_the_sentence_leads_to_the_keyway(qtbot, window_of):
    window = window_of(seat_plan())
    window.page("Evening").seat_head.keyway.click()
    assert window.open_title == "Keyway"


def test_while_the_seat_is_studied_it_says_so_and_after_a_cancel_too(qtbot, window_of):
    window = window_of(seat_plan(), wait=False)
    qtbot.waitUntil(lambda: window.context.result is not None, timeout=30_000)
    screen = FirstScreen(qtbot, window)
    assert screen.sentence.startswith("Studying the seat")
    window.evaluation.request_study()
    window.actions_by_id["cancel"].trigger()
    qtbot.waitUntil(lambda: not window.runner.busy_words, timeout=30_000)
    assert window.context.study is None
    assert screen.sentence.startswith("The seat is not studied")
    assert window.foot.ask.isVisible()
    window.foot.ask.click()
    screen.wait_studied()
    assert screen.sentence.startswith("By the passes alone: turn the keyway")


def test_without_satellites_the_page_says_what_to_do_first(window_of, qtbot):
    window = window_of(fresh_plan(seat_plan(), NOW_UTC_S), wait=False)
    page = window.page("Evening")
    qtbot.waitUntil(lambda: not window.runner.busy_words, timeout=30_000)
    assert page.nothing.isVisible()
    assert page.seat_head.sentence.text().startswith("No satellites yet")
