"""What is told of the part: its checks, its holes, the order of work."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QHeaderView, QTableView, QVBoxLayout, QWidget

from app.window.widgets.labels import label, second
from app.window.widgets.rooms import Scrolled
from app.window.widgets.tables import WordsModel, dress_table
from core.plate.checks.check import Check
from core.plate.lines import CHECK_HEADS, check_cells, check_lines, hole_cells, hole_heads, operation_lines
from core.plate.part import PlatePart
from core.plate.words import CAUTION, DRAWING_CAUTION, SHOP_CAUTION


def _table(name: str) -> tuple[QTableView, WordsModel]:
    table = QTableView()
    model = WordsModel(table)
    table.setModel(model)
    dress_table(table, name, 23)
    return table, model


class ChecksPart(QWidget):
    """The checks, those that do not hold first; of the one chosen by what it was found."""

    def __init__(self) -> None:
        super().__init__()
        self.table, self.model = _table("checks of the part")
        self.model.headings, self.model.right = CHECK_HEADS, frozenset((2, 3, 4))
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        self.table.selectionModel().currentRowChanged.connect(lambda _now, _before: self._tell())
        self.why = label(9.5, name="by what the check was found", wraps=True)
        self.why.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.table.setMinimumHeight(90)
        self.checks: tuple[Check, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.table, 1)
        column.addWidget(self.why)

    def show_checks(self, checks: tuple[Check, ...]) -> None:
        """Other checks; the row that is chosen stays chosen by its name."""
        ordered = tuple(sorted(checks, key=lambda one: one.holds))
        if ordered == self.checks:
            return
        chosen = self.chosen
        self.checks = ordered
        self.model.show_lines([check_cells(one) for one in ordered])
        names = [one.name for one in ordered]
        self.table.selectRow(names.index(chosen.name) if chosen is not None and chosen.name in names else 0)
        self._tell()

    @property
    def chosen(self) -> Check | None:
        """The check whose row is chosen."""
        row = self.table.currentIndex().row()
        return self.checks[row] if 0 <= row < len(self.checks) else None

    @Slot()
    def _tell(self) -> None:
        chosen = self.chosen
        self.why.setText("" if chosen is None else "\n".join(check_lines(chosen)))


class HolesPart(QWidget):
    """The hole table, from above and from below, both offsets side by side."""

    def __init__(self) -> None:
        super().__init__()
        self.table, self.model = _table("holes of the part")
        self.model.right = frozenset((2, 3, *range(6, 13)))
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.table, 1)
        column.addWidget(second(DRAWING_CAUTION, 9.5))

    def show_holes(self, part: PlatePart) -> None:
        """Other holes, or other units."""
        lines = [hole_cells(one, part.plate.units) for one in part.features]
        heads = hole_heads(part.plate.units)
        if (heads, lines) != (self.model.headings, self.model.lines):
            self.model.headings = heads
            self.model.show_lines(lines)


class WorkPart(Scrolled):
    """The order of work."""

    def __init__(self) -> None:
        super().__init__("order of work")
        self.words = label(10, name="order of work", wraps=True)
        self.column.addWidget(self.words)
        self.column.addWidget(second(SHOP_CAUTION, 9.5))
        self.column.addWidget(second(CAUTION, 9.5))
        self.column.addStretch(1)

    def show_work(self, part: PlatePart) -> None:
        """Another order."""
        self.words.setText("\n\n".join("\n".join(operation_lines(one)) for one in part.operations))
