"""The chosen pass opened: what happens on it and why, its sky, its ways and rates."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.window.look.marks import paint_mark
from app.window.look.scheme import font
from app.window.pages.evening.opened.pass_strips import PassStrips
from app.window.pages.evening.opened.polar import PolarView
from app.window.pages.evening.opened.steering import SteeringPart
from app.window.pages.evening.state import EveningState
from app.window.views.painting import painting
from app.window.widgets.labels import heading, label, second
from core.base.times import clock
from core.base.words import cut_words
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.lost import SecondsLost, lost_of
from core.mount.evening.results import Contact
from core.place.zones import local_clock

#: What the button says that opens the steerings, and that closes them again.
_STEER, _BACK = "How to &steer it", "&Sky and travel"


class MarkLabel(QWidget):
    """A verdict's mark, large."""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._state = state
        self.setFixedSize(34, 20)
        self.setAccessibleName("verdict")

    def paintEvent(self, _event: QPaintEvent) -> None:
        index = self._state.chosen
        if index is None:
            return
        check, scheme = self._state.check(index), self._state.scheme
        with painting(self) as painter:
            box = QRectF(1.0, 2.0, 26.0, 16.0)
            paint_mark(
                painter, box, check.verdict, scheme.color("signal"), scheme.color("accent"), check.resting
            )


class OpenedPass(QWidget):
    """Words at the left, the sky in the middle, ways and rates at the right."""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self.mark = MarkLabel(state)
        self.title = heading("", 13, "chosen pass")
        self.verdict = heading("", 11, "verdict")
        self.reason = label(11, name="reason", wraps=True)
        self.reason.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.why_so = label(11, name="why it is worked so", wraps=True)
        self.facts = second("", 10, "facts of the pass")
        self.after = second("", 10, "moves before and after")
        self.polar = PolarView(state)
        self.strips = PassStrips(state)
        self.steering = SteeringPart(state)
        self.steer_button = QPushButton(_STEER)
        self.steer_button.setCheckable(True)
        self.steer_button.setFont(font(10))
        self.steer_button.setToolTip("Every steering of this pass side by side, with what each loses")
        self.steer_button.setAccessibleName("How to steer the chosen pass")
        self.steer_button.toggled.connect(self._show_steering)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(14)
        row.addWidget(self._words(), 6)
        row.addWidget(self.polar, 3)
        row.addWidget(self.strips, 5)
        row.addWidget(self.steering, 10)
        self.steering.hide()
        self.polar.setMaximumWidth(340)
        self.polar.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        state.rebuilt.connect(self.show_words)
        state.explained.connect(self.show_words)
        state.moved.connect(self._on_moved)
        self._told: int | None = None

    def sizeHint(self) -> QSize:
        return QSize(900, 230)

    def _words(self) -> QWidget:
        below = QHBoxLayout()
        below.setSpacing(4)
        below.addWidget(self.mark)
        below.addWidget(self.verdict)
        below.addStretch(1)
        below.addWidget(self.steer_button)
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 6, 0)
        column.setSpacing(5)
        column.addWidget(self.title)
        column.addLayout(below)
        for words in (self.reason, self.why_so, self.facts, self.after):
            column.addWidget(words)
        column.addStretch(1)
        inner = QWidget()
        inner.setObjectName("page")
        inner.setLayout(column)
        area = QScrollArea()
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setAccessibleName("What happens on the chosen pass, and why")
        area.setWidget(inner)
        return area

    def _on_moved(self) -> None:
        if self._told != self.state.chosen:
            self.show_words()

    def _show_steering(self, wanted: bool) -> None:
        """The steerings in place of sky and travel, and back."""
        self.steer_button.setText(_BACK if wanted else _STEER)
        self.polar.setVisible(not wanted)
        self.strips.setVisible(not wanted)
        self.steering.setVisible(wanted)
        if wanted:
            self.steering.follow()

    def show_words(self) -> None:
        """Tell the chosen pass."""
        state, index = self.state, self.state.chosen
        self._told = index
        self.mark.update()
        self.steer_button.setEnabled(index is not None)
        if self.steer_button.isChecked():
            self.steering.follow()
            self.steering.restyle()
        known = index is not None and state.result is not None
        self.mark.setVisible(known)
        if index is None or state.result is None:
            self.title.setText("Choose a pass")
            self.verdict.setText("")
            self.reason.setText("Its sky, its ways and what happens on it are shown here.")
            self.facts.setText("")
            self.after.setText("")
            self.why_so.hide()
            return
        check = state.check(index)
        pass_ = check.pass_
        aos, los, zone = pass_.aos.utc_s, pass_.los.utc_s, state.zone
        self.title.setText(f"{pass_.satellite}   {clock(aos, False)} to {clock(los, False)} UTC")
        self.verdict.setText(check.verdict_words)
        self.reason.setText(state.reason(index).text)
        self.why_so.setText(state.why_so.get(index, ""))
        self.why_so.setVisible(bool(self.why_so.text()))
        local = f"{local_clock(aos, zone, False)} to {local_clock(los, zone, False)} local. "
        self.facts.setText(
            f"{local}Peak {pass_.peak.elevation_deg:.1f} deg at {clock(pass_.peak.utc_s)}, "
            f"{pass_.peak.azimuth_deg:.1f} deg true. TCA {clock(pass_.tca.utc_s)}, "
            f"{pass_.tca.range_km:.0f} km. {check.seconds_in_all:.0f} s over the mask, "
            f"{self._lost_words(index)}."
            + (f" {cut_words(pass_.cut).capitalize()} of the evening." if pass_.cut else "")
        )
        self.after.setText(self._neighbours(index))

    def _lost_words(self, index: int) -> str:
        """What is lost and why: of the contact, or of the pass worked as its verdict has it."""
        contact, check = self.state.contact_of.get(index), self.state.check(index)
        if contact is None:
            return SecondsLost(off_beam_s=check.seconds_lost).words
        plan = self.state.context.result_plan or self.state.context.plan
        return lost_of(contact, plan.station.beam_limit_deg).words

    def _neighbours(self, index: int) -> str:
        """The move to this contact, and the contact after it; why it is left out where it is."""
        contact = self.state.contact_of.get(index)
        if contact is None:
            why = self.state.why_left.get(index, self.state.absence(index))
            return f"Not in the evening: {why}."
        contacts = self.state.order.contacts
        place = next(i for i, other in enumerate(contacts) if other is contact)
        told = [self._move_words(contact, "Before")]
        if place + 1 < len(contacts):
            following = contacts[place + 1]
            head = f"Next {following.check.pass_.satellite} at {clock(following.start_utc_s, False)}"
            told.append(self._move_words(following, head))
        told.append(f"Cable wrap {contact.wrap_before_deg:+.0f} to {contact.wrap_after_deg:+.0f} deg.")
        return " ".join(word for word in told if word)

    def _move_words(self, contact: Contact, head: str) -> str:
        move = contact.move_before
        if move is None:
            return ""
        mount = self.state.mount
        azimuth = azimuth_dial(move.m_to_deg, mount.azimuth).short
        elevation = elevation_dial(move.e_to_deg, mount.elevation).short
        there = f"to dial {azimuth}, elevation dial {elevation}"
        if move.seconds_there < 0.0:
            return f"{head}: {there}, but the passes overlap by {-move.seconds_there:.0f} s."
        fits = "" if move.feasible else ", which does not fit"
        words = f"{head}: {there}, {move.seconds_needed:.0f} s of moving in {move.seconds_there:.0f} s{fits}."
        order = self.state.order
        cautions = (one for one in order.cautions if one.contact >= 0)
        told = (one.text for one in cautions if order.contacts[one.contact] is contact)
        return " ".join([words, *told])
