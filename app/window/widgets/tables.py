"""Tables: the model of a grid of cells under headings, and the plain dress that every table wears."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QTableView

Index = QModelIndex | QPersistentModelIndex
LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


class GridModel(QAbstractTableModel):
    """Cells under headings; a subclass tells how many rows there are and what a cell holds.

    Class attributes:
        headings: a word for each column.
        tips: what each column means; none where the words say it.
        right: columns set flush right.
    """

    headings: tuple[str, ...] = ()
    tips: tuple[str, ...] = ()
    right: frozenset[int] = frozenset()

    def rows(self) -> int:
        """How many rows there are."""
        raise NotImplementedError

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else self.rows()

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.headings)

    def alignment(self, column: int) -> int:
        """How a column is set."""
        return RIGHT if column in self.right else LEFT

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.headings[section]
        if role == Qt.ItemDataRole.ToolTipRole and self.tips:
            return self.tips[section]
        return self.alignment(section) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def renew_cells(self) -> None:
        """The same rows hold other things: selection and scroll stay."""
        if self.rows():
            self.dataChanged.emit(self.index(0, 0), self.index(self.rows() - 1, len(self.headings) - 1))


def dress_table(table: QTableView, name: str, row_px: int = 0, many: bool = False) -> None:
    """Whole rows are selected, nothing is ruled, and Tab leaves the table.

    Args:
        table: a view or widget.
        name: its accessible name.
        row_px: height of its rows; 0 leaves it to the style.
        many: several rows may be selected at once.
    """
    table.setAccessibleName(name)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    if not many:
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setShowGrid(False)
    table.setTabKeyNavigation(False)
    table.verticalHeader().hide()
    if row_px:
        table.verticalHeader().setDefaultSectionSize(row_px)
