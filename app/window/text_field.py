"""A field for words, times and dates: like the number field it marks and tells what cannot be taken."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from app.window.scheme import font
from core.base.errors import NorthkeyError


class TextField(QLineEdit):
    """A line of text.

    Signals:
        text_edited(str): another text was typed and finished.
        refused(str): it could not be taken, with the reason.
    """

    text_edited = Signal(str)
    refused = Signal(str)

    def __init__(self, name: str, width: int = 130, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = ""
        self.setAccessibleName(name)
        self.setFont(font(10))
        self.setMaximumWidth(width)
        self.editingFinished.connect(self._finish)

    def show_text(self, text: str) -> None:
        """Show a text; what is being typed is left alone."""
        self._shown = text
        if not (self.hasFocus() and self.isModified()):
            self.setText(text)
            self.setCursorPosition(0)
        self.mark_wrong("")

    def _finish(self) -> None:
        if not self.isModified():
            return
        self.setModified(False)
        self.mark_wrong("")
        if self.text().strip() != self._shown:
            self.text_edited.emit(self.text().strip())

    def mark_wrong(self, why: str) -> None:
        """Mark the field as refused, with the reason as its description; an empty reason clears the mark."""
        self.setProperty("wrong", bool(why))
        self.setToolTip(why)
        self.setAccessibleDescription(why)
        self.style().unpolish(self)
        self.style().polish(self)

    def attempt(self, edit: Callable[[], None]) -> None:
        """Do an edit; a refusal marks this field and is told."""
        try:
            edit()
        except NorthkeyError as error:
            self.mark_wrong(str(error))
            self.refused.emit(str(error))


class NotesField(QPlainTextEdit):
    """Some lines of text, taken when the field is left.

    Signals:
        text_edited(str): another text was typed.
    """

    text_edited = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFont(font(10))
        self.setTabChangesFocus(True)
        self._shown = ""

    def show_text(self, text: str) -> None:
        """Show a text; what is being typed is left alone."""
        untouched = not self.hasFocus() or self.toPlainText() == self._shown
        if text != self._shown and untouched:
            self.setPlainText(text)
        self._shown = text

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if self.toPlainText() != self._shown:
            self.text_edited.emit(self.toPlainText())
