"""The log of the open plan beside its evening, and what its dials would do to tonight's correction."""

from __future__ import annotations

from collections.abc import Sequence

from app.window.state.asked_study import AskedStudy
from core.afterwards.effect import effect_sentence
from core.afterwards.rows import EveningLog, evening_log
from core.afterwards.sightings import FromLog, from_log, with_sightings
from core.base.errors import NorthkeyError
from core.plan.document import Plan


class LogNow(AskedStudy):
    """The plan's log, and the sentence on the sightings that were asked about last."""

    kind = "log effect"
    words = "Fitting the log's dials"

    #: The plan with the sightings that the sentence is of, and the sentence.
    _known: tuple[Plan, Plan, str] | None = None
    _asked: tuple[Plan, Plan] | None = None

    @property
    def log(self) -> EveningLog | None:
        """Beside the evening as planned; None until it is worked out."""
        result = self._context.result
        return None if result is None else evening_log(self._context.plan, result)

    def candidates(self, log: EveningLog) -> tuple[FromLog, ...]:
        """What the rows' dials would be as sightings."""
        return from_log(self._context.plan, log)

    def ask(self, chosen: Sequence[FromLog]) -> str:
        """What these would do, as far as it is known; asked for where it is not."""
        plan = self._context.plan
        try:
            sighted = with_sightings(plan, chosen)
        except NorthkeyError as error:
            return str(error)
        if sighted is plan:
            return ""
        known = self._known
        if known is not None and (known[0], known[1]) == (plan, sighted):
            return known[2]
        if self._asked != (plan, sighted):
            self._asked = (plan, sighted)
            self.work_out((plan, sighted), lambda memo, _progress: effect_sentence(plan, sighted, memo))
        return "Fitting..."

    def take(self, question: tuple[Plan, Plan], answer: str) -> None:
        self._known = (*question, answer)
