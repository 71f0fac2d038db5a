"""What was refused, and why: kept in sight until it is dismissed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QHeaderView, QTableView, QVBoxLayout, QWidget

from app.window.widgets.kept_layout import keep_layout
from app.window.widgets.labels import heading, push_button
from app.window.widgets.plain import tip
from app.window.widgets.tables import Index, SortProxy, WordsModel, dress_table, sort_by_heads
from core.base.errors import ElementsError, PropagationError


def refusal_line(error: ElementsError | PropagationError) -> tuple[str, str, str, str]:
    """File, place, field and reason of a refusal; of this plan where a set of it cannot be propagated."""
    if isinstance(error, ElementsError):
        return error.file.rpartition("/")[2], error.place, error.field, error.reason
    return "this plan", error.satellite, "", error.reason


class _RefusalModel(WordsModel):
    headings = ("File", "Place", "Field", "Reason")

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.ToolTipRole:
            return tip(self.lines[index.row()][index.column()])
        return super().data(index, role)


class Refusals(QWidget):
    """The list with its heading; hidden while there is nothing in it.

    Signals:
        dismissed(): the refusals of imports were taken note of.
    """

    dismissed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._of_imports: tuple[ElementsError, ...] = ()
        self._of_plan: tuple[PropagationError, ...] = ()
        self.setAccessibleName("refused element sets")
        self.title = heading("", 11)
        self.dismiss = push_button(
            "&Dismiss",
            self._dismiss,
            "Dismiss the refusals of imports",
            "Take note of them; those of the plan's own sets stay",
        )
        self.model = _RefusalModel(self)
        self.table = QTableView()
        self.table.setModel(SortProxy(self.model, self))
        dress_table(self.table, "refused element sets and why", many=True)
        sort_by_heads(self.table)
        keep_layout(self.table, "refusals_columns")
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.table.setWordWrap(False)
        for column, width in enumerate((190, 110, 150)):
            self.table.setColumnWidth(column, width)
        top = QHBoxLayout()
        top.addWidget(self.title)
        top.addStretch(1)
        top.addWidget(self.dismiss)
        column_box = QVBoxLayout(self)
        column_box.setContentsMargins(0, 0, 0, 0)
        column_box.addLayout(top)
        column_box.addWidget(self.table)
        self._show()

    def add(self, errors: Sequence[ElementsError]) -> None:
        """Refusals of an import, below those that are there."""
        self._of_imports = (*self._of_imports, *errors)
        self._show()

    def show_plan(self, errors: Sequence[PropagationError]) -> None:
        """Sets of the plan that cannot be propagated; they go when the set goes."""
        if tuple(errors) != self._of_plan:
            self._of_plan = tuple(errors)
            self._show()

    @property
    def waiting(self) -> int:
        """How many refusals stand here."""
        return len(self._of_imports) + len(self._of_plan)

    def _dismiss(self) -> None:
        self._of_imports = ()
        self._show()
        self.dismissed.emit()

    def _show(self) -> None:
        lines = [refusal_line(error) for error in self._of_plan]
        self.model.show_lines(lines + [refusal_line(error) for error in self._of_imports])
        self.title.setText(f"Refused: {self.waiting}")
        self.dismiss.setEnabled(bool(self._of_imports))
        self.setVisible(bool(self.waiting))
