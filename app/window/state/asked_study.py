"""A study that is worked out when somebody asks for it, beside the window, and that lets others go first."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from PySide6.QtCore import QObject, Signal, Slot

from app.window.state.context import Context
from core.base.errors import Cancelled, NorthkeyError
from core.base.memo import Memo
from core.base.units import Progress


class AskedStudy(QObject):
    """What is asked, and why there is no answer; the latest answer is kept by what stands on this.

    Class attributes:
        kind: of its jobs. words: what the foot says while it is worked out.

    Signals:
        changed(): another question, another answer, or another thing under way.
        progressed(str what, int done, int total): how far it is.
    """

    changed = Signal()
    progressed = Signal(str, int, int)
    kind: ClassVar[str]
    words: ClassVar[str]

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        #: Why there is no answer; empty where there is one, or none was asked for.
        self.failure = ""
        context.runner.finished.connect(self._on_finished)
        context.runner.busy_changed.connect(self._on_busy)
        context.runner.progressed.connect(self._on_progress)
        context.document.plan_changed.connect(self._on_plan)

    @property
    def working(self) -> bool:
        """It is under way."""
        return self._context.runner.under_way(self.kind)

    def take(self, question: Any, answer: Any) -> None:
        """Keep an answer, and what it is of."""
        raise NotImplementedError

    def work_out(self, question: Any, study: Callable[[Memo, Progress], Any]) -> None:
        """Have a study made of a question; what the hand asks for meanwhile goes first."""
        self.failure = ""

        def job(memo: Memo, progress: Progress) -> object:
            try:
                return question, study(memo, progress)
            except Cancelled:
                raise
            except NorthkeyError as error:
                return question, error

        self._context.runner.request(self.kind, self.words, job, patient=True)
        self.changed.emit()

    def stop(self) -> None:
        """Drop what is under way."""
        self._context.runner.drop(self.kind)
        self.changed.emit()

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind != self.kind:
            return
        question, told = answer
        if isinstance(told, NorthkeyError):
            self.failure = str(told)
        else:
            self.take(question, told)
        self.changed.emit()

    # Slots of its own, and no lambdas: Qt lets go of them when the study's window goes before the runner.
    @Slot(str)
    def _on_busy(self, _words: str) -> None:
        self.changed.emit()

    @Slot(object)
    def _on_plan(self, _plan: object) -> None:
        self.changed.emit()

    @Slot(str, int, int)
    def _on_progress(self, what: str, done: int, total: int) -> None:
        if self._context.runner.busy_words == self.words:
            self.progressed.emit(what, done, total)
