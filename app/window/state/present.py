"""The present moment as the operator told it: what the dials read, what was found, what was missed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

if TYPE_CHECKING:
    from core.replan import Now


class Present(QObject):
    """Asked of by pages; whoever works it out listens.

    Signals:
        changed(): the evening is to be planned again from another moment, or to be as planned.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.now: Now | None = None

    def plan_again(self, now: Now) -> None:
        """The rest of the evening is wanted from this moment on."""
        self.now = now
        self.changed.emit()

    def leave(self) -> None:
        """The evening is wanted as it is planned."""
        if self.now is not None:
            self.now = None
            self.changed.emit()
