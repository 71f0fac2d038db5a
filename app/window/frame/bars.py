"""Head strip and foot strip of the window."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QProgressBar,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from app.window.look.scheme import KEEPS_TYPE, font
from app.window.views.painting import painting
from app.window.widgets.labels import keep_room, label
from app.window.widgets.plain import tip

#: Pixels that a step has at least, how many its frame takes, and what the words at the left have first.
_STEP_WIDTH, _STEP_SIDES, _WORDS_WIDTH = 236, 20, 560
_MARGIN, _GAP = 18, 12


class Head(QFrame):
    """Plan, site and locator, the evening in local time and UTC, the elements' age, a find field, the clock.

    Signals:
        sought(str): what was typed into the find field.
    """

    sought = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("head")
        # Where room is short the place gives way first, the hours never.
        self.title = ElidedLabel(13, bold=True, name="plan", keeps=0.45)
        self.place = ElidedLabel(9, second=True, name="site")
        self.hours = ElidedLabel(9, name="evening", keeps=1.0)
        self.ages = ElidedLabel(9, second=True, name="age of the elements", keeps=0.3)
        self.find_field = QLineEdit(self)
        self.find_field.setPlaceholderText("Find")
        self.find_field.setAccessibleName("Find a satellite")
        self.find_field.setClearButtonEnabled(True)
        self.find_field.setFixedWidth(130)
        self.find_field.textChanged.connect(self.sought)
        self.clock = label(13, bold=True, name="clock")
        # The clock's figures are all of one width; its place is kept before it first shows.
        self.clock.setText("00:00:00 UTC")
        self.clock.setMinimumWidth(self.clock.sizeHint().width())
        self.clock.setText("")
        row = QHBoxLayout(self)
        row.setContentsMargins(18, 8, 18, 8)
        row.setSpacing(18)
        for widget in (self.title, self.place, self.hours, self.ages):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.find_field)
        row.addWidget(self.clock)


class ElidedLabel(QLabel):
    """A label of one line that gives way where room is short, and says the whole of it as its tool tip.

    ``keeps`` is how much of its own width it never gives up, 0 to 1.
    """

    def __init__(
        self, points: float, *, bold: bool = False, second: bool = False, name: str = "", keeps: float = 0.0
    ) -> None:
        super().__init__()
        self._keeps = keeps
        self.setProperty(KEEPS_TYPE, True)  # as it is, it has to give way in a small window
        self.setFont(font(points, bold))
        self.setAccessibleName(name)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Preferred)
        if second:
            self.setProperty("rank", "second")

    def show_text(self, text: str) -> None:
        """Another text."""
        if text != self.text():
            self.setText(text)
            self.setAccessibleDescription(text)

    def minimumSizeHint(self) -> QSize:
        whole = super().sizeHint().width()
        return QSize(max(min(60, whole), round(self._keeps * whole)), super().minimumSizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            room = self.contentsRect()
            shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, room.width())
            self.setToolTip("" if shown == self.text() else tip(self.text()))
            painter.setPen(self.palette().color(self.foregroundRole()))
            painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), shown)


class Foot(QFrame):
    """What is being computed, with cancel; what was last done, with undo.

    Signals:
        cancelled(): stop what is being computed.
        asked(): work out what was cancelled.
        undone(), redone(): take back, bring again.
    """

    cancelled = Signal()
    asked = Signal()
    undone = Signal()
    redone = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("foot")
        self.words = ElidedLabel(9, second=True, name="what is being computed")
        self.bar = QProgressBar()
        self.bar.setMaximumWidth(160)
        self.bar.setMaximumHeight(8)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("progress")
        self.cancel = _button("Cancel", self.cancelled)
        self.cancel.setToolTip("Stop what is being computed (Ctrl+.)")
        self.ask = _button("Work it out", self.asked)
        self.ask.setToolTip("Work the present plan out (F5)")
        self.undo = _button("Undo", self.undone)
        self.redo = _button("Redo", self.redone)
        for button in (self.undo, self.redo):  # pressed many times in a row: each stays where it is
            button.setFixedWidth(_STEP_WIDTH)
        keep_room(self.redo)
        row = QHBoxLayout(self)
        row.setContentsMargins(_MARGIN, 3, _MARGIN, 3)
        row.setSpacing(_GAP)
        row.addWidget(self.words)
        row.addWidget(self.bar)
        row.addWidget(self.cancel)
        row.addWidget(self.ask)
        row.addStretch(1)
        row.addWidget(self.undo)
        row.addWidget(self.redo)
        self.show_idle("")

    def show_busy(self, words: str, done: int = 0, total: int = 0) -> None:
        """What is being computed and how far it is; total 0 shows no length."""
        self.words.show_text(words)
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.bar.setVisible(True)
        self.cancel.setVisible(True)
        self.ask.setVisible(False)

    def show_idle(self, words: str, offer: bool = False) -> None:
        """Nothing is being computed; what was last said, and whether there is something to work out."""
        self.words.show_text(words)
        self.bar.setVisible(False)
        self.cancel.setVisible(False)
        self.ask.setVisible(offer)

    def show_steps(self, undo: str, redo: str) -> None:
        """What can be taken back and brought again."""
        for button, word, step in ((self.undo, "Undo", undo), (self.redo, "Redo", redo)):
            self._tell_step(button, word, step)
            button.setEnabled(bool(step))
        self.redo.setVisible(bool(redo))

    def _tell_step(self, button: QToolButton, word: str, step: str) -> None:
        """What a step is of, as much as its room takes; the room never depends on the words."""
        words = f"{word}: {step}" if step else word
        room = button.minimumWidth() - _STEP_SIDES
        shown = button.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room)
        button.setText(shown.replace("&", "&&"))
        button.setAccessibleName(words)
        keys = {"Undo": "Ctrl+Z", "Redo": "Ctrl+Y"}[word]
        button.setToolTip(tip(f"{words} ({keys})" if step else f"Nothing to {word.lower()} ({keys})"))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A wider strip has more room for the words of steps."""
        for button, word in ((self.undo, "Undo"), (self.redo, "Redo")):
            button.setFixedWidth(max((self.width() - _WORDS_WIDTH) // 2, _STEP_WIDTH))
            self._tell_step(button, word, button.accessibleName().partition(": ")[2])
        super().resizeEvent(event)


def _button(text: str, signal: object) -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setAccessibleName(text)
    button.setFont(font(9))
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    button.clicked.connect(signal)
    return button
