"""The plan's satellites as a table for Qt; edits leave it as signals."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics

from app.window.look.scheme import LIGHT, Scheme, font
from app.window.widgets.plain import tip
from app.window.widgets.tables import LEFT, RIGHT, GridModel, Index
from core.elements.age import describe_age
from core.plan.roster import Roster, RosterRow

#: Role under which the delegate finds how much of a satellite is wanted: 0 none, 1 some, 2 all of its passes.
SHARE_ROLE = int(Qt.ItemDataRole.UserRole) + 1


@dataclass(frozen=True)
class Column:
    """One column: key and heading, what a cell says, what the heading means, what the rows are ordered by."""

    key: str
    heading: str
    text: Callable[[RosterRow], str]
    meaning: str
    right: bool = True
    order: Callable[[RosterRow], Any] | None = None


def _mean_height(row: RosterRow) -> float:
    """Kilometres; rows without an orbit come first."""
    height = (row.orbit.perigee_km + row.orbit.apogee_km) / 2.0
    return -math.inf if math.isnan(height) else height


def _height(row: RosterRow) -> str:
    low, high = row.orbit.perigee_km, row.orbit.apogee_km
    if math.isnan(low) or math.isnan(high):
        return "-"
    return f"{(low + high) / 2.0:.0f}" if high - low < 30.0 else f"{low:.0f} to {high:.0f}"


def _passes(row: RosterRow) -> str:
    if row.refusal:
        return "refused"
    return "..." if row.passes is None else str(row.passes)


def _picked(row: RosterRow) -> str:
    return "-" if not row.picked else f"{row.picked} of {_passes(row)}"


def _worth(row: RosterRow) -> str:
    if not row.picked:
        return "-"
    return "mixed" if row.worth is None else f"{row.worth:g}"


def _age(row: RosterRow) -> str:
    words = describe_age(row.age_days)
    return words if row.grade == "fresh" else f"{words}, {row.grade}"


COLUMNS: tuple[Column, ...] = (
    Column(
        "wanted",
        "Wanted",
        lambda row: "",
        "Whether its passes tonight are picked",
        False,
        lambda row: share_wanted(row),  # noqa: PLW0108 - it stands further down
    ),
    Column("name", "Name", lambda row: row.name, "Your own name for it; type to change it", right=False),
    Column(
        "number", "Number", lambda row: str(row.norad_id), "Catalogue number", True, lambda row: row.norad_id
    ),
    Column(
        "passes",
        "Passes",
        _passes,
        "Passes tonight over mask and minimum elevation",
        True,
        lambda row: row.passes or 0,
    ),
    Column("picked", "Picked", _picked, "How many of its passes are picked", True, lambda row: row.picked),
    Column(
        "worth",
        "Worth",
        _worth,
        "What each of its picked passes is worth, 0 to 1000; type to change it",
        True,
        lambda row: (row.picked > 0, row.worth or 0.0),
    ),
    Column("age", "Age", _age, "Age of its elements at the evening's start", True, lambda row: row.age_days),
    Column(
        "epoch", "Epoch, UTC", lambda row: row.epoch.replace("T", " ")[:-1], "Moment the elements are for"
    ),
    Column(
        "height",
        "Height, km",
        _height,
        "Height of the mean orbit over the equator's radius",
        True,
        _mean_height,
    ),
    Column(
        "inclination",
        "Incl., deg",
        lambda row: f"{row.orbit.inclination_deg:.1f}",
        "Inclination",
        True,
        lambda row: row.orbit.inclination_deg,
    ),
    Column(
        "period",
        "Period, min",
        lambda row: f"{row.orbit.period_min:.1f}",
        "Minutes per revolution",
        True,
        lambda row: row.orbit.period_min,
    ),
)
COLUMN_KEYS = tuple(column.key for column in COLUMNS)
_EDITABLE = {"name", "worth"}
#: What the operator acts upon; the rest stands back.
_FIRST_RANK = {"name", "passes", "picked", "worth", "age"}
#: A cell's widest usual text, by column.
_WIDEST = {
    "wanted": "",
    "name": "MMMMMMMMMMM",
    "number": "999999999",
    "passes": "refused",
    "picked": "99 of 99",
    "worth": "1000",
    "age": "33.5 days old, too old to trust",
    "epoch": "2024-11-01 00:00",
    "height": "1234 to 12345",
    "inclination": "",
    "period": "",
}


class RosterModel(GridModel):
    """Rows of a `Roster`.

    Signals:
        name_edited(int norad_id, str), worth_edited(int norad_id, str), wanted_edited(int norad_id, bool).
    """

    name_edited = Signal(object, str)
    worth_edited = Signal(object, str)
    wanted_edited = Signal(object, bool)
    headings = tuple(column.heading for column in COLUMNS)
    tips = tuple(column.meaning for column in COLUMNS)
    right = frozenset(place for place, column in enumerate(COLUMNS) if column.right)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._roster: Roster | None = None
        self._rows: dict[int, RosterRow] = {}
        self.scheme: Scheme = LIGHT

    def show_roster(self, roster: Roster) -> None:
        """Other rows, or the same satellites with other figures: then selection and scroll stay."""
        same = self._roster is not None and _numbers(self._roster) == _numbers(roster)
        if not same:
            self.beginResetModel()
        self._roster, self._rows = roster, {}
        if not same:
            self.endResetModel()
        else:
            self.renew_cells()

    def rows(self) -> int:
        return 0 if self._roster is None else len(self._roster)

    def row(self, index: int) -> RosterRow:
        """The row shown at a place."""
        assert self._roster is not None
        if index not in self._rows:
            self._rows[index] = self._roster.row(index)
        return self._rows[index]

    def number_at(self, index: int) -> int:
        """The catalogue number at a place, without making its row."""
        assert self._roster is not None
        return self._roster.satellites[index].elements.norad_id

    def row_of_number(self, norad_id: int) -> int | None:
        """The row of a catalogue number."""
        numbers = [] if self._roster is None else _numbers(self._roster)
        return numbers.index(norad_id) if norad_id in numbers else None

    def place_of(self, text: str) -> int | None:
        """The first satellite whose name or number holds the text."""
        wanted = text.casefold()
        for place, satellite in enumerate(self._roster.satellites if self._roster else ()):
            if wanted in satellite.name.casefold() or wanted == str(satellite.elements.norad_id):
                return place
        return None

    def sort_key(self, row: int, column: int) -> Any:
        order = COLUMNS[column].order
        return COLUMNS[column].text(self.row(row)).casefold() if order is None else order(self.row(row))

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        return flags | Qt.ItemFlag.ItemIsEditable if COLUMN_KEYS[index.column()] in _EDITABLE else flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row, column = self.row(index.row()), COLUMNS[index.column()]
        answer = _ANSWERS.get(role)
        if role == Qt.ItemDataRole.ForegroundRole:
            return self.scheme.color(_role(row, column.key))
        return None if answer is None else answer(row, column)

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        key, number = COLUMN_KEYS[index.column()], self.number_at(index.row())
        if key == "wanted":
            self.wanted_edited.emit(number, bool(value))
        elif role == Qt.ItemDataRole.EditRole and key == "name":
            self.name_edited.emit(number, str(value))
        elif role == Qt.ItemDataRole.EditRole and key == "worth":
            self.worth_edited.emit(number, str(value))
        else:
            return False
        return True


def _numbers(roster: Roster) -> list[int]:
    return [satellite.elements.norad_id for satellite in roster.satellites]


def cell_font(key: str) -> QFont:
    """The font of a column's cells."""
    return font(10 if key in _FIRST_RANK else 9, key == "name")


def cell_width(key: str) -> int:
    """Pixels that a column's widest usual text needs; headings count too."""
    heading = QFontMetrics(font(9)).horizontalAdvance(COLUMNS[COLUMN_KEYS.index(key)].heading)
    return max(QFontMetrics(cell_font(key)).horizontalAdvance(_WIDEST[key]), heading) + 16


def share_wanted(row: RosterRow) -> int:
    """0 where none of its passes is picked, 2 where all are, else 1."""
    if not row.picked:
        return 0
    return 2 if row.passes is None or row.picked >= row.passes else 1


def spoken(row: RosterRow, column: Column) -> str:
    """What a cell says to those who do not see it."""
    if column.key == "wanted":
        return f"{row.name}, {('not wanted', 'wanted in part', 'wanted')[share_wanted(row)]}"
    return f"{column.heading} {column.text(row)}"


_ANSWERS: dict[int, Callable[[RosterRow, Column], Any]] = {
    Qt.ItemDataRole.DisplayRole: lambda row, column: column.text(row),
    Qt.ItemDataRole.EditRole: lambda row, column: (
        row.name if column.key == "name" else f"{1.0 if row.worth is None else row.worth:g}"
    ),
    Qt.ItemDataRole.TextAlignmentRole: lambda row, column: RIGHT if column.right else LEFT,
    Qt.ItemDataRole.FontRole: lambda row, column: cell_font(column.key),
    Qt.ItemDataRole.ToolTipRole: lambda row, column: tip(row.refusal or column.meaning),
    Qt.ItemDataRole.AccessibleTextRole: spoken,
    SHARE_ROLE: lambda row, column: share_wanted(row),
}


def _role(row: RosterRow, key: str) -> str:
    if (key == "age" and row.grade == "too old to trust") or (key == "passes" and row.refusal):
        return "accent"
    return "ink" if key in _FIRST_RANK else "faint"
