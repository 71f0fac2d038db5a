"""The document: one plan at a time, its undo stack of plan values, and its file. It computes nothing."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from core.base.whole_files import Stamp, stamp_of
from core.plan.document import Plan
from core.plan.storage import read_plan, write_plan

#: Plans kept for undo.
_DEPTH = 200


@dataclass(frozen=True)
class _Step:
    plan: Plan
    label: str


class Document(QObject):
    """Holds the plan. Every edit goes through `edit`, so that every edit can be undone.

    Signals:
        plan_changed(Plan): the plan has another value (by edit, undo, redo, load).
        started(): another document was begun; tells before the plan does.
        state_changed(): title, path, unsaved mark, or what can be undone changed.
    """

    plan_changed = Signal(object)
    started = Signal()
    state_changed = Signal()

    def __init__(self, plan: Plan, path: Path | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._steps = [_Step(plan, "")]
        self._at = 0
        self._saved: Plan | None = plan if path is not None else None
        self._pristine: Plan | None = plan
        self._merging: str | None = None
        self.path = path
        #: Of the file as it was read or written last; None where there is none.
        self.stamp: Stamp | None = None if path is None else stamp_of(path)

    @property
    def plan(self) -> Plan:
        """The present value."""
        return self._steps[self._at].plan

    @property
    def sources(self) -> tuple[Path, ...]:
        """The plan's own file, which no answer may replace; none where it is in no file."""
        return () if self.path is None else (self.path,)

    @property
    def saved(self) -> Plan | None:
        """What the file holds as far as it was read or written here; None where there is no file."""
        return self._saved

    @property
    def unsaved(self) -> bool:
        """True where the present value is in no file and is not what was opened."""
        return self.plan != (self._saved if self._saved is not None else self._pristine)

    @property
    def undo_label(self) -> str:
        """What undo would take back, or empty."""
        return self._steps[self._at].label if self._at > 0 else ""

    @property
    def redo_label(self) -> str:
        """What redo would bring again, or empty."""
        return self._steps[self._at + 1].label if self._at + 1 < len(self._steps) else ""

    def edit(self, plan: Plan, label: str, merge: str | None = None) -> None:
        """Take a new value.

        Args:
            plan: the new value; an equal one is no edit.
            label: what was done, in words for undo, e.g. "keyway 196 to 214 deg".
            merge: edits in a row with the same key become one step: a drag is undone as a whole.
        """
        if plan == self.plan:
            return
        del self._steps[self._at + 1 :]
        if merge is not None and merge == self._merging and self._at > 0:
            self._steps[self._at] = _Step(plan, label)
        else:
            self._steps.append(_Step(plan, label))
            self._at += 1
        self._merging = merge
        if len(self._steps) > _DEPTH:
            del self._steps[0]
            self._at -= 1
        self._tell()

    def end_merge(self) -> None:
        """The next edit is a step of its own, whatever its key."""
        self._merging = None

    def undo(self) -> None:
        """Back to the value before; nothing where there is none."""
        self._go(self._at - 1)

    def redo(self) -> None:
        """Forward again; nothing where there is nothing."""
        self._go(self._at + 1)

    def _go(self, at: int) -> None:
        self._merging = None
        if 0 <= at < len(self._steps):
            self._at = at
            self._tell()

    def open(self, path: Path) -> None:
        """Read a plan file in place of the present plan.

        Raises:
            PlanError: it cannot be read; the present plan stays.
        """
        stamp = stamp_of(path)  # before it is read: what others write meanwhile is then seen
        self.start(read_plan(path), path, stamp)

    def start(self, plan: Plan, path: Path | None = None, stamp: Stamp | None = None) -> None:
        """Begin afresh with a plan, from a file of this stamp; nothing of before can be undone."""
        self._steps, self._at, self._merging = [_Step(plan, "")], 0, None
        self.path, self.stamp = path, stamp
        self._pristine = plan
        self._saved = plan if path is not None else None
        self.started.emit()
        self._tell()

    def start_unsaved(self, plan: Plan, path: Path | None, saved: Plan | None, stamp: Stamp | None) -> None:
        """Begin with edits that are in no file yet.

        Args:
            plan: the edits.
            path, saved, stamp: the file that they are of and what it holds; None where they are of none.
        """
        self.start(plan, path, stamp)
        self._saved, self._pristine = saved, None
        self._tell()

    def take(self, plan: Plan, stamp: Stamp | None) -> None:
        """Take what others have written into the file; undo brings back what was here."""
        self._saved, self.stamp = plan, stamp
        self.edit(plan, "the file as others left it")
        self.state_changed.emit()

    def save(self, path: Path) -> None:
        """Write the plan and go on in that file.

        Raises:
            FileProblem: it cannot be written; the document stays unsaved.
        """
        self.stamp = write_plan(path, self.plan)
        self.path = path
        self._saved = self.plan
        self.state_changed.emit()

    def _tell(self) -> None:
        self.plan_changed.emit(self.plan)
        self.state_changed.emit()
