"""One of a few words of the plan: a box to choose from, with its label, in a group of what is typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout

from app.window.look.scheme import Scheme
from app.window.look.style import combo_style
from app.window.widgets.plain import plain_label, tip
from app.window.widgets.wheel import wheel_wants_focus
from core.base.edits import is_given, value_at
from core.plan.document import Plan


@dataclass(frozen=True)
class Choice:
    """One of a few values of a plan.

    Attributes:
        path: its key path; of what is no single key, any name.
        words: its label, with & before the letter of its key.
        options: each value and the words for it.
        meaning: a few words.
    """

    path: str
    words: str
    options: Sequence[tuple[Any, str]]
    meaning: str = ""

    @property
    def plain(self) -> str:
        """The label without its key mark."""
        return self.words.replace("&", "")


class ChoiceBox(QComboBox):
    """The box of a choice.

    Signals:
        chosen(str path, object value, str words): another one, with words for undo.
    """

    chosen = Signal(str, object, str)

    def __init__(self, choice: Choice) -> None:
        super().__init__()
        self.choice = choice
        self.addItems([words for _value, words in choice.options])
        self.setAccessibleName(choice.plain)
        self.setToolTip(tip(choice.meaning))
        wheel_wants_focus(self)
        self.activated.connect(self._tell)

    def _tell(self, place: int) -> None:
        value, words = self.choice.options[place]
        self.chosen.emit(self.choice.path, value, f"{self.choice.plain.lower()}: {words}")

    def show_choice(self, value: object, given: bool, scheme: Scheme) -> None:
        """Show a value; one that is assumed is written faint."""
        places = [place for place, (known, _words) in enumerate(self.choice.options) if known == value]
        self.setCurrentIndex(places[0] if places else -1)
        wanted = combo_style(scheme, given)
        if self.styleSheet() != wanted:
            self.setStyleSheet(wanted)

    def refresh(self, plan: Plan, scheme: Scheme) -> None:
        """Show the plan's value at its key path."""
        self.show_choice(value_at(plan, self.choice.path), is_given(plan, self.choice.path), scheme)


def add_choice(grid: QGridLayout, choice: Choice) -> ChoiceBox:
    """One more row of a group, over the columns of number, unit and reset."""
    box = ChoiceBox(choice)
    row = grid.rowCount()
    grid.addWidget(plain_label(choice.words, box), row, 0)
    grid.addWidget(box, row, 1, 1, 4, Qt.AlignmentFlag.AlignLeft)
    return box
