"""Fields of a form: label, buddy, accessible name, unit and refusal in one place, so none can be nameless."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from app.window.scheme import font
from core.base.errors import NorthkeyError


class NumberField(QLineEdit):
    """A number typed with a unit behind it; what cannot be taken is marked and told, and changes nothing.

    Signals:
        value_edited(float): a new number was typed and finished (Enter, Tab or leaving the field).
        refused(str): what was typed is no number.
    """

    value_edited = Signal(float)
    refused = Signal(str)

    def __init__(self, name: str, unit: str = "", decimals: int = 2, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name, self._decimals = name, decimals
        self._value = math.nan
        self.setAccessibleName(f"{name}, {unit}" if unit else name)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setFont(font(10))
        self.setMaximumWidth(130)
        self.editingFinished.connect(self._finish)

    def show_value(self, value: float | None) -> None:
        """Show a number (None shows nothing); what is being typed is left alone while the field has focus."""
        self._value = math.nan if value is None else value
        if not (self.hasFocus() and self.isModified()):
            self.setText(self._text())
        self.mark_wrong("")

    def _text(self) -> str:
        if math.isnan(self._value):
            return ""
        text = f"{self._value:.{self._decimals}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text

    def _finish(self) -> None:
        if not self.isModified():
            return
        self.setModified(False)
        typed = self.text().strip().replace("\N{MINUS SIGN}", "-").replace(",", ".")
        try:
            value = float(typed)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            self.mark_wrong(f"{self._name}: {typed!r} is no number")
            self.refused.emit(f"{self._name}: {typed!r} is no number")
            return
        self.mark_wrong("")
        if value != self._value:
            self.value_edited.emit(value)

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


class Form(QGridLayout):
    """Rows of label, field, unit and a faint word of help."""

    def __init__(self) -> None:
        super().__init__()
        self.setHorizontalSpacing(10)
        self.setVerticalSpacing(6)
        self.setColumnStretch(3, 1)

    def add_row(self, words: str, field: QWidget, unit: str = "", help_: str = "") -> QLabel:
        """A labelled field; Alt and the letter after & goes to it. Returns the label."""
        row = self.rowCount()
        label = QLabel(words)
        label.setBuddy(field)
        plain = words.replace("&", "")
        if not field.accessibleName():
            field.setAccessibleName(f"{plain}, {unit}" if unit else plain)
        self.addWidget(label, row, 0)
        self.addWidget(field, row, 1)
        if unit:
            self.addWidget(second(unit), row, 2)
        if help_:
            self.addWidget(second(help_), row, 3)
            field.setToolTip(help_)
        return label


def second(text: str, points: float = 9) -> QLabel:
    """A label of second rank."""
    label = QLabel(text)
    label.setProperty("rank", "second")
    label.setFont(font(points))
    label.setWordWrap(True)
    return label


def heading(text: str, points: float = 13) -> QLabel:
    """A heading."""
    label = QLabel(text)
    label.setFont(font(points, bold=True))
    return label
