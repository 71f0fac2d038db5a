"""All work longer than a blink, off the GUI thread: evaluation in a thread that owns the memo.

One worker thread, one job at a time. A newer request makes the running one stop at its next progress
report and its late result is dropped: what arrives always belongs to the latest request of its kind.
A patient job, which takes long and which nobody waits for, lets others go first: what is requested meanwhile
is done at its next progress report, and then it goes on where it was.
"""

from __future__ import annotations

import itertools
import queue
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, QThread, Signal, Slot

from app.window.state.collector import beside_the_window
from app.window.state.gui_collector import GuiCollector
from core.base.errors import Cancelled
from core.base.memo import Memo
from core.base.units import Progress

#: A job gets the memo and a progress callback and returns its answer.
Job = Callable[[Memo, Progress], Any]


@dataclass(frozen=True)
class Request:
    """A job in the queue: its kind (a newer one of the same kind replaces it), serial number and words.

    ``patient``: it lets others go first. ``writes``: a file or paper, which somebody waits for.
    """

    kind: str
    serial: int
    words: str
    job: Job
    patient: bool = False
    writes: bool = False


@dataclass(frozen=True)
class Outcome:
    """What became of a request: its answer, or the error it ended with, or neither if it was cancelled."""

    kind: str
    serial: int
    answer: Any = None
    error: Exception | None = None
    cancelled: bool = False


class _Worker(QThread):
    """Takes requests from a queue. Its signals are delivered in the main thread."""

    progressed = Signal(object, int, int, str)
    ended = Signal(object)

    def __init__(self, wanted: Callable[[Request], bool], parent: QObject) -> None:
        super().__init__(parent)
        self.requests: queue.SimpleQueue[Request | None] = queue.SimpleQueue()
        self._wanted = wanted
        self._memo = Memo()

    def run(self) -> None:
        while (request := self.requests.get()) is not None:
            outcome = self._outcome(request)
            # What a job holds of the window must die in the window's thread, which has the request as well.
            del request
            self.ended.emit(outcome)

    def _outcome(self, request: Request) -> Outcome:
        def progress(done: int, total: int, what: str) -> bool:
            self.progressed.emit(request, done, total, what)
            if request.patient:
                self._let_others_go_first(request)
            return self._goes_on(request)

        if not self._wanted(request):
            return Outcome(request.kind, request.serial, cancelled=True)
        try:
            with beside_the_window():
                return Outcome(request.kind, request.serial, answer=request.job(self._memo, progress))
        except Cancelled:
            return Outcome(request.kind, request.serial, cancelled=True)
        except Exception as error:
            return Outcome(request.kind, request.serial, error=error)

    def _goes_on(self, request: Request) -> bool:
        return self._wanted(request) and not self.isInterruptionRequested()

    def _let_others_go_first(self, request: Request) -> None:
        """Do what waits, inside a patient job, as long as that is wanted itself."""
        while self._goes_on(request):
            try:
                other = self.requests.get_nowait()
            except queue.Empty:
                return
            if other is None:  # the end, for the loop outside
                self.requests.put(None)
                return
            self.ended.emit(self._outcome(other))


class Runner(QObject):
    """The one place where jobs are started and cancelled.

    Signals:
        finished(str kind, object answer): the latest request of its kind is answered.
        failed(str kind, Exception error): it ended with an error.
        progressed(str what, int done, int total): how far the running job is.
        busy_changed(str words): what is being computed, empty when nothing is.
    """

    finished = Signal(str, object)
    failed = Signal(str, object)
    progressed = Signal(str, int, int)
    busy_changed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._serials = itertools.count(1)
        #: Latest serial of each kind; read by the worker thread, written here only.
        self._latest: dict[str, int] = {}
        self._open: dict[int, Request] = {}
        self._collector = GuiCollector(self)
        self._worker = _Worker(self._is_latest, self)
        self._worker.progressed.connect(self._on_progress)
        self._worker.ended.connect(self._on_ended)
        self._worker.start()

    def _is_latest(self, request: Request) -> bool:
        return self._latest.get(request.kind) == request.serial

    def request(self, kind: str, words: str, job: Job, patient: bool = False, writes: bool = False) -> None:
        """Queue a job; an earlier one of the same kind is dropped wherever it is.

        A ``patient`` one lets later ones go first, at its progress reports; one that ``writes`` is not
        dropped by the end of the window without a question.
        """
        made = Request(kind, next(self._serials), words, job, patient, writes)
        self._latest[kind] = made.serial
        self._open[made.serial] = made
        self._collector.set_busy(True)
        self._worker.requests.put(made)
        self.busy_changed.emit(self.busy_words)

    def drop(self, kind: str) -> None:
        """Drop the job of one kind that is running or waiting, if there is one."""
        self._latest[kind] = 0

    def cancel(self) -> None:
        """Drop everything that is running or waiting."""
        self._latest = dict.fromkeys(self._latest, 0)

    def under_way(self, kind: str) -> bool:
        """A job of this kind is running or waiting, and was not dropped."""
        return any(one.kind == kind and self._is_latest(one) for one in self._open.values())

    @property
    def busy_words(self) -> str:
        """What is being computed, the earliest first, patient jobs last; empty when nothing is."""
        first = min(self._open.values(), key=lambda request: request.patient, default=None)
        return "" if first is None else first.words

    @property
    def writing_words(self) -> str:
        """What is being written, or waits to be; empty where nothing is."""
        writing = (one for one in self._open.values() if one.writes and self._is_latest(one))
        first = next(writing, None)
        return "" if first is None else first.words

    @property
    def waited_for(self) -> bool:
        """Something other than a patient job is being computed."""
        return any(not request.patient for request in self._open.values())

    @Slot(object, int, int, str)
    def _on_progress(self, request: Request, done: int, total: int, what: str) -> None:
        if self._is_latest(request):
            self.progressed.emit(what, done, total)

    @Slot(object)
    def _on_ended(self, outcome: Outcome) -> None:
        self._open.pop(outcome.serial, None)
        self._collector.set_busy(bool(self._open))
        latest = self._latest.get(outcome.kind) == outcome.serial
        if latest and outcome.error is not None:
            self.failed.emit(outcome.kind, outcome.error)
        elif latest and not outcome.cancelled:
            self.finished.emit(outcome.kind, outcome.answer)
        self.busy_changed.emit(self.busy_words)

    def close(self, patience_ms: int | None = None) -> bool:
        """End the worker: cancel, wait, and let the thread go. Call it before the window dies.

        False where it did not end within the patience; without one it is waited for.
        """
        self.cancel()
        self._worker.requestInterruption()
        self._worker.requests.put(None)
        ended = self._worker.wait() if patience_ms is None else self._worker.wait(patience_ms)
        if ended:
            self._collector.close()
        return ended
