"""All wishes together: their weights, the ranked seats, and the button that turns the keyway there."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtWidgets import QHeaderView, QTableView, QVBoxLayout, QWidget

from app.window.state.context import Context
from app.window.state.unstudied import unstudied_sentence
from app.window.widgets.labels import label, push_button, second
from app.window.widgets.seat_question import SeatQuestion
from app.window.widgets.tables import WordsModel, dress_table
from core.base.edits import changed_together
from core.base.errors import NorthkeyError
from core.base.memo import Memo
from core.base.typed import without_keys
from core.base.units import Progress
from core.base.words import bearing_text, listed
from core.plan.document import Plan

if TYPE_CHECKING:
    from core.wishes.ranked import RankedSeat, Wished

RANK = "wishes"
_HEADS = ("", "Keyway", "Hole", "Costs", "Gives up")
_TIPS = (
    "Best first",
    "True bearing of the keyway",
    "The index hole that the pin goes through",
    "What all wishes cost here, in seconds of signal",
    "The wishes that are not granted here",
)


class WishesNow(QObject):
    """The ranked seats of the present plan, worked out beside the window while somebody looks.

    Signals:
        changed(): another answer, or another thing under way.
    """

    changed = Signal()

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._asked: Plan | None = None
        self._latest: tuple[Plan, Wished] | None = None
        #: Why there is no answer; empty where there is one.
        self.failure = ""
        context.runner.finished.connect(self._on_finished)
        context.document.started.connect(self._forget)

    @property
    def wished(self) -> Wished | None:
        """Of the present plan; None while it is worked out."""
        latest = self._latest
        return None if latest is None or latest[0] != self._context.plan else latest[1]

    def ask(self) -> None:
        """Rank the seats of the latest result, unless that is known, under way or out of date."""
        context = self._context
        plan, result = context.result_plan, context.result
        if plan is None or result is None or plan != context.plan or not plan.satellites:
            return
        if self.wished is not None or self._asked is plan:
            return
        self._asked, self.failure = plan, ""

        def job(memo: Memo, progress: Progress) -> tuple[Plan, object]:
            from core.studies import orient
            from core.wishes.ranked import rank_wishes

            study = orient(plan, result, memo, progress)
            try:
                return plan, rank_wishes(plan, study, memo)
            except NorthkeyError as error:
                return plan, error

        context.runner.request(RANK, "Ranking the seats by all wishes", job)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind != RANK:
            return
        plan, told = answer
        if isinstance(told, NorthkeyError):
            self._latest, self.failure = None, str(told)
        else:
            self._latest = (plan, told)
        self.changed.emit()

    @Slot()
    def _forget(self) -> None:
        self._asked, self._latest, self.failure = None, None, ""


class WishesPart(QWidget):
    """The list of seats; of the one that is chosen, how each wish is met. The weights stand in the form."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self.now = WishesNow(context, self)
        self.question = SeatQuestion(context.document, self)
        self.sentence = label(11, bold=True, name="the best seat by all wishes", wraps=True)
        self.table = QTableView()
        self.model = WordsModel(self.table)
        self.model.headings, self.model.tips, self.model.right = _HEADS, _TIPS, frozenset((1, 3))
        self.table.setModel(self.model)
        dress_table(self.table, "seats by all wishes", 23)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)
        self.why = second("", 9.5, "how each wish is met at the chosen seat")
        self.why.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.not_wished = second("", 9.5, "wishes that are not counted")
        self.turn_button = push_button(
            "Turn the key&way there", self.turn, tip="Bearing and hole of the row that is chosen, in one step"
        )
        self._lay_out()
        self.table.selectionModel().currentRowChanged.connect(lambda _now, _before: self._tell())
        self.now.changed.connect(self.show_list)

    def _lay_out(self) -> None:
        self.table.setMinimumHeight(90)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        for part in (self.sentence, self.not_wished):
            column.addWidget(part)
        column.addWidget(self.table, 1)
        column.addWidget(self.why)
        column.addWidget(self.turn_button, 0, Qt.AlignmentFlag.AlignLeft)

    @property
    def chosen(self) -> RankedSeat | None:
        """The seat whose row is chosen."""
        wished, row = self.now.wished, self.table.currentIndex().row()
        return None if wished is None or not 0 <= row < len(wished.seats) else wished.seats[row]

    def turn(self) -> None:
        """Turn the keyway to the chosen seat; asks first where a correction would be void."""
        seat = self.chosen
        if seat is None:
            return
        go = self._turner(seat)
        if self.question.may_turn(go):
            go()

    def _turner(self, seat: RankedSeat) -> Callable[[], None]:
        document = self._context.document

        def go() -> None:
            given = {"keyway_bearing_deg": seat.keyway_bearing_deg, "index_hole": seat.index_hole}
            mount = changed_together(document.plan.mount, given)
            words = f"keyway to {bearing_text(seat.keyway_bearing_deg)} deg, hole {seat.index_hole}"
            document.edit(changed_together(document.plan, {"mount": mount}), words)

        return go

    def refresh(self, ask: bool) -> None:
        """Show the list of the present plan; ``ask`` for it while somebody looks."""
        if ask:
            self.now.ask()
        self.show_list()

    @Slot()
    def show_list(self) -> None:
        """The list of the present plan, or why there is none."""
        from core.wishes.words import wished_sentence

        wished = self.now.wished
        lines = [] if wished is None else [_cells(place, seat) for place, seat in enumerate(wished.seats)]
        if lines != self.model.lines:
            self.model.show_lines(lines)
            if lines:
                self.table.selectRow(0)
        self.sentence.setText(self._waiting() if wished is None else wished_sentence(wished))
        self.not_wished.setText("" if wished is None else without_keys(" ".join(wished.not_wished)))
        self.not_wished.setVisible(bool(self.not_wished.text()))
        self._tell()

    def _waiting(self) -> str:
        if self.now.failure:
            return f"Not ranked: {self.now.failure}"
        if not self._context.plan.satellites or self._context.study is None:
            return unstudied_sentence(self._context)
        return "Ranking the seats by all wishes..."

    def _tell(self) -> None:
        from core.wishes.words import reason_sentence

        wished, seat = self.now.wished, self.chosen
        mount = self._context.plan.mount
        at = seat is not None and (seat.keyway_bearing_deg, seat.index_hole) == (
            mount.keyway_bearing_deg,
            mount.index_hole,
        )
        self.turn_button.setEnabled(seat is not None and not at)
        told = "" if wished is None or seat is None else reason_sentence(wished, wished.seats.index(seat))
        self.why.setText(f"{told} The keyway stands there." if at else told)


def _cells(place: int, seat: RankedSeat) -> tuple[str, ...]:
    gives_up = listed(seat.given_up) if seat.given_up else "nothing"
    bearing = f"{bearing_text(seat.keyway_bearing_deg)} deg"
    return (str(place + 1), bearing, seat.index_hole, f"{seat.cost_s:.0f} s", gives_up)
