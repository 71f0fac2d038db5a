"""The base of painted views: a fixed layer kept as a picture, and a moving layer painted over it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.window.look.scheme import Scheme
from app.window.pages.evening.state import EveningState
from app.window.views.kept_picture import KeptPicture
from app.window.views.painting import painting


class LayeredView(QWidget):
    """A view whose fixed layer is repainted only when its data, size, scheme or pixel ratio changed.

    Class attributes:
        name: its accessible name.
    """

    name = ""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self._layer = KeptPicture()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(self.name)
        state.rebuilt.connect(self.invalidate)
        state.moved.connect(self.on_moved)

    @property
    def layers_painted(self) -> int:
        """How often the fixed layer was painted, for tests."""
        return self._layer.painted

    @property
    def scheme(self) -> Scheme:
        """The present colours."""
        return self.state.scheme

    def invalidate(self) -> None:
        """The fixed layer is stale."""
        self._layer.forget()
        self.setAccessibleDescription(self.describe())
        self.update()

    def on_moved(self) -> None:
        """The moving layer is stale."""
        if self.hasFocus():
            self.setAccessibleDescription(self.describe())
        self.update()

    def describe(self) -> str:
        """What the view shows now, in words."""
        return ""

    def paint_fixed(self, painter: QPainter) -> None:
        """Paint what changes only with data, size and scheme."""

    def paint_moving(self, painter: QPainter) -> None:
        """Paint what follows the hand."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.drawPixmap(
                0, 0, self._layer.get(self, self.paint_fixed, None, self.scheme.color("paper"))
            )
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self.paint_moving(painter)
            if self.hasFocus():
                painter.setPen(QPen(self.scheme.color("signal"), 2.0))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 4, 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.state.key(event):
            super().keyPressEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        self.state.point(None)
        super().leaveEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.setAccessibleDescription(self.describe())
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusOutEvent(event)
