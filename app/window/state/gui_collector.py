"""Python's garbage, collected in the window's thread and nowhere else.

Python collects garbage wherever the next object happens to be made. That may be the worker: widgets in a
ring of references (a window that a closure of its own holds) were then destroyed there, which Qt does not
allow. Or it is inside Qt: `QObject::disconnect` holds the lock of all signals while it asks Python whether
a method is overridden, the question makes an object, and a widget that the collection destroys wants the
same lock. The program then hung or ended with a segmentation fault, once in a long while. So while a window
with a worker is open, nothing is collected by itself; a timer of the window does it, where Qt holds
nothing.

A full collection walks every object there is with Python's lock held: with a catalogue of satellites and
its passes in memory that froze the window for 0.2 to 0.8 s at a time (measured). Results are trees of frozen
values, which die by their reference counts alone, so while a job makes them only what is young is walked, in
short steps, and where it made many, what there is afterwards is set aside from the collector for good.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

#: By then the window is on the screen with its first result, and what a start made is no garbage.
_STARTED_MS = 3000
#: Between looks: while a job makes objects, short ones; else few, for the battery.
_BUSY_MS, _IDLE_MS = 20, 500
#: Objects made and not freed since the last look that are worth one.
_YOUNG = 700
#: Objects that a job made and kept, from which on a full look would be felt (some 10 ms).
_MANY = 100_000
#: Looks at what is young between two at everything that was not set aside.
_LOOKS_A_FULL_ONE = 100


class GuiCollector(QObject):
    """Collects in the thread that it was made in, from its making until ``close``.

    Several may be open at a time (two windows in one program): each looks at what it finds, and Python
    collects by itself again, if it did before, when the last of them is closed.
    """

    _open = 0
    _was_enabled = True

    def __init__(self, parent: QObject, after_ms: int = _STARTED_MS) -> None:
        super().__init__(parent)
        if GuiCollector._open == 0:
            GuiCollector._was_enabled = gc.isenabled()
            gc.disable()
        GuiCollector._open += 1
        self._closed = False
        self._busy = False
        self._looks = 0
        self._kept = 0
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._look)
        self._start = QTimer(self, singleShot=True)
        self._start.timeout.connect(self._begin)
        self._start.start(after_ms)

    def set_busy(self, busy: bool) -> None:
        """A job began, or the last one ended: much that it made is set aside."""
        if busy == self._busy:
            return
        self._busy = busy
        if busy:
            self._kept = 0
        elif self._kept + gc.get_count()[0] > _MANY:
            gc.freeze()
        self._timer.setInterval(_BUSY_MS if busy else _IDLE_MS)

    def close(self) -> None:
        """No more collecting here; call it when no worker is left that could collect instead."""
        if self._closed:
            return
        self._closed = True
        self._timer.stop()
        self._start.stop()
        GuiCollector._open -= 1
        if GuiCollector._open == 0 and GuiCollector._was_enabled:
            gc.enable()

    def _begin(self) -> None:
        gc.freeze()
        self._timer.start(_BUSY_MS if self._busy else _IDLE_MS)

    def _look(self) -> None:
        young = gc.get_count()[0]
        if young < _YOUNG:
            return
        self._kept += young
        self._looks += 1
        full = self._looks >= _LOOKS_A_FULL_ONE and not self._busy
        if full:
            self._looks = 0
        gc.collect(2 if full else 1)
