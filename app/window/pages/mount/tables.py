"""The holes of the adapter and the antennas on the boom: rows to type in, to add and to remove."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QLabel, QRadioButton, QWidget

from app.window.look.scheme import Scheme
from app.window.widgets.fields import LineField, NumberField, TextField
from app.window.widgets.labels import second
from app.window.widgets.typed.rows import RowTable
from app.window.widgets.typed.values import show_assumed
from core.base.angles import wrap_360
from core.base.edits import is_given
from core.plan.document import Plan
from core.plan.quantities import QUANTITIES


class HoleTable(RowTable):
    """The index holes.

    Signals:
        renamed(int, str, LineField), moved(int, float, LineField): what was typed in a row, and where.
        used(int): the row that was chosen.
    """

    renamed = Signal(int, str, LineField)
    moved = Signal(int, float, LineField)
    used = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        heads = ("in use", "name", "offset, deg", "drilled, deg from the datum mark")
        super().__init__("Index holes", heads, "a hole", parent)
        self.uses: list[QRadioButton] = []
        self.names: list[TextField] = []
        self.offsets: list[NumberField] = []
        self.drilled: list[QLabel] = []
        self.group = QButtonGroup(self)

    def fill(self, grid: QGridLayout, row: int) -> None:
        use, name = QRadioButton(), TextField(f"Name of hole {row + 1}", 72)
        offset, drilled = _offset_field(row), second("")
        offset.setMaximumWidth(90)
        fields: tuple[QWidget, ...] = (use, name, offset)
        for widget in fields:
            widget.setProperty("part", f"hole {row}")
        use.setToolTip("The pin goes through this hole")
        self.group.addButton(use, row)
        use.clicked.connect(lambda _on: self.used.emit(row))
        name.text_edited.connect(lambda text: self.renamed.emit(row, text, name))
        offset.value_edited.connect(lambda value: self.moved.emit(row, value, offset))
        cells: tuple[QWidget, ...] = (use, name, offset, drilled)
        for place, cell in enumerate(cells):
            grid.addWidget(cell, row + 1, place)
        self.uses.append(use)
        self.names.append(name)
        self.offsets.append(offset)
        self.drilled.append(drilled)

    def refresh(self, plan: Plan, scheme: Scheme) -> None:
        """Show the plan's holes."""
        holes = plan.mount.index_holes
        if len(holes) != len(self.names):
            self.uses, self.names, self.offsets, self.drilled = [], [], [], []
            self.rebuild(len(holes))
        given = is_given(plan, "mount.index_holes")
        for row, hole in enumerate(holes):
            self.uses[row].setChecked(hole.name == plan.mount.index_hole)
            self.uses[row].setAccessibleName(f"Hole {hole.name} in use")
            self.names[row].show_text(hole.name)
            self.offsets[row].show_value(hole.offset_deg)
            show_assumed(self.offsets[row], given, scheme)
            above, below = hole.drilled_deg, wrap_360(hole.offset_deg)
            self.drilled[row].setText(f"{above:g} clockwise from above, {below:g} from below")
            self.removers[row].setEnabled(len(holes) > 1)
            self.removers[row].setAccessibleName(f"Remove hole {hole.name}")
        self.reset.show_state(given, "one hole A at 0", scheme)


def _offset_field(row: int) -> NumberField:
    quantity = QUANTITIES["mount.index_holes.offset_deg"]
    return NumberField(f"Offset of hole {row + 1}", "degrees", 4, quantity=quantity)


class AntennaTable(RowTable):
    """The antennas.

    Signals:
        renamed(int, str, LineField): another name, and the field it was typed into.
        typed(int, str key, float, LineField): another number, likewise.
    """

    renamed = Signal(int, str, LineField)
    typed = Signal(int, str, float, LineField)

    _NUMBERS = (
        ("frequency_hz", "Frequency", "megahertz", "band"),
        ("beamwidth_deg", "Beamwidth", "degrees", "beam"),
        ("skew_deg", "Skew", "degrees", "skew"),
    )

    def __init__(self, parent: QWidget | None = None) -> None:
        heads = ("name", "frequency, MHz", "beamwidth, deg", "skew, deg")
        super().__init__("Antennas", heads, "an antenna", parent)
        self.names: list[TextField] = []
        self.numbers: list[dict[str, NumberField]] = []

    def fill(self, grid: QGridLayout, row: int) -> None:
        name = TextField(f"Name of antenna {row + 1}", 120)
        name.setFixedWidth(120)
        name.setProperty("part", f"beam {row}")
        name.text_edited.connect(lambda text: self.renamed.emit(row, text, name))
        grid.addWidget(name, row + 1, 0, Qt.AlignmentFlag.AlignLeft)
        fields = {}
        for place, (key, words, unit, part) in enumerate(self._NUMBERS, start=1):
            quantity = QUANTITIES[f"antennas.{key}"]
            field = NumberField(f"{words} of antenna {row + 1}", unit, 6, quantity=quantity)
            field.setFixedWidth(100)
            field.setProperty("part", f"{part} {row}")
            field.value_edited.connect(
                lambda value, key=key, field=field: self.typed.emit(row, key, value, field)
            )
            grid.addWidget(field, row + 1, place, Qt.AlignmentFlag.AlignLeft)
            fields[key] = field
        self.names.append(name)
        self.numbers.append(fields)

    def refresh(self, plan: Plan, scheme: Scheme) -> None:
        """Show the plan's antennas."""
        antennas = plan.antennas
        if len(antennas) != len(self.names):
            self.names, self.numbers = [], []
            self.rebuild(len(antennas))
        given = is_given(plan, "antennas")
        for row, antenna in enumerate(antennas):
            self.names[row].show_text(antenna.name)
            megahertz = antenna.frequency_hz / 1e6
            shown = {
                "frequency_hz": megahertz if megahertz else None,
                "beamwidth_deg": antenna.beamwidth_deg,
                "skew_deg": antenna.skew_deg,
            }
            for key, field in self.numbers[row].items():
                field.show_value(shown[key])
                show_assumed(field, given and key in antenna.model_fields_set, scheme)
            self.numbers[row]["frequency_hz"].setPlaceholderText("not told")
            self.removers[row].setEnabled(len(antennas) > 1)
            self.removers[row].setAccessibleName(f"Remove antenna {antenna.name}")
        self.reset.show_state(given, "one of 30 deg", scheme)
