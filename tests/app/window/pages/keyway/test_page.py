"""The Keyway page: moving the keyway, what follows it, and the way to the best."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from app.window.look.scheme import DARK, DUSK, DUSK_BRIGHTEST, LIGHT, load_fonts
from app.window.state.context import PassKey
from app.window.state.runner import Runner
from core.base.angles import wrap_360
from core.base.edits import changed
from core.mount.check.clear_map import struck_bearings
from core.mount.model.chain import fixed_offset_deg, zeta_deg
from core.mount.model.station import SightingCorrection
from core.mount.seat.losses.table import verdicts_at
from core.plan.document import Plan
from core.studies import SeatByEvening, orient
from tests.app.window.pages.keyway.page_object import KeywayObject
from tests.core.mount.clearance.samples import TWO_YAGIS
from tests.core.mount.seat.evenings_by_seat import made_up_evenings
from tests.lasting import result_of
from tests.seat_evening import seat_evening, seat_plan

Make = Callable[..., KeywayObject]


@pytest.fixture
def runner(qapp: object) -> Iterator[Runner]:
    load_fonts()
    made = Runner()
    yield made
    made.close()


@pytest.fixture
def make(qtbot: QtBot, runner: Runner) -> Make:
    def made(*args: object, **named: object) -> KeywayObject:
        driven = KeywayObject(runner, *args, **named)  # type: ignore[arg-type]
        qtbot.addWidget(driven.page)
        return driven

    return made


@pytest.fixture
def keyway(make: Make) -> KeywayObject:
    plan, result, study = seat_evening()
    return make(plan, result, study)


def corrected(keyway_deg: float = 60.0, deg: float = 2.0) -> Plan:
    """The plan with a correction fitted at this keyway."""
    fitted = SightingCorrection(deg=deg, keyway_bearing_deg=keyway_deg, index_hole="A")
    return changed(seat_evening()[0], "mount.sighting_correction", fitted)


# --- moving ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("share", [1.0, 0.2])
def test_dragging_ring_or_plate_turns_the_keyway_by_as_much(keyway: KeywayObject, share: float) -> None:
    keyway.grab(60.0, share)
    keyway.pull(100.0, share)
    keyway.let_go(100.0, share)
    # A pixel at the plate is some two degrees.
    assert keyway.keyway_deg == pytest.approx(100.0, abs=0.5 if share == 1.0 else 3.0)
    assert keyway.keyway_deg == round(keyway.keyway_deg, 1)


def test_a_drag_is_one_step_of_undo_however_often_it_pauses(keyway: KeywayObject, qtbot: QtBot) -> None:
    keyway.grab(60.0)
    for bearing in (80.0, 120.0, 150.0):
        keyway.pull(bearing)
        qtbot.waitUntil(lambda b=bearing: abs(keyway.keyway_deg - b) < 1.0)
    keyway.let_go(150.0)
    keyway.document.undo()
    assert keyway.keyway_deg == 60.0
    assert keyway.document.undo_label == ""


def test_two_drags_are_two_steps(keyway: KeywayObject) -> None:
    for start, end in ((60.0, 100.0), (100.0, 140.0)):
        keyway.grab(start)
        keyway.pull(end)
        keyway.let_go(end)
    keyway.document.undo()
    assert keyway.keyway_deg == pytest.approx(100.0, abs=0.5)


def test_everything_follows_while_it_moves_before_the_document_does(keyway: KeywayObject) -> None:
    study = seat_evening()[2]
    keyway.grab(60.0)
    keyway.pull(10.0)
    live = keyway.page.now.live_deg
    assert live == pytest.approx(10.0, abs=0.5)
    assert keyway.keyway_deg == 60.0
    assert keyway.panel.true_bearing.text() == f"{live:.1f}"
    assert keyway.panel.stops[0].text() == f"{live:.1f} deg true"
    expected = int((~verdicts_at(study.table, live).clear).sum())
    assert keyway.panel.sentence.text().startswith(f"{expected} of {len(study.passes)} passes")
    assert f"Keyway at {live:.1f}" in keyway.station.accessibleDescription()
    assert f"At {live:.1f} deg" in keyway.curve.accessibleDescription()
    keyway.let_go(10.0)
    assert keyway.keyway_deg == live


@pytest.mark.parametrize(
    ("key", "modifier", "step"),
    [
        (Qt.Key.Key_Right, Qt.KeyboardModifier.NoModifier, 1.0),
        (Qt.Key.Key_Up, Qt.KeyboardModifier.NoModifier, 1.0),
        (Qt.Key.Key_Left, Qt.KeyboardModifier.NoModifier, -1.0),
        (Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier, -0.1),
        (Qt.Key.Key_PageUp, Qt.KeyboardModifier.NoModifier, 10.0),
        (Qt.Key.Key_PageDown, Qt.KeyboardModifier.NoModifier, -10.0),
    ],
)
def test_keys_step_the_keyway(
    keyway: KeywayObject, key: Qt.Key, modifier: Qt.KeyboardModifier, step: float
) -> None:
    for view in (keyway.station, keyway.curve):
        before = keyway.keyway_deg
        QTest.keyClick(view, key, modifier)
        assert keyway.keyway_deg == pytest.approx(wrap_360(before + step))


def test_a_run_of_keys_is_one_step(keyway: KeywayObject) -> None:
    for _ in range(5):
        keyway.press(Qt.Key.Key_Right)
    assert keyway.keyway_deg == pytest.approx(65.0)
    keyway.document.undo()
    assert keyway.keyway_deg == 60.0


def test_typing_a_bearing(keyway: KeywayObject) -> None:
    keyway.type_bearing("-10.5")
    assert keyway.keyway_deg == pytest.approx(349.5)
    assert keyway.panel.field.text() == "349.5"


def test_what_is_no_number_changes_nothing(keyway: KeywayObject) -> None:
    keyway.type_bearing("north")
    assert keyway.keyway_deg == 60.0
    assert keyway.panel.field.property("wrong")
    assert not keyway.document.undo_label


def test_enter_in_the_field_does_not_turn_to_the_best(keyway: KeywayObject) -> None:
    keyway.type_bearing("61")
    assert keyway.keyway_deg == 61.0


def test_dragging_along_the_curve(keyway: KeywayObject) -> None:
    frame = keyway.curve.frame()
    middle = int(frame.top + frame.height / 2)
    start, end = QPoint(round(frame.x(60.0)), middle), QPoint(round(frame.x(222.0)), middle)
    QTest.mousePress(keyway.curve, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(keyway.curve, end)
    QTest.mouseRelease(keyway.curve, Qt.MouseButton.LeftButton, pos=end)
    assert keyway.keyway_deg == pytest.approx(222.0, abs=1.0)
    keyway.document.undo()
    assert keyway.keyway_deg == 60.0


def test_a_click_among_the_arcs_moves_nothing_and_chooses_the_pass(keyway: KeywayObject) -> None:
    _plan, _result, study = seat_evening()
    layer, disc = keyway.station._layer, keyway.station.disc()
    arc = layer.arcs[2]
    at = disc.point((arc.low_deg + arc.high_deg) / 2.0, layer.radius(2, disc)).toPoint()
    QTest.mouseClick(keyway.station, Qt.MouseButton.LeftButton, pos=at)
    assert keyway.keyway_deg == 60.0
    assert keyway.context.pointer.pass_key == PassKey.of(study.passes[2])


# --- hole and best --------------------------------------------------------------------------------------


def test_another_hole_moves_the_stops_and_not_the_keyway(keyway: KeywayObject) -> None:
    keyway.press_hole("B")
    assert (keyway.hole, keyway.keyway_deg) == ("B", 60.0)
    assert keyway.panel.stops[0].text() == "15.0 deg true"
    assert keyway.panel.holes.buttons["B"].isChecked()
    assert keyway.page.curve.buttons["B"].isChecked()
    assert "drilled at 45 deg" in keyway.panel.holes.buttons["B"].accessibleName()


def test_one_click_turns_to_the_best_in_one_step(keyway: KeywayObject) -> None:
    study = seat_evening()[2]
    keyway.press_hole("B")
    keyway.press_best()
    assert keyway.keyway_deg == pytest.approx(study.best.keyway_bearing_deg, abs=0.1)
    assert keyway.hole == study.best.index_hole
    assert not keyway.panel.best.isEnabled()
    assert keyway.panel.best.text().startswith("It stands at the best")
    keyway.document.undo()
    assert (keyway.keyway_deg, keyway.hole) == (60.0, "B")


def test_enter_turns_to_the_best(keyway: KeywayObject) -> None:
    keyway.station.setFocus()
    keyway.press(Qt.Key.Key_Return)
    assert keyway.panel.best.text().endswith(f"{keyway.keyway_deg:.1f} deg, hole A")
    assert keyway.keyway_deg != 60.0


def test_both_tolerances_and_every_holes_best_are_told(keyway: KeywayObject) -> None:
    words = keyway.panel.tolerances.text()
    assert "Set it within -11.1 / +10.7 deg." in words
    assert "Then measure it to 10.7 deg and correct the dials." in words
    others = keyway.panel.others.text()
    assert "A 192." in others
    assert "B 237." in others


def test_the_rail_counts_what_the_best_would_save(keyway: KeywayObject) -> None:
    plan, _result, study = seat_evening()
    expected = int((~verdicts_at(study.table, zeta_deg(plan.mount)).clear).sum())
    assert keyway.page.count() == expected > 0
    keyway.press_best()
    assert keyway.page.count() == 0


# --- by the evening -------------------------------------------------------------------------------------


def weighed(keyway: KeywayObject, best_deg: float = 150.0) -> SeatByEvening:
    """Hand the page evenings that are worth most at one bearing with hole A."""
    worth = [3000.0] * 12
    worth[round(best_deg / 30.0)] = 3600.0
    made = made_up_evenings(worth, keyway.document.plan.mount)
    keyway.give(by_evening=made)
    return made


def places(keyway: KeywayObject) -> list[object]:
    page, panel = keyway.page, keyway.panel
    page.grab()
    return [w.geometry() for w in (page.station, page.curve, panel.list, panel.best, panel.tolerances)]


@pytest.mark.parametrize("size", [(1146, 680), (1786, 960)])
def test_the_answer_by_the_evening_takes_the_place_of_the_one_by_the_passes_alone(
    keyway: KeywayObject, size: tuple[int, int]
) -> None:
    keyway.page.resize(*size)
    before, plot = places(keyway), keyway.curve.frame()
    assert keyway.page.sentence.text().startswith("By the passes alone: turn the keyway to 192.")
    weighed(keyway)
    worth = keyway.context.result.order.worth.worth_s  # type: ignore[union-attr]
    assert keyway.page.sentence.text() == (
        "Turn the keyway to 150.0 deg true, hole A: the evening is worth 3,600 s; "
        f"as it stands {worth:,.0f} s."
    )
    assert keyway.panel.best.text() == "Turn to the best: 150.0 deg, hole A"
    assert "Set it to better than 0.1 deg." in keyway.panel.tolerances.text()
    assert "Then measure it to 9 deg and" in keyway.panel.tolerances.text()
    assert keyway.panel.other.text().startswith("By the passes alone: 192.")
    assert "evening worth about 3,000 s, at most 3,600 s at 150.0 deg" in (
        keyway.curve.accessibleDescription()
    )
    assert places(keyway) == before
    assert keyway.curve.frame() == plot


def test_one_click_turns_to_the_seat_whose_evening_is_best(keyway: KeywayObject) -> None:
    weighed(keyway)
    assert keyway.page.count() == 1
    keyway.press_best()
    assert (keyway.keyway_deg, keyway.hole) == (150.0, "A")
    assert keyway.panel.best.text() == "It stands at the best: 150.0 deg, hole A"
    assert keyway.page.sentence.text().startswith("The keyway stands best as it is, 150.0 deg true, hole A")
    assert keyway.page.count() == 0


def test_the_second_best_is_another_place_than_the_recommended(keyway: KeywayObject) -> None:
    study = seat_evening()[2]
    assert study.second_best is not None
    weighed(keyway, 180.0)  # within 20 deg of the best by the passes alone
    assert f"{study.second_best.keyway_bearing_deg:.1f} deg" in keyway.panel.second_best.text()
    weighed(keyway, 150.0)
    assert f"{study.best.keyway_bearing_deg:.1f} deg" in keyway.panel.second_best.text()


def test_the_evenings_follow_the_keyway_and_are_dropped_by_another_question(keyway: KeywayObject) -> None:
    weighed(keyway)
    keyway.grab(60.0)
    keyway.pull(148.0)
    assert "the evening is worth about 3,600 s; 150.0 deg, hole A, only" in keyway.page.sentence.text()
    keyway.let_go(148.0)
    assert keyway.page.now.best_evening is not None
    keyway.document.edit(changed(keyway.document.plan, "evening_rules.change_cost_s", 90.0), "cost")
    assert keyway.page.now.best_evening is None
    assert keyway.page.sentence.text().startswith("By the passes alone")


@pytest.mark.parametrize("scheme", [LIGHT, DARK, DUSK])
def test_the_worth_is_drawn_in_ink_with_its_scale(keyway: KeywayObject, scheme: object) -> None:
    keyway.give(scheme=scheme)
    weighed(keyway)
    scale, frame = keyway.curve.worth_scale(), keyway.curve.frame()
    assert scale is not None
    assert (scale.low_s, scale.top_s) == (3000.0, 4000.0)
    picture = keyway.curve.grab().toImage()
    x, y = round(frame.x(135.0)), round(scale.y(frame, 3300.0))
    ink = QColor(scheme.ink)  # type: ignore[attr-defined]
    near = [picture.pixelColor(x, y + dy) for dy in range(-4, 5)]
    assert min(abs(one.lightness() - ink.lightness()) for one in near) < 12


# --- the list -------------------------------------------------------------------------------------------


def test_the_list_gives_reasons_of_the_result_where_it_is_of_this_seat(keyway: KeywayObject) -> None:
    _plan, result, _study = seat_evening()
    worst = keyway.panel.list.rows.rows[0]
    check = result.checks[worst.index]
    assert worst.verdict == check.verdict
    assert worst.reason == result.reasons[worst.index].text
    assert check.crossing is not None
    assert check.crossing.stop in worst.why
    keyway.panel.list.setCurrentIndex(keyway.panel.list.rows.index(0))
    assert keyway.panel.reason.text() == worst.reason
    assert keyway.panel.reason.isVisible()
    assert keyway.context.pointer.pass_key == PassKey.of(check.pass_)


def test_elsewhere_the_list_makes_do_with_short_words(keyway: KeywayObject) -> None:
    keyway.press(Qt.Key.Key_Right)
    rows = keyway.panel.list.rows.rows
    assert rows
    assert all(row.reason == "" for row in rows)
    assert "about" in keyway.panel.sentence.text()


def test_a_pass_chosen_elsewhere_is_chosen_here(keyway: KeywayObject) -> None:
    study = seat_evening()[2]
    row = keyway.panel.list.rows.rows[1]
    keyway.context.pointer.choose(PassKey.of(study.passes[row.index]))
    assert keyway.panel.list.currentIndex().row() == 1


# --- asking ---------------------------------------------------------------------------------------------


def test_a_drag_that_would_void_the_correction_asks_first(make: Make) -> None:
    _plan, result, study = seat_evening()
    driven = make(corrected(), result, study)
    assert driven.panel.stops[0].text() == "62.0 deg true"
    driven.grab(60.0)
    driven.pull(100.0)
    driven.let_go(100.0)
    assert driven.keyway_deg == 60.0
    assert not driven.question.isModal() or driven.question.windowModality() == Qt.WindowModality.WindowModal
    driven.answer("Leave it")
    assert driven.keyway_deg == 60.0
    driven.grab(60.0)
    driven.answer("Turn the keyway")
    driven.grab(60.0)
    driven.pull(100.0)
    driven.let_go(100.0)
    assert driven.keyway_deg == pytest.approx(100.0, abs=0.5)
    # Kept, but void: the stops are where the plain chain puts them.
    assert driven.document.plan.mount.sighting_correction is not None
    assert driven.panel.stops[0].text() == f"{driven.keyway_deg:.1f} deg true"


def test_a_correction_of_nothing_is_asked_after_like_any_other(make: Make) -> None:
    _plan, result, study = seat_evening()
    driven = make(corrected(deg=0.0), result, study)
    driven.type_bearing("75")
    driven.answer("Leave it")
    assert driven.keyway_deg == 60.0


@pytest.mark.parametrize("way", ["typed", "best", "hole", "key"])
def test_every_way_of_moving_asks_and_goes_on_after_a_yes(make: Make, way: str) -> None:
    _plan, result, study = seat_evening()
    driven = make(corrected(), result, study, result_plan=seat_evening()[0])
    before = driven.document.plan.mount
    {
        "typed": lambda: driven.type_bearing("75"),
        "best": driven.press_best,
        "hole": lambda: driven.press_hole("B"),
        "key": lambda: driven.press(Qt.Key.Key_Right),
    }[way]()
    assert driven.document.plan.mount == before
    assert driven.panel.holes.buttons["A"].isChecked()
    driven.answer("Turn the keyway")
    if way == "key":
        driven.press(Qt.Key.Key_Right)
    assert driven.document.plan.mount != before


def test_a_void_correction_asks_nothing(make: Make) -> None:
    _plan, result, study = seat_evening()
    driven = make(corrected(90.0), result, study)
    driven.press(Qt.Key.Key_Right)
    assert driven.keyway_deg == 61.0
    assert driven.page.editor.question is None


# --- what is not there yet ------------------------------------------------------------------------------


def test_while_the_study_runs_the_rest_is_alive(make: Make) -> None:
    plan, result, study = seat_evening()
    driven = make(plan, result)
    assert "Studying" in driven.curve.accessibleDescription()
    assert not driven.panel.best.isVisible()
    assert "not clear" in driven.panel.sentence.text()
    driven.press(Qt.Key.Key_Right)
    assert driven.keyway_deg == 61.0
    assert driven.panel.sentence.text() == "Studying the seat..."
    assert driven.page.count() == 0
    driven.give(study=study)
    assert driven.panel.best.isVisible()
    assert "not clear" in driven.panel.sentence.text()


def test_a_study_of_another_plan_is_not_shown(keyway: KeywayObject) -> None:
    keyway.document.edit(changed(keyway.document.plan, "mount.azimuth.travel_deg", 450.0), "travel")
    assert keyway.page.now.study is None
    assert "Studying" in keyway.curve.accessibleDescription()
    plan = keyway.document.plan
    result = result_of(plan)
    keyway.give(result=result, result_plan=plan)
    keyway.give(study=orient(plan, result))
    assert keyway.page.now.study is not None
    assert keyway.panel.travel.text() == "Travel 450 deg, guard 5 deg, overlap 80 deg"


def test_the_study_stays_where_an_edit_does_not_change_what_it_asks(keyway: KeywayObject) -> None:
    """The memo hands out the very same study again: it is of the new plan as well as of the old one."""
    plan = keyway.document.plan
    for path, value in (("evening_rules.change_cost_s", 90.0), ("site.name", "the field")):
        plan = changed(plan, path, value)
        keyway.document.edit(plan, path)
        assert keyway.page.now.study is seat_evening()[2]
        keyway.give(result=result_of(plan), result_plan=plan, study=seat_evening()[2])
        assert keyway.page.now.study is seat_evening()[2]
        assert keyway.panel.best.isVisible()


def test_a_plan_without_satellites_says_what_to_do(make: Make) -> None:
    plan = seat_plan(satellites=[])
    result = result_of(plan)
    driven = make(plan, result, orient(plan, result))
    assert "Satellites page" in driven.panel.sentence.text()
    assert not driven.panel.best.isVisible()
    assert driven.page.count() == 0
    driven.press(Qt.Key.Key_PageUp)
    assert driven.keyway_deg == 70.0
    driven.page.grab()


def test_nothing_is_there_at_first(make: Make) -> None:
    driven = make(seat_evening()[0])
    assert driven.panel.true_bearing.text() == "60.0"
    assert driven.panel.magnetic.text() == ""
    driven.page.grab()


# --- looks ----------------------------------------------------------------------------------------------


def test_true_and_magnetic_stand_side_by_side(keyway: KeywayObject) -> None:
    seat = seat_evening()[1].seat
    assert keyway.panel.true_bearing.text() == "60.0"
    assert keyway.panel.magnetic.text() == f"{seat.keyway_magnetic_deg:.1f}"


@pytest.mark.parametrize("scheme", [LIGHT, DARK, DUSK])
def test_every_scheme_paints_its_own_ground_and_signal(keyway: KeywayObject, scheme: object) -> None:
    keyway.give(scheme=scheme)
    picture = keyway.station.grab().toImage()
    assert picture.pixelColor(2, 2).name() == scheme.paper  # type: ignore[attr-defined]
    names = {
        picture.pixelColor(x, y).name()
        for x in range(0, picture.width(), 2)
        for y in range(0, picture.height(), 2)
    }
    assert {scheme.card, scheme.signal, scheme.accent} <= names  # type: ignore[attr-defined]
    if scheme is DUSK:
        brightest = max(max(int(name[i : i + 2], 16) for i in (1, 3, 5)) for name in names)
        # Blending two colours may round up by one.
        assert brightest <= DUSK_BRIGHTEST + 1


def test_a_drag_and_a_fresh_start_paint_the_same_picture(make: Make) -> None:
    """The arcs that are redrawn one by one must leave nothing behind."""
    plan, result, study = seat_evening()
    moved, fresh = (
        make(plan, result, study),
        make(changed(plan, "mount.keyway_bearing_deg", 300.0), result, study, result_plan=plan),
    )
    for view in (moved.station, fresh.station):
        view.setFixedSize(700, 600)
    for bearing in (100.0, 200.0, 330.0, 300.0):
        moved.station.moved.emit(bearing)
        moved.station.grab()
    moved.station.released.emit()
    before, after = fresh.station.grab().toImage(), moved.station.grab().toImage()
    different = sum(
        abs(before.pixelColor(x, y).lightness() - after.pixelColor(x, y).lightness()) > 24
        for x in range(0, before.width(), 2)
        for y in range(0, before.height(), 2)
    )
    assert different <= 3  # the edge of a line may fall on the other side of a pixel


def test_pointing_at_the_curve_reads_it(keyway: KeywayObject, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[str] = []
    painted = "app.window.pages.keyway.views.seat_curve.paint_reading"
    monkeypatch.setattr(painted, lambda *args: told.append(args[3]))
    frame = keyway.curve.frame()
    QTest.mouseMove(keyway.curve, QPointF(frame.x(200.0), frame.top + 5.0).toPoint())
    keyway.curve.grab()
    assert told[-1].startswith(("199.", "200."))
    assert "off the beam" in told[-1] or "nothing lost" in told[-1]


def test_choosing_a_curve_changes_no_hole(keyway: KeywayObject) -> None:
    QTest.mouseClick(keyway.page.curve.buttons["B"], Qt.MouseButton.LeftButton)
    assert keyway.hole == "A"
    assert "with hole B" in keyway.curve.accessibleDescription()


def test_everything_that_takes_focus_or_is_painted_has_a_name(keyway: KeywayObject) -> None:
    for widget in keyway.page.findChildren(QWidget):
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and isinstance(widget, QLineEdit | QAbstractButton):
            assert widget.accessibleName(), widget
    for view in (keyway.station, keyway.curve, keyway.panel.list):
        assert view.accessibleName()
    assert keyway.station.accessibleDescription()
    assert keyway.curve.accessibleDescription()


@pytest.mark.parametrize("size", [(960, 560), (1146, 680), (1786, 990)])
def test_no_text_of_the_panel_is_clipped(keyway: KeywayObject, size: tuple[int, int]) -> None:
    keyway.page.resize(*size)
    keyway.page.grab()
    for label in keyway.panel.findChildren(QLabel):
        if label.isVisible() and not label.wordWrap() and label.text():
            assert label.width() >= label.sizeHint().width() - 1, label.text()
            assert label.height() >= label.sizeHint().height() - 1, label.text()


def test_the_zeta_shown_is_the_chains(keyway: KeywayObject) -> None:
    mount = keyway.document.plan.mount
    assert zeta_deg(mount) == pytest.approx(wrap_360(60.0 + fixed_offset_deg(mount)))
    assert keyway.panel.stops[0].text() == f"{zeta_deg(mount):.1f} deg true"


def test_the_page_fits_the_smallest_window(keyway: KeywayObject) -> None:
    """1072 by 700 less the rail and the bars."""
    least = keyway.page.minimumSizeHint()
    assert least.width() <= 938
    assert least.height() <= 620


def test_hours_without_passes_are_told(make: Make) -> None:
    plan = seat_plan(evening__start="2024-11-01T17:00:00Z", evening__end="2024-11-01T17:00:30Z")
    result = result_of(plan)
    driven = make(plan, result, orient(plan, result))
    assert driven.page.now.passes == ()
    assert driven.panel.sentence.text() == "There are no passes to study"
    assert not driven.panel.details.isVisible()
    assert not driven.panel.best.isVisible()


# --- forbidden bearings and the second best -------------------------------------------------------------


def type_into(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def studied(keyway: KeywayObject) -> None:
    """Hand the page the study of the present plan, as the main window would."""
    plan = keyway.document.plan
    result = result_of(plan)
    keyway.give(result=result, result_plan=plan, study=orient(plan, result))


def band_pixel(keyway: KeywayObject, bearing: float) -> str:
    """The colour just outside the compass ring."""
    disc = keyway.station.disc()
    at = disc.point(bearing, disc.radius + 5.0).toPoint()
    return keyway.station.grab().toImage().pixelColor(at).name()


def test_arcs_are_forbidden_typed_and_allowed_again(keyway: KeywayObject) -> None:
    limits = keyway.panel.limits
    assert limits.whys == []
    plain = band_pixel(keyway, 70.0)
    limits.add.click()
    (arc,) = keyway.document.plan.seat_limits
    assert (arc.from_deg, arc.to_deg, arc.why) == (60.0, 90.0, "")
    type_into(limits.ends[0]["from_deg"], "55")
    type_into(limits.whys[0], "a rock")
    (arc,) = keyway.document.plan.seat_limits
    assert (arc.from_deg, arc.to_deg, arc.why) == (55.0, 90.0, "a rock")
    assert keyway.panel.forbidden.text() == "Forbidden here: 55.0 to 90.0 deg (a rock)"
    assert band_pixel(keyway, 70.0) != plain == band_pixel(keyway, 100.0)
    assert "Forbidden to the keyway: 55 to 90 deg true." in keyway.station.accessibleDescription()
    type_into(limits.ends[0]["to_deg"], "55")
    assert "same bearing" in limits.ends[0]["to_deg"].accessibleDescription()
    assert keyway.document.plan.seat_limits == (arc,)
    limits.removers[0].click()
    assert keyway.document.plan.seat_limits == ()
    assert not keyway.panel.forbidden.isVisible()
    assert band_pixel(keyway, 70.0) == plain
    keyway.document.undo()
    assert keyway.document.plan.seat_limits == (arc,)
    assert limits.whys[0].text() == "a rock"


def test_the_best_avoids_what_is_forbidden(keyway: KeywayObject) -> None:
    free = keyway.page.now.best_seat()
    assert free is not None
    wide = [{"from_deg": (free[0] - 60.0) % 360.0, "to_deg": (free[0] + 60.0) % 360.0}]
    keyway.document.edit(changed(keyway.document.plan, "seat_limits", wide), "forbid")
    studied(keyway)
    keyway.press_best()
    past = (keyway.keyway_deg - wide[0]["from_deg"]) % 360.0
    assert not 0.1 < past < 119.9
    assert not keyway.panel.forbidden.isVisible()


def test_a_keyway_dragged_over_a_forbidden_arc_is_told_at_once(keyway: KeywayObject) -> None:
    arc = [{"from_deg": 100.0, "to_deg": 130.0, "why": "the wall"}]
    keyway.document.edit(changed(keyway.document.plan, "seat_limits", arc), "forbid")
    assert not keyway.panel.forbidden.isVisible()
    keyway.grab(60.0)
    keyway.pull(115.0)
    assert "the wall" in keyway.panel.forbidden.text()
    assert keyway.panel.forbidden.isVisible()
    keyway.pull(150.0)
    assert not keyway.panel.forbidden.isVisible()
    keyway.let_go(150.0)


def test_the_second_best_stands_under_the_best(keyway: KeywayObject) -> None:
    second = seat_evening()[2].second_best
    assert second is not None
    words = keyway.panel.second_best.text()
    assert words.startswith("If a rock or a wall forbids it:")
    assert f"{second.keyway_bearing_deg:.1f} deg, hole {second.index_hole}" in words
    everything = [{"from_deg": 0.0, "to_deg": 360.0}]
    keyway.document.edit(changed(keyway.document.plan, "seat_limits", everything), "forbid")
    studied(keyway)
    assert keyway.panel.second_best.text() == "Every bearing is forbidden: the best is told as if none were."


# --- nothing moves under the pointer ----------------------------------------------------------------------


def spots(keyway: KeywayObject) -> dict[str, object]:
    """Where what can be pressed stands, and where the list begins."""
    panel = keyway.panel
    panel.layout().activate()
    buttons = {"add": panel.limits.add, "field": panel.field, "list": panel.list, **panel.holes.buttons}
    return {name: part.mapTo(panel, QPoint(0, 0)) for name, part in buttons.items()}


def test_an_arc_that_is_forbidden_moves_nothing_that_can_be_pressed(keyway: KeywayObject) -> None:
    before = spots(keyway)
    keyway.panel.limits.add.click()
    assert keyway.panel.limits.whys
    assert spots(keyway) == before
    keyway.type_bearing(f"{keyway.keyway_deg + 15.0:g}")  # into the arc: what forbids it is told
    assert keyway.panel.forbidden.text()
    assert spots(keyway) == before


def test_the_unit_stands_still_while_the_bearing_grows_by_a_digit(keyway: KeywayObject) -> None:
    panel, seen = keyway.panel, set()
    for text in ("9.5", "99.5", "199.5"):
        keyway.type_bearing(text)
        panel.layout().activate()
        seen.add((panel.true_bearing.geometry().right(), panel.magnetic_unit.x()))
    assert len(seen) == 1


def test_legs_guys_and_the_bearings_at_which_the_boom_strikes_turn_with_the_keyway(make: Make) -> None:
    plan = changed(seat_evening()[0], "clearance", TWO_YAGIS)
    keyway = make(plan, result_of(plan))
    above = keyway.page.now.above()
    assert len(above.legs_deg) == 3
    assert above.guys_deg == (plan.mount.keyway_bearing_deg,)
    arcs = [(arc.start_deg, arc.span_deg) for arc in above.strikes]
    struck = struck_bearings(plan.clearance)
    assert arcs == [((start + plan.mount.keyway_bearing_deg) % 360.0, width) for start, width in struck]
    assert arcs
    assert "The boom strikes at some elevation from " in keyway.station.accessibleDescription()
    disc, image = keyway.station.disc(), keyway.station.grab().toImage()
    start, width = arcs[0]
    on_band = disc.point(start + width / 2.0, disc.plate * 1.28).toPoint()
    seen = {image.pixelColor(on_band.x() + x, on_band.y() + y).name() for x in range(-4, 5) for y in range(9)}
    assert keyway.context.scheme.accent_soft in seen
    keyway.document.edit(changed(plan, "clearance", None), "none")
    assert keyway.page.now.above().strikes == ()
