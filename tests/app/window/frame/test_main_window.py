"""The window: plan files, undo, pages, schemes, errors, drops, the question before edits are lost."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QFileDialog, QLabel, QMessageBox

from app.opening import demo_plan, first_plan, opening
from app.settings import Remembered, recall, remember
from app.window.frame.actions import ACTS, PAGES
from app.window.frame.bars import Foot
from app.window.frame.keys_dialog import KeysDialog
from app.window.frame.main_window import MainWindow
from app.window.frame.plan_files import fresh_plan, is_plan_file
from app.window.launch import make_window, show_first
from app.window.pages.evening.now_dialog import NowDialog
from core.base.edits import changed
from core.base.errors import Cancelled, ValueRangeError
from core.base.times import parse_iso
from core.plan.assumed import assumed
from core.plan.storage import read_plan
from tests.app.window.conftest import NOW_UTC_S, is_idle
from tests.app.window.page_object_base import Hand
from tests.plans import full_plan_data, plan_of, short_plan_data, write_elements_file, write_plan_file

PLAN = plan_of(short_plan_data(), title="Hilltop")


class WindowHand(Hand):
    """What an operator does with the window as a whole."""

    def __init__(self, qtbot, window: MainWindow) -> None:
        super().__init__(qtbot)
        self.window = window

    def edit_title(self, title: str) -> None:
        document = self.window.document
        document.edit(changed(document.plan, "title", title), f"title {title}")

    def chord(self, keys: str) -> None:
        self.press(self.window, keys)

    def dialog(self, kind):
        """The dialog of a kind that stands open."""
        self.qtbot.waitUntil(lambda: any(d.isVisible() for d in self.window.findChildren(kind)))
        return next(d for d in self.window.findChildren(kind) if d.isVisible())

    def answer(self, word: str) -> None:
        """Press a button of the question that stands open."""
        box = self.dialog(QMessageBox)
        self.click(next(b for b in box.buttons() if b.text().replace("&", "") == word))

    def choose_file(self, path: Path) -> None:
        """Name a file in the file dialog that stands open."""
        dialog = self.dialog(QFileDialog)
        dialog.selectFile(str(path))
        dialog.accept()

    def drop(self, *paths: Path) -> bool:
        """Drop files on the window; False where it does not take them."""
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
        action, button, none = (
            Qt.DropAction.CopyAction,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
        enter = QDragEnterEvent(QPoint(400, 400), action, data, button, none)
        enter.ignore()
        QApplication.sendEvent(self.window, enter)
        if not enter.isAccepted():
            return False
        QApplication.sendEvent(self.window, QDropEvent(QPointF(400, 400), action, data, button, none))
        return True


@pytest.fixture
def hand(qtbot, window_of):
    """On a window whose pages are built as they are opened."""
    return WindowHand(qtbot, window_of(PLAN, whole=False))


@pytest.fixture
def whole(qtbot, window_of):
    """On a window that has all its pages: each takes what is opened, edited and worked out."""
    return WindowHand(qtbot, window_of(PLAN))


# --- start ------------------------------------------------------------------------------------------------


def test_the_first_start_shows_the_demo_and_is_never_empty(qtbot):
    window = make_window(opening(None))
    qtbot.addWidget(window)
    qtbot.waitUntil(lambda: is_idle(window), timeout=30_000)
    assert window.document.plan == demo_plan()
    assert window.context.result.passes
    assert window.open_title == "Evening"
    assert not window.document.unsaved


class AtOnce:
    """Stands for the second process: it has nothing, and says so at once."""

    def fill(self, memo, progress):
        assert progress(0, 0, "waiting")


def test_the_first_picture_has_the_result_and_what_may_wait_comes_after_it(qtbot, monkeypatch):
    painted = []
    monkeypatch.setattr("app.window.launch._BLINK_MS", 30_000)
    opens = replace(opening(None), ahead=AtOnce())
    window = make_window(opens)
    qtbot.addWidget(window)
    dial = window.page("Evening").dial
    build_rest = window.shelf.build_rest
    window.shelf.build_rest = lambda: (painted.append(dial.layers_painted), build_rest())
    show_first(window, opens)
    assert window.context.result is not None
    assert dial.layers_painted == 0
    assert not painted
    qtbot.waitUntil(lambda: bool(painted), timeout=30_000)
    assert painted[0] > 0
    qtbot.waitUntil(lambda: is_idle(window), timeout=30_000)


def test_what_may_wait_waits_for_the_picture_of_a_window_that_has_its_result_before_it_is_shown(qtbot):
    painted = []
    opens = replace(opening(None), ahead=AtOnce())
    window = make_window(opens)
    qtbot.addWidget(window)
    dial, build_rest = window.page("Evening").dial, window.shelf.build_rest
    window.shelf.build_rest = lambda: (painted.append(dial.layers_painted), build_rest())
    qtbot.waitUntil(lambda: window.context.result is not None, timeout=30_000)
    for _ in range(3):
        QApplication.processEvents()
    show_first(window, opens)
    qtbot.waitUntil(lambda: bool(painted), timeout=30_000)
    assert painted[0] > 0
    qtbot.waitUntil(lambda: is_idle(window), timeout=30_000)


def test_the_next_start_has_the_last_plan_page_scheme_paper_and_place(qtbot, tmp_path):
    path = write_plan_file(tmp_path, title="again")
    window = make_window(opening(path))
    qtbot.addWidget(window)
    window.resize(960, 701)  # the offscreen screen is 800 by 800
    window.set_scheme("dusk")
    window.open_page("Sheet")
    window.page("Sheet").set_paper("letter")
    window.close()
    again = make_window(opening(None))
    qtbot.addWidget(again)
    assert again.document.path == path
    assert (again.context.scheme.name, again.open_title) == ("dusk", "Sheet")
    assert again.page("Sheet").paper == "letter"
    assert again.height() == 701


def test_a_last_plan_that_is_gone_gives_the_demo_and_says_so(qtbot, tmp_path):
    missing = tmp_path / "gone.northkey.json"
    remember(Remembered(last_plan=missing))
    plan, path, told = first_plan(recall().last_plan)
    assert (plan, path) == (demo_plan(), None)
    assert str(missing) in told
    window = make_window(opening(None))
    qtbot.addWidget(window)
    assert str(missing) in window.errors.dialog.sentence.text()


def test_settings_that_make_no_sense_start_all_the_same(window_of):
    window = window_of(PLAN, scheme="plaid", page="Cellar", paper="papyrus", wait=False)
    assert (window.context.scheme.name, window.open_title) == ("light", "Evening")
    assert window.page("Sheet").paper == "a4"


# --- head, title, undo ------------------------------------------------------------------------------------


def test_the_head_says_plan_place_hours_and_ages(hand):
    head = hand.window.head
    assert head.title.text() == "Hilltop"
    assert head.place.text() == "47.2000 N  9.1000 E  0 m  JN47ne"
    assert head.hours.text() == "1 Nov 2024 18:00-21:00 local   17:00-20:00 UTC"
    assert head.ages.text() == "elements 11 hours old"
    assert head.clock.text() == "17:42:08 UTC"


def test_the_unsaved_mark_comes_and_goes_with_undo(whole):
    window = whole.window
    assert (window.windowTitle(), window.isWindowModified()) == (
        "Hilltop[*] (not in a file) - Northkey",
        False,
    )
    whole.edit_title("Other")
    assert window.isWindowModified()
    assert window.head.title.text() == "Other *"
    assert window.foot.undo.text() == "Undo: title Other"
    whole.chord("Ctrl+Z")
    assert (window.head.title.text(), window.isWindowModified()) == ("Hilltop", False)
    whole.chord("Ctrl+Shift+Z")
    assert window.document.plan.title == "Other"
    whole.click(window.foot.undo)
    assert window.document.plan.title == "Hilltop"
    whole.click(window.foot.redo)
    assert window.document.plan.title == "Other"


def test_an_edit_is_worked_out_and_shown(whole, qtbot):
    window = whole.window
    before = window.context.result.identity
    window.document.edit(changed(PLAN, "mount.keyway_bearing_deg", 120.0), "keyway")
    assert window.context.result_plan != window.document.plan
    qtbot.waitUntil(lambda: window.context.result_plan == window.document.plan)
    assert window.context.result.identity != before
    qtbot.waitUntil(lambda: window.context.result.identity in window.foot.words.text())


# --- plan files -------------------------------------------------------------------------------------------


def test_save_asks_for_a_file_once_and_then_writes_to_it(hand, tmp_path):
    path = tmp_path / "evening.northkey.json"
    hand.edit_title("Saved")
    hand.chord("Ctrl+S")
    hand.choose_file(path)
    assert read_plan(path).title == "Saved"
    assert "evening.northkey.json" in hand.window.windowTitle()
    hand.edit_title("Saved again")
    hand.chord("Ctrl+S")
    assert read_plan(path).title == "Saved again"
    assert not hand.window.document.unsaved


def test_save_as_writes_another_file(hand, tmp_path):
    hand.chord("Ctrl+Shift+S")
    hand.choose_file(tmp_path / "two.northkey.json")
    assert read_plan(tmp_path / "two.northkey.json") == PLAN
    assert hand.window.document.path == tmp_path / "two.northkey.json"


def test_save_that_fails_is_told_and_leaves_the_mark(hand, tmp_path):
    hand.edit_title("Lost?")
    hand.window.files.save_to(tmp_path / "missing" / "p.northkey.json")
    assert "missing" in hand.window.errors.dialog.sentence.text()
    assert hand.window.document.unsaved


def test_open_reads_a_file(whole, tmp_path, qtbot):
    path = write_plan_file(tmp_path, title="From disk")
    whole.chord("Ctrl+O")
    whole.choose_file(path)
    assert whole.window.document.plan.title == "From disk"
    qtbot.waitUntil(lambda: whole.window.context.result_plan == whole.window.document.plan)


def test_a_bad_plan_file_is_told_and_changes_nothing(hand, tmp_path):
    path = tmp_path / "bad.northkey.json"
    path.write_text('{"format": "northkey-plan", "version": 99}')
    assert hand.drop(path)
    assert "99" in hand.window.errors.dialog.sentence.text()
    assert hand.window.document.plan == PLAN


def test_new_is_tonight_at_the_same_position_and_leaves_all_else_to_the_defaults(window_of):
    window = window_of(plan_of(full_plan_data()))
    window.actions_by_id["new"].trigger()
    plan, old = window.document.plan, plan_of(full_plan_data())
    assert plan.model_fields_set == {"site", "evening"}
    assert plan.site.model_fields_set == {"latitude_deg", "longitude_deg", "height_m", "time_zone"}
    assert (plan.site.latitude_deg, plan.site.height_m) == (old.site.latitude_deg, old.site.height_m)
    assert old.site.horizon
    assert "azimuth travel 450 deg" in assumed(plan)
    # On 1 November 2024 the Sun sets at 47.2 N 9.1 E about 16:05 UTC; local midnight is 23:00 UTC.
    assert parse_iso("2024-11-01T15:50:00Z") < plan.evening.start_utc_s < parse_iso("2024-11-01T16:20:00Z")
    assert plan.evening.end_utc_s == parse_iso("2024-11-01T23:00:00Z")
    assert not window.document.unsaved


def test_new_where_the_sun_does_not_set_keeps_the_hours():
    plan = plan_of(short_plan_data(), site__latitude_deg=78.0)
    assert fresh_plan(plan, parse_iso("2024-06-20T12:00:00Z")).evening == plan.evening


def test_the_demo_comes_back(whole):
    whole.window.actions_by_id["demo"].trigger()
    assert whole.window.document.plan == demo_plan()


def test_plan_files_are_told_by_name_or_content(tmp_path):
    plan = write_plan_file(tmp_path)
    renamed = plan.rename(tmp_path / "renamed.json")
    elements = write_elements_file(tmp_path)
    assert is_plan_file(tmp_path / "any.northkey.json")
    assert is_plan_file(renamed)
    assert not is_plan_file(elements)
    assert not is_plan_file(tmp_path / "absent.json")
    assert not is_plan_file(tmp_path / "elements.csv")


# --- unsaved edits ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("keys", ["Ctrl+N", "Ctrl+O", "Ctrl+Q"])
def test_unsaved_edits_are_asked_about_and_stay(hand, keys):
    hand.edit_title("Precious")
    hand.chord(keys)
    hand.answer("Stay here")
    assert hand.window.document.plan.title == "Precious"
    assert hand.window.isVisible()


def test_unsaved_edits_can_be_saved_on_the_way(hand, tmp_path):
    hand.edit_title("Precious")
    hand.chord("Ctrl+N")
    hand.answer("Save first")
    hand.choose_file(tmp_path / "kept.northkey.json")
    assert read_plan(tmp_path / "kept.northkey.json").title == "Precious"
    assert hand.window.document.plan.title == "Untitled evening"


def test_unsaved_edits_can_be_let_go_on_closing(hand, qtbot):
    hand.edit_title("Let go")
    hand.window.close()
    assert hand.window.isVisible()
    hand.answer("Lose them")
    qtbot.waitUntil(lambda: not hand.window.isVisible())


def test_closing_without_edits_asks_nothing(hand):
    hand.window.close()
    assert not hand.window.isVisible()
    assert hand.window.findChildren(QMessageBox) == []


# --- pages, schemes, find ---------------------------------------------------------------------------------


def test_every_page_opens_by_key_by_rail_and_by_rail_keys(hand):
    window = hand.window
    for number, title in enumerate(PAGES, start=1):
        hand.chord(f"Ctrl+{number % 10}")
        assert (window.open_title, window.rail.items[title].current) == (title, True)
    for title in PAGES:
        hand.qtbot.mouseClick(window.rail.items[title], Qt.MouseButton.LeftButton)
        assert window.open_title == title
    window.rail.items["Site"].setFocus()
    hand.press(window.rail.items["Site"], "Down")
    assert window.focusWidget() is window.rail.items["Satellites"]
    hand.press(window.rail.items["Satellites"], "Return")
    assert window.open_title == "Satellites"


@pytest.mark.parametrize(
    ("keys", "name"), [("Ctrl+Alt+1", "light"), ("Ctrl+Alt+2", "dark"), ("Ctrl+Alt+3", "dusk")]
)
def test_schemes_by_key(whole, keys, name):
    whole.chord(keys)
    assert whole.window.context.scheme.name == name
    assert whole.window.actions_by_id[f"scheme_{name}"].isChecked()


def test_nothing_is_brighter_than_the_dusk_scheme_allows(hand):
    from app.window.look.scheme import DUSK_BRIGHTEST

    window = hand.window
    window.set_scheme("dusk")
    for title in PAGES:
        window.open_page(title)
        hand.qtbot.waitUntil(lambda: not window.runner.busy_words, timeout=30_000)
        image = window.grab().toImage()
        brightest = max(
            max(image.pixelColor(x, y).getRgb()[:3])
            for x in range(0, image.width(), 5)
            for y in range(0, image.height(), 5)
        )
        assert brightest <= DUSK_BRIGHTEST, title


def test_find_goes_to_the_field_and_seeks(whole):
    window = whole.window
    whole.chord("Ctrl+F")
    assert window.focusWidget() is window.head.find_field
    window.open_page("Satellites")
    whole.type_into(window.head.find_field, "birch", end=None)
    assert window.page("Satellites").selected() == [70002]


def test_files_that_are_no_plans_go_to_the_satellites(whole, tmp_path, qtbot):
    window = whole.window
    elements = write_elements_file(tmp_path)
    window.actions_by_id["new"].trigger()
    assert whole.drop(elements)
    qtbot.waitUntil(lambda: len(window.document.plan.satellites) == 2)
    assert window.open_title == "Satellites"


def test_a_dropped_plan_is_opened_after_asking(hand, tmp_path):
    path = write_plan_file(tmp_path, title="Dropped")
    hand.edit_title("Precious")
    assert hand.drop(path)
    hand.answer("Lose them")
    assert hand.window.document.plan.title == "Dropped"


def test_what_is_no_file_is_not_taken(hand):
    data = QMimeData()
    data.setText("words")
    event = QDragEnterEvent(
        QPoint(9, 9),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    event.ignore()
    QApplication.sendEvent(hand.window, event)
    assert not event.isAccepted()


# --- errors -----------------------------------------------------------------------------------------------


def test_errors_come_in_one_dialog_and_can_be_looked_up_again(hand):
    window = hand.window
    window.tell_error("First", "first sentence", "")
    window.tell_error("Second", "second sentence", "details of it")
    dialog = window.errors.dialog
    assert dialog.sentence.text() == "second sentence"
    assert "details of it" in dialog.details.toPlainText()
    assert "17:42:08 UTC  First: first sentence" in dialog.details.toPlainText()
    hand.click(dialog.copy)
    assert "second sentence\ndetails of it" in QApplication.clipboard().text()
    dialog.reject()
    hand.qtbot.waitUntil(lambda: window.errors.dialog is None)
    window.actions_by_id["errors"].trigger()
    assert window.errors.dialog.sentence.text() == "second sentence"


def test_an_unexpected_exception_in_a_slot_is_shown(hand, monkeypatch):
    from app.window.frame.errors import ExceptionWatch

    monkeypatch.setattr("sys.excepthook", lambda *_: None)
    watch = ExceptionWatch(hand.window)
    watch.caught.connect(hand.window.tell_unexpected)
    watch.start()
    try:
        raise RuntimeError("out of cheese")
    except RuntimeError as error:
        import sys

        sys.excepthook(type(error), error, error.__traceback__)
    watch.stop()
    assert "out of cheese" in hand.window.errors.dialog.sentence.text()
    assert "Traceback" in hand.window.errors.dialog.details.toPlainText()


def test_what_cannot_be_worked_out_is_told_once_and_can_be_tried_again(hand, monkeypatch, qtbot):
    window = hand.window

    def fails(_plan, _memo, _progress):
        raise ValueRangeError("x", 1, "2")

    with monkeypatch.context() as patch:
        patch.setattr("app.window.state.evaluation.evaluate", fails)
        hand.edit_title("one")
        qtbot.waitUntil(lambda: window.errors.dialog is not None)
        window.errors.dialog.reject()
        hand.edit_title("two")
        qtbot.waitUntil(lambda: not window.runner.busy_words)
        assert window.errors.dialog is None
        assert "x is 1" in window.foot.words.text()
    hand.click(window.foot.ask)
    qtbot.waitUntil(lambda: window.context.result_plan == window.document.plan)


# --- cancel -----------------------------------------------------------------------------------------------


def test_cancel_keeps_the_plan_and_offers_to_work_it_out(whole, monkeypatch, qtbot):
    window = whole.window

    def endless(_plan, _memo, progress):
        while progress(1, 3, "turning in circles"):
            pass
        raise Cancelled

    with monkeypatch.context() as patch:
        patch.setattr("app.window.state.evaluation.evaluate", endless)
        whole.edit_title("Long")
        qtbot.waitUntil(lambda: "Turning in circles" in window.foot.words.text())
        whole.click(window.foot.cancel)
        qtbot.waitUntil(lambda: not window.runner.busy_words)
    assert window.document.plan.title == "Long"
    assert window.foot.words.text() == (
        "Not worked out for the present plan. What is shown is of the plan before."
    )
    assert window.errors.dialog is None
    whole.chord("F5")
    qtbot.waitUntil(lambda: window.context.result_plan == window.document.plan)


# --- the table of acts ------------------------------------------------------------------------------------


def test_ids_keys_and_letters_of_the_acts_are_unique():
    assert len({act.id for act in ACTS}) == len(ACTS)
    keys = [act.keys for act in ACTS if act.keys]
    assert len(set(keys)) == len(keys)
    menus = {act.menu for act in ACTS}
    letters = [menu[menu.index("&") + 1].casefold() for menu in menus - {"Help"}]  # that has F1
    assert len(set(letters)) == len(letters)
    for menu in menus:
        inside = [
            a.words[a.words.index("&") + 1].casefold() for a in ACTS if a.menu == menu and "&" in a.words
        ]
        assert len(set(inside)) == len(inside), menu


def test_every_act_does_something(hand):
    acts = hand.window.acts()
    assert set(acts) == {act.id for act in ACTS}
    assert all(callable(do) for do in acts.values())
    assert hand.window.context.now_utc_s == NOW_UTC_S


# --- nothing moves under the pointer ----------------------------------------------------------------------


def test_undo_stays_where_it_is_while_it_is_pressed(hand):
    window = hand.window
    for text in ("One", "A much longer name for the same evening"):
        hand.edit_title(text)
    place = window.foot.undo.geometry()
    while window.document.undo_label:
        hand.click(window.foot.undo)
        assert window.foot.undo.geometry() == place
    assert window.foot.redo.isVisible()


# --- found again at the next start, and keys --------------------------------------------------------------


def test_plans_opened_and_saved_stand_in_the_menu_the_latest_first(hand, tmp_path, qtbot):
    window = hand.window
    one, other = tmp_path / "one.northkey.json", tmp_path / "other.northkey.json"
    for path in (one, other):
        write_plan_file(tmp_path, title=path.name).rename(path)
    for path in (one, other):
        assert hand.drop(path)
    assert window.recent.files == (other, one)
    first, second = window.recent.actions()
    assert ("other" in first.text(), "one" in second.text()) == (True, True)
    second.trigger()
    assert window.document.path == one
    assert window.recent.files == (one, other)
    assert window.recent.menuAction() in window.actions_by_id["open"].associatedObjects()[0].actions()


def test_a_recent_plan_that_is_gone_is_told(hand, tmp_path):
    window = hand.window
    window.recent.put_first(tmp_path / "gone.northkey.json")
    window.recent.actions()[0].trigger()
    assert "gone.northkey.json" in window.errors.dialog.sentence.text()
    assert window.document.plan == PLAN


def test_splitters_and_columns_set_by_hand_are_found_again(window_of, qtbot):
    window = window_of(PLAN)
    evening, satellites = window.page("Evening"), window.page("Satellites")
    window.open_page("Evening")
    evening.below.setSizes([300, 400])
    assert window.shelf.by_hand == {}  # so far by the window alone
    evening.below.splitterMoved.emit(300, 1)
    satellites.table.setColumnWidth(1, 321)
    satellites.table.setProperty("by hand", True)
    wanted = tuple(evening.below.sizes())
    window.setProperty("closing", True)
    window.close()
    kept = recall()
    assert kept.layout["evening_below"] == wanted
    again = window_of(PLAN, layout=kept.layout)
    again.open_page("Satellites")
    assert again.page("Satellites").table.columnWidth(1) == 321
    assert set(again.shelf.by_hand) == set(kept.layout)
    again.open_page("Evening")
    qtbot.waitUntil(lambda: tuple(again.page("Evening").below.sizes()) == wanted)


def test_redo_has_both_of_its_keys_and_the_list_of_keys_names_every_one(hand):
    window = hand.window
    keys = {shortcut.toString() for shortcut in window.actions_by_id["redo"].shortcuts()}
    assert keys == {"Ctrl+Shift+Z", "Ctrl+Y"}
    window.actions_by_id["keys"].trigger()
    dialog = window.findChild(KeysDialog)
    told = {label.text() for label in dialog.findChildren(QLabel)}
    for act in ACTS:
        assert not act.keys or any(act.keys in text for text in told)
    dialog.close()


def test_from_now_goes_to_the_evening_and_what_is_told_there_is_worked_out(whole, qtbot):
    window = whole.window
    window.open_page("Site")
    whole.chord("Ctrl+R")
    assert window.open_title == "Evening"
    asked = window.page("Evening").findChild(NowDialog)
    whole.type_into(asked.azimuth, "100")
    qtbot.waitUntil(lambda: window.context.rest is not None and window.context.rest.reasons is not None)
    assert window.page("Evening").now_band.isVisible()
    assert window.document.undo_label == ""
    window.open_page("Sheet")
    assert window.page("Sheet").ready()[1].mount_start.axes.m_deg == 100.0


def test_printing_goes_to_the_sheet(hand, monkeypatch):
    window = hand.window
    asked = []
    monkeypatch.setattr(type(window.page("Sheet")), "ask_for_printer", lambda page: asked.append(page.title))
    window.actions_by_id["print"].trigger()
    assert (window.open_title, asked) == ("Sheet", ["Sheet"])


def test_the_head_says_the_year(hand):
    assert "1 Nov 2024" in hand.window.head.hours.text()


def test_every_button_says_more_than_its_words(hand):
    window = hand.window
    silent = []
    for title in PAGES:
        window.open_page(title)
    for button in window.findChildren(QAbstractButton):
        words = button.text().replace("&", "").rstrip(".")
        if (words or button.accessibleName()) and button.toolTip() in {"", words}:
            silent.append(button.accessibleName() or words)
    assert silent == []


def test_a_wider_foot_tells_more_of_a_step(qtbot):
    foot = Foot()
    qtbot.addWidget(foot)
    foot.resize(1280, 34)
    foot.show()
    long = "title A ridge with a name that goes on for longer than any ridge and its shadow at noon"
    foot.show_steps(long, "")
    narrow = foot.undo.text()
    foot.resize(1920, 34)
    assert len(foot.undo.text()) > len(narrow) > 20
    assert foot.undo.toolTip().startswith(f"Undo: {long}")


def test_a_large_plan_is_read_beside_the_window(window_of, qtbot, tmp_path, monkeypatch):
    window = window_of(plan_of(short_plan_data()))
    monkeypatch.setattr("app.window.frame.plan_files._BLINK_BYTES", 100)
    path = write_plan_file(tmp_path, title="a large one")
    window.files.open(path)
    assert window.document.plan.title != "a large one"
    qtbot.waitUntil(lambda: window.document.plan.title == "a large one", timeout=10_000)
    assert (window.document.path, window.document.unsaved) == (path, False)
    path.write_text("{" + " " * 200)
    window.files.open(path)
    qtbot.waitUntil(lambda: window.errors.dialog is not None, timeout=10_000)
    assert window.errors.recent[-1].title == "Plan not opened"
    assert window.document.plan.title == "a large one"
