"""The Site page with the window of other fields, as its user sees it."""

from __future__ import annotations

import threading
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog

from app.window.pages.site.fields import state
from app.window.pages.site.fields.dialog import FieldsDialog
from core.base.errors import Cancelled
from core.plan.document import Plan
from core.plan.storage import write_plan
from tests.app.window.page_object_base import Hand
from tests.app.window.pages.site.page_object import SiteBench

#: Longer than any wait here takes.
_PATIENCE_MS = 20_000


class FieldsHand(Hand):
    """Opens the window, adds files, presses and reads."""

    def __init__(self, qtbot, plan: Plan, folder: Path) -> None:
        super().__init__(qtbot)
        self.site = SiteBench(qtbot, plan, with_result=False)
        self.folder = folder

    def open(self) -> FieldsDialog:
        """Press the button; the dialog for files that comes with it is left without a choice."""
        self.click(self.site.page.place.compare)
        for asking in self.asking:
            asking.reject()
        return self.dialog

    @property
    def dialog(self) -> FieldsDialog:
        found = self.site.page.findChild(FieldsDialog)
        assert found is not None
        return found

    @property
    def asking(self) -> list[QFileDialog]:
        """Dialogs for files that are open."""
        return [one for one in self.dialog.findChildren(QFileDialog) if one.isVisible()]

    def file(self, plan: Plan, name: str) -> Path:
        """A plan in a file."""
        path = self.folder / f"{name}.northkey.json"
        write_plan(path, plan)
        return path

    def choose_files(self, *paths: Path) -> None:
        """Ask for files and choose these, as the dialog for files tells it."""
        self.click(self.dialog.add_button)
        (asking,) = self.asking
        asking.filesSelected.emit([str(path) for path in paths])
        asking.reject()
        self.qtbot.waitUntil(lambda: not self.site.runner.under_way(state.READ), timeout=_PATIENCE_MS)

    def wait(self) -> None:
        """Until there is an answer for what is asked now."""
        self.qtbot.waitUntil(lambda: self.dialog.fields.comparison is not None, timeout=_PATIENCE_MS)
        self.qtbot.waitUntil(lambda: not self.site.runner.busy_words, timeout=_PATIENCE_MS)

    @property
    def cells(self) -> list[list[str]]:
        """The table as it is shown."""
        model = self.dialog.table.model()
        rows, columns = range(model.rowCount()), range(model.columnCount())
        return [[model.index(row, column).data() for column in columns] for row in rows]

    def spoken(self, row: int, column: int) -> str:
        return self.dialog.table.model().index(row, column).data(Qt.ItemDataRole.AccessibleTextRole)

    def choose(self, row: int) -> None:
        self.click_cell(self.dialog.table, self.dialog.table.model().index(row, 0))

    def close(self) -> None:
        self.site.close()


class Held:
    """Stands in for the comparison: it begins, tells how far it is, and goes on only when it is let."""

    def __init__(self, monkeypatch) -> None:
        self._real = state.compare
        self.let_go = threading.Event()
        self.ended = threading.Event()
        monkeypatch.setattr(state, "compare", self._compare)

    def _compare(self, plans, memo, progress):
        while not self.let_go.wait(0.002):
            if not progress(1, 8, "field 1 of 2, waiting"):
                self.ended.set()
                raise Cancelled
        return self._real(plans, memo, progress)
