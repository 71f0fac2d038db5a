"""Small jobs of input and output beside the window: a disk that does not answer must not hold it."""

from __future__ import annotations

import itertools
import queue
from collections.abc import Callable
from threading import Event, Thread
from typing import Any

from PySide6.QtCore import QObject, Signal, Slot

#: How long the end waits for a disk that does not answer.
_PATIENCE_S = 2.0


class Beside(QObject):
    """One thread that does jobs in turn; what each gives is handed on in the window's own thread.

    The thread is started with the first job, and ends with the program, whatever it hangs on.
    """

    _done = Signal(int, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs: queue.SimpleQueue[tuple[int, Callable[[], Any]] | None] = queue.SimpleQueue()
        self._serials = itertools.count(1)
        #: What was asked for and not yet handed on: the job, and whom its answer is for.
        self._asked: dict[int, tuple[Callable[[], Any], Callable[[Any], None]]] = {}
        self._done.connect(self._hand_on)
        self._thread = Thread(target=self._work, daemon=True)

    def ask(self, job: Callable[[], Any], then: Callable[[Any], None]) -> None:
        """Do a job, which must not raise, and hand what it gives to ``then``."""
        serial = next(self._serials)
        self._asked[serial] = (job, then)
        self._jobs.put((serial, job))
        if self._thread.ident is None:
            self._thread.start()

    @property
    def open_jobs(self) -> int:
        """How many were asked for and not yet handed on."""
        return len(self._asked)

    def wait(self) -> bool:
        """Wait for the jobs asked for so far, but not for one that hangs; whether they are done."""
        reached = Event()
        self.ask(reached.set, lambda _answer: None)
        return reached.wait(_PATIENCE_S)

    def close(self) -> None:
        """End it after the jobs asked for, which are not handed on; one that hangs is not waited for."""
        self._jobs.put(None)
        if self._thread.is_alive():
            self._done.disconnect(self._hand_on)
            self._thread.join(_PATIENCE_S)

    def _work(self) -> None:
        while (asked := self._jobs.get()) is not None:
            serial, job = asked
            answer = job()
            # What the job holds of the window must die in the window's thread, which has it as well.
            del job, asked
            try:
                self._done.emit(serial, answer)
            except RuntimeError:  # the window is gone
                return

    @Slot(int, object)
    def _hand_on(self, serial: int, answer: Any) -> None:
        _job, then = self._asked.pop(serial)
        then(answer)
