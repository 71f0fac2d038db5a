"""Fields for numbers and words: what cannot be taken is marked and told, and changes nothing."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from app.window.look.scheme import font
from core.base.errors import NorthkeyError


class LineField(QLineEdit):
    """A line that is taken when it is finished (Enter, Tab or leaving the field), if it was changed.

    Signals:
        refused(str): what was typed could not be taken, with the reason.
    """

    refused = Signal(str)

    def __init__(self, name: str, width: int = 130, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFont(font(10))
        self.setMaximumWidth(width)
        self.editingFinished.connect(self._finish)

    def show_line(self, text: str) -> None:
        """Show a text without a mark; what is being typed is left alone while the field has focus."""
        if not (self.hasFocus() and self.isModified()):
            self.setText(text)
        self.mark_wrong("")

    def _finish(self) -> None:
        if self.isModified():
            self.setModified(False)
            self.mark_wrong("")
            self.take(self.text().strip())

    def take(self, typed: str) -> None:
        """Tell what was typed, or refuse it."""
        raise NotImplementedError

    def mark_wrong(self, why: str) -> None:
        """Mark the field as refused, with the reason as its description; an empty reason clears the mark."""
        self.setProperty("wrong", bool(why))
        self.setToolTip(why)
        self.setAccessibleDescription(why)
        self.style().unpolish(self)
        self.style().polish(self)

    def refuse(self, why: str) -> None:
        """Mark the field and tell the reason."""
        self.mark_wrong(why)
        self.refused.emit(why)

    def attempt(self, edit: Callable[[], None]) -> None:
        """Do an edit; a refusal marks this field and is told."""
        try:
            edit()
        except NorthkeyError as error:
            self.refuse(str(error))


class NumberField(LineField):
    """A number typed with a unit behind it.

    Signals:
        value_edited(float): a new number was typed and finished.
    """

    value_edited = Signal(float)

    def __init__(self, name: str, unit: str = "", decimals: int = 2, parent: QWidget | None = None) -> None:
        super().__init__(f"{name}, {unit}" if unit else name, parent=parent)
        self._name, self._decimals = name, decimals
        self._value = math.nan
        self.setAlignment(Qt.AlignmentFlag.AlignRight)

    def show_value(self, value: float | None) -> None:
        """Show a number; None shows nothing."""
        self._value = math.nan if value is None else value
        text = "" if math.isnan(self._value) else f"{self._value:.{self._decimals}f}"
        self.show_line(text.rstrip("0").rstrip(".") if "." in text else text)

    def take(self, typed: str) -> None:
        """A number with a point or a comma; any other text is refused."""
        typed = typed.replace("\N{MINUS SIGN}", "-").replace(",", ".")
        try:
            value = float(typed)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            self.refuse(f"{self._name}: {typed!r} is no number")
        elif value != self._value:
            self.value_edited.emit(value)


class TextField(LineField):
    """Words, a time or a date.

    Signals:
        text_edited(str): another text was typed and finished.
    """

    text_edited = Signal(str)
    _shown = ""

    def show_text(self, text: str) -> None:
        """Show a text from its beginning."""
        self._shown = text
        untouched = not (self.hasFocus() and self.isModified())
        self.show_line(text)
        if untouched:
            self.setCursorPosition(0)

    def take(self, typed: str) -> None:
        """Any text that is another one."""
        if typed != self._shown:
            self.text_edited.emit(typed)


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
