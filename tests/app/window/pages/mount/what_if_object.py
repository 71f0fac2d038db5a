"""The window of changed mounts as its user handles it."""

from __future__ import annotations

import threading

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox

from app.window.pages.mount.what_if import state
from app.window.pages.mount.what_if.dialog import WhatIfDialog
from app.window.pages.mount.what_if.tables import RowsTable
from core.base.errors import Cancelled
from core.plan.document import Plan
from core.what_if.changes import Change
from tests.app.window.page_object_base import Hand
from tests.app.window.pages.mount.page_object import MountBench

_PATIENCE_MS = 20_000


class WhatIfHand(Hand):
    """Opens it, ticks, types, presses and reads."""

    def __init__(self, qtbot, plan: Plan) -> None:
        super().__init__(qtbot)
        self.bench = MountBench(qtbot, plan)
        self.page, self.document = self.bench.page, self.bench.document
        self.failed: list[str] = []
        self.bench.runner.failed.connect(lambda _kind, error: self.failed.append(str(error)))
        self.click(self.page.what_if)
        (self.dialog,) = self.page.findChildren(WhatIfDialog)

    def box(self, change: Change) -> QCheckBox:
        return next(group.boxes[change] for group in self.dialog.ticks.groups if change in group.boxes)

    def tick(self, *changes: Change) -> None:
        for change in changes:
            box = self.box(change)
            assert box.isEnabled(), change.name
            box.click()

    def type_other(self, key: str, text: str) -> None:
        """Another value of a group, by the key of its number."""
        self.type_into(self.dialog.ticks.numbers[key].other, text)

    def ask(self) -> None:
        self.click(self.dialog.ask_button)

    def answered(self) -> None:
        now = self.dialog.now
        fresh = lambda: now.asked is not None and now.asked.changes == now.changes  # noqa: E731
        self.qtbot.waitUntil(lambda: fresh() and not now.working, timeout=_PATIENCE_MS)

    def cells(self, table: RowsTable) -> list[list[str]]:
        words = table.words
        return [
            [words.index(row, column).data() for column in range(words.columnCount())]
            for row in range(words.rowCount())
        ]

    def choose(self, table: RowsTable, row: int) -> None:
        self.click_cell(table, table.words.index(row, 0))

    def close(self) -> None:
        self.bench.close()

    def press_escape(self) -> None:
        self.qtbot.keyClick(self.dialog, Qt.Key.Key_Escape)


class Held:
    """Stands in for the study: it begins, tells how far it is, and goes on only when it is let."""

    def __init__(self, monkeypatch) -> None:
        self._real = state.what_if_evening
        self.let_go = threading.Event()
        self.ended = threading.Event()
        monkeypatch.setattr(state, "what_if_evening", self._study)

    def _study(self, plan, changes, memo, progress):
        while not self.let_go.wait(0.002):
            if not progress(1, 3, "row 2 of 3, waiting"):
                self.ended.set()
                raise Cancelled
        return self._real(plan, changes, memo, progress)
