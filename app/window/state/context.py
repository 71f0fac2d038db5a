"""What every page shares: the document, the latest results, the scheme, and what is chosen or pointed at."""

from __future__ import annotations

from dataclasses import dataclass, field

from PySide6.QtCore import QObject, Signal

from app.window.look.scheme import LIGHT, Scheme
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.evaluate import Result
from core.mount.evening.results import EveningReasons
from core.mount.seat.study import SeatStudy
from core.passes.track import Pass
from core.plan.document import Plan
from core.studies import SeatByEvening, evening_question


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

    @property
    def evenings_known(self) -> SeatByEvening | None:
        """The seats by their evenings, where that is known for the present plan, however it is seated."""
        of = self.by_evening_plan
        if of is None or evening_question(of) != evening_question(self.plan):
            return None
        return self.by_evening

    @property
    def plan(self) -> Plan:
        """The document's present plan."""
        return self.document.plan
