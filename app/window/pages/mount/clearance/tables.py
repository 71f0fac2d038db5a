"""The booms, legs and guys: rows of lengths to type in."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout

from app.window.look.scheme import Scheme
from app.window.look.style import combo_style
from app.window.pages.mount.tables import RowTable
from app.window.pages.mount.values import show_assumed
from app.window.widgets.fields import LineField, NumberField, TextField
from app.window.widgets.wheel import wheel_wants_focus
from core.mount.clearance.lengths import Boom, Guy, Leg
from core.plan.quantities import QUANTITIES

_ELEMENTS = ("horizontal", "vertical", "X")
_FIELD_PX = 56


class LengthTable(RowTable):
    """Rows of numbers of one list of the lengths.

    Signals:
        typed(int row, str key, float, LineField): another number, and the field it was typed into.
    """

    typed = Signal(int, str, float, LineField)

    def __init__(self, title: str, one: str, name: str, columns: tuple[tuple[str, str], ...]) -> None:
        super().__init__(title, tuple(head for _key, head in columns), one)
        self.name, self.columns = name, columns
        self.numbers: list[dict[str, NumberField]] = []
        self.reset.hide()

    def fill(self, grid: QGridLayout, row: int) -> None:
        self.fill_numbers(grid, row, 0)

    def fill_numbers(self, grid: QGridLayout, row: int, first: int) -> None:
        """The numbers, from a column on."""
        fields = {}
        for place, (key, head) in enumerate(self.columns):
            quantity = QUANTITIES[f"clearance.{self.name}.{key}"]
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

    def show_rows(self, rows: tuple[Boom, ...] | tuple[Leg, ...] | tuple[Guy, ...], scheme: Scheme) -> None:
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


class BoomTable(LengthTable):
    """The booms, each with its name and how its elements lie.

    Signals:
        renamed(int, str, LineField), laid(int, str): another name, elements that lie otherwise.
    """

    renamed = Signal(int, str, LineField)
    laid = Signal(int, str)

    def __init__(self) -> None:
        columns = (
            ("side_mm", "side"),
            ("front_mm", "front"),
            ("tail_mm", "tail"),
            ("front_half_element_mm", "1/2 el. front"),
            ("tail_half_element_mm", "1/2 el. tail"),
        )
        super().__init__("Booms, mm from the crossboom, left negative", "a boom", "booms", columns)
        self.heads = ("name", *self.heads, "elements")
        self.names: list[TextField] = []
        self.lying: list[QComboBox] = []

    def begin(self) -> None:
        self.names, self.lying = [], []

    def fill(self, grid: QGridLayout, row: int) -> None:
        name = TextField(f"Name of boom {row + 1}", 96)
        name.setFixedWidth(96)
        name.text_edited.connect(lambda text: self.renamed.emit(row, text, name))
        grid.addWidget(name, row + 1, 0)
        self.fill_numbers(grid, row, 1)
        lying = QComboBox()
        lying.addItems(_ELEMENTS)
        lying.setAccessibleName(f"Elements of boom {row + 1}")
        wheel_wants_focus(lying)
        lying.setMaximumWidth(96)
        lying.activated.connect(lambda index: self.laid.emit(row, _ELEMENTS[index]))
        grid.addWidget(lying, row + 1, len(self.columns) + 1)
        self.names.append(name)
        self.lying.append(lying)

    def show_booms(self, booms: tuple[Boom, ...], scheme: Scheme) -> None:
        """The plan's booms."""
        self.show_rows(booms, scheme)
        for name, lying, boom in zip(self.names, self.lying, booms, strict=True):
            name.show_text(boom.name)
            lying.setCurrentText(boom.elements)
            lying.setStyleSheet(combo_style(scheme, "elements" in boom.model_fields_set))


def leg_table() -> LengthTable:
    """The legs."""
    columns = (
        ("from_keyway_deg", "deg from keyway"),
        ("radius_mm", "foot radius"),
        ("top_radius_mm", "top radius"),
        ("top_height_mm", "top height"),
    )
    return LengthTable("Legs, mm", "a leg", "legs", columns)


def guy_table() -> LengthTable:
    """The guys."""
    columns = (
        ("from_keyway_deg", "deg from keyway"),
        ("height_mm", "height"),
        ("peg_radius_mm", "peg radius"),
    )
    return LengthTable("Guys, mm", "a guy", "guys", columns)
