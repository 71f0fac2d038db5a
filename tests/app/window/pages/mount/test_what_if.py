"""Changed mounts beside the Mount page: told as the study tells them, stopped, marked, taken over, saved."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QMessageBox

from app.window.look.scheme import SCHEMES
from app.window.pages.mount.what_if.lines import STROKES, lines_of, scale_of
from core.base.edits import changed
from core.evaluate import identity
from core.plan.document import Plan
from core.what_if.changes import MOST_CHANGES, Change, with_change
from core.what_if.evening import what_if_evening
from core.what_if.season import what_if_season
from core.what_if.words import best_cells, season_cells, sentences_of, stands_cells
from tests.app.window.conftest import RUNNERS_MEMO
from tests.app.window.pages.mount.what_if_object import Held, WhatIfHand
from tests.app.window.test_accessible_names import letters, nameless
from tests.app.window.test_text_is_text import rich
from tests.lasting import MEMO
from tests.plans import plan_of, short_plan_data

HOLES = [{"name": "A", "offset_deg": 0.0}, {"name": '<img src="/p.png">', "offset_deg": 90.0}]
SHORT = {"mount__index_holes": HOLES, "mount__azimuth__travel_deg": 360.0}
PLAN = plan_of(short_plan_data(), **SHORT, title="$x$ & <b>")
FAR, LOW = Change(travel_deg=540.0), Change(elevation_maximum_deg=90.0)


@pytest.fixture
def hand_on(qtbot, monkeypatch):
    """A hand on the page of a plan; what these runners work out is remembered from test to test."""
    monkeypatch.setattr("app.window.state.runner.Memo", lambda: RUNNERS_MEMO)
    made: list[WhatIfHand] = []

    def make(plan: Plan) -> WhatIfHand:
        made.append(WhatIfHand(qtbot, plan))
        return made[-1]

    yield make
    for one in made:
        one.close()


@pytest.fixture
def hand(hand_on):
    return hand_on(PLAN)


@pytest.fixture
def answered(hand):
    hand.tick(FAR, LOW)
    hand.ask()
    hand.answered()
    return hand


def test_it_tells_what_the_study_says(answered):
    dialog = answered.dialog
    told = what_if_evening(PLAN, (FAR, LOW), MEMO)
    now = told.rows[0]
    assert answered.cells(dialog.results.stands) == [stands_cells(row, now) for row in told.rows]
    assert answered.cells(dialog.results.best) == [best_cells(row, now) for row in told.rows]
    first, *others = sentences_of(told)
    assert dialog.results.answer.text() == first
    assert dialog.results.more.text() == "\n".join(others)
    assert first in dialog.results.chart.accessibleDescription()
    assert dialog.state.text() == f"Of plan {identity(PLAN)}, as it is now."
    assert [line.name for line in dialog.results.chart.lines] == [row.name for row in told.rows]
    assert not dialog.results.over_season.isVisible()
    assert answered.document.plan == PLAN


def test_a_season_has_its_own_table_and_sentence(hand):
    hand.tick(FAR)
    hand.dialog.days.value_edited.emit(3.0)
    assert hand.dialog.season.isChecked()
    hand.ask()
    hand.answered()
    told = what_if_season(PLAN, (FAR,), 3, MEMO)
    assert hand.cells(hand.dialog.results.over_season) == [
        season_cells(row, told.rows[0]) for row in told.rows
    ]
    assert (hand.dialog.results.answer.text(), hand.dialog.results.more.text()) == sentences_of(told)
    assert hand.dialog.results.over_season.isVisible()
    assert not hand.dialog.results.stands.isVisible()
    hand.document.edit(changed(PLAN, "mount.keyway_bearing_deg", 77.0), "keyway")
    assert hand.dialog.state.text().endswith("as it is now.")  # a season is of every keyway
    hand.dialog.evening.setChecked(True)
    assert "ticked before" in hand.dialog.state.text()


def test_what_is_to_be_done_is_said_before_there_is_an_answer(hand):
    assert hand.dialog.state.text() == "Tick a value first."
    assert not hand.dialog.ask_button.isEnabled()
    assert not hand.dialog.take_button.isEnabled()
    assert not hand.dialog.save_button.isEnabled()
    hand.tick(FAR)
    assert hand.dialog.state.text() == "Not worked out yet."
    assert hand.dialog.ask_button.isEnabled()


def test_a_typed_value_is_a_tick_and_what_cannot_be_is_refused_with_its_range(hand):
    hand.type_other("travel_deg", "480 deg")
    assert hand.dialog.now.changes == (Change(travel_deg=480.0),)
    hand.type_other("travel_deg", "5000")
    assert hand.dialog.ticks.numbers["travel_deg"].other.wrong == "Must be 90 to 1440 deg"
    hand.type_other("guard_deg", "200")
    assert "0 to 90" in hand.dialog.ticks.numbers["guard_deg"].other.wrong
    hand.type_other("elevation_maximum_deg", "180")
    assert hand.dialog.ticks.numbers["elevation_maximum_deg"].other.wrong == "That is as it is"
    hand.type_into(hand.dialog.ticks.holes.other, "-30")
    assert hand.dialog.now.changes == (Change(travel_deg=480.0), Change(hole_offset_deg=-30.0))


def test_what_only_the_mount_refuses_is_told_in_its_words(hand_on, qtbot):
    short = plan_of(short_plan_data(), mount__azimuth={"travel_deg": 100.0})
    hand = hand_on(short)
    hand.type_other("guard_deg", "60")
    assert "twice the guard" in hand.dialog.ticks.numbers["guard_deg"].other.wrong
    assert hand.dialog.now.changes == ()


def test_what_the_plan_has_is_asleep_and_follows_the_plan(hand):
    same = hand.box(Change(travel_deg=360.0))
    assert not same.isEnabled()
    assert same.accessibleDescription() == "that is as it is"
    assert hand.dialog.ticks.numbers["travel_deg"].head.text() == "Travel: 360 deg now"
    hand.tick(FAR)
    hand.document.edit(changed(PLAN, "mount.azimuth.travel_deg", 540.0), "travel")
    assert same.isEnabled()
    assert not hand.box(FAR).isEnabled()
    assert hand.dialog.now.changes == ()
    hand.document.edit(changed(PLAN, "mount.index_holes", HOLES[:1]), "holes")
    assert [change.index_hole for change in hand.dialog.ticks.holes.boxes] == ["A"]


def test_all_ticked_together_is_one_row_more_where_it_can_be(hand):
    together = hand.dialog.ticks.all_together
    hand.tick(FAR)
    assert not together.isEnabled()
    hand.tick(LOW)
    together.click()
    both = Change(travel_deg=540.0, elevation_maximum_deg=90.0)
    assert hand.dialog.now.changes == (FAR, LOW, both)
    hand.tick(Change(travel_deg=450.0))
    assert not together.isEnabled()
    assert both not in hand.dialog.now.changes


def test_more_rows_than_fit_are_refused(hand):
    for degrees in range(MOST_CHANGES + 1):
        hand.type_other("travel_deg", f"{400 + degrees}")
    assert hand.dialog.state.text() == "8 rows are ticked, 7 fit: untick 1."
    assert not hand.dialog.ask_button.isEnabled()


def test_it_tells_how_far_it_is_stops_and_leaves_the_page_usable(hand, qtbot, monkeypatch):
    held = Held(monkeypatch)
    hand.tick(FAR)
    hand.ask()
    qtbot.waitUntil(lambda: hand.dialog.state.text() == "Row 2 of 3, waiting.")
    assert hand.dialog.bar.isVisible()
    hand.type_into(hand.page.azimuth.fields["mount.azimuth.guard_deg"], "5")
    assert hand.document.plan.mount.azimuth.guard_deg == 5.0
    hand.click(hand.dialog.stop_button)
    qtbot.waitUntil(held.ended.is_set)
    qtbot.waitUntil(lambda: not hand.dialog.now.working)
    assert hand.dialog.now.answer is None
    assert not hand.dialog.bar.isVisible()
    assert hand.dialog.ask_button.isEnabled()


def test_closed_it_is_dropped_and_opened_again_it_has_its_answer(answered, qtbot, monkeypatch):
    held = Held(monkeypatch)
    answer = answered.dialog.now.answer
    answered.tick(Change(guard_deg=10.0))
    assert "but of what was ticked before" in answered.dialog.state.text()
    answered.ask()
    qtbot.waitUntil(lambda: "waiting" in answered.dialog.state.text())  # it has begun
    answered.press_escape()
    qtbot.waitUntil(held.ended.is_set)
    answered.click(answered.page.what_if)
    assert answered.dialog.isVisible()
    assert answered.dialog.now.answer is answer


def test_an_answer_of_the_plan_before_says_so(answered):
    of = identity(PLAN)
    document = answered.document
    document.edit(changed(PLAN, "title", "Another title"), "title")
    assert answered.dialog.state.text() == f"Of plan {of}, as it is now."
    document.edit(changed(PLAN, "mount.keyway_bearing_deg", 50.0), "keyway")
    assert answered.dialog.state.text() == f"Of the plan before, {of}: work it out again."
    document.undo()
    assert answered.dialog.state.text() == f"Of plan {of}, as it is now."


def test_a_row_is_taken_over_in_one_step_of_undo(answered):
    dialog, document = answered.dialog, answered.document
    answered.choose(dialog.results.stands, 0)
    assert not dialog.take_button.isEnabled()
    answered.choose(dialog.results.best, 1)
    assert dialog.results.stands.chosen == 1
    answered.click(dialog.take_button)
    assert document.plan.model_dump() == with_change(PLAN, FAR).model_dump()
    assert document.undo_label == "take over travel 540 deg"
    document.undo()
    assert document.plan == PLAN


def test_a_hole_taken_over_asks_before_it_voids_the_correction(hand_on, qtbot):
    fitted = {"deg": 0.8, "keyway_bearing_deg": 0.0, "index_hole": "A"}
    before = plan_of(short_plan_data(), **SHORT, mount__sighting_correction=fitted)
    hand = hand_on(before)
    hand.tick(Change(index_hole=HOLES[1]["name"]))
    hand.ask()
    hand.answered()
    hand.choose(hand.dialog.results.stands, 1)
    hand.click(hand.dialog.take_button)
    box = next(box for box in hand.dialog.findChildren(QMessageBox) if box.isVisible())
    assert hand.document.plan == before
    hand.click(next(button for button in box.buttons() if button.text() == "Change the seat"))
    assert hand.document.plan.mount.index_hole == HOLES[1]["name"]


def test_an_evening_without_passes_says_why_there_is_no_answer(hand_on, qtbot):
    hand = hand_on(plan_of(short_plan_data(), site__minimum_elevation_deg=89.0))
    hand.tick(FAR)
    hand.ask()
    qtbot.waitUntil(lambda: bool(hand.dialog.now.failure))
    assert hand.dialog.state.text().startswith("Not worked out: no pass rises or sets")
    hand.document.start(plan_of(short_plan_data(), satellites=[]))
    hand.dialog.now.failure = ""
    hand.dialog.now.changed.emit()
    assert hand.dialog.state.text() == "Import element sets first."
    assert not hand.dialog.ask_button.isEnabled()


def test_the_chart_is_saved_with_its_words_as_they_stand_and_the_same_twice(answered, qtbot, tmp_path):
    contents = []
    for number in range(2):
        path = tmp_path / f"what-if{number}.svg"
        answered.dialog.save_chart(path)
        said = f"Saved as {path.name}."
        qtbot.waitUntil(lambda said=said: answered.dialog.state.text() == said, timeout=20_000)
        contents.append(path.read_bytes())
    assert contents[0] == contents[1]
    text = contents[0].decode()
    assert "travel 540 deg" in text
    assert "$x$ &amp; &lt;b&gt;: what if" in text


def test_a_chart_of_no_form_is_refused(answered, qtbot, tmp_path):
    answered.dialog.save_chart(tmp_path / "what-if.doc")
    qtbot.waitUntil(lambda: bool(answered.failed))
    assert "a name ending in .png, .svg, .pdf" in answered.failed[-1]
    assert list(tmp_path.glob("what-if*")) == []


def test_no_two_lines_are_drawn_alike_without_their_colours(answered):
    assert len(STROKES) == MOST_CHANGES + 1
    assert len({(stroke.width, stroke.dashes) for stroke in STROKES}) == len(STROKES)
    drawn = [line.stroke for line in answered.dialog.results.chart.lines]
    assert drawn == list(STROKES[: len(drawn)])
    for scheme in SCHEMES.values():
        grounds = {scheme.color(stroke.role).name() for stroke in STROKES}
        assert scheme.color("card").name() not in grounds


def test_a_scale_holds_its_lines_in_round_steps():
    told = what_if_evening(PLAN, (FAR, LOW), MEMO)
    lines = lines_of(told)
    scale = scale_of(lines, of_season=False)
    most = max(float(line.curve.value.max()) for line in lines)
    assert scale.top >= most
    assert scale.steps <= 5
    assert scale.words(scale.steps).endswith(f" {scale.unit}")
    for line in lines:
        bearings, values = line.line
        assert (bearings[0], bearings[-1]) == (0.0, 360.0)
        assert max(values) <= scale.top


def test_it_is_named_plain_reached_by_keys_and_fits_the_small_screen(hand):
    dialog = hand.dialog
    hand.tick(FAR)
    hand.ask()
    hand.answered()
    assert nameless(dialog) == []
    assert {letter: texts for letter, texts in letters(dialog).items() if len(texts) > 1} == {}
    assert list(rich(dialog)) == []
    assert dialog.width() <= 1280
    assert dialog.minimumSizeHint().height() <= dialog.height() <= 760
    picture: QImage = dialog.results.chart.grab().toImage()
    assert picture.width() >= dialog.results.chart.width()
    assert not dialog.results.best.horizontalScrollBar().isVisible()
    start = dialog.close_button
    start.setFocus()
    seen = set()
    for _ in range(80):
        dialog.focusNextChild()
        seen.add(dialog.focusWidget())
        if dialog.focusWidget() is start:
            break
    wanted = [
        *(box for group in dialog.ticks.groups for box in group.boxes.values() if box.isEnabled()),
        *(group.other for group in dialog.ticks.groups),
        *(dialog.ask_button, dialog.results.stands, dialog.results.best, dialog.save_button, dialog.days),
    ]
    assert [one.accessibleName() for one in wanted if one not in seen] == []
    assert dialog.ask_button.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_it_takes_other_colours_with_the_page(answered):
    context, chart = answered.bench.context, answered.dialog.results.chart
    context.scheme = SCHEMES["dark"]
    answered.page.refresh()
    inside = chart.frame().topRight().toPoint() + QPoint(-3, 2)
    assert chart.grab().toImage().pixelColor(inside).name() == context.scheme.color("card").name()
