"""Working the document's plan out: what is asked of the runner, what came of it, what to say meanwhile."""

from __future__ import annotations

import traceback
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal, Slot

from app.ahead import Ahead
from app.window.state.context import Context
from core.base.errors import NorthkeyError
from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import Result, evaluate
from core.mount.evening.results import EveningReasons
from core.plan.document import Plan

if TYPE_CHECKING:  # a study's modules are imported by its job: the first picture is there before
    from core.mount.seat.study import SeatStudy
    from core.studies import SeatByEvening

#: What failed, by the kind of job.
_FAILED = {
    "evaluate": "Passes not worked out",
    "explain": "Evening not explained",
    "study": "Seat not studied",
    "plan again": "Rest of the evening not planned",
    "explain again": "Rest of the evening not explained",
    "by evening": "Evenings of other seats not worked out",
    "compare fields": "Fields not compared",
    "season": "Season not studied",
    "save budget chart": "Chart not saved",
    "save season chart": "Chart not saved",
    "what if": "Changed mounts not worked out",
    "shop files": "Files for the shop not saved",
    "wishes": "Seats not ranked by the wishes",
    "save what-if chart": "Chart not saved",
    "field files": "Plan files of other fields not read",
    "steering": "Steering not worked out",
    "open plan": "Plan not opened",
    "elements": "Elements not read",
    "export elements": "Elements not written",
    "set up": "Set-up not worked out",
    "sheet": "Sheet not laid out",
    "save sheet": "Sheet not saved",
    "print sheet": "Sheet not printed",
}


class Evaluation(QObject):
    """Fills the context with result and study, and tells every job's failure once.

    Signals:
        updated(): the context holds another result or study.
        failed(str title, str sentence, str details): a job ended with an error.
    """

    updated = Signal()
    failed = Signal(str, str, str)

    def __init__(self, context: Context, parent: QObject | None = None, ahead: Ahead | None = None) -> None:
        """For a context.

        Args:
            context: what is filled.
            parent: as Qt has it.
            ahead: who works the first plan out already.
        """
        super().__init__(parent)
        self._context = context
        self._ahead = ahead
        self._told: dict[str, str] = {}
        self._studied: Result | None = None
        self._explained: Result | None = None
        self._study_of: Result | None = None
        self._weighed: Result | None = None
        self._weighed_of: Result | None = None
        context.runner.finished.connect(self._on_finished)
        context.runner.failed.connect(self._on_failed)

    def request(self) -> None:
        """Work the present plan out; an older request still on its way is dropped."""
        plan = self._context.document.plan
        # What the hand asks for goes first: studies of the plan before are dropped, to be asked for again.
        for study in ("explain", "study", "by evening"):
            self._context.runner.drop(study)
        ahead = self._ahead

        def work_out(memo: Memo, progress: Progress) -> tuple[Plan, Result]:
            if ahead is not None:
                ahead.fill(memo, progress)
            return plan, evaluate(plan, memo, progress)

        self._context.runner.request("evaluate", "Working out passes and ways", work_out)

    def request_again(self) -> None:
        """The same after a cancel or an error, which is told anew if it comes again."""
        self._told.clear()
        self.request()

    def request_study(self) -> bool:
        """Study the seat of the latest result, unless that is done, under way or out of date already."""
        plan, result = self._context.result_plan, self._context.result
        if self._studied is result or plan is None or result is None:
            return False
        self._studied = result
        if plan != self._context.document.plan:
            return False

        def study(memo: Memo, progress: Progress) -> tuple[Plan, SeatStudy]:
            from core.studies import orient

            return plan, orient(plan, result, memo, progress)

        self._context.runner.request("study", "Studying the seat", study)
        return True

    def request_by_evening(self) -> None:
        """Ask what the evening is worth in other seats, once the latest result's seat is studied."""
        plan, result, study = self._context.result_plan, self._context.result, self._context.study
        if self._study_of is not result or self._weighed is result:
            return
        if plan is None or result is None or study is None or not study.passes:
            return
        self._weighed = result
        if plan != self._context.document.plan:
            return

        def weigh(memo: Memo, progress: Progress) -> tuple[Plan, SeatByEvening]:
            from core.studies import orient_by_evening

            return plan, orient_by_evening(plan, result, study, memo, progress)

        words = "Weighing the evenings of other seats"
        self._context.runner.request("by evening", words, weigh, patient=True)

    def request_reasons(self) -> None:
        """Ask what alternatives to the latest evening would cost, unless that is known or under way."""
        plan, result = self._context.result_plan, self._context.result
        if self._explained is result or plan is None or result is None:
            return
        self._explained = result

        def weigh(memo: Memo, progress: Progress) -> tuple[Result, EveningReasons]:
            from core.studies import explain

            return result, explain(plan, result, memo, progress)

        self._context.runner.request("explain", "Weighing the alternatives", weigh)

    def idle_words(self) -> tuple[str, bool]:
        """What to say while nothing is computed, and whether there is something to work out."""
        result, plan = self._context.result, self._context.document.plan
        if result is not None and self._context.result_plan == plan:
            words = f"{len(result.passes):,} passes checked, plan {result.identity}"
            unstudied = self._studied is result and self._study_of is not result
            if unstudied:
                return f"{words}; the seat is not studied", True
            unweighed = self._weighed is result and self._weighed_of is not result
            return (f"{words}; its evenings are not weighed", True) if unweighed else (words, False)
        if "evaluate" in self._told:
            return self._told["evaluate"], True
        shown = " What is shown is of the plan before." if result is not None else ""
        return f"Not worked out for the present plan.{shown}", True

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        self._told.pop(kind, None)
        if kind == "evaluate":
            self._context.result_plan, self._context.result = answer
            self._context.reasons = None
        elif kind == "explain":
            result, reasons = answer
            if result is not self._context.result:
                return
            self._context.reasons = reasons
        elif kind == "study":
            self._context.study_plan, self._context.study = answer
            self._study_of = self._studied
        elif kind == "by evening":
            self._context.by_evening_plan, self._context.by_evening = answer
            self._weighed_of = self._weighed
        else:
            return
        self.updated.emit()

    @Slot(str, object)
    def _on_failed(self, kind: str, error: Exception) -> None:
        sentence = str(error) or type(error).__name__
        if self._told.get(kind) == sentence:  # an edit elsewhere has not cured it: said once is enough
            return
        self._told[kind] = sentence
        known = isinstance(error, NorthkeyError)
        details = "" if known else "".join(traceback.format_exception(error))
        self.failed.emit(_FAILED.get(kind, "Not done"), sentence, details)
