"""Errors in one dialog, with details to copy; exceptions nobody caught are shown and logged, never silent."""

from __future__ import annotations

import sys
import traceback
from collections import deque
from dataclasses import dataclass
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from logging import Logger

    from app.window.frame.error_dialog import ErrorDialog

#: Errors that can be looked up again.
_KEPT = 50


def _log() -> Logger:
    import logging  # by the first error: a start does without

    return logging.getLogger("northkey")


@dataclass(frozen=True)
class ErrorReport:
    """Something that went wrong.

    Attributes:
        title: what was not done.
        sentence: why.
        details: for whoever repairs it; empty where the sentence says all.
        utc_s: when, POSIX seconds.
    """

    title: str
    sentence: str
    details: str
    utc_s: float


class ErrorDesk(QObject):
    """The one place where errors are told: one dialog at a time, and a list of the recent ones."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self.recent: deque[ErrorReport] = deque(maxlen=_KEPT)
        self._dialog: ErrorDialog | None = None
        self._open: tuple[ErrorReport, ...] = ()

    @property
    def dialog(self) -> ErrorDialog | None:
        """The dialog that stands open, or None."""
        return self._dialog

    def tell(self, report: ErrorReport) -> None:
        """Show an error; one that comes while another stands open joins it in the same dialog."""
        self.recent.append(report)
        _log().warning("%s: %s", report.title, report.sentence)
        if self._dialog is None:
            self._open = ()
        if any((p.title, p.sentence) == (report.title, report.sentence) for p in self._open):
            return
        self._show((*self._open, report))

    def show_recent(self) -> None:
        """Show what went wrong lately."""
        self._show(tuple(self.recent))

    def _show(self, reports: tuple[ErrorReport, ...]) -> None:
        self._open = reports
        if self._dialog is None:
            from app.window.frame.error_dialog import ErrorDialog

            self._dialog = ErrorDialog(self._window)
            self._dialog.finished.connect(self._closed)
        self._dialog.show_reports(reports)
        self._dialog.open()

    @Slot()
    def _closed(self) -> None:
        self._dialog, self._open = None, ()


class ExceptionWatch(QObject):
    """Shows and logs what nobody caught, slots included, which Qt would only print.

    Signals:
        caught(str sentence, str details): an exception ended a slot or an event.
    """

    caught = Signal(str, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._before = sys.excepthook

    def start(self) -> None:
        """Take over `sys.excepthook`."""
        self._before = sys.excepthook
        sys.excepthook = self._hook

    def stop(self) -> None:
        """Give it back."""
        sys.excepthook = self._before

    def _hook(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            self._before(kind, error, trace)
            return
        _log().error("unexpected %s", kind.__name__, exc_info=(kind, error, trace))
        details = "".join(traceback.format_exception(kind, error, trace))
        self.caught.emit(f"Something went wrong that should not have: {error or kind.__name__}", details)
