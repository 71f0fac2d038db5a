"""The first thing read on the Evening page: where to turn the keyway, and what that saves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from app.window.look.scheme import font
from app.window.state.context import Context
from app.window.state.unstudied import unstudied_sentence
from app.window.widgets.labels import label

if TYPE_CHECKING:
    from app.window.state.seat_now import SeatNow

#: Points of the sentence, so that it is one line in a small window and read from afar in a large one.
_SMALL, _LARGE, _LARGE_FROM_PX = 13.5, 17.0, 1400


class SeatHead(QWidget):
    """One sentence, and the way to the page where it is done."""

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._now: SeatNow | None = None
        self.sentence = label(_SMALL, bold=True, name="where to turn the keyway", wraps=True)
        self.sentence.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.keyway = QPushButton("To the keyway")
        self.keyway.setFont(font(10))
        self.keyway.setToolTip("To the page where the keyway is turned (Ctrl+7)")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(18)
        row.addWidget(self.sentence, 1)
        row.addWidget(self.keyway)
        context.runner.busy_changed.connect(self.refresh)

    def refresh(self) -> None:
        """Say it as it is now."""
        if self._context.study is None:
            self.sentence.setText(unstudied_sentence(self._context))
            return
        self.now.take()
        self.sentence.setText(self.now.first_sentence())

    @property
    def now(self) -> SeatNow:
        """The seat as it is told here; made when there is something to tell."""
        if self._now is None:
            from app.window.state.seat_now import SeatNow

            self._now = SeatNow(self._context)
        return self._now

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.sentence.setFont(font(_LARGE if self.width() >= _LARGE_FROM_PX else _SMALL, True))
        super().resizeEvent(event)
