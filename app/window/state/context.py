"""What every page shares: the document, the latest results, the scheme, and what is chosen or pointed at."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.window.look.scheme import LIGHT, Scheme
from app.window.state.document import Document
from app.window.state.present import Present
from app.window.state.runner import Runner
from core.evaluate import Result
from core.mount.evening.results import EveningReasons
from core.passes.track import Pass
from core.plan.document import Plan

if TYPE_CHECKING:  # studies come after the first picture, and so do their modules
    from core.mount.seat.study import SeatStudy
    from core.replan import Replanned
    from core.studies import SeatByEvening


@dataclass(frozen=True, order=True)
class PassKey:
    """Names a pass across edits: its satellite and the minute of its peak."""

    norad_id: int
    peak_minute: int

    @classmethod
    def of(cls, pass_: Pass) -> PassKey:
        """The key of a pass."""
        return cls(pass_.norad_id, round(pass_.peak.utc_s / 60.0))


class Pointer(QObject):
    """The pass that is chosen and the moment that is pointed at, the same in every view.

    Signals:
        pass_changed(): the chosen pass is another one, or none.
        moment_changed(): the moment pointed at is another one, or none.
    """

    pass_changed = Signal()
    moment_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.pass_key: PassKey | None = None
        self.moment_s: float | None = None

    def choose(self, key: PassKey | None) -> None:
        """Choose a pass."""
        if key != self.pass_key:
            self.pass_key = key
            self.pass_changed.emit()

    def mark(self, utc_s: float | None) -> None:
        """Point at a moment, POSIX seconds; None when the pointer has left."""
        if utc_s != self.moment_s:
            self.moment_s = utc_s
            self.moment_changed.emit()


@dataclass(frozen=True, eq=False)
class Rest:
    """The rest of the evening from now.

    Attributes:
        of: the plan value it is of.
        again: the rest itself.
        reasons: what alternatives to it would cost; None until they are there.
    """

    of: Plan
    again: Replanned
    reasons: EveningReasons | None = None


@dataclass
class Context:
    """Handed to every page. Pages read it and send edits to `document`; the main window fills it.

    Attributes:
        document: the plan and its undo.
        runner: for jobs of a page's own (imports, sheets).
        pointer: what is chosen and pointed at.
        scheme: the present colours.
        result: of the plan value `result_plan`; None before the first evaluation.
        reasons: what alternatives to the result's evening would cost; None until they are there.
        study: of the seat, for the plan value `study_plan`; None until it is there.
        by_evening: the seats by what their evenings are worth, for `by_evening_plan`; None until it is there.
        now_utc_s: the clock.
        present: from which moment the evening is to be planned again.
        rest: the evening from that moment; None where it is shown as planned, and until it is there.
    """

    document: Document
    runner: Runner
    pointer: Pointer = field(default_factory=Pointer)
    scheme: Scheme = LIGHT
    result: Result | None = None
    result_plan: Plan | None = None
    reasons: EveningReasons | None = None
    study: SeatStudy | None = None
    study_plan: Plan | None = None
    by_evening: SeatByEvening | None = None
    by_evening_plan: Plan | None = None
    now_utc_s: float = 0.0
    present: Present = field(default_factory=Present)
    rest: Rest | None = None

    @property
    def evenings_known(self) -> SeatByEvening | None:
        """The seats by their evenings, where that is known for the present plan, however it is seated."""
        of = self.by_evening_plan
        if of is None:
            return None
        from core.studies import evening_question

        return self.by_evening if evening_question(of) == evening_question(self.plan) else None

    @property
    def plan(self) -> Plan:
        """The document's present plan."""
        return self.document.plan

    @property
    def evening_result(self) -> Result | None:
        """Of the evening that is shown and printed: from now on where that is wanted, else as planned."""
        return self.result if self.rest is None else self.rest.again.result

    @property
    def evening_plan(self) -> Plan:
        """What `evening_result` is of; the document's plan before the first result."""
        if self.rest is not None:
            return self.rest.again.plan
        return self.plan if self.result_plan is None else self.result_plan

    @property
    def evening_reasons(self) -> EveningReasons | None:
        """What alternatives to the evening shown would cost."""
        return self.reasons if self.rest is None else self.rest.reasons

    @property
    def evening_ready(self) -> bool:
        """The evening shown is of the document's present plan."""
        of = self.result_plan if self.rest is None else self.rest.of
        return self.evening_result is not None and of == self.plan
