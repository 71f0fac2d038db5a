"""Pages whose turn comes later: their place on the rail, and what will be there."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.page import Page
from app.window.state.context import Context
from app.window.widgets.labels import label


class LaterPage(Page):
    """One sentence about what will stand here."""

    words = ""

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        words = label(11, name=self.words, wraps=True)
        words.setText(self.words)
        words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        QVBoxLayout(self).addWidget(words)


class RunPage(LaterPage):
    """Working the evening."""

    title = "Run"
    words = "Working the evening minute by minute will be here. The sheet has the same readings on paper."
