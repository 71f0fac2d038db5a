"""Two things a form's grid does for wide fields and for words that change beside a field."""

from __future__ import annotations

from typing import cast

from PySide6.QtWidgets import QLabel, QWidget

from app.window.form import Form


def row_of(form: Form, field: QWidget) -> int:
    """The row a field stands in."""
    return cast(tuple[int, int, int, int], form.getItemPosition(form.indexOf(field)))[0]


def add_wide_row(form: Form, words: str, field: QWidget) -> None:
    """A labelled field that runs over the columns of units and helps."""
    row = form.rowCount()
    label = QLabel(words)
    label.setBuddy(field)
    form.addWidget(label, row, 0)
    form.addWidget(field, row, 1, 1, 3)


def put_beside(form: Form, field: QWidget, words: QWidget) -> None:
    """Words right of a field, over the columns of units and helps."""
    form.addWidget(words, row_of(form, field), 2, 1, 2)
