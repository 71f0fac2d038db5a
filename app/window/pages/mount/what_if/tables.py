"""The rows in tables: as the keyway stands and each at its best, or each over a season."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHeaderView, QTableView, QWidget

from app.window.look.scheme import font
from app.window.widgets.tables import WordsModel, dress_table

_ROW_PX = 24


class RowsTable(QTableView):
    """Some rows of words; the first column takes what room is left.

    Signals:
        row_chosen(int): another row is chosen by hand.
    """

    row_chosen = Signal(int)

    def __init__(
        self, name: str, heads: tuple[str, ...], tips: tuple[str, ...], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.words = WordsModel(self)
        self.words.headings, self.words.tips = heads, tips
        self.words.right = frozenset(range(1, len(heads)))
        self.setModel(self.words)
        dress_table(self, name, _ROW_PX)
        self.setFont(font(10))
        self.setWordWrap(False)
        header = self.horizontalHeader()
        header.setFont(font(9))
        header.setHighlightSections(False)
        header.setMinimumSectionSize(40)
        header.setStyleSheet("QHeaderView::section { padding: 4px 3px; }")  # many columns, few words
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.selectionModel().currentRowChanged.connect(lambda now, _before: self._tell(now.row()))
        self.show_lines((), 3)

    def show_lines(self, lines: Sequence[Sequence[str]], most: int) -> None:
        """Other rows, with room for so many at most."""
        self.words.show_lines(lines)
        self.make_room(most)

    def make_room(self, most: int) -> None:
        """As high as its rows, up to so many."""
        rows = min(max(self.words.rows(), 2), most)
        head = self.horizontalHeader().sizeHint().height()
        self.setFixedHeight(head + _ROW_PX * rows + 2 * self.frameWidth())

    def _tell(self, row: int) -> None:
        if row >= 0:
            self.row_chosen.emit(row)

    @property
    def chosen(self) -> int:
        """The chosen row; -1 for none."""
        rows = self.selectionModel().selectedRows()
        return rows[0].row() if rows else -1

    def choose(self, row: int) -> None:
        """Choose a row, without telling it."""
        if 0 <= row < self.words.rows() and row != self.chosen:
            kept = self.blockSignals(True)
            self.selectRow(row)
            self.blockSignals(kept)
