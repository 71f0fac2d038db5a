"""Below the head strip: what has happened to the plan's file, or was left behind, and what can be done."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from app.window.look.scheme import font
from app.window.widgets.labels import label, push_button


class Act(NamedTuple):
    """A button of a notice: its words and what it does. No key: any page may be below it."""

    words: str
    do: Callable[[], object]
    tip: str = ""


class Notices(QWidget):
    """Shows one notice at a time, the one that came first; hidden while there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._waiting: dict[str, tuple[str, tuple[Act, ...]]] = {}
        self._shown: tuple[str, tuple[Act, ...]] | None = None
        self.words = label(11, bold=True, name="notice", wraps=True)
        self.buttons: list[QPushButton] = []
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(18, 8, 18, 8)
        self._row.setSpacing(10)
        self._row.addWidget(self.words, 1)
        self.setProperty("rank", "notice")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setVisible(False)

    def tell(self, kind: str, words: str, *acts: Act) -> None:
        """Tell something; another of its kind takes its place."""
        self._waiting[kind] = (words, acts)
        self._show()

    def clear(self, kind: str) -> None:
        """It holds no more."""
        if self._waiting.pop(kind, None) is not None:
            self._show()

    @property
    def kind(self) -> str:
        """Of which kind the one shown is; empty where there is none."""
        return next(iter(self._waiting), "")

    def _show(self) -> None:
        shown = next(iter(self._waiting.values()), None)
        self.setVisible(shown is not None)
        if shown is None or shown == self._shown:
            self._shown = shown
            return
        self._shown = shown
        words, acts = shown
        self.words.setText(words)
        self.words.setAccessibleDescription(words)
        for button in self.buttons:
            self._row.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = [push_button(act.words, act.do, tip=act.tip) for act in acts]
        for button in self.buttons:
            button.setFont(font(10))
            self._row.addWidget(button)
