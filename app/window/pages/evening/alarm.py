"""What the operator must decide about the evening: a button with a line for each, leading to its pass."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from app.window.look.scheme import font
from app.window.pages.evening.state import EveningState
from app.window.pages.evening.words import alarm_words, strike_words
from app.window.widgets.labels import keep_room
from core.base.times import clock
from core.mount.evening.tally import tally

#: Lines of each kind.
_MOST_LINES = 40


class AlarmButton(QToolButton):
    """Hidden where nothing is to be decided."""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._state = state
        self.setFont(font(11, True))
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setToolTip("What is to be decided, a line each; a line leads to its pass")
        keep_room(self)
        self.lines = QMenu(self)
        self.setMenu(self.lines)
        state.explained.connect(self.refresh)

    def refresh(self) -> None:
        """Picks left out, moves that do not fit, picks that match nothing; without picks, what strikes."""
        state = self._state
        words = alarm_words(state.order, tally(state.order)) if state.context.plan.picks else ""
        words = ", ".join(told for told in (words, strike_words(state.order)) if told)
        self.setVisible(bool(words))
        self.setAccessibleName(words or "nothing to decide")
        scheme = state.scheme
        self.setStyleSheet(
            f"QToolButton {{ color: {scheme.accent}; border: 1px solid {scheme.edge}; }}"
            f"QToolButton:focus {{ border: 2px solid {scheme.signal}; }}"
            "QToolButton::menu-indicator { image: none; }"
        )
        self.setText("0")
        self.setMinimumHeight(self.sizeHint().height())  # without words it keeps the same room
        self.setText(words)
        self.lines.clear()
        self._list_left_out()
        self._list_misfits()
        for sentence in state.order.unmatched:
            self.lines.addAction(sentence).setEnabled(False)
        for caution in state.order.cautions[:_MOST_LINES]:
            self.lines.addAction(caution.text).setEnabled(False)

    def _list_left_out(self) -> None:
        for index, why in list(self._state.why_left.items())[:_MOST_LINES]:
            pass_ = self._state.check(index).pass_
            line = f"{pass_.satellite} at {clock(pass_.aos.utc_s, False)} UTC left out: {why}"
            self.lines.addAction(line).triggered.connect(partial(self._choose, index))

    def _list_misfits(self) -> None:
        order = self._state.order
        places = {id(contact): index for index, contact in self._state.contact_of.items()}
        for place in tally(order).misfits[:_MOST_LINES]:
            contact = order.contacts[place]
            move = contact.move_before
            assert move is not None
            lacking = move.seconds_needed - move.seconds_there
            line = f"{contact.check.pass_.satellite} at {clock(contact.start_utc_s, False)} UTC: "
            line += f"{move.seconds_needed:.0f} s of moving, {lacking:.0f} s short"
            self.lines.addAction(line).triggered.connect(partial(self._choose, places[id(contact)]))

    def _choose(self, index: int, _checked: bool = False) -> None:
        self._state.choose(index)
