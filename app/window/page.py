"""The base of every page of the workbench."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QPushButton, QStackedLayout, QVBoxLayout, QWidget

from app.window.state.context import Context
from app.window.widgets.labels import heading, label

#: A form beside what follows from it: its width, on a wide page, and from where on a page is wide.
_FORM_PX, _WIDE_FORM_PX, _WIDE_PX = 432, 480, 1480


class Page(QWidget):
    """One page. The main window calls `refresh` when plan, result, study or scheme changed, if it is shown.

    Class attributes:
        title: its word on the rail.

    Signals:
        count_changed(int): how many things here the operator must decide; 0 shows nothing on the rail.
        failed(str title, str sentence, str details): something to be told in the one dialog.
    """

    title = ""
    count_changed = Signal(int)
    failed = Signal(str, str, str)

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.context = context
        self.setObjectName("page")
        self.setAccessibleName(f"{self.title} page")

    def refresh(self) -> None:
        """Show what the context holds now. Must be cheap when nothing that concerns the page changed."""

    def count(self) -> int:
        """How many things here the operator must decide."""
        return 0


class FormPage(Page):
    """A page with numbers in a form on the left and what follows from them on the right.

    Where the plan has nothing of it yet, it says what to do first, with one button that does it.
    """

    def lay_side_by_side(self, form: QWidget, right: QLayout, first: str, start: QPushButton) -> None:
        """Put form and what follows side by side, and behind them what to do first."""
        self._form, self.filled, self.nothing = form, QWidget(), QWidget()
        row = QHBoxLayout(self.filled)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(16)
        row.addWidget(form)
        row.addLayout(right, 1)
        words = label(13, name="what to do first", wraps=True)
        words.setText(first)
        start.setProperty("main", True)
        empty = QVBoxLayout(self.nothing)
        empty.setContentsMargins(60, 0, 60, 0)
        empty.addStretch(2)
        empty.addWidget(heading(self.title, 17))
        empty.addWidget(words)
        empty.addWidget(start, 0, Qt.AlignmentFlag.AlignLeft)
        empty.addStretch(3)
        self._stack = QStackedLayout(self)
        self._stack.addWidget(self.nothing)
        self._stack.addWidget(self.filled)

    def show_filled(self, filled: bool) -> None:
        """The form, or what to do first."""
        self._stack.setCurrentWidget(self.filled if filled else self.nothing)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._form.setFixedWidth(_WIDE_FORM_PX if self.width() >= _WIDE_PX else _FORM_PX)
        super().resizeEvent(event)
