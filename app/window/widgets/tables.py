"""Tables: the model of a grid of cells under headings, its order by a head, and the dress they all wear."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtWidgets import QAbstractItemView, QTableView, QTableWidgetItem

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

    def sort_key(self, row: int, column: int) -> Any:
        """What a column is ordered by; by default its words, whatever their case."""
        return str(self.index(row, column).data() or "").casefold()

    def renew_cells(self) -> None:
        """The same rows hold other things: selection and scroll stay."""
        if self.rows():
            self.dataChanged.emit(self.index(0, 0), self.index(self.rows() - 1, len(self.headings) - 1))


class SortProxy(QSortFilterProxyModel):
    """The rows in the order of the head that was clicked, or in their own.

    Rows stay where they are while their cells change, so that nothing moves under the hand; other rows are
    put in order as they come. Selections are kept by Qt: they are of rows, not of places.
    """

    def __init__(self, model: GridModel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._grid = model
        self._keys: list[Any] = []
        self.setDynamicSortFilter(False)
        self.setSourceModel(model)
        model.modelReset.connect(self._again)

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        if column >= 0:
            self._keys = [self._grid.sort_key(row, column) for row in range(self._grid.rows())]
        super().sort(column, order)
        self._keys = []

    def _again(self) -> None:
        if self.sortColumn() >= 0:
            self.sort(self.sortColumn(), self.sortOrder())

    def lessThan(self, left: Index, right: Index) -> bool:
        if not self._keys:  # rows that come one by one
            column = left.column()
            return bool(self._grid.sort_key(left.row(), column) < self._grid.sort_key(right.row(), column))
        return bool(self._keys[left.row()] < self._keys[right.row()])

    def row_of(self, index: Index) -> int:
        """The model's row at a place of the table."""
        return self.mapToSource(index).row()

    def place_of(self, row: int, column: int = 0) -> QModelIndex:
        """Where a row of the model stands now."""
        return self.mapFromSource(self._grid.index(row, column))


class WordsModel(GridModel):
    """Rows of words under headings."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lines: Sequence[Sequence[str]] = ()

    def show_lines(self, lines: Sequence[Sequence[str]]) -> None:
        """Other rows."""
        self.beginResetModel()
        self.lines = lines
        self.endResetModel()

    def rows(self) -> int:
        return len(self.lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.DisplayRole:
            return self.lines[index.row()][index.column()]
        return self.alignment(index.column()) if role == Qt.ItemDataRole.TextAlignmentRole else None


class SortCell(QTableWidgetItem):
    """A cell of a table widget, ordered by a key of its own and not by its words."""

    def __init__(self, words: str, key: Any) -> None:
        super().__init__(words)
        self.key = key

    def __lt__(self, other: QTableWidgetItem) -> bool:
        return bool(isinstance(other, SortCell) and self.key < other.key)


def sort_by_heads(table: QTableView) -> None:
    """A click on a head puts the rows in its order, a second one the other way round, a third one back."""
    header = table.horizontalHeader()
    header.setSortIndicatorClearable(True)
    header.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
    table.setSortingEnabled(True)


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
