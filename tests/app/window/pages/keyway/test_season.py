"""The season beside the Keyway page: told as the command tells it, and marked when it is of another plan."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog

from app.window.pages.keyway.season.dialog import SeasonDialog
from core.base.edits import changed
from core.mount.seat.season.words import drilled_cells, hole_cells, saved_sentence, share_reading
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
    return SeasonHand(window_of(PLAN, whole=False), qtbot)


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


def test_without_a_season_the_choice_opens_its_window_and_shows_it_once_it_is_there(window_of, qtbot):
    window = window_of(PLAN)
    window.open_page("Keyway")
    page = window.page("Keyway")
    part = page.curve
    before = part.view.accessibleDescription()
    part.season.click()
    assert part.evening.isChecked()
    assert part.view.accessibleDescription() == before
    (dialog,) = page.findChildren(SeasonDialog)
    assert dialog.isVisible()
    dialog.days.value_edited.emit(float(DAYS))
    dialog.ask_button.click()
    qtbot.waitUntil(part.season.isChecked, timeout=30_000)
    hole = dialog.now.season.study.holes[0]
    assert share_reading(hole, 0.0) in part.view.accessibleDescription()
    assert "not clear" in part.legend.text()


def test_the_season_stands_in_the_same_place_with_the_same_hand_on_it(hand, qtbot):
    part, view = hand.page.curve, hand.page.curve.view
    evening = view.frame()
    hand.ask()
    hand.answered()
    assert part.evening.isChecked()  # nobody asked for it here
    part.season.click()
    frame = view.frame()
    assert (frame.left, frame.top, frame.width, frame.height) == (
        evening.left,
        evening.top,
        evening.width,
        evening.height,
    )
    first, second = hand.dialog.now.season.study.holes
    assert frame.top_s >= max(float(one.curve.value.max()) for one in (first, second))
    view.grab()
    place = QPointF(frame.x(200.0), frame.top + 5.0).toPoint()
    QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=place)
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=place)
    turned = hand.window.document.plan.mount.keyway_bearing_deg
    assert turned == pytest.approx(200.0, abs=1.0)
    assert part.season.isChecked()  # a turned keyway leaves the season as it is
    assert share_reading(first, turned) in view.accessibleDescription()
    part.buttons["B"].click()
    assert share_reading(second, turned) in view.accessibleDescription()
    part.evening.click()
    assert "not clear" not in view.accessibleDescription()


def test_a_season_of_another_plan_gives_way_to_the_evening_and_comes_back(hand):
    part, document = hand.page.curve, hand.window.document
    hand.ask()
    hand.answered()
    part.season.click()
    document.edit(changed(document.plan, "mount.azimuth.travel_deg", 450.0), "travel")
    assert part.evening.isChecked()
    document.undo()
    assert part.season.isChecked()
    hand.dialog.days.value_edited.emit(9.0)  # another question of the dialog, the same answer here
    assert part.season.isChecked()


def test_the_season_is_painted_in_the_colours_of_the_curve(hand):
    part = hand.page.curve
    hand.ask()
    hand.answered()
    part.season.click()
    view, scheme = part.view, hand.window.context.scheme
    picture, frame = view.grab().toImage(), view.frame()
    hole = view.season_hole
    most = int(np.argmax(hole.curve.value * hole.curve.width_deg))
    share, middle = hole.curve.value[most], hole.curve.start_deg[most] + hole.curve.width_deg[most] / 2.0
    assert share > 0.0
    column = [picture.pixelColor(round(frame.x(middle)), y).name() for y in range(picture.height())]
    assert scheme.color("signal").name() in column[round(frame.y(share)) - 2 : round(frame.y(share)) + 3]


def test_it_takes_other_colours_with_the_window(hand):
    hand.ask()
    hand.answered()
    hand.window.set_scheme("dark")
    picture = hand.dialog.chart.grab().toImage()
    inside = hand.dialog.chart.frame().topRight().toPoint() + QPoint(-3, 2)
    assert picture.pixelColor(inside).name() == hand.window.context.scheme.color("card").name()
