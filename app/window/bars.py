"""Head strip, rail and foot strip of the window."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QProgressBar,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.window.scheme import Scheme, font


class Head(QFrame):
    """Plan, site and locator, the evening in local time and UTC, the elements' age, a find field, the clock.

    Signals:
        sought(str): what was typed into the find field.
    """

    sought = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("head")
        self.title = _label(13, bold=True, name="plan")
        self.place = _label(9, second=True, name="site")
        self.hours = _label(9, name="evening")
        self.ages = _label(9, second=True, name="age of the elements")
        self.find_field = QLineEdit(self)
        self.find_field.setPlaceholderText("Find")
        self.find_field.setAccessibleName("Find a satellite")
        self.find_field.setClearButtonEnabled(True)
        self.find_field.setMaximumWidth(150)
        self.find_field.textChanged.connect(self.sought)
        self.clock = _label(13, bold=True, name="clock")
        row = QHBoxLayout(self)
        row.setContentsMargins(18, 8, 18, 8)
        row.setSpacing(22)
        for widget in (self.title, self.place, self.hours, self.ages):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.find_field)
        row.addWidget(self.clock)


def _label(points: float, *, bold: bool = False, second: bool = False, name: str = "") -> QLabel:
    label = QLabel()
    label.setFont(font(points, bold))
    label.setAccessibleName(name)
    if second:
        label.setProperty("rank", "second")
    return label


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
        waiting = f", {self.count} to decide" if self.count else ""
        self.setAccessibleName(f"{self.title} page{waiting}{', open' if self.current else ''}")

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        s = self.scheme
        if self.current:
            painter.fillRect(0, 4, 4, self.height() - 8, s.color("accent"))
        painter.setPen(s.color("ink" if self.current else "faint"))
        painter.setFont(font(11, self.current))
        painter.drawText(18, 0, self.width() - 18, self.height(), Qt.AlignmentFlag.AlignVCenter, self.title)
        if self.count:
            disc = QRectF(self.width() - 30, self.height() / 2 - 9, 18, 18)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(s.color("accent"))
            painter.drawEllipse(disc)
            painter.setPen(s.color("card"))
            painter.setFont(font(8, True))
            painter.drawText(disc, Qt.AlignmentFlag.AlignCenter, str(self.count))
        if self.hasFocus():
            painter.setPen(s.color("signal"))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(7, 3, self.width() - 12, self.height() - 6), 4, 4)

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        self.chosen.emit(self.title)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            self.chosen.emit(self.title)
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


class Foot(QFrame):
    """What is being computed, with cancel; what was last done, with undo.

    Signals:
        cancelled(): stop what is being computed.
        undone(), redone(): take back, bring again.
    """

    cancelled = Signal()
    undone = Signal()
    redone = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("foot")
        self.words = _label(9, second=True, name="what is being computed")
        self.bar = QProgressBar()
        self.bar.setMaximumWidth(160)
        self.bar.setMaximumHeight(8)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("progress")
        self.cancel = _button("Cancel", self.cancelled)
        self.undo = _button("Undo", self.undone)
        self.redo = _button("Redo", self.redone)
        row = QHBoxLayout(self)
        row.setContentsMargins(18, 3, 18, 3)
        row.setSpacing(12)
        row.addWidget(self.words)
        row.addWidget(self.bar)
        row.addWidget(self.cancel)
        row.addStretch(1)
        row.addWidget(self.undo)
        row.addWidget(self.redo)
        self.show_idle("")

    def show_busy(self, words: str, done: int = 0, total: int = 0) -> None:
        """What is being computed and how far it is; total 0 shows no length."""
        self.words.setText(words)
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.bar.setVisible(True)
        self.cancel.setVisible(True)

    def show_idle(self, words: str) -> None:
        """Nothing is being computed; what was last said."""
        self.words.setText(words)
        self.bar.setVisible(False)
        self.cancel.setVisible(False)

    def show_steps(self, undo: str, redo: str) -> None:
        """What can be taken back and brought again."""
        self.undo.setText(f"Undo: {undo}" if undo else "Undo")
        self.undo.setEnabled(bool(undo))
        self.redo.setText(f"Redo: {redo}" if redo else "Redo")
        self.redo.setVisible(bool(redo))


def _button(text: str, signal: object) -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setAccessibleName(text)
    button.setFont(font(9))
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    button.clicked.connect(signal)
    return button
