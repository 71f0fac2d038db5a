"""What is read at arm's length: the answer with its large figure, and what to write down."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.pages.setup.big import TEXT_PT
from app.window.widgets.labels import label, second, show_rank

_FIGURE_PT = 30


class Answer(QWidget):
    """The answer to the question: a large figure and a sentence under it."""

    def __init__(self, name: str, points: float = _FIGURE_PT) -> None:
        super().__init__()
        self.figure = label(points, bold=True, name=f"{name}, figure", wraps=True)
        self.words = label(TEXT_PT + 1, name=name, wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.figure)
        column.addWidget(self.words)

    def tell(self, figure: str, words: str, alarm: bool = False, asleep: bool = False) -> None:
        """Another answer; ``asleep``: it is being worked out anew."""
        self.figure.setText(figure)
        self.figure.setVisible(bool(figure))
        self.words.setText(words)
        self.words.setVisible(bool(words))
        show_rank(self.figure, "alarm" if alarm else "second" if asleep else "")
        self.updateGeometry()  # a sentence of more lines, told while the step was hidden, would be cut


def after_figure(sentence: str) -> str:
    """A sentence without the figure it begins with, where that stands large above it."""
    _figure, colon, rest = sentence.partition(": ")
    return rest[:1].upper() + rest[1:] if colon else sentence


class WriteDown(QFrame):
    """What to write on paper at this step, a line each."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("what to write down")
        self.lines = label(TEXT_PT + 1, bold=True, name="what to write down", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 12)
        column.setSpacing(4)
        column.addWidget(second("Write down", TEXT_PT - 1))
        column.addWidget(self.lines)

    def tell(self, lines: Sequence[str], scheme: Scheme) -> None:
        """Other lines."""
        self.lines.setText("\n".join(lines))
        # The frame alone has the edge, not the labels in it.
        self.setStyleSheet(
            f"WriteDown {{ background: {scheme.card}; border: 2px solid {scheme.ink}; border-radius: 6px; }}"
        )
