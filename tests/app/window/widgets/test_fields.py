"""Fields on their own: an untouched one never edits, no box turns under a wheel meant for the page."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractSlider, QAbstractSpinBox, QComboBox, QScrollBar, QWidget

from app.window.frame.actions import PAGES
from app.window.widgets.fields import NotesField
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
