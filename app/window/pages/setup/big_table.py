"""Tables with rows high enough for a gloved finger."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHeaderView, QSizePolicy, QTableView

from app.window.look.scheme import font
from app.window.pages.setup.big import TEXT_PT
from app.window.widgets.tables import WordsModel, dress_table


class BigTable(QTableView):
    """Rows of words, high enough for a gloved finger."""

    def __init__(self, name: str, model: WordsModel, row_px: int = 36, even: bool = False) -> None:
        """A table; ``even``: its columns share the width alike."""
        super().__init__()
        self.rows = model
        self.setModel(model)
        dress_table(self, name, row_px)
        self.setFont(font(TEXT_PT))
        self.horizontalHeader().setFont(font(10))
        self.horizontalHeader().setHighlightSections(False)
        mode = QHeaderView.ResizeMode
        self.horizontalHeader().setSectionResizeMode(mode.Stretch if even else mode.ResizeToContents)
        self.horizontalHeader().setSectionResizeMode(len(model.headings) - 1, mode.Stretch)
        self.setWordWrap(False)
        self.setMinimumHeight(100)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        return QSize(300, self.minimumHeight())  # it takes what is left

    def show_lines(self, lines: Sequence[Sequence[str]]) -> None:
        """Other rows; the chosen one stays where it is."""
        if list(lines) == list(self.rows.lines):
            return
        kept = self.chosen
        self.rows.show_lines(lines)
        if self.wordWrap():
            self.resizeRowsToContents()
        if 0 <= kept < len(lines):
            self.selectRow(kept)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.wordWrap():
            self.resizeRowsToContents()

    @property
    def chosen(self) -> int:
        """The row that is chosen, -1 for none."""
        rows = self.selectionModel().selectedRows()
        return rows[0].row() if rows else -1


def words_model(*headings: str, right: Sequence[int] = ()) -> WordsModel:
    """A table's model under these headings."""
    model = WordsModel()
    model.headings = headings
    model.right = frozenset(right)
    return model
