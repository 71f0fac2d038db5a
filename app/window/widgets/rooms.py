"""Room on a page: a column that scrolls, and parts that share one place."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import Scheme, font
from app.window.look.style import checked_style
from app.window.widgets.labels import label, second
from app.window.widgets.plain import tip

#: What a leaf asks for.
_LINES_PX = 190


class Scrolled(QScrollArea):
    """Parts under each other that are scrolled where they have not room.

    Attributes:
        column: their layout.
    """

    def __init__(self, name: str, margins: tuple[int, int, int, int] = (0, 0, 12, 0)) -> None:
        super().__init__()
        self.setAccessibleName(name)
        inside = QWidget()
        inside.setObjectName("page")
        self.column = QVBoxLayout(inside)
        self.column.setContentsMargins(*margins)
        self.column.setSpacing(20)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # Tab goes to what is in it
        self.setWidget(inside)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)


class Lines(QWidget):
    """Sentences under each other, each with a word before it."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(5)
        self._grid.setColumnStretch(1, 1)
        self._rows: list[tuple[QLabel, QLabel]] = []

    @property
    def text(self) -> str:
        """All that is told, a line each."""
        told = [(head, words) for head, words in self._rows if not words.isHidden()]
        return "\n".join(f"{head.text()}: {words.text()}" for head, words in told)

    def show_lines(self, lines: Sequence[tuple[str, str]]) -> None:
        """Other sentences."""
        while len(self._rows) < len(lines):
            pair = (second("", 10, wraps=False), label(10, wraps=True))
            for column, part in enumerate(pair):
                self._grid.addWidget(part, len(self._rows), column, Qt.AlignmentFlag.AlignTop)
            self._rows.append(pair)
        for place, pair in enumerate(self._rows):
            shown = place < len(lines)
            for part, text in zip(pair, lines[place] if shown else ("", ""), strict=True):
                part.setText(text)
                part.setVisible(shown)


class _Stack(QStackedWidget):
    """Asks for no more than some lines, however much there is in it."""

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), max(_LINES_PX, self.minimumSizeHint().height()))

    def hasHeightForWidth(self) -> bool:
        return False  # words that wrap would ask for all their lines


class Leaves(QWidget):
    """Some parts of which one is shown, chosen by a row of buttons over them.

    Signals:
        turned(str): another one is shown.
    """

    turned = Signal(str)

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.buttons: dict[str, QPushButton] = {}
        self._group = QButtonGroup(self)
        self._stack = _Stack()
        self._row = QHBoxLayout()
        self._row.setSpacing(6)
        self._row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(self._row)
        column.addWidget(self._stack, 1)

    @property
    def shown(self) -> str:
        """The one that is open."""
        return next(word for word, button in self.buttons.items() if button.isChecked())

    def add(self, word: str, part: QWidget, told: str) -> None:
        """One more; the first is open. ``told``: what is in it."""
        button = QPushButton(word)
        button.setCheckable(True)
        button.setFont(font(10))
        button.setAccessibleName(word.replace("&", ""))
        button.setToolTip(tip(told))
        plain = button.accessibleName()
        button.clicked.connect(partial(self.open, plain))
        self._group.addButton(button)
        self._row.insertWidget(self._row.count() - 1, button)
        self._stack.addWidget(part)
        button.setChecked(not self.buttons)
        self.buttons[plain] = button

    def open(self, word: str) -> None:
        """Show one of them."""
        self.buttons[word].setChecked(True)
        self._stack.setCurrentIndex(list(self.buttons).index(word))
        self.turned.emit(word)

    def set_scheme(self, scheme: Scheme) -> None:
        """Colours of the button that is down."""
        wanted = checked_style("QPushButton", scheme)
        if self.styleSheet() != wanted:  # a style sheet dresses all within anew
            self.setStyleSheet(wanted)
