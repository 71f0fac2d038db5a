"""The forbidden keyway bearings, typed: a row each, and none where the ground forbids nothing."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from app.window.widgets.fields import NumberField, TextField
from app.window.widgets.labels import push_button, second
from core.base.errors import NorthkeyError
from core.mount.seat.limits import SeatLimit
from core.plan.quantities import QUANTITIES


class LimitsPart(QWidget):
    """The rows; the button that adds one stands elsewhere.

    Signals:
        add_wanted(): one more arc.
        remove_wanted(int): without this row.
        end_typed(int row, str key, float): another end of an arc.
        why_typed(int row, str): another reason.
    """

    add_wanted = Signal()
    remove_wanted = Signal(int)
    end_typed = Signal(int, str, float)
    why_typed = Signal(int, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Forbidden keyway bearings")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.add = push_button("Forbid an arc", self.add_wanted.emit, "Forbid an arc of keyway bearings")
        self.add.setToolTip("Where the keyway must not point: a rock, a wall, a leg that must stand downhill")
        self.ends: list[dict[str, NumberField]] = []
        self.whys: list[TextField] = []
        self.removers: list[QToolButton] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._body, self._kept = QWidget(), True
        self.none = second("No bearing is forbidden.", wraps=False)
        self._column.addWidget(self._body)
        self._column.addWidget(self.none)
        # As high as a row from the start, so that the first one moves nothing.
        self.none.setFixedHeight(NumberField("").sizeHint().height())

    def show_limits(self, limits: tuple[SeatLimit, ...]) -> None:
        """The plan's forbidden arcs."""
        if len(limits) != len(self.whys):
            self._build(len(limits))
        for limit, ends, why in zip(limits, self.ends, self.whys, strict=True):
            ends["from_deg"].show_value(limit.from_deg)
            ends["to_deg"].show_value(limit.to_deg)
            why.show_text(limit.why)
        self._show_none()

    def keep_row(self, kept: bool) -> None:
        """Whether the place of the first row is kept while there is none."""
        self._kept = kept
        self._show_none()

    def _show_none(self) -> None:
        self.none.setVisible(self._kept and not self.whys)
        self.setVisible(self._kept or bool(self.whys))

    def refuse(self, row: int, key: str, error: NorthkeyError) -> None:
        """Mark the field that could not be taken and say why beside it."""
        self.ends[row][key].refuse_error(error)

    def _build(self, count: int) -> None:
        fresh = QWidget()
        grid = QGridLayout(fresh)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(3, 1)
        self.ends, self.whys, self.removers = [], [], []
        for row in range(count):
            self._fill(grid, row)
        self._column.replaceWidget(self._body, fresh)
        self._body.hide()
        self._body.deleteLater()
        self._body = fresh

    def _fill(self, grid: QGridLayout, row: int) -> None:
        ends = {}
        for place, (key, words) in enumerate((("from_deg", "from"), ("to_deg", "to"))):
            name, quantity = f"Forbidden arc {row + 1} {words}", QUANTITIES[f"seat_limits.{key}"]
            field = NumberField(name, "degrees true", 1, quantity=quantity)
            field.setFixedWidth(66)
            field.value_edited.connect(lambda value, key=key: self.end_typed.emit(row, key, value))
            grid.addWidget(field, row, 2 * place)
            ends[key] = field
        grid.addWidget(second("to", wraps=False), row, 1)
        why = TextField(f"Why arc {row + 1} is forbidden", 400)
        why.setPlaceholderText("deg true; why?")
        why.text_edited.connect(lambda text: self.why_typed.emit(row, text))
        grid.addWidget(why, row, 3)
        remover = QToolButton()
        remover.setText("Remove")
        remover.setToolTip("Allow this arc again")
        remover.setAccessibleName(f"Remove forbidden arc {row + 1}")
        remover.clicked.connect(lambda: self.remove_wanted.emit(row))
        grid.addWidget(remover, row, 4)
        self.ends.append(ends)
        self.whys.append(why)
        self.removers.append(remover)
