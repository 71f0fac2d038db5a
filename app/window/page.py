"""The base of every page of the workbench."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.window.state.context import Context


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
