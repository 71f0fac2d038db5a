"""Fields on their own: an untouched one never edits, no box turns under a wheel meant for the page."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QAbstractSlider, QAbstractSpinBox, QComboBox, QScrollBar, QWidget

from app.window.frame.actions import PAGES
from app.window.widgets.fields import NotesField, NumberField
from app.window.widgets.refusal import RefusalNote
from tests.app.window.page_object_base import turn_wheel
from tests.plans import plan_of, short_plan_data


def test_notes_that_the_box_gives_back_otherwise_are_no_edit(qtbot):
    page = QWidget()
    qtbot.addWidget(page)
    notes, other = NotesField("Notes", page), NotesField("Other", page)
    other.move(0, 200)
    edits = []
    notes.text_edited.connect(edits.append)
    page.show()
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    notes.show_text("one\r\ntwo\N{NO-BREAK SPACE}three")
    for _ in range(2):
        notes.setFocus()
        other.setFocus()
    assert edits == []
    notes.setFocus()
    qtbot.keyClicks(notes, "x")
    other.setFocus()
    assert len(edits) == 1


def test_no_box_of_any_page_turns_under_the_wheel_without_the_focus(window_of):
    window = window_of(plan_of(short_plan_data()))
    before, boxes = window.document.plan, 0
    for title in PAGES:
        window.open_page(title)
        for box in window.page(title).findChildren(QWidget):
            if isinstance(box, QScrollBar) or not isinstance(
                box, QComboBox | QAbstractSpinBox | QAbstractSlider
            ):
                continue
            boxes += 1
            window.rail.items[title].setFocus()
            was = box.currentIndex() if isinstance(box, QComboBox) else None
            for notches in (1, -1):
                turn_wheel(box, notches)
            assert was is None or box.currentIndex() == was, box.accessibleName()
            assert box.focusPolicy() & Qt.FocusPolicy.WheelFocus != Qt.FocusPolicy.WheelFocus
    assert boxes >= 3
    assert window.document.plan == before


def test_a_refused_field_may_go_with_its_row_while_the_page_stays(qtbot):
    page = QWidget()
    page.setObjectName("page")
    qtbot.addWidget(page)
    row = QWidget(page)
    field = NumberField("Length", parent=row)
    page.show()
    field.refuse("it must be less")
    note = page.findChild(RefusalNote)
    assert note.text() == "it must be less"
    row.deleteLater()
    QCoreApplication.sendPostedEvents(row, QEvent.Type.DeferredDelete.value)
    page.resize(page.width() + 40, page.height())  # the page's events used to place the note of a field gone
    qtbot.waitUntil(lambda: page.findChild(RefusalNote) is None)
