"""The season of the open plan, as it is asked for in the window: worked out beside it, marked when stale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from app.window.state.asked_study import AskedStudy
from app.window.state.context import Context
from core.base.memo import Memo
from core.base.units import Progress
from core.plan.document import Plan

if TYPE_CHECKING:
    from core.season import Season

SEASON = "season"
_YEAR_DAYS = 365


class SeasonNow(AskedStudy):
    """What is asked of the season, and the latest answer."""

    kind = SEASON
    words = "Studying the season"

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(context, parent)
        self.days = _YEAR_DAYS
        self.season: Season | None = None
        self._of: tuple[Plan, int] | None = None

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
            return plan.orbits, plan.site, plan.evening, without_seat(plan.mount), plan.seat_limits

        return self.season if asked(self._of[0]) == asked(self._context.plan) else None

    def ask(self) -> None:
        """Work it out; what the hand asks for meanwhile goes first."""
        plan, days = self._context.plan, self.days

        def study(memo: Memo, progress: Progress) -> Season:
            from core.season import study_plan

            return study_plan(plan, days, memo=memo, progress=progress)

        self.work_out((plan, days), study)

    def take(self, question: tuple[Plan, int], answer: Season) -> None:
        self._of, self.season = question, answer
