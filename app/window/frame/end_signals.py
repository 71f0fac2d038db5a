"""The system asks the program to end: at logout, by a signal, or by Ctrl+C where it was started."""

from __future__ import annotations

import signal
import socket

from PySide6.QtCore import QObject, QSocketNotifier, Signal, Slot

_NAMES = ("SIGTERM", "SIGHUP", "SIGINT", "SIGBREAK")


class EndSignals(QObject):
    """Hands the system's signals on in the window's thread, at once: its loop waits on a socket for them.

    Signals:
        asked(int): the signal's number.
    """

    asked = Signal(int)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._read, self._write = socket.socketpair()
        for end in (self._read, self._write):
            end.setblocking(False)
        self._notifier = QSocketNotifier(self._read.fileno(), QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._on_bytes)
        self._before_fd = signal.set_wakeup_fd(self._write.fileno(), warn_on_full_buffer=False)
        numbers = [getattr(signal, name) for name in _NAMES if hasattr(signal, name)]
        self._before = {number: signal.signal(number, _nothing) for number in numbers}

    @Slot()
    def _on_bytes(self) -> None:
        try:
            numbers = self._read.recv(4096)
        except OSError:
            return
        for number in numbers:
            if number in self._before:
                self.asked.emit(number)

    def close(self) -> None:
        """As it was before."""
        for number, handler in self._before.items():
            signal.signal(number, handler)
        signal.set_wakeup_fd(self._before_fd)
        self._notifier.setEnabled(False)
        self._read.close()
        self._write.close()


def _nothing(_number: int, _frame: object) -> None:
    """Its number goes through the socket; without a handler it would end the program."""
