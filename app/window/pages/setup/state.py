"""What there is to go by on site, asked of the runner while the page is shown."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from app.window.state.context import Context
from core.base.errors import Cancelled, NorthkeyError
from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import Result, evaluate
from core.plan.document import Plan

if TYPE_CHECKING:  # studies come after the first picture
    from core.on_site import OnSite
    from core.ready import Ready
    from core.setup.budget.answer import PointingBudget
    from core.setup.sightings.answer import SightingFit

#: The runner's job here.
SET_UP = "set up"
_TICK_MS = 1000
#: While it is now, what there is to go by is worked out so often.
_EVERY_S = 60.0


def _evening(plan: Plan, memo: Memo, progress: Progress) -> Result | None:
    """The plan's evening, which the worker mostly knows already; None where it cannot be worked out.

    Why it cannot be the window tells; level, north and sightings go on without it.
    """
    try:
        return evaluate(plan, memo, progress)
    except Cancelled:
        raise
    except NorthkeyError:
        return None


class SetUp(QObject):
    """The answer for the present plan and moment. It asks the runner while it is watched, and only then.

    Signals:
        changed(): another answer, or something is under way.
        ticked(): a second has gone by, while it is now and somebody looks.
    """

    changed = Signal()
    ticked = Signal()

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        #: The moment that was typed, POSIX seconds; None while it is now.
        self.typed_utc_s: float | None = None
        self._latest: tuple[Plan, OnSite, Ready | None] | None = None
        self._asked: tuple[Plan, float] | None = None
        self._watched = False
        #: Why the last one ended without an answer; empty where it did not.
        self.failure = ""
        self._tick = QTimer(self)
        self._tick.setInterval(_TICK_MS)
        self._tick.timeout.connect(self._on_tick)
        context.document.started.connect(self._forget)
        context.runner.finished.connect(self._on_finished)
        context.runner.failed.connect(self._on_failed)
        context.runner.busy_changed.connect(self._on_busy)

    # --- the moment ---------------------------------------------------------------------------------------

    @property
    def now_utc_s(self) -> float:
        """The moment that is asked about, to the second."""
        return self._context.now_utc_s if self.typed_utc_s is None else self.typed_utc_s

    @property
    def at_utc_s(self) -> float:
        """The moment that the answer is of: now begins with its minute."""
        if self.typed_utc_s is not None:
            return self.typed_utc_s
        return math.floor(self._context.now_utc_s / _EVERY_S) * _EVERY_S

    def take_moment(self, utc_s: float | None) -> None:
        """Another moment; None for now, as it goes on."""
        if utc_s != self.typed_utc_s:
            self.typed_utc_s = utc_s
            self.follow()
            self.changed.emit()

    # --- the answer ---------------------------------------------------------------------------------------

    @property
    def answer(self) -> OnSite | None:
        """The latest answer, which may be of a plan or a moment before; None where there is none."""
        return None if self._latest is None else self._latest[1]

    @property
    def ready(self) -> Ready | None:
        """The latest timetable, checklist and kit, maybe of a plan before; None where there is none."""
        return None if self._latest is None else self._latest[2]

    @property
    def fresh(self) -> bool:
        """The answer is of the present plan and moment."""
        latest = self._latest
        return latest is not None and latest[1].at_utc_s == self.at_utc_s and self.holds

    @property
    def holds(self) -> bool:
        """The answer is of the present plan, whatever the moment."""
        return self._latest is not None and self._latest[0] == self._context.plan

    @property
    def fit(self) -> SightingFit | None:
        """Of the present plan's sightings; None without any, and while it is worked out."""
        return None if self.answer is None or not self.holds else self.answer.fit

    @property
    def budget(self) -> PointingBudget | None:
        """Of the present plan's passes; None while it is worked out."""
        return None if self.answer is None or not self.holds else self.answer.budget

    @property
    def residuals(self) -> dict[int, tuple[float | None, float | None]]:
        """By the sighting's place, what is left of both dials; none where they are of another plan."""
        fit = self.fit
        return (
            {} if fit is None else {one.index: (one.azimuth_deg, one.elevation_deg) for one in fit.residuals}
        )

    @property
    def working(self) -> bool:
        """It is being worked out."""
        return self._context.runner.under_way(SET_UP)

    def watch(self, watched: bool) -> None:
        """Whether somebody looks; while nobody does, nothing is asked."""
        self._watched = watched
        if watched:
            self._tick.start()
            self.follow()
        else:
            self._tick.stop()
            self._asked = None
            self._context.runner.drop(SET_UP)

    def follow(self) -> None:
        """Ask for the present plan and moment, unless that is known or under way."""
        plan, at_utc_s = self._context.plan, self.at_utc_s
        if not self._watched or self.fresh:
            return
        same = self._asked is not None and self._asked[0] is plan and self._asked[1] == at_utc_s
        if same:
            return
        self._asked = (plan, at_utc_s)
        self.failure = ""

        def work_out(memo: Memo, progress: Progress) -> tuple[Plan, OnSite, Ready | None]:
            from core.on_site import set_up
            from core.ready import get_ready

            result = _evening(plan, memo, progress)
            found = set_up(plan, at_utc_s, memo, progress, result)
            return plan, found, None if result is None else get_ready(plan, result, memo, progress)

        self._context.runner.request(SET_UP, "Working out the set-up", work_out)

    def ask_again(self) -> None:
        """The same after it was stopped or failed."""
        self._asked = None
        self.follow()

    # --- what comes back ----------------------------------------------------------------------------------

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind == SET_UP:
            self._latest = answer
            self.changed.emit()

    @Slot(str, object)
    def _on_failed(self, kind: str, error: Exception) -> None:
        if kind == SET_UP:
            self.failure = str(error) if isinstance(error, NorthkeyError) else "It could not be worked out."
            self.changed.emit()

    @Slot()
    def _on_busy(self) -> None:
        if self._watched:
            self.changed.emit()

    @Slot()
    def _on_tick(self) -> None:
        if self.typed_utc_s is None:
            self.follow()
            self.ticked.emit()

    @Slot()
    def _forget(self) -> None:
        """Another document: nothing here is of it."""
        self._latest, self._asked, self.typed_utc_s, self.failure = None, None, None, ""
