"""The fields in a table: the open plan first, each with its figures, those of a plan before marked."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import QHeaderView, QTableView, QWidget

from app.window.look.scheme import font
from app.window.pages.site.fields.state import FieldRow
from app.window.state.context import Context
from app.window.widgets.plain import tip
from app.window.widgets.tables import GridModel, Index, SortProxy, dress_table, sort_by_heads
from core.base.words import bearing_text, figure

_ROW_PX = 34
#: A head, five rows and the frame.
_HEIGHT_PX = 6 * _ROW_PX + 8
_NONE = "none"


class FieldModel(GridModel):
    """A row for each field."""

    headings = ("Field", "Usable, min", "Hidden, min", "Contacts", "Worth, s", "Best keyway, deg true")
    tips = (
        "The open plan first",
        "Minutes over horizon and minimum elevation: of the picks, without picks of all passes",
        "Minutes over the minimum elevation that the horizon hides",
        "Contacts of the evening, as the keyway stands",
        "What the evening is worth, as the keyway stands, in weighted seconds",
        "Where the keyway should point by the passes alone, degrees true, and the hole",
    )
    right = frozenset({1, 2, 3, 4, 5})

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.lines: tuple[FieldRow, ...] = ()

    def show_rows(self, lines: tuple[FieldRow, ...]) -> None:
        """Other rows, or other figures in the same ones."""
        if len(lines) == len(self.lines):
            self.lines = lines
            self.renew_cells()
            return
        self.beginResetModel()
        self.lines = lines
        self.endResetModel()

    def rows(self) -> int:
        return len(self.lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        line, column = self.lines[index.row()], index.column()
        words, stale = _cell(line, column), line.stale and column > 0
        shown = {
            Qt.ItemDataRole.DisplayRole: words,
            Qt.ItemDataRole.AccessibleTextRole: f"{words}, of the plan before" if stale else words,
            Qt.ItemDataRole.TextAlignmentRole: self.alignment(column),
            Qt.ItemDataRole.ToolTipRole: self.tips[column] if column else tip(words),
        }
        if stale and role == Qt.ItemDataRole.FontRole:
            slanted = QFont(font(11))
            slanted.setItalic(True)
            return slanted
        if stale and role == Qt.ItemDataRole.ForegroundRole:
            return self._context.scheme.color("faint")
        return shown.get(Qt.ItemDataRole(role))

    def sort_key(self, row: int, column: int) -> Any:
        line = self.lines[row]
        if column == 0:
            return line.name.casefold()
        return -1.0 if line.compared is None else _figure(line, column)


def _figure(line: FieldRow, column: int) -> float:
    """What a column of figures is of, and in the order of."""
    compared, place = line.compared, line.place
    assert compared is not None
    if column == 5:
        return compared.best[place].keyway_bearing_deg if compared.studied[place] else -1.0
    of = (compared.usable_s / 60.0, compared.hidden_s / 60.0, compared.contacts, compared.worth_s)
    return float(of[column - 1][place])


def _cell(line: FieldRow, column: int) -> str:
    if column == 0:
        return line.name
    if line.compared is None:
        return ""
    if column == 5:
        best = line.compared.best[line.place]
        studied = line.compared.studied[line.place]
        return f"{bearing_text(best.keyway_bearing_deg)}, hole {best.index_hole}" if studied else _NONE
    return figure(_figure(line, column), 1 if column < 3 else 0)


class FieldTable(QTableView):
    """The table; Delete wants the chosen row away.

    Signals:
        remove_wanted(): Delete was pressed.
    """

    remove_wanted = Signal()

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.grid = FieldModel(context, self)
        self.proxy = SortProxy(self.grid, self)
        self.setModel(self.proxy)
        dress_table(self, "fields side by side", _ROW_PX)
        sort_by_heads(self)
        self.setFont(font(11))
        self.setWordWrap(False)
        self.setStyleSheet("QTableView::item { padding: 0 6px; }")
        header = self.horizontalHeader()
        header.setFont(font(10))
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.setMinimumHeight(_HEIGHT_PX)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.remove_wanted.emit()
        else:
            super().keyPressEvent(event)

    @property
    def chosen(self) -> int:
        """The chosen row of the model; -1 for none."""
        rows = self.selectionModel().selectedRows()
        return self.proxy.row_of(rows[0]) if rows else -1

    def choose(self, row: int) -> None:
        """Choose a row of the model, where there is one."""
        if 0 <= row < self.grid.rows():
            self.selectRow(self.proxy.place_of(row).row())
