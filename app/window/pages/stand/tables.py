"""The lists of the stand: rows with a name, numbers and ticks."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout

from app.window.look.scheme import Scheme
from app.window.look.style import indicator_style
from app.window.widgets.fields import LineField, TextField
from app.window.widgets.typed.rows import NumberTable
from core.base.model import Model

_NAME_PX = 92


class NamedTable(NumberTable):
    """Rows that begin with a name and may end with ticks.

    Signals:
        renamed(int, str, LineField): another name, and the field it was typed into.
        ticked(int row, str key, bool): a tick was set or taken away.
    """

    renamed = Signal(int, str, LineField)
    ticked = Signal(int, str, bool)

    def __init__(
        self,
        title: str,
        one: str,
        path: str,
        columns: tuple[tuple[str, str], ...],
        ticks: tuple[tuple[str, str], ...] = (),
    ) -> None:
        super().__init__(title, one, path, columns)
        self.ticks = ticks
        self.heads = ("name", *self.heads, *(head for _key, head in ticks))
        self.names: list[TextField] = []
        self.boxes: list[dict[str, QCheckBox]] = []

    def begin(self) -> None:
        self.names, self.boxes = [], []

    def fill(self, grid: QGridLayout, row: int) -> None:
        word = self.one.split()[-1]
        name = TextField(f"Name of {word} {row + 1}", _NAME_PX)
        name.setFixedWidth(_NAME_PX)
        name.text_edited.connect(lambda text: self.renamed.emit(row, text, name))
        grid.addWidget(name, row + 1, 0)
        self.names.append(name)
        self.fill_numbers(grid, row, 1)
        boxes = {}
        for place, (key, head) in enumerate(self.ticks, start=len(self.columns) + 1):
            box = QCheckBox()
            box.setAccessibleName(f"{word} {row + 1}: {head}")
            box.setToolTip(_TICK_TIPS[key])
            box.clicked.connect(lambda on, key=key: self.ticked.emit(row, key, on))
            grid.addWidget(box, row + 1, place)
            boxes[key] = box
        self.boxes.append(boxes)

    def show_named(self, rows: Sequence[Model], scheme: Scheme) -> None:
        """The plan's rows."""
        self.show_rows(rows, scheme)
        wanted = indicator_style(scheme)
        for name, boxes, shown in zip(self.names, self.boxes, rows, strict=True):
            name.show_text(str(getattr(shown, "name")))  # noqa: B009
            for key, box in boxes.items():
                if box.styleSheet() != wanted:
                    box.setStyleSheet(wanted)
                box.setChecked(bool(getattr(shown, key)))


_TICK_TIPS = {
    "turns": "With the antennas: it counts on every side, its angle is from the boom",
    "carried": "By the tripod, so that it counts against its rating",
}


def mass_table() -> NamedTable:
    """What weighs."""
    columns = (
        ("mass_kg", "kg"),
        ("height_mm", "high, mm"),
        ("from_keyway_deg", "at, deg"),
        ("radius_mm", "out, mm"),
    )
    ticks = (("turns", "turns"), ("carried", "carried"))
    return NamedTable("Masses", "a mass", "stand.masses", columns, ticks)


def area_table() -> NamedTable:
    """What catches wind."""
    columns = (("area_m2", "m2"), ("drag", "drag"), ("height_mm", "high, mm"))
    return NamedTable("Areas in the wind", "an area", "stand.areas", columns)


def hung_table() -> NamedTable:
    """What hangs on the axis."""
    return NamedTable(
        "Hung on the axis", "a weight", "stand.hung", (("mass_kg", "kg"), ("height_mm", "high, mm"))
    )


def near_table() -> NamedTable:
    """What it could fall on."""
    columns = (("bearing_deg", "deg true"), ("distance_m", "away, m"), ("height_m", "lowest, m"))
    return NamedTable("Near by: lines, paths, cars", "a thing", "stand.near", columns)


def foot_table() -> NumberTable:
    """Where the legs stand."""
    columns = (("from_keyway_deg", "from keyway, deg"), ("radius_mm", "out, mm"))
    return NumberTable("Legs", "a leg", "stand.legs", columns)


def guy_table() -> NumberTable:
    """The guys."""
    columns = (
        ("from_keyway_deg", "at, deg"),
        ("height_mm", "high, mm"),
        ("peg_radius_mm", "peg out, mm"),
        ("holds_n", "holds, N"),
    )
    return NumberTable("Guys", "a guy", "stand.guys", columns)
