"""The hand of a test: what it can do to any widget, and how it reads one back."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPoint, QPointF, Qt
from PySide6.QtGui import QKeySequence, QWheelEvent
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QApplication, QLineEdit, QWidget


def turn_wheel(widget: QWidget, notches: int = -1) -> None:
    """Turn the mouse wheel over the middle of a widget, downward by default."""
    place = QPointF(widget.rect().center())
    event = QWheelEvent(
        place,
        QPointF(widget.mapToGlobal(place)),
        QPoint(0, 0),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)


class Hand:
    """Clicks and keys as an operator gives them. Subclasses name a page's parts."""

    def __init__(self, qtbot) -> None:
        self.qtbot = qtbot

    def click(self, button: QAbstractButton) -> None:
        """Press a button that can be pressed."""
        assert button.isVisible(), f"{button.text()} is not to be seen"
        assert button.isEnabled(), f"{button.text()} cannot be pressed"
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    def click_cell(self, view: QAbstractItemView, index: QModelIndex) -> None:
        """Press into the middle of a cell."""
        view.scrollTo(index)
        where: QPoint = view.visualRect(index).center()
        self.qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=where)

    def type_into(self, field: QLineEdit, text: str, end: Qt.Key | None = Qt.Key.Key_Return) -> None:
        """Replace a field's text and finish it."""
        field.setFocus()
        field.selectAll()
        self.qtbot.keyClicks(field, text)
        if end is not None:
            self.qtbot.keyClick(field, end)

    def empty(self, field: QLineEdit) -> None:
        """Delete a field's text and finish it."""
        field.setFocus()
        field.selectAll()
        self.qtbot.keyClick(field, Qt.Key.Key_Delete)
        self.qtbot.keyClick(field, Qt.Key.Key_Return)

    def press(self, widget: QWidget, keys: str) -> None:
        """One key or chord, e.g. "Ctrl+Z"."""
        combination = QKeySequence(keys)[0]
        self.qtbot.keyClick(widget, combination.key(), combination.keyboardModifiers())
