"""The log's files: a pocket page's saved one is read back, and the whole is written as CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from app.window.state.context import Context
from app.window.widgets.plain import add_answers, question_box
from core.afterwards.edits import with_read_back
from core.afterwards.rows import evening_log
from core.afterwards.words import other_identity_words
from core.base.errors import NorthkeyError
from core.base.memo import Memo
from core.base.units import Progress
from core.log.pocket_file import PocketLog, read_pocket_log

READ, SAVE = "read pocket file", "save log"


class LogFiles(QObject):
    """Reads and writes in the background; another plan's file is asked about first.

    Signals:
        told(str): what was read or written, or why not.
    """

    told = Signal(str)

    def __init__(self, context: Context, window: QWidget) -> None:
        super().__init__(window)
        self._context, self._window = context, window
        #: The question whether to read another plan's file, while it is open.
        self.question: QMessageBox | None = None
        context.runner.finished.connect(self._on_finished)
        context.runner.failed.connect(self._on_failed)

    # --- reading ------------------------------------------------------------------------------------------

    def ask_what_to_read(self) -> None:
        """Open the dialog for the pocket page's file."""
        dialog = self._dialog("Read pocket file", "Pocket page's file (*.json);;All files (*)")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda chosen: self.read(Path(chosen)))
        dialog.open()

    def read(self, path: Path) -> None:
        """Read it; what is wrong with it is told."""

        def job(_memo: Memo, progress: Progress) -> PocketLog | str:
            try:
                return read_pocket_log(path, progress)
            except NorthkeyError as error:
                return f"Nothing was read. {error}"

        self._context.runner.request(READ, f"Reading {path.name}", job)

    def _take(self, read: PocketLog) -> None:
        result = self._context.result
        if result is None:
            return
        if read.identity == result.identity:
            self._merge(read)
            return
        box = question_box(
            self._window,
            "Another plan's file",
            "This file was noted on another plan's page.",
            other_identity_words(read.identity, read.title, result.identity),
        )
        add_answers(box, ("&Read it", lambda: self._merge(read)), ("&Leave it", None))
        box.finished.connect(self._forget)
        self.question = box
        box.open()

    def _merge(self, read: PocketLog) -> None:
        document, result = self._context.document, self._context.result
        if result is None:
            return
        try:
            back = with_read_back(document.plan, result.passes, read.entries)
        except NorthkeyError as error:
            self.told.emit(f"Nothing was read. {error}")
            return
        document.edit(back.plan, "log read back from the pocket page")
        self.told.emit(back.sentence)

    def _forget(self) -> None:
        self.question = None

    # --- writing ------------------------------------------------------------------------------------------

    def ask_where_to_save(self) -> None:
        """Open the dialog for the CSV file."""
        path = self._context.document.path
        name = path.name.removesuffix(".json").removesuffix(".northkey") if path else "evening"
        dialog = self._dialog("Save log", "CSV (*.csv)")
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("csv")
        dialog.selectFile(f"{name} log.csv")
        dialog.fileSelected.connect(lambda chosen: self.save(Path(chosen)))
        dialog.open()

    def save(self, path: Path) -> None:
        """Write the log of the plan as it is."""
        plan, result, made = self._context.plan, self._context.result, self._context.now_utc_s
        sources = self._context.document.sources
        if result is None:
            return
        known = result

        def job(_memo: Memo, _progress: Progress) -> str:
            from core.base.whole_files import refuse_source, write_bytes
            from core.export.log_csv import log_csv

            refuse_source(path, sources)
            text = log_csv(plan, known, evening_log(plan, known), made)
            write_bytes(path, text.encode("utf-8"), force=True)
            return f"Saved as {path.name}."

        self._context.runner.request(SAVE, f"Writing {path.name}", job, writes=True)

    def _dialog(self, title: str, form: str) -> QFileDialog:
        path = self._context.document.path
        dialog = QFileDialog(self._window, title, str(path.parent if path else Path.home()), form)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        return dialog

    # --- what came of it ----------------------------------------------------------------------------------

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind == SAVE:
            self.told.emit(str(answer))
        elif kind == READ and isinstance(answer, PocketLog):
            self._take(answer)
        elif kind == READ:
            self.told.emit(str(answer))

    @Slot(str, object)
    def _on_failed(self, kind: str, _error: object) -> None:
        if kind in {READ, SAVE}:
            self.told.emit("The file was not written." if kind == SAVE else "The file was not read.")
