"""The season beside the Keyway page: told as the command tells it, and marked when it is of another plan."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QDialog

from app.window.pages.keyway.season.dialog import SeasonDialog
from core.base.edits import changed
from core.mount.seat.season.words import drilled_cells, hole_cells, saved_sentence
from core.season import study_plan
from tests.app.window.test_accessible_names import letters, nameless
from tests.app.window.test_text_is_text import rich
from tests.plans import plan_of, short_plan_data

DAYS = 8
HOLES = [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": 90.0}]
PLAN = plan_of(short_plan_data(), mount__index_holes=HOLES, mount__azimuth__travel_deg=360.0)


class SeasonHand:
    """The season's window and the hands on it."""

    def __init__(self, window, qtbot) -> None:
        self.window, self.qtbot = window, qtbot
        window.open_page("Keyway")
        self.page = window.page("Keyway")
        self.page.panel.season.click()
        (self.dialog,) = self.page.findChildren(SeasonDialog)

    def ask(self, days: int = DAYS) -> None:
        self.dialog.days.value_edited.emit(float(days))
        self.dialog.ask_button.click()

    def answered(self) -> None:
        self.qtbot.waitUntil(lambda: self.dialog.now.season is not None, timeout=30_000)

    def cells(self, model) -> list[list[str]]:
        return [
            [model.index(row, column).data() for column in range(model.columnCount())]
            for row in range(model.rowCount())
        ]


@pytest.fixture
def hand(window_of, qtbot):
    return SeasonHand(window_of(PLAN), qtbot)


def test_it_tells_what_the_study_says(hand):
    assert "Not studied yet" in hand.dialog.state.text()
    hand.ask()
    assert hand.dialog.stop_button.isVisible()
    hand.answered()
    study = study_plan(PLAN, DAYS).study
    assert hand.cells(hand.dialog.hole_model) == [hole_cells(one) for one in study.holes]
    assert hand.cells(hand.dialog.drill_model) == [drilled_cells(one, study) for one in study.sets]
    assert hand.dialog.answer.text() == saved_sentence(study)
    assert "Hole B" in hand.dialog.chart.accessibleDescription()
    assert hand.dialog.chart.top_share >= max(float(one.curve.value.max()) for one in study.holes)
    hand.dialog.chart.grab()
    assert nameless(hand.dialog) == []
    assert {k: v for k, v in letters(hand.dialog).items() if len(v) > 1} == {}
    assert list(rich(hand.dialog)) == []


def test_a_turned_keyway_leaves_it_and_another_mount_marks_it(hand):
    hand.ask()
    hand.answered()
    document = hand.window.document
    document.edit(changed(document.plan, "mount.keyway_bearing_deg", 77.0), "keyway")
    document.edit(changed(document.plan, "mount.index_hole", "B"), "hole")
    assert hand.dialog.state.text() == ""
    document.edit(changed(document.plan, "mount.azimuth.travel_deg", 450.0), "travel")
    assert hand.dialog.state.text() == "Of the plan before: study it again."
    document.undo()
    hand.dialog.days.value_edited.emit(9.0)
    assert hand.dialog.now.stale


def test_it_can_be_stopped_and_is_dropped_when_nobody_looks(hand, qtbot):
    hand.ask(1000)
    hand.dialog.stop_button.click()
    qtbot.waitUntil(lambda: not hand.dialog.now.working, timeout=30_000)
    hand.ask(1000)
    hand.dialog.close()
    qtbot.waitUntil(lambda: not hand.dialog.now.working, timeout=30_000)
    assert hand.dialog.now.season is None


@pytest.mark.parametrize(("form", "begins"), [("png", b"\x89PNG"), ("svg", b"<?xml"), ("pdf", b"%PDF")])
def test_the_chart_is_saved_as_it_is_asked_and_the_same_twice(hand, qtbot, tmp_path, form, begins):
    hand.ask()
    hand.answered()
    contents = []
    for number in range(2):
        path = tmp_path / f"season{number}.{form}"
        hand.dialog.save_chart(path)
        qtbot.waitUntil(path.exists, timeout=30_000)
        qtbot.waitUntil(lambda: hand.dialog.state.text().startswith("Saved as season"))
        contents.append(path.read_bytes())
    assert contents[0].startswith(begins)
    assert contents[0] == contents[1]
    if form == "svg":
        assert saved_words(hand) in contents[0].decode()


def saved_words(hand) -> str:
    study = hand.dialog.now.season.study
    return f"{study.evenings} evenings, {study.passes:,} passes"


def test_a_chart_of_no_form_is_refused(hand, qtbot, tmp_path):
    hand.ask()
    hand.answered()
    hand.dialog.save_chart(tmp_path / "season.doc")
    qtbot.waitUntil(lambda: bool(hand.window.errors.recent), timeout=30_000)
    assert "a name ending in .png, .svg, .pdf" in hand.window.errors.recent[-1].sentence
    assert list(tmp_path.glob("season*")) == []


def test_too_few_evenings_and_no_satellites_are_told(window_of, qtbot):
    high = plan_of(short_plan_data(), site__minimum_elevation_deg=89.0)
    hand = SeasonHand(window_of(high), qtbot)
    hand.ask(2)
    qtbot.waitUntil(lambda: bool(hand.dialog.now.failure), timeout=30_000)
    assert hand.dialog.state.text().startswith("Not studied: ")
    empty = plan_of(short_plan_data(), satellites=[])
    hand.window.document.start(empty)
    hand.dialog.now.failure = ""
    hand.dialog.now.changed.emit()
    assert not hand.dialog.ask_button.isEnabled()
    assert isinstance(hand.dialog, QDialog)
