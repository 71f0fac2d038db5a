"""Working out the rest of the evening from now, beside the plan, which it leaves as it is.

It is worked out again whenever the plan changes, and is of no plan that is begun afresh.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal, Slot

from app.window.state.context import Context, Rest
from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import passes_of
from core.mount.evening.results import EveningReasons
from core.plan.document import Plan

if TYPE_CHECKING:
    from core.replan import Now, Replanned

#: Kinds of job.
PLAN_AGAIN, EXPLAIN_AGAIN = "plan again", "explain again"


class FromNow(QObject):
    """Fills the context with the rest of the evening.

    Signals:
        updated(): the context holds another rest of the evening, or none.
    """

    updated = Signal()

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._explained: Rest | None = None
        context.present.changed.connect(self._on_asked)
        context.document.started.connect(context.present.leave)
        context.runner.finished.connect(self._on_finished)
        context.runner.failed.connect(self._on_failed)
        context.runner.busy_changed.connect(self._on_busy)

    def follow(self) -> None:
        """Work it out for the present plan, where a rest is wanted and it is not that plan's already."""
        rest, now = self._context.rest, self._context.present.now
        if now is not None and (rest is None or rest.of != self._context.plan):
            self._request(now)

    def request_reasons(self) -> None:
        """Ask what alternatives to the rest of the evening would cost, unless that is known or under way."""
        rest = self._context.rest
        if rest is None or self._explained is rest:
            return
        self._explained = rest
        again = rest.again

        def weigh(memo: Memo, progress: Progress) -> tuple[Replanned, EveningReasons]:
            from core.studies import explain

            return again, explain(again.plan, again.result, memo, progress)

        self._context.runner.request(EXPLAIN_AGAIN, "Weighing the alternatives", weigh)

    def _request(self, now: Now) -> None:
        plan = self._context.plan
        self._context.runner.drop(EXPLAIN_AGAIN)
        self._context.runner.request(
            PLAN_AGAIN,
            "Planning the rest of the evening",
            lambda memo, progress: _rest(plan, now, memo, progress),
        )

    @Slot()
    def _on_asked(self) -> None:
        now = self._context.present.now
        if now is not None:
            self._request(now)
            return
        for kind in (PLAN_AGAIN, EXPLAIN_AGAIN):
            self._context.runner.drop(kind)
        self._context.rest = None
        self.updated.emit()

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        rest = self._context.rest
        if kind == PLAN_AGAIN:
            self._context.rest = answer
        elif kind == EXPLAIN_AGAIN and rest is not None and rest.again is answer[0]:
            self._context.rest = self._explained = replace(rest, reasons=answer[1])
        else:
            return
        self.updated.emit()

    @Slot(str, object)
    def _on_failed(self, kind: str, _error: Exception) -> None:
        if kind == PLAN_AGAIN:  # told by whoever tells every job's failure
            self._context.present.leave()

    @Slot(str)
    def _on_busy(self, words: str) -> None:
        """Cancelled before there was any, it is not wanted any more."""
        if not words and self._context.rest is None:
            self._context.present.leave()


def _rest(plan: Plan, now: Now, memo: Memo, progress: Progress) -> Rest:
    from core.replan import replan, still_meant

    return Rest(plan, replan(plan, still_meant(plan, now, passes_of(plan, memo, progress)), memo, progress))
