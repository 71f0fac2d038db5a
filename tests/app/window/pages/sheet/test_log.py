"""The log window: typed down the paper, read back, made sightings of, saved."""

from __future__ import annotations

import json

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QFileDialog

from app.window.look.scheme import DUSK, DUSK_BRIGHTEST, SCHEMES, Scheme
from app.window.look.style import palette, style_sheet
from app.window.pages.sheet.page import SheetPage
from core.afterwards.rows import evening_log
from core.afterwards.words import planned_words
from core.evaluate import identity
from core.plan.document import Plan
from tests.app.window.conftest import work_out
from tests.app.window.overlaps import overlaps
from tests.app.window.pages.sheet.log_object import LogHand
from tests.app.window.pages.sheet.test_page import PLAN
from tests.app.window.test_accessible_names import letters, nameless
from tests.app.window.test_text_is_text import PICTURE, rich
from tests.core.afterwards.evenings import SATELLITES, evening, evening_data, noted
from tests.plans import plan_of


@pytest.fixture
def hand(context_of, qtbot):
    def make(plan: Plan | None = None) -> LogHand:
        page = SheetPage(context_of(evening()[0] if plan is None else plan))
        qtbot.addWidget(page)
        return LogHand(page, qtbot)

    return make


def pocket_file(folder, plan, *entries):
    path = folder / "pocket.json"
    head = {"format": "northkey-log", "version": 1, "identity": identity(plan), "title": plan.title}
    path.write_text(json.dumps(head | {"log": list(entries)}), "utf-8")
    return path


def test_a_page_is_typed_down_with_nothing_but_keys(hand):
    here = hand()
    first, second = here.cells[:2]
    first.worked.setFocus()
    for widget, text in (
        (first.worked, "y"),
        (first.azimuth, "281.5 2nd"),
        (first.elevation, "30"),
        (first.time, "1742"),
        (first.heard, ""),
        (first.note, "loud"),
        (second.worked, "n"),
    ):
        assert here.focused is widget, widget.accessibleName()
        here.qtbot.keyClicks(widget, text)
        here.key(widget, Qt.Key.Key_Return)
    one, two = here.log
    assert (one.worked, one.azimuth_dial_deg, one.time_round) == (True, 281.5, 2)
    assert (one.elevation_dial_deg, one.time, one.note) == (30.0, "2024-11-01T17:42:00.000Z", "loud")
    assert (two.worked, two.azimuth_dial_deg) == (False, None)
    assert first.azimuth.text() == "281.5 (2nd)"
    assert first.time.text() == "17:42"
    here.key(second.azimuth, Qt.Key.Key_Up)
    assert here.focused is first.azimuth
    here.key(first.azimuth, Qt.Key.Key_Down)
    assert here.focused is second.azimuth
    while here.document.undo_label:
        assert here.document.undo_label.startswith("log of contact ")
        here.document.undo()
    assert here.plan == evening()[0]
    assert first.azimuth.text() == ""


def test_the_tick_goes_round_and_what_is_emptied_goes(hand):
    here = hand()
    tick = here.cells[0].worked
    seen = []
    for _ in range(3):
        here.click(tick)
        seen.append(here.log[0].worked if here.log else None)
    assert seen == [True, False, None]
    assert (tick.text(), tick.checkState()) == ("not noted", Qt.CheckState.PartiallyChecked)
    assert here.log == ()


def test_the_rows_have_the_sheets_numbers_and_its_dials(hand):
    here = hand()
    rows = evening_log(*evening()).rows
    assert [cells.number.text() for cells in here.cells] == [str(row.number) for row in rows]
    assert here.cells[0].planned.text() == planned_words(rows[0], here.plan.mount)
    assert here.dialog.summary.text() == "6 contacts planned: 0 worked, 6 not noted."


def test_a_wrong_figure_is_marked_and_what_is_off_is_told(hand):
    here = hand()
    cells = here.cells[0]
    here.type_into(cells.azimuth, "north")
    assert "must be" in cells.azimuth.wrong.casefold()
    assert here.focused is cells.azimuth
    assert here.log == ()
    here.type_into(cells.azimuth, "287.5")
    assert (cells.azimuth.wrong, cells.told.text()) == ("", "azimuth 3 deg more than planned")
    here.type_into(cells.azimuth, "20.5")
    assert cells.told.text() == "azimuth 96 deg more than planned: is it the right row?"
    assert cells.told.property("rank") == "alarm"
    here.type_into(cells.azimuth, "400")
    assert cells.told.text() == "400 is not on the azimuth dial: it shows 0 to 360"
    assert not cells.sighting.isEnabled()
    here.type_into(cells.time, "half past")
    assert "18:42" in cells.time.wrong


def test_a_pass_that_was_not_planned_is_added_and_removed(hand):
    here = hand()
    rows = len(here.cells)
    here.click(here.dialog.add_button)
    assert len(here.cells) == rows + 1
    assert here.log[0].worked is True
    assert here.focused is here.cells[-1].azimuth
    assert not here.dialog.add_button.isEnabled(), "there was but one"
    here.click(here.cells[-1].remove)
    assert (len(here.cells), here.log) == (rows, ())


def test_the_dials_become_sightings_once_and_what_they_do_is_told(hand):
    entries = noted(evening()[0], 3.2)
    here = hand(plan_of(evening_data(), log=entries))
    button = here.dialog.sightings_button
    assert button.text() == "&Make sightings of 6 dials"
    assert here.wait_for_effect().startswith(
        "With 6 more sightings tonight's correction is +3.2 deg, known to "
    )
    here.click(here.cells[2].sighting)
    assert button.text() == "&Make sightings of 5 dials"
    assert here.wait_for_effect().startswith("With 5 more sightings")
    here.click(button)
    assert len(here.plan.sightings) == 5
    assert here.dialog.state.text().startswith("5 sightings made: the Setup page fits them. With 5 more")
    assert [cells.sighting.text() for cells in here.cells] == ["made", "made", "", "made", "made", "made"]
    assert not button.isEnabled()
    here.click(here.cells[2].sighting)
    here.click(button)
    assert len(here.plan.sightings) == 6
    here.document.undo()
    assert len(here.plan.sightings) == 5


def test_the_pocket_pages_file_is_read_and_a_second_time_changes_nothing(hand, tmp_path):
    here = hand()
    entries = noted(evening()[0], 3.2)
    path = pocket_file(tmp_path, here.plan, *entries)
    assert here.read(path) == "6 entries read: 6 new."
    assert here.cells[0].azimuth.text() == "281"
    assert here.document.undo_label == "log read back from the pocket page"
    before = here.plan
    assert here.read(path) == "6 entries read: 6 as before."
    assert here.plan is before
    path.write_text("{", "utf-8")
    assert "line 1: is not JSON" in here.read(path)
    assert here.plan is before


def test_another_plans_file_is_asked_about_first(hand, tmp_path):
    here = hand()
    other = plan_of(evening_data(), title="Moor", mount__keyway_bearing_deg=10.0)
    stranger = {"norad_id": 70001, "near": "2024-12-24T18:00:00Z", "worked": True}
    path = pocket_file(tmp_path, other, *noted(evening()[0], 0.0), stranger)
    assert here.read(path) == ""
    box = here.dialog.files.question
    assert f"plan {identity(other)} (Moor)" in box.informativeText()
    box.buttons()[-1].click()
    here.qtbot.waitUntil(lambda: here.dialog.files.question is None)
    assert here.log == ()
    here.read(path)
    here.dialog.files.question.buttons()[0].click()
    here.qtbot.waitUntil(lambda: bool(here.log))
    assert here.dialog.state.text().endswith("No pass of this evening is meant by 1 of them.")
    assert "No pass of Alder near 2024-12-24 18:00 UTC" in here.dialog.unmatched.text()
    here.click(here.dialog.drop_button)
    assert len(here.log) == 6
    assert not here.dialog.unmatched.isVisible()


def test_it_is_saved_as_a_table(hand, tmp_path):
    here = hand(plan_of(evening_data(), log=noted(evening()[0], 3.2)))
    text = here.save(tmp_path / "log.csv")
    assert f"plan {identity(here.plan)}" in text.splitlines()[0]
    assert sum(",yes," in line for line in text.splitlines()) == 6
    here.dialog.save_button.click()
    (dialog,) = here.dialog.findChildren(QFileDialog)
    assert dialog.acceptMode() == QFileDialog.AcceptMode.AcceptSave
    dialog.reject()


def test_typing_the_log_lays_no_page_out_again(hand):
    here = hand(PLAN)
    page = here.page
    page.show()
    page.refresh()
    here.qtbot.waitUntil(lambda: page.pages is not None, timeout=30_000)
    pages = page.pages
    here.key(here.cells[0].worked, Qt.Key.Key_Y)
    work_out(page.context)
    page.refresh()
    assert page._asked is None
    assert page.pages is pages
    assert page.state.text().startswith(f"{len(pages.pictures)} pages of plan ")


def dress(here: LogHand, scheme: Scheme) -> None:
    """As the main window does, which has its style sheet and gives every window the palette."""
    here.page.context.scheme = scheme
    here.dialog.setPalette(palette(scheme))
    here.page.setStyleSheet(style_sheet(scheme))
    here.dialog.refresh()


def test_in_every_scheme_all_of_it_has_names_and_a_place(hand):
    satellites = [{**one, "name": PICTURE.format(n).strip()} for n, one in enumerate(SATELLITES)]
    entries = [{**one, "note": PICTURE.format("note")} for one in noted(evening()[0], 3.2)]
    here = hand(plan_of(evening_data(), satellites=satellites, log=entries))
    here.wait_for_effect()
    here.click(here.dialog.sightings_button)
    here.click(here.dialog.add_button)
    here.dialog.resize(1256, 720)
    for scheme in SCHEMES.values():
        dress(here, scheme)
        QApplication.processEvents()
        assert nameless(here.dialog) == []
        assert list(rich(here.dialog)) == []
        assert overlaps(here.dialog) == []
    assert {letter: texts for letter, texts in letters(here.dialog).items() if len(texts) > 1} == {}
    assert here.dialog.minimumSizeHint().width() <= 1256
    assert here.dialog.table.page.minimumSizeHint().width() <= here.dialog.table.viewport().width()
    dress(here, DUSK)
    here.dialog.close_button.setFocus()  # a caret blinks in the contrary of its ground
    picture = here.dialog.grab().toImage().scaled(628, 360)
    brightest = max(
        QColor(picture.pixel(x, y)).lightness()
        for x in range(picture.width())
        for y in range(picture.height())
    )
    assert brightest <= DUSK_BRIGHTEST
