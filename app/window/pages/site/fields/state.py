"""Which fields stand beside the open plan, and what comparing them has given so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Signal, Slot

from app.window.state.context import Context
from core.base.errors import NorthkeyError, PlanError, ValueRangeError
from core.base.memo import Memo
from core.base.units import Progress
from core.compare import MOST, Comparison, compare, field_names, with_same_evening
from core.place.zones import resolve_time_zone
from core.plan.document import Plan
from core.plan.storage import read_plan

#: The runner's jobs here.
COMPARE, READ = "compare fields", "field files"
_COMPARING = "Comparing fields"


@dataclass(frozen=True)
class OtherField:
    """A plan from a file, as it was when it was read."""

    path: Path
    plan: Plan


@dataclass(frozen=True)
class FieldRow:
    """One field as it is shown.

    Attributes:
        name: of the field.
        compared, place: where its figures stand; None until there are any.
        stale: they are of a plan before.
    """

    name: str
    compared: Comparison | None
    place: int
    stale: bool


class Fields(QObject):
    """The fields of one window: the open plan first. It asks the runner while it is watched.

    Signals:
        changed(): another field, another answer, or another thing under way.
        progressed(str what, int done, int total): how far the comparison is.
    """

    changed = Signal()
    progressed = Signal(str, int, int)

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.others: tuple[OtherField, ...] = ()
        #: What could not be taken of the files asked for last.
        self.refused: tuple[str, ...] = ()
        #: Why the comparison ended without an answer; empty where it did not.
        self.failure = ""
        self.same_evening = True
        self._watched = False
        self._reading: tuple[Path, ...] = ()
        self._wanted: tuple[tuple[object, ...], tuple[Plan, ...]] = ((), ())
        self._compared: Comparison | None = None
        #: Which files the latest answer is of, row by row; None for the open plan.
        self._compared_of: tuple[Path | None, ...] = ()
        context.document.plan_changed.connect(self._on_plan)
        context.runner.finished.connect(self._on_finished)
        context.runner.busy_changed.connect(self._on_busy)
        context.runner.progressed.connect(self._on_progress)

    # --- what is asked ------------------------------------------------------------------------------------

    @property
    def plans(self) -> tuple[Plan, ...]:
        """The plans to be compared, the open one first; the same objects until something changes."""
        key = (self._context.plan, self.same_evening, self.others)
        known, plans = self._wanted
        if len(known) != len(key) or any(one is not other for one, other in zip(known, key, strict=True)):
            plans = (self._context.plan, *(field.plan for field in self.others))
            plans = with_same_evening(plans) if self.same_evening else plans
            self._wanted = (key, plans)
        return plans

    @property
    def comparison(self) -> Comparison | None:
        """The latest answer, where it is of what is asked now."""
        compared = self._compared
        return compared if compared is not None and compared.plans == self.plans else None

    @property
    def working(self) -> bool:
        """A comparison is under way."""
        return self._context.runner.under_way(COMPARE)

    @property
    def rows(self) -> tuple[FieldRow, ...]:
        """One for each plan; figures of the plan before are kept, and marked, until there are new ones."""
        paths = (None, *(field.path for field in self.others))
        names = field_names(self.plans)
        return tuple(
            self._row(name, path, plan) for name, path, plan in zip(names, paths, self.plans, strict=True)
        )

    def _row(self, name: str, path: Path | None, plan: Plan) -> FieldRow:
        compared = self._compared
        if compared is None:
            return FieldRow(name, None, 0, False)
        for place, known in enumerate(compared.plans):
            if known is plan or known == plan:
                return FieldRow(name, compared, place, False)
        if path in self._compared_of:
            return FieldRow(name, compared, self._compared_of.index(path), True)
        return FieldRow(name, None, 0, False)

    # --- what the operator does ---------------------------------------------------------------------------

    def add(self, paths: Sequence[Path]) -> None:
        """Read plan files and set their fields beside the open plan; a file that is there is read anew."""
        self._reading = (*self._reading, *(path for path in paths if path not in self._reading))
        asked = self._reading
        if asked:
            self._context.runner.request(READ, "Reading plan files", lambda _memo, _progress: _read(asked))

    def remove(self, row: int) -> None:
        """Without the field of this row; the open plan's stays."""
        if 1 <= row <= len(self.others):
            self.others = self.others[: row - 1] + self.others[row:]
            self._ask()

    def take_same_evening(self, wanted: bool) -> None:
        """Whether the open plan's evening is laid on every field."""
        self.same_evening = wanted
        self._ask()

    def watch(self, watched: bool) -> None:
        """Somebody looks: what is asked is worked out; nobody does: what is under way is dropped."""
        self._watched = watched
        if watched:
            self._ask()
        else:
            self.stop()

    def ask_again(self) -> None:
        """Work it out after it was stopped."""
        self._ask()

    def stop(self) -> None:
        """Drop what is being compared."""
        self._context.runner.drop(COMPARE)
        self.changed.emit()

    def _ask(self) -> None:
        """Ask for the comparison of what is wanted now, unless it is there."""
        runner, plans = self._context.runner, self.plans
        self.failure = ""
        runner.drop(COMPARE)
        if self._watched and len(plans) > 1 and self.comparison is None:
            of = (None, *(field.path for field in self.others))

            def job(memo: Memo, progress: Progress) -> object:
                try:
                    return of, compare(plans, memo, progress)
                except ValueRangeError as error:  # the open plan's own fault, told with it
                    return of, error

            runner.request(COMPARE, _COMPARING, job)
        self.changed.emit()

    # --- what comes back ----------------------------------------------------------------------------------

    @Slot(object)
    def _on_plan(self, _plan: Plan) -> None:
        if self._watched:
            self._ask()

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind == READ:
            self._take(answer)
        elif kind == COMPARE:
            of, told = answer
            if isinstance(told, Comparison):
                self._compared_of, self._compared = of, told
            else:
                self.failure = str(told)
            self.changed.emit()

    def _take(self, read: tuple[tuple[Path, Plan | str], ...]) -> None:
        self._reading = tuple(path for path in self._reading if path not in {one for one, _ in read})
        refused = []
        for path, plan in read:
            known = [field.path for field in self.others]
            if isinstance(plan, str):
                refused.append(plan)
            elif path in known:
                new = OtherField(path, plan)
                self.others = tuple(new if field.path == path else field for field in self.others)
            elif len(known) < MOST - 1:
                self.others = (*self.others, OtherField(path, plan))
            else:
                refused.append(f"{path.name}: left out, since {MOST} fields are all that can be compared.")
        self.refused = tuple(refused)
        self._ask()

    @Slot(str)
    def _on_busy(self, _words: str) -> None:
        if self._watched:  # what is under way may have been cancelled
            self.changed.emit()

    @Slot(str, int, int)
    def _on_progress(self, what: str, done: int, total: int) -> None:
        if self._context.runner.busy_words == _COMPARING:
            self.progressed.emit(what, done, total)


def _read(paths: tuple[Path, ...]) -> tuple[tuple[Path, Plan | str], ...]:
    """The plan in each file, or a sentence why there is none."""
    return tuple((path, _plan_in(path)) for path in paths)


def _plan_in(path: Path) -> Plan | str:
    try:
        plan = read_plan(path)
        resolve_time_zone(plan.site)
    except PlanError as error:
        where = f"{path.name}, {error.place}" if error.place else path.name
        return f"{where}: {error.reason}."
    except NorthkeyError as error:
        return f"{path.name}: {error}."
    return plan
