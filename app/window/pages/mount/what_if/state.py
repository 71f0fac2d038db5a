"""What is asked of changed mounts in the window, and the latest answer with what it belongs to."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QObject

from app.window.state.asked_study import AskedStudy
from app.window.state.context import Context
from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import identity
from core.plan.document import Plan
from core.what_if.changes import Change
from core.what_if.evening import WhatIfEvening, of_evening, what_if_evening
from core.what_if.season import WhatIfSeason, of_season, what_if_season

WHAT_IF = "what if"
_YEAR_DAYS = 365


@dataclass(frozen=True)
class Asked:
    """One question.

    Attributes:
        plan: as it was.
        changes: of its mount.
        days: of a season; 0: the evening alone.
    """

    plan: Plan
    changes: tuple[Change, ...]
    days: int

    def same_plan(self, plan: Plan) -> bool:
        """Another plan that would have the same answer."""
        if plan is self.plan:
            return True
        return (
            of_season(plan) == of_season(self.plan)
            if self.days
            else of_evening(plan) == of_evening(self.plan)
        )


class WhatIfNow(AskedStudy):
    """What is asked, and the latest answer."""

    kind = WHAT_IF
    words = "Setting changed mounts side by side"

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(context, parent)
        self.changes: tuple[Change, ...] = ()
        self.of_season = False
        self.days = _YEAR_DAYS
        self.answer: WhatIfEvening | WhatIfSeason | None = None
        #: What the answer is of, and the identity of its plan.
        self.asked: Asked | None = None
        self.identity = ""

    @property
    def wanted(self) -> Asked:
        """What would be asked now."""
        return Asked(self._context.plan, self.changes, self.days if self.of_season else 0)

    @property
    def of_plan_before(self) -> bool:
        """The answer is of another plan than the present one."""
        return self.asked is not None and not self.asked.same_plan(self._context.plan)

    @property
    def of_other_question(self) -> bool:
        """Something else is ticked than the answer is of."""
        if self.asked is None:
            return False
        return (self.asked.changes, self.asked.days) != (self.wanted.changes, self.wanted.days)

    def want(self, changes: tuple[Change, ...], of_season: bool, days: int) -> None:
        """Another question, not asked yet."""
        self.changes, self.of_season, self.days = changes, of_season, days
        self.changed.emit()

    def ask(self) -> None:
        """Work it out; what the hand asks for meanwhile goes first."""
        asked = self.wanted
        self.work_out(asked, lambda memo, progress: (_answer(asked, memo, progress), identity(asked.plan)))

    def take(self, question: Asked, answer: tuple[WhatIfEvening | WhatIfSeason, str]) -> None:
        self.asked, (self.answer, self.identity) = question, answer


def _answer(asked: Asked, memo: Memo, progress: Progress) -> WhatIfEvening | WhatIfSeason:
    if asked.days:
        return what_if_season(asked.plan, asked.changes, asked.days, memo, progress)
    return what_if_evening(asked.plan, asked.changes, memo, progress)
