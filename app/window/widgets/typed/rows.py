"""Rows of a list of the plan: typed in, added to and removed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.widgets.fields import LineField, NumberField
from app.window.widgets.labels import heading, push_button, second
from app.window.widgets.typed.values import ResetButton, show_assumed
from core.base.model import Model
from core.plan.quantities import QUANTITIES

_FIELD_PX = 56


class RowTable(QWidget):
    """Rows under heads that are made again when their number changes.

    Signals:
        add_wanted(): one more row.
        remove_wanted(int): without this row.
        reset_wanted(): back to the default.
    """

    add_wanted = Signal()
    remove_wanted = Signal(int)
    reset_wanted = Signal()

    def __init__(self, title: str, heads: tuple[str, ...], one: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heads, self.one = heads, one
        self.removers: list[QToolButton] = []
        self.add = push_button(f"Add {one}", self.add_wanted.emit, tip="One more row, below the others")
        self.reset = ResetButton(title)
        self.reset.clicked.connect(self.reset_wanted)
        self.top = QHBoxLayout()
        self.top.addWidget(heading(title, 12))
        self.top.addStretch(1)
        self.top.addWidget(self.reset)
        self.body = QWidget()
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(8)
        self.column.addLayout(self.top)
        self.column.addWidget(self.body)
        self.column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)

    def rebuild(self, count: int) -> None:
        """Empty rows; those who fill them connect them."""
        fresh = QWidget()
        grid = QGridLayout(fresh)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(6)
        for place, head in enumerate(self.heads):
            grid.addWidget(second(head, wraps=False), 0, place)
        self.removers = []
        for row in range(count):
            self.fill(grid, row)
            remover = QToolButton()
            remover.setText("Remove")
            remover.setToolTip("Take this row out; undo brings it back")
            remover.clicked.connect(self._remover(row))
            grid.addWidget(remover, row + 1, len(self.heads))
            self.removers.append(remover)
        self.stretch(grid)
        self.column.replaceWidget(self.body, fresh)
        self.body.hide()
        self.body.deleteLater()
        self.body = fresh

    def _remover(self, row: int) -> Callable[[], None]:
        return lambda: self.remove_wanted.emit(row)

    def fill(self, grid: QGridLayout, row: int) -> None:
        """Put one row's widgets into the grid."""
        raise NotImplementedError

    def stretch(self, grid: QGridLayout) -> None:
        """Give the spare width to a column."""
        grid.setColumnStretch(len(self.heads) - 1, 1)


class NumberTable(RowTable):
    """Rows of numbers of one list of the plan.

    Signals:
        typed(int row, str key, float, LineField): another number, and the field it was typed into.
    """

    typed = Signal(int, str, float, LineField)

    def __init__(self, title: str, one: str, path: str, columns: tuple[tuple[str, str], ...]) -> None:
        """For a list.

        Args:
            title: over the rows. one: of them, with its article.
            path: the list's key path.
            columns: the key of each number, and its head.
        """
        super().__init__(title, tuple(head for _key, head in columns), one)
        self.path, self.columns = path, columns
        self.numbers: list[dict[str, NumberField]] = []
        self.reset.hide()

    @property
    def name(self) -> str:
        """The list's own key."""
        return self.path.rpartition(".")[2]

    def fill(self, grid: QGridLayout, row: int) -> None:
        self.fill_numbers(grid, row, 0)

    def fill_numbers(self, grid: QGridLayout, row: int, first: int) -> None:
        """The numbers, from a column on."""
        fields = {}
        for place, (key, head) in enumerate(self.columns):
            quantity = QUANTITIES[f"{self.path}.{key}"]
            field = NumberField(f"{head} of {self.one.split()[-1]} {row + 1}", "", 1, quantity=quantity)
            field.setFixedWidth(_FIELD_PX)
            field.value_edited.connect(
                lambda value, key=key, field=field: self.typed.emit(row, key, value, field)
            )
            grid.addWidget(field, row + 1, first + place, Qt.AlignmentFlag.AlignLeft)
            fields[key] = field
        self.numbers.append(fields)

    def stretch(self, grid: QGridLayout) -> None:
        grid.setColumnStretch(len(self.heads) + 1, 1)

    def show_rows(self, rows: Sequence[Model], scheme: Scheme) -> None:
        """The plan's rows."""
        if len(rows) != len(self.numbers):
            self.numbers = []
            self.begin()
            self.rebuild(len(rows))
        for row, shown in enumerate(rows):
            for key, field in self.numbers[row].items():
                field.show_value(getattr(shown, key))
                show_assumed(field, key in shown.model_fields_set, scheme)
            self.removers[row].setAccessibleName(f"Remove {self.one.split()[-1]} {row + 1}")

    def begin(self) -> None:
        """The rows are about to be made again."""
