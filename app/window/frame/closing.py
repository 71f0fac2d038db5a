"""Before the window closes: edits that are in no file, and what is still being written."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QWidget

from app.window.frame.plan_files import PlanFiles
from app.window.state.document import Document
from app.window.state.runner import Runner
from app.window.widgets.plain import add_answers, question_box

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMessageBox


class Closing(QObject):
    """Asks what has to be asked, then closes the window."""

    def __init__(self, document: Document, files: PlanFiles, runner: Runner, window: QWidget) -> None:
        super().__init__(window)
        self._document, self._files, self._runner, self._window = document, files, runner, window
        self._loses = self._stops = self._waits = False
        self._box: QMessageBox | None = None
        runner.busy_changed.connect(self._on_busy)

    def may_close(self) -> bool:
        """Whether the window may close now; else it is asked, and the window closes after a yes."""
        if self._document.unsaved and not self._loses:
            self._files.after_unsaved(self._lose)
            return False
        if self._runner.writing_words and not self._stops:
            self._ask_to_wait()
            return False
        return True

    def _lose(self) -> None:
        self._loses = True
        self._window.close()

    def _ask_to_wait(self) -> None:
        if self._box is not None:
            return
        box = self._box = question_box(
            self._window, "Still writing", f"{self._runner.writing_words}: it is not finished."
        )
        add_answers(
            box,
            ("&Close when it is written", self._wait),
            ("S&top it and close", self._stop),
            ("Stay &here", self._stay),
        )
        box.finished.connect(self._forget)
        box.open()

    def _wait(self) -> None:
        self._waits = True
        self._on_busy("")

    def _stop(self) -> None:
        self._stops = True
        self._window.close()

    def _stay(self) -> None:
        self._loses = self._waits = False

    @Slot()
    def _forget(self) -> None:
        self._box = None

    @Slot(str)
    def _on_busy(self, _words: str) -> None:
        """Written: the question answers itself, and a window that waited for it closes."""
        if self._runner.writing_words:
            return
        if self._box is not None and not self._waits:
            self._box.close()
        if self._waits:
            self._waits = False
            self._window.close()
