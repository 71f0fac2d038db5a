"""Small jobs of input and output beside the window: a disk that does not answer must not hold it."""

from __future__ import annotations

import queue
from collections.abc import Callable
from threading import Event, Thread
from typing import Any

from PySide6.QtCore import QObject, Signal, Slot

#: How long the end waits for a disk that does not answer.
_PATIENCE_S = 2.0


class Beside(QObject):
    """One thread that does jobs in turn; what each gives is handed on in the window's own thread.

    The thread ends with the program, whatever it hangs on.
    """

    _done = Signal(object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs: queue.SimpleQueue[tuple[Callable[[], Any], Callable[[Any], None]] | None] = (
            queue.SimpleQueue()
        )
        #: Jobs asked for and not yet handed on.
        self.open_jobs = 0
        self._done.connect(self._hand_on)
        self._thread = Thread(target=self._work, daemon=True)
        self._thread.start()

    def ask(self, job: Callable[[], Any], then: Callable[[Any], None]) -> None:
        """Do a job, which must not raise, and hand what it gives to ``then``."""
        self.open_jobs += 1
        self._jobs.put((job, then))

    def wait(self) -> bool:
        """Wait for the jobs asked for so far, but not for one that hangs; whether they are done."""
        reached = Event()
        self._jobs.put((reached.set, lambda _answer: None))
        self.open_jobs += 1
        return reached.wait(_PATIENCE_S)

    def close(self) -> None:
        """End it after the jobs asked for, which are not handed on; one that hangs is not waited for."""
        if not self._thread.is_alive():
            return
        self._done.disconnect(self._hand_on)
        self._jobs.put(None)
        self._thread.join(_PATIENCE_S)

    def _work(self) -> None:
        while (asked := self._jobs.get()) is not None:
            job, then = asked
            answer = job()
            try:
                self._done.emit(then, answer)
            except RuntimeError:  # the window is gone
                return

    @Slot(object, object)
    def _hand_on(self, then: Callable[[Any], None], answer: Any) -> None:
        self.open_jobs -= 1
        then(answer)
