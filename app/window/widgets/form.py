"""A form: rows of label, field, unit and a faint word of help."""

from __future__ import annotations

from typing import cast

from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.window.widgets.labels import second
from app.window.widgets.plain import plain_label


class Form(QGridLayout):
    """Labels in the first column, fields in the second; units and helps share the rest."""

    def __init__(self) -> None:
        super().__init__()
        self.setHorizontalSpacing(10)
        self.setVerticalSpacing(6)
        self.setColumnStretch(3, 1)

    def add_row(self, words: str, field: QWidget, unit: str = "", help_: str = "") -> None:
        """A labelled field; Alt and the letter after & goes to it."""
        row = self._add_label(words, field)
        self.addWidget(field, row, 1)
        if unit:
            self.addWidget(second(unit), row, 2)
        if help_:
            self.addWidget(second(help_), row, 3)

    def add_wide_row(self, words: str, field: QWidget) -> None:
        """A labelled field that runs over the columns of units and helps."""
        self.addWidget(field, self._add_label(words, field), 1, 1, 3)

    def _add_label(self, words: str, field: QWidget) -> int:
        row = self.rowCount()
        label = plain_label(words)
        label.setBuddy(field)
        self.addWidget(label, row, 0)
        return row

    def put_beside(self, field: QWidget, words: QLabel) -> None:
        """Words in one line right of a field, over the columns of units and helps."""
        words.setWordWrap(False)
        row = cast(tuple[int, int, int, int], self.getItemPosition(self.indexOf(field)))[0]
        self.addWidget(words, row, 2, 1, 2)
