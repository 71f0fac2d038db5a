"""The base of the views in which the keyway is turned: by dragging, and by the same keys in each."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme
from core.base.angles import wrap_360

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


class KeywayView(QWidget):
    """Tells where the keyway is wanted; it turns nothing itself.

    Signals:
        grabbed(): the keyway is about to be turned; `refuse` in the slot lets it stay.
        moved(float): where the keyway should point now, degrees true, 0 to 360.
        settled(): a key was let go.
        released(): a drag, or a run of keys, is over: what follows is another step.
    """

    grabbed = Signal()
    moved = Signal(float)
    settled = Signal()
    released = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._scheme = LIGHT
        self._refused = False

    def set_scheme(self, scheme: Scheme) -> None:
        """Other colours."""
        if scheme != self._scheme:
            self._scheme = scheme
            self.update()

    def keyway_deg(self) -> float | None:
        """Where the keyway points in this view; None while nothing is shown."""
        raise NotImplementedError

    def refuse(self) -> None:
        """Called from a slot of `grabbed`: the keyway stays where it is."""
        self._refused = True

    def may_drag(self) -> bool:
        """Ask with `grabbed`, as a new step; False where it was refused."""
        self._refused = False
        self.released.emit()
        self.grabbed.emit()
        return not self._refused

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step, keyway = step_of(event), self.keyway_deg()
        if step is None or keyway is None:
            super().keyPressEvent(event)
            return
        self._refused = False
        if not event.isAutoRepeat():
            self.grabbed.emit()
        if not self._refused:
            self.moved.emit(wrap_360(round(keyway + step, 3)))

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if step_of(event) is not None and not event.isAutoRepeat():
            self.settled.emit()
        else:
            super().keyReleaseEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.released.emit()
        self.update()
        super().focusOutEvent(event)
