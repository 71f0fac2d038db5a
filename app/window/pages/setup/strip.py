"""The steps' names over the page: which is open, which are done, and the way to each."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from app.window.look.scheme import Scheme
from app.window.look.style import checked_style
from app.window.pages.setup.big import big_button

_TICK = "\N{CHECK MARK}"


class StepStrip(QWidget):
    """A button a step.

    Signals:
        chosen(int): a step was pressed.
    """

    chosen = Signal(int)

    def __init__(self, titles: Sequence[str], questions: Sequence[str]) -> None:
        super().__init__()
        self.setAccessibleName("steps of the set-up")
        self._titles = tuple(titles)
        self.buttons: list[QPushButton] = []
        row = QHBoxLayout(self)
        row.setContentsMargins(22, 10, 26, 0)
        row.setSpacing(6)
        for place, (title, question) in enumerate(zip(titles, questions, strict=True)):
            button = big_button(f"{place + 1}  {title}", partial(self.chosen.emit, place), tip=question)
            button.setCheckable(True)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            self.buttons.append(button)
            row.addWidget(button, 1)

    def show_steps(self, here: int, done: Sequence[bool], scheme: Scheme) -> None:
        """Which is open and which are done."""
        self.setStyleSheet(checked_style("QPushButton", scheme))
        for place, (button, title) in enumerate(zip(self.buttons, self._titles, strict=True)):
            button.setChecked(place == here)
            button.setText(f"{place + 1}  {title}" + (f"  {_TICK}" if done[place] else ""))
            state = ", done" if done[place] else ""
            button.setAccessibleName(f"step {place + 1}, {title}{state}")
