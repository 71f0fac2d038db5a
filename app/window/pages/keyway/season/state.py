"""The season of the open plan, as it is asked for in the window: worked out beside it, marked when stale."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal, Slot

from app.window.state.context import Context
from core.base.errors import Cancelled, NorthkeyError
from core.base.memo import Memo
from core.base.units import Progress
from core.plan.document import Plan

if TYPE_CHECKING:
    from core.season import Season

SEASON = "season"
_WORDS = "Studying the season"
_YEAR_DAYS = 365


class SeasonNow(QObject):
    """What is asked of the season, and the latest answer.

    Signals:
        changed(): another answer, or another thing under way.
        progressed(str what, int done, int total): how far it is.
    """

    changed = Signal()
    progressed = Signal(str, int, int)

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.days = _YEAR_DAYS
        self.season: Season | None = None
        #: Why there is no answer; empty where there is one, or none was asked for.
        self.failure = ""
        self._of: tuple[Plan, int] | None = None
        context.runner.finished.connect(self._on_finished)
        context.runner.busy_changed.connect(lambda _words: self.changed.emit())
        context.runner.progressed.connect(self._on_progress)
        context.document.plan_changed.connect(lambda _plan: self.changed.emit())

    @property
    def working(self) -> bool:
        """The season is under way."""
        return self._context.runner.under_way(SEASON)

    @property
    def asked_of(self) -> Plan | None:
        """The plan that the answer is of."""
        return None if self._of is None else self._of[0]

    @property
    def stale(self) -> bool:
        """The answer is of another plan or of other days."""
        return self._of is not None and (self.known is None or self._of[1] != self.days)

    @property
    def known(self) -> Season | None:
        """The answer where it is of the present plan, however that is seated, on whatever days."""
        if self._of is None:
            return None
        from core.season import without_seat

        def asked(plan: Plan) -> tuple[object, ...]:
            return plan.satellites, plan.site, plan.evening, without_seat(plan.mount), plan.seat_limits

        return self.season if asked(self._of[0]) == asked(self._context.plan) else None

    def ask(self) -> None:
        """Work it out; what the hand asks for meanwhile goes first."""
        plan, days = self._context.plan, self.days
        self.failure = ""

        def job(memo: Memo, progress: Progress) -> object:
            from core.season import study_plan

            try:
                return plan, days, study_plan(plan, days, memo=memo, progress=progress)
            except Cancelled:
                raise
            except NorthkeyError as error:
                return plan, days, error

        self._context.runner.request(SEASON, _WORDS, job, patient=True)
        self.changed.emit()

    def stop(self) -> None:
        """Drop what is under way."""
        self._context.runner.drop(SEASON)
        self.changed.emit()

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind != SEASON:
            return
        plan, days, told = answer
        if isinstance(told, NorthkeyError):
            self.failure = str(told)
        else:
            self._of, self.season = (plan, days), told
        self.changed.emit()

    @Slot(str, int, int)
    def _on_progress(self, what: str, done: int, total: int) -> None:
        if self._context.runner.busy_words == _WORDS:
            self.progressed.emit(what, done, total)
