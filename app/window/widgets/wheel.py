"""The mouse wheel scrolls the page; a box or slider turns with it only while it has the focus."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QWidget


class _FocusOnly(QObject):
    """Hands the wheel on to what lies behind, unless the widget has the focus."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Wheel and isinstance(watched, QWidget) and not watched.hasFocus():
            event.ignore()
            return True
        return super().eventFilter(watched, event)


def wheel_wants_focus(box: QWidget) -> None:
    """For every box, spin box and slider: the wheel neither turns it nor gives it the focus from outside."""
    box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    box.installEventFilter(_FocusOnly(box))
