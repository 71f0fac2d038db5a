"""What a plan or a file says is shown as it stands: never taken for rich text, which could read files.

Qt takes any text that looks like markup for rich text, in labels, boxes and tool tips, unless it is told not
to. So labels and boxes are made here or in `labels`, and tool tips that can show a plan's words pass `tip`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMessageBox


def plain_label(words: str = "", buddy: QWidget | None = None) -> QLabel:
    """A label that shows text as it stands; with a buddy, & stands before the letter of its key."""
    made = QLabel(words)
    made.setTextFormat(Qt.TextFormat.PlainText)
    if buddy is not None:
        made.setBuddy(buddy)
    return made


def tip(words: str) -> str:
    """Words fit for a tool tip, which knows no plain text: what could be markup is escaped."""
    if "<" not in words:
        return words
    from html import escape  # with the names of 2,000 characters, which no start needs

    return f'<span style="white-space: pre-wrap">{escape(words)}</span>'


def question_box(parent: QWidget, title: str, words: str, more: str = "") -> QMessageBox:
    """A box that asks, with its words as they stand; it goes when it is closed."""
    from PySide6.QtWidgets import QMessageBox  # takes a millisecond to be made, which no start needs

    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setWindowTitle(title)
    box.setText(words)
    box.setInformativeText(more)
    for label in box.findChildren(QLabel):  # the box's own setting leaves out the second one
        label.setTextFormat(Qt.TextFormat.PlainText)
    return box


def add_answers(box: QMessageBox, *answers: tuple[str, Callable[[], object] | None]) -> None:
    """Buttons in this order, & before the letter of a key; the first is the default, the last Escape."""
    made = []
    for words, do in answers:
        button = box.addButton(words, box.ButtonRole.ActionRole)
        button.setAccessibleName(words.replace("&", "").rstrip("."))
        if do is not None:
            button.clicked.connect(lambda _checked=False, do=do: do())
        made.append(button)
    box.setDefaultButton(made[0])
    box.setEscapeButton(made[-1])


def button_words(name: str) -> str:
    """A name as a button shows it: & would make the letter after it a key."""
    return name.replace("&", "&&")
