"""The log window and the hands on it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app.window.pages.sheet.log.cells import RowCells
from app.window.pages.sheet.log.dialog import LogDialog
from app.window.pages.sheet.page import SheetPage
from core.log.model import LogEntry
from core.plan.document import Plan
from tests.app.window.page_object_base import Hand


class LogHand(Hand):
    """Opens the log from a Sheet page."""

    def __init__(self, page: SheetPage, qtbot) -> None:
        super().__init__(qtbot)
        self.page, self.document = page, page.context.document
        page.log_button.click()
        (self.dialog,) = page.findChildren(LogDialog)

    @property
    def plan(self) -> Plan:
        return self.document.plan

    @property
    def focused(self) -> QWidget | None:
        return self.dialog.focusWidget()

    @property
    def log(self) -> tuple[LogEntry, ...]:
        return self.plan.log

    @property
    def cells(self) -> list[RowCells]:
        return self.dialog.table.cells

    def key(self, widget, key: Qt.Key) -> None:
        self.qtbot.keyClick(widget, key)

    def wait_for_effect(self) -> str:
        """The sentence on the correction, once it is there."""
        self.qtbot.waitUntil(lambda: self.dialog.effect.text() != "Fitting...", timeout=30_000)
        return str(self.dialog.effect.text())

    def read(self, path: Path) -> str:
        """Read a file; what is told, unless a question is asked first."""
        self.dialog.state.setText("")
        self.dialog.files.read(path)
        self.qtbot.waitUntil(
            lambda: bool(self.dialog.state.text()) or self.dialog.files.question is not None, timeout=30_000
        )
        return str(self.dialog.state.text())

    def save(self, path: Path) -> str:
        self.dialog.files.save(path)
        self.qtbot.waitUntil(lambda: self.dialog.state.text().startswith("Saved"), timeout=30_000)
        return path.read_text("utf-8")
