"""The booms, legs and guys: rows of lengths to type in."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout

from app.window.look.scheme import Scheme
from app.window.look.style import combo_style
from app.window.widgets.fields import LineField, TextField
from app.window.widgets.typed.rows import NumberTable
from app.window.widgets.wheel import wheel_wants_focus
from core.mount.clearance.lengths import Boom

_ELEMENTS = ("horizontal", "vertical", "X")


class BoomTable(NumberTable):
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
        super().__init__("Booms, mm from the crossboom, left negative", "a boom", "clearance.booms", columns)
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


def leg_table() -> NumberTable:
    """The legs."""
    columns = (
        ("from_keyway_deg", "deg from keyway"),
        ("radius_mm", "foot radius"),
        ("top_radius_mm", "top radius"),
        ("top_height_mm", "top height"),
    )
    return NumberTable("Legs, mm", "a leg", "clearance.legs", columns)


def guy_table() -> NumberTable:
    """The guys."""
    columns = (
        ("from_keyway_deg", "deg from keyway"),
        ("height_mm", "height"),
        ("peg_radius_mm", "peg radius"),
    )
    return NumberTable("Guys, mm", "a guy", "clearance.guys", columns)
