"""The rail: the pages in the order of the job, with a count where the operator must decide something."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme, font
from app.window.views.painting import painting


class RailItem(QWidget):
    """One page's word on the rail, with a count where the operator must decide something.

    Signals:
        chosen(str): the page's title.
    """

    chosen = Signal(str)

    def __init__(self, title: str, scheme: Scheme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title, self.scheme = title, scheme
        self.count, self.current = 0, False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumHeight(40)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._name()

    def sizeHint(self) -> QSize:
        return QSize(126, 46)

    def show_count(self, count: int) -> None:
        """The number beside the word; 0 shows none."""
        self.count = count
        self._name()
        self.update()

    def show_current(self, current: bool) -> None:
        """Whether this page is open."""
        self.current = current
        self._name()
        self.update()

    def _name(self) -> None:
        """Name and words for those who do not see it."""
        waiting = f", {self.count} to decide" if self.count else ""
        self.setAccessibleName(f"{self.title} page{waiting}{', open' if self.current else ''}")

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            s = self.scheme
            if self.current:
                painter.fillRect(0, 4, 4, self.height() - 8, s.color("accent"))
            painter.setPen(s.color("ink" if self.current else "faint"))
            painter.setFont(font(11, self.current))
            painter.drawText(
                18, 0, self.width() - 18, self.height(), Qt.AlignmentFlag.AlignVCenter, self.title
            )
            if self.count:
                figure = str(self.count) if self.count < 100 else "99+"
                wide = 18.0 if len(figure) < 3 else 28.0
                disc = QRectF(self.width() - 12 - wide, self.height() / 2 - 9, wide, 18)
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(s.color("accent"))
                painter.drawRoundedRect(disc, 9, 9)
                painter.setPen(s.color("card"))
                painter.setFont(font(8, True))
                painter.drawText(disc, Qt.AlignmentFlag.AlignCenter, figure)
            if self.hasFocus():
                painter.setPen(s.color("signal"))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRoundedRect(QRectF(7, 3, self.width() - 12, self.height() - 6), 4, 4)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self.chosen.emit(self.title)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            self.chosen.emit(self.title)
        elif event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            self.focusNextPrevChild(event.key() == Qt.Key.Key_Down)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusOutEvent(event)


class Rail(QFrame):
    """The pages in the order of the job.

    Signals:
        chosen(str): a page's title.
    """

    chosen = Signal(str)

    def __init__(self, titles: tuple[str, ...], scheme: Scheme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("rail")
        self.setFixedWidth(134)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 14, 0, 14)
        column.setSpacing(4)
        self.items = {title: RailItem(title, scheme, self) for title in titles}
        for item in self.items.values():
            item.chosen.connect(self.chosen)
            column.addWidget(item)
        column.addStretch(1)

    def show_current(self, title: str) -> None:
        """Mark the open page."""
        for item in self.items.values():
            item.show_current(item.title == title)

    def set_scheme(self, scheme: Scheme) -> None:
        """Repaint in other colours."""
        for item in self.items.values():
            item.scheme = scheme
            item.update()
