"""The head of an evening re-planned from now: from when, where the mount stands, the first move."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.state.context import Context, Rest
from app.window.widgets.labels import heading, label, push_button, second
from app.window.widgets.plain import tip
from core.base.times import clock
from core.base.words import bearing_text, counted, first_few
from core.mount.dial.readings import azimuth_dial, elevation_dial

if TYPE_CHECKING:  # an evening is re-planned long after the first picture
    from core.next_moves import NextMove
    from core.replan import Replanned

#: A figure is no wider: names can be long.
_MOST_PX = 250
#: Passes missed that are named.
_MOST_MISSED = 3


class NowBand(QWidget):
    """Hidden while the evening is shown as planned.

    Signals:
        ask(): tell the moment and the dials anew.
        keep(): take the rest of the evening as the plan.
        back(): show the evening as planned.
    """

    ask = Signal()
    keep = Signal()
    back = Signal()

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._shown: Rest | None = None
        self.title = heading("", 15, "from when the evening is planned again")
        self.place = second("", 9.5, "where the mount stands, what is over and missed")
        self.ask_button = push_button(
            "Read a&gain...", self.ask.emit, tip="Another time, other dials (Ctrl+R)"
        )
        self.keep_button = push_button(
            "&Keep as the plan",
            self.keep.emit,
            tip="The plan becomes this rest of the evening; undo brings it back",
        )
        self.back_button = push_button(
            "&Back to the plan", self.back.emit, tip="The evening as it was planned"
        )
        self.figures = QGridLayout()
        self._build()
        self.setVisible(False)

    def _build(self) -> None:
        buttons = (self.ask_button, self.keep_button, self.back_button)
        top = QHBoxLayout()
        top.setSpacing(10)
        top.addWidget(self.title)
        top.addStretch(1)
        for button in buttons:
            button.setFont(font(10))
            top.addWidget(button)
        self.figures.setHorizontalSpacing(20)
        self.figures.setVerticalSpacing(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(top)
        column.addLayout(self.figures)
        column.addWidget(self.place)

    def refresh(self) -> None:
        """Show the rest of the evening, or nothing."""
        rest = self._context.rest
        self.setVisible(rest is not None)
        if rest is None:
            self._shown = None
            return
        fresh = self._context.evening_ready
        self.keep_button.setEnabled(fresh and rest.again.plan != self._context.plan)
        if self._shown is not None and self._shown.again is rest.again:
            return
        self._shown = rest
        self.title.setText(f"The evening re-planned from {clock(rest.again.now.utc_s)} UTC")
        self.place.setText(place_words(rest.again))
        self._show_figures(rest.again)

    def _show_figures(self, again: Replanned) -> None:
        while (item := self.figures.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.deleteLater()
        from core.next_moves import next_moves

        moves = next_moves(again, 1)
        told = figures_of(moves[0]) if moves else (("first contact", "none"),)
        for column, (word, value) in enumerate(told):
            self.figures.addWidget(second(word, 8.5), 0, column)
            self.figures.addWidget(_large(value, word), 1, column)
        self.figures.setColumnStretch(len(told), 1)

    def words(self) -> str:
        """Everything shown, in words."""
        cells = [self.figures.itemAtPosition(row, column) for column in range(8) for row in (0, 1)]
        shown = [cell.widget() for cell in cells if cell is not None]
        told = " ".join(widget.text() for widget in shown if isinstance(widget, QLabel))
        return f"{self.title.text()}. {told}. {self.place.text()}"


def _large(value: str, word: str) -> QLabel:
    made = label(14, bold=True, name=f"{word}: {value}")
    shown = made.fontMetrics().elidedText(value, Qt.TextElideMode.ElideMiddle, _MOST_PX)
    made.setText(shown)
    made.setToolTip("" if shown == value else tip(value))
    return made


def figures_of(move: NextMove) -> tuple[tuple[str, str], ...]:
    """The first move, word and value each."""
    joined = move.joined_utc_s
    return (
        ("first contact", f"{move.satellite} {clock(move.start_utc_s)}"),
        ("leave by", clock(move.leave_utc_s) if move.fits else "at once"),
        ("turn", move.turn_words),
        ("to azimuth dial", move.azimuth),
        ("elevation dial", move.elevation),
        ("moving at once, on it", "too late" if joined is None else f"at {clock(joined)}"),
    )


def place_words(again: Replanned) -> str:
    """Where the mount stands, and what is over and missed."""
    mount = again.plan.mount
    azimuth, elevation = (
        azimuth_dial(again.place.m_deg, mount.azimuth),
        elevation_dial(again.place.e_deg, mount.elevation),
    )
    told = [
        f"The mount stands at azimuth dial {azimuth.text} ({bearing_text(again.bearing_deg)} deg true), "
        f"elevation dial {elevation.text}.",
    ]
    if again.over:
        told.append(f"{counted(len(again.over), 'pass')} over.")
    if again.missed:
        missed = [f"{one.satellite} {clock(one.aos.utc_s, False)}" for one in again.missed]
        told.append(f"Missed: {first_few(missed, _MOST_MISSED)}.")
    return " ".join(told)
