"""The Evening page: the evening on the dial, its hills, the list to pick from, the opened pass."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QStackedLayout,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import font
from app.window.page import Page
from app.window.pages.evening.alarm import AlarmButton
from app.window.pages.evening.dial.dial_chart import DialChart
from app.window.pages.evening.dial.legend import DialLegend
from app.window.pages.evening.head import SeatHead
from app.window.pages.evening.list import EveningList
from app.window.pages.evening.now_band import NowBand
from app.window.pages.evening.opened.opened_pass import OpenedPass
from app.window.pages.evening.state import EveningState
from app.window.pages.evening.views.hills import HillsView
from app.window.pages.evening.views.reading_strip import ReadingStrip
from app.window.pages.evening.words import evening_sentence, nothing_words
from app.window.state.context import Context
from app.window.widgets.fields import NumberField
from app.window.widgets.kept_layout import keep_layout
from app.window.widgets.labels import heading, push_button, second
from app.window.widgets.plain import plain_label
from core.base.edits import changed
from core.base.errors import NorthkeyError
from core.base.times import clock
from core.mount.evening.tally import tally
from core.plan.picks import picks_with, picks_without
from core.plan.quantities import QUANTITIES

if TYPE_CHECKING:
    from app.window.pages.evening.now_dialog import NowDialog

#: How often the line of now is moved on.
_NOW_MS = 10_000


class EveningPage(Page):
    """Time across: hills above, the dial below; the list beside; the chosen pass opened underneath.

    Signals:
        go(str): the operator wants another page, by its title.
    """

    title = "Evening"
    go = Signal(str)

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.state = EveningState(context, self)
        self.seat_head = SeatHead(context)
        self.sentence = heading("", 11, "the evening in figures")
        self.sentence.setWordWrap(True)
        self.alarm = AlarmButton(self.state)
        self.now_band = NowBand(context)
        self.now_button = push_button(
            "Re-plan from &now...",
            self.ask_from_now,
            tip="The rest of the evening, from what the dials read (Ctrl+R)",
        )
        self.hills, self.dial = HillsView(self.state), DialChart(self.state)
        self.legend, self.reading = DialLegend(self.state), ReadingStrip(self.state)
        self.table, self.opened = EveningList(self.state), OpenedPass(self.state)
        self.pick_button, self.worth = QPushButton("Pick"), _worth_field()
        self.clear_button = QPushButton("Unpick all")
        self.nothing_title, self.nothing_text = heading("", 17), second("", 12)
        self.nothing_button = QPushButton()
        self._page_wanted = "Satellites"
        self._worth_of: int | None = None
        self._asking: NowDialog | None = None
        self._build()
        self._connect()

    # --- building -----------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.stack = QStackedLayout(self)
        self.full, self.nothing = self._full(), self._nothing()
        self.stack.addWidget(self.full)
        self.stack.addWidget(self.nothing)

    def _full(self) -> QWidget:
        head = QHBoxLayout()
        head.setSpacing(14)
        head.addWidget(self.sentence, 1)
        head.addWidget(self.alarm)
        head.addWidget(self.now_button)
        self.now_button.setFont(font(10))
        pictures = QVBoxLayout()
        pictures.setContentsMargins(0, 0, 0, 0)
        pictures.setSpacing(0)
        pictures.addWidget(self.hills, 2)
        pictures.addWidget(self.dial, 7)
        pictures.addWidget(self.legend)
        left = QWidget()
        left.setLayout(pictures)
        self.hills.setMinimumHeight(64)
        self.hills.setMaximumHeight(170)
        self.beside = QSplitter(Qt.Orientation.Horizontal)
        self.beside.setChildrenCollapsible(False)
        self.beside.addWidget(left)
        self.beside.addWidget(self._side())
        self.beside.setStretchFactor(0, 4)
        self.beside.setStretchFactor(1, 1)
        self.below = QSplitter(Qt.Orientation.Vertical)
        self.below.setChildrenCollapsible(False)
        self.below.addWidget(_stacked(self.beside, self.reading))
        self.below.addWidget(self.opened)
        self.below.setStretchFactor(0, 7)
        self.below.setStretchFactor(1, 3)
        self.below.setSizes([700, 300])
        self.beside.setSizes([900, 456])
        for splitter, name in ((self.beside, "evening_beside"), (self.below, "evening_below")):
            splitter.setHandleWidth(14)
            keep_layout(splitter, name)
        ground = QWidget()
        ground.setObjectName("page")
        column = QVBoxLayout(ground)
        column.setContentsMargins(18, 10, 18, 10)
        column.setSpacing(8)
        column.addWidget(self.seat_head)
        column.addWidget(self.now_band)
        column.addLayout(head)
        column.addWidget(self.below, 1)
        return ground

    def _side(self) -> QWidget:
        label = plain_label("&Worth")
        label.setFont(font(10))
        label.setBuddy(self.worth)
        self.worth.setMaximumWidth(64)
        self.worth.setAccessibleDescription("how much the chosen pick counts against others, 0 to 1000")
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.pick_button)
        row.addSpacing(6)
        row.addWidget(label)
        row.addWidget(self.worth)
        row.addStretch(1)
        row.addWidget(self.clear_button)
        for button in (self.pick_button, self.clear_button):
            button.setFont(font(10))
        self.pick_button.setToolTip("Picks are what the evening is planned for (Space)")
        self.clear_button.setToolTip("Without picks the evening chooses among all passes")
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.table, 1)
        column.addLayout(row)
        side.setMinimumWidth(456)
        side.setMaximumWidth(560)
        return side

    def _nothing(self) -> QWidget:
        ground = QWidget()
        ground.setObjectName("page")
        column = QVBoxLayout(ground)
        column.setContentsMargins(60, 60, 60, 60)
        column.setSpacing(14)
        column.addStretch(2)
        self.nothing_button.setProperty("main", True)
        self.nothing_button.setAccessibleName("what to do first")
        self.nothing_button.setToolTip("To the page where it is done")
        self.nothing_button.setFont(font(12, True))
        for widget in (self.nothing_title, self.nothing_text, self.nothing_button):
            column.addWidget(widget, 0, Qt.AlignmentFlag.AlignLeft)
        self.nothing_text.setMinimumWidth(560)
        column.addStretch(3)
        return ground

    def _connect(self) -> None:
        state = self.state
        self.hills.clicked.connect(state.choose)
        self.dial.clicked.connect(state.choose)
        state.pick_asked.connect(self.toggle_pick)
        state.step_asked.connect(self.table.step)
        state.open_asked.connect(self._open)
        state.close_asked.connect(self._close)
        state.moved.connect(self._show_pick)
        self.pick_button.clicked.connect(self._toggle_chosen)
        self.clear_button.clicked.connect(self._clear_picks)
        self.worth.value_edited.connect(self._set_worth)
        self.seat_head.keyway.clicked.connect(lambda: self.go.emit("Keyway"))
        self.now_band.ask.connect(self.ask_from_now)
        self.now_band.keep.connect(self._keep_rest)
        self.now_band.back.connect(self.context.present.leave)
        self.nothing_button.clicked.connect(lambda: self.go.emit(self._page_wanted))

        self._ticking = QTimer(self)
        self._ticking.setInterval(_NOW_MS)
        self._ticking.timeout.connect(self._move_now)
        self._ticking.start()
        chain = (
            self.seat_head.keyway,
            self.now_band.ask_button,
            self.now_band.keep_button,
            self.now_band.back_button,
            self.now_button,
            self.hills,
            self.dial,
            self.table,
            self.pick_button,
            self.worth,
            self.clear_button,
        )
        last = (self.opened.steer_button, self.opened.polar, self.opened.strips)
        steering = (self.opened.steering.table, self.opened.steering.chart, self.alarm)
        for before, after in pairwise((*chain, *last, *steering)):
            self.setTabOrder(before, after)

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        rest = self.context.rest
        self.seat_head.refresh()
        self.seat_head.setVisible(rest is None)
        self.now_button.setVisible(rest is None)
        self.now_band.refresh()
        if self._asking is not None:
            self._asking.refresh()
        before = self.state.result
        if not self.state.take():
            return
        state = self.state
        told = nothing_words(self.context)
        self.stack.setCurrentWidget(self.full if told is None else self.nothing)
        if told is not None:
            self.nothing_title.setText(told.title)
            self.nothing_text.setText(told.text)
            self.nothing_button.setText(told.button)
            self.nothing_button.setVisible(bool(told.button))
            self._page_wanted = told.page
            return
        plan = self.context.result_plan or self.context.plan
        limit = plan.station.beam_limit_deg
        self.sentence.setText(evening_sentence(state.order, len(state.paths), bool(plan.picks), limit))
        self.alarm.refresh()
        if state.chosen is None or (rest is not None and state.result is not before):
            state.choose(self._first())
        self._show_pick()

    def _move_now(self) -> None:
        """The line of now goes on by itself."""
        if self.isVisible():
            self.hills.update()
            self.dial.update()

    def _first(self) -> int | None:
        """The contact that is on or comes next, else the first one."""
        rest = self.context.rest
        now = self.context.now_utc_s if rest is None else rest.again.now.utc_s
        coming = [i for i, contact in self.state.contact_of.items() if contact.end_utc_s >= now]
        pool = coming or list(self.state.contact_of) or list(range(len(self.state.paths)))
        return min(pool, key=lambda i: self.state.paths[i].utc_s[0], default=None)

    def _show_pick(self) -> None:
        state, index = self.state, self.state.chosen
        place = state.pick_of.get(index) if index is not None else None
        picks = self.context.plan.picks
        known = place is not None and place < len(picks)
        self.pick_button.setEnabled(index is not None)
        self.pick_button.setText("Unpick this pass" if known else "Pick this pass")
        if state.chosen != self._worth_of:
            self._worth_of = state.chosen
            self.worth.take_back()
        self.worth.setEnabled(known)
        self.worth.show_value(picks[place].worth if place is not None and known else None)
        self.clear_button.setEnabled(bool(picks))

    def count(self) -> int:
        result = self.context.evening_result
        if result is None:
            return 0
        order = result.order
        if not self.context.plan.picks:
            return len(order.cautions)  # the evening chooses by itself
        told = len(order.left_out) + len(tally(order).misfits) + len(order.unmatched)
        return told + len(order.cautions)

    def seek(self, text: str) -> None:
        """Show only satellites whose name holds the text; the head's find field calls it."""
        self.table.seek(text)

    def _open(self) -> None:
        if self.state.chosen is not None:
            self.opened.setVisible(True)
            self.opened.polar.setFocus(Qt.FocusReason.OtherFocusReason)

    def _close(self) -> None:
        inside = self.focusWidget()
        if inside is not None and self.opened.isAncestorOf(inside):
            self.dial.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.opened.setVisible(not self.opened.isVisible())

    # --- from now -----------------------------------------------------------------------------------------

    def ask_from_now(self) -> None:
        """Ask what is to be planned from, where there is anything to plan."""
        if self.stack.currentWidget() is self.full and self._asking is None:
            from app.window.pages.evening.now_dialog import NowDialog

            self._asking = NowDialog(self.context, self)
            self._asking.finished.connect(self._asked)
            self._asking.open()

    def _asked(self) -> None:
        self._asking = None

    def _keep_rest(self) -> None:
        """The rest of the evening becomes the plan, in one step."""
        rest = self.context.rest
        if rest is not None:
            label = f"the evening re-planned from {clock(rest.again.now.utc_s)}"
            self.context.document.edit(rest.again.plan, label)

    # --- edits --------------------------------------------------------------------------------------------

    def toggle_pick(self, index: int) -> None:
        """Pick the pass of this index, or unpick it."""
        result, plan = self.context.evening_result, self.context.plan
        if result is None or index >= len(result.passes):
            return
        pass_ = result.passes[index]
        name = f"{pass_.satellite} {clock(pass_.aos.utc_s, False)}"
        if index in self.state.pick_of:
            kept = picks_without(plan.picks, plan.satellites, result.passes, index)
            self._edit("picks", kept, f"unpick {name}")
        else:
            self._edit("picks", picks_with(plan.picks, pass_), f"pick {name}")

    def _toggle_chosen(self) -> None:
        if self.state.chosen is not None:
            self.toggle_pick(self.state.chosen)

    def _clear_picks(self) -> None:
        self._edit("picks", (), "unpick all")

    def _set_worth(self, value: float) -> None:
        index = self.state.chosen
        place = self.state.pick_of.get(index) if index is not None else None
        if place is None:
            return
        self.worth.attempt(lambda: self._change(f"picks.{place}.worth", value, f"worth {value:g}"))

    def _edit(self, path: str, value: object, label: str) -> None:
        try:
            self._change(path, value, label)
        except NorthkeyError as error:
            self.failed.emit("Not changed", str(error), "")

    def _change(self, path: str, value: object, label: str) -> None:
        self.context.document.edit(changed(self.context.plan, path, value), label)


def _worth_field() -> NumberField:
    return NumberField("Worth of the picked pass", "", 2, quantity=QUANTITIES["picks.worth"])


def _stacked(*widgets: QWidget) -> QWidget:
    """Widgets one over the other, the first taking all room."""
    ground = QWidget()
    column = QVBoxLayout(ground)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(6)
    for index, widget in enumerate(widgets):
        column.addWidget(widget, 0 if index else 1)
    return ground
