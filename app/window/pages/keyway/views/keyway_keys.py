"""The keys that turn the keyway, the same in every view that shows it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

_STEPS = {
    Qt.Key.Key_Left: -1.0,
    Qt.Key.Key_Down: -1.0,
    Qt.Key.Key_Right: 1.0,
    Qt.Key.Key_Up: 1.0,
    Qt.Key.Key_PageDown: -10.0,
    Qt.Key.Key_PageUp: 10.0,
}


def step_of(event: QKeyEvent) -> float | None:
    """Degrees to turn, clockwise positive: arrows 1, with Shift 0.1, Page keys 10; None for other keys."""
    step = _STEPS.get(Qt.Key(event.key()))
    if step is None or event.modifiers() & (
        Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
    ):
        return None
    fine = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
    return step * 0.1 if fine else step
