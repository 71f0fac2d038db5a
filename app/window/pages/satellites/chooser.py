"""A large element file is not taken whole: the sets wanted of it are found and ticked here."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import Scheme
from app.window.pages.satellites.roster_model import SHARE_ROLE
from app.window.pages.satellites.want_box import WantBox
from app.window.widgets.labels import heading, push_button, second
from app.window.widgets.tables import GridModel, Index, SortProxy, dress_table, sort_by_heads
from core.elements.model import ElementSet


class ChoiceModel(GridModel):
    """Element sets that can be ticked, those that match what is sought.

    Signals:
        chosen_changed(): other sets are ticked.
    """

    chosen_changed = Signal()
    headings = ("Take", "Name", "Number", "Epoch, UTC")
    right = frozenset({2})

    def __init__(
        self, sets: Sequence[ElementSet], chosen: Collection[int], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.sets = tuple(sets)
        self.chosen = {elements.norad_id for elements in sets} & set(chosen)
        self._keys = [f"{elements.name.casefold()} {elements.norad_id}" for elements in sets]
        self.shown = list(range(len(self.sets)))

    def rows(self) -> int:
        return len(self.shown)

    def seek(self, text: str) -> None:
        """Show the sets whose name or number holds each word of the text."""
        words = text.casefold().split()
        self.beginResetModel()
        self.shown = [place for place, key in enumerate(self._keys) if all(word in key for word in words)]
        self.endResetModel()

    def choose_shown(self, chosen: bool) -> None:
        """Tick all that is shown, or none of it."""
        numbers = {self.sets[place].norad_id for place in self.shown}
        self.chosen = self.chosen | numbers if chosen else self.chosen - numbers
        self.renew_cells()
        self.chosen_changed.emit()

    def sort_key(self, row: int, column: int) -> Any:
        elements = self.sets[self.shown[row]]
        keys = (elements.norad_id in self.chosen, elements.name.casefold(), elements.norad_id, elements.epoch)
        return keys[column]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        elements = self.sets[self.shown[index.row()]]
        if role == Qt.ItemDataRole.DisplayRole:
            epoch = elements.epoch[:16].replace("T", " ")
            return ("", elements.name, str(elements.norad_id), epoch)[index.column()]
        if role == SHARE_ROLE:
            return 2 if elements.norad_id in self.chosen else 0
        if role == Qt.ItemDataRole.AccessibleTextRole and index.column() == 0:
            return f"{elements.name}, {'chosen' if elements.norad_id in self.chosen else 'not chosen'}"
        return self.alignment(index.column()) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        if index.column() != 0 or role != Qt.ItemDataRole.EditRole:
            return False
        number = self.sets[self.shown[index.row()]].norad_id
        if value:
            self.chosen.add(number)
        else:
            self.chosen.discard(number)
        self.dataChanged.emit(self.index(index.row(), 0), self.index(index.row(), 3))
        self.chosen_changed.emit()
        return True


class Chooser(QDialog):
    """Asks which sets of a reading to take in.

    Signals:
        taken(tuple of ElementSet): in the order of the file.
    """

    taken = Signal(object)

    def __init__(
        self,
        sets: Sequence[ElementSet],
        chosen: Collection[int],
        scheme: Scheme,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.scheme = scheme
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Which satellites?")
        self.resize(640, 620)
        self.model = ChoiceModel(sets, chosen, self)
        self.find_field = QLineEdit()
        self.find_field.setPlaceholderText("Find by name or number")
        self.find_field.setAccessibleName("Find a set by name or number")
        self.find_field.setClearButtonEnabled(True)
        self.find_field.textChanged.connect(self._seek)
        self.table = self._table()
        self.words = heading("", 10, "how many are chosen")
        self.all_shown = push_button(
            "&All shown", lambda: self.model.choose_shown(True), tip="Tick every set that is shown"
        )
        self.none_shown = push_button(
            "&None shown", lambda: self.model.choose_shown(False), tip="Untick every set that is shown"
        )
        for button in (self.all_shown, self.none_shown):
            button.setAutoDefault(False)  # Enter takes the sets in
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.take = buttons.addButton("Take in", QDialogButtonBox.ButtonRole.AcceptRole)
        self.take.setAccessibleName("Take in")
        self.take.setToolTip("Take the ticked sets into the plan (Enter)")
        buttons.button(QDialogButtonBox.StandardButton.Cancel).setToolTip("Take none of them (Esc)")
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        row = QHBoxLayout()
        row.addWidget(self.find_field, 1)
        row.addWidget(self.all_shown)
        row.addWidget(self.none_shown)
        column = QVBoxLayout(self)
        column.addWidget(second(f"{len(sets):,} element sets were read. Tick those to take into the plan."))
        column.addLayout(row)
        column.addWidget(self.table, 1)
        column.addWidget(self.words)
        column.addWidget(buttons)
        self.model.chosen_changed.connect(self._count)
        self._count()
        self.find_field.setFocus()

    def _table(self) -> QTableView:
        table = QTableView()
        table.setModel(SortProxy(self.model, self))
        dress_table(table, "element sets read; space ticks one")
        sort_by_heads(table)
        table.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        for column, width in ((0, 56), (2, 100), (3, 150)):
            table.setColumnWidth(column, width)
        boxes = WantBox(table)
        boxes.scheme = self.scheme
        table.setItemDelegate(boxes)
        return table

    def _seek(self, text: str) -> None:
        self.model.seek(text)
        self._count()

    def _count(self) -> None:
        chosen, shown, every = len(self.model.chosen), len(self.model.shown), len(self.model.sets)
        self.words.setText(f"{chosen:,} chosen, {shown:,} of {every:,} shown")
        self.take.setText(f"Take {chosen:,} in")
        self.take.setEnabled(chosen > 0)

    def accept(self) -> None:
        self.taken.emit(tuple(s for s in self.model.sets if s.norad_id in self.model.chosen))
        super().accept()
