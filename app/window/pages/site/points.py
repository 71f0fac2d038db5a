"""The horizon's points in figures: a small table to type in, and the buttons beside it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import font
from app.window.widgets.labels import heading, push_button
from app.window.widgets.tables import dress_table
from core.base.errors import ValueRangeError
from core.mount.dial.readings import azimuth_dial
from core.mount.dial.unrolled import bearing_places_deg
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount
from core.place.site import HorizonPoint

_HEADS = ("deg true", "deg high", "dial")


class PointsPart(QWidget):
    """The points by bearing.

    Signals:
        mask_edited(tuple of HorizonPoint, str label, str merge): a figure was typed.
        point_chosen(int): index of the point in the plan.
        refused(str): what was typed is no figure, or out of range.
        add_wanted(), remove_wanted(), import_wanted(), clear_wanted(): the buttons.
    """

    mask_edited = Signal(tuple, str, str)
    point_chosen = Signal(int)
    refused = Signal(str)
    add_wanted = Signal()
    remove_wanted = Signal()
    import_wanted = Signal()
    clear_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._points: tuple[HorizonPoint, ...] = ()
        self._order: list[int] = []
        self._shown: tuple[object, ...] = ()
        self._filling = False
        self.table = QTableWidget(0, 3)
        dress_table(self.table, "Horizon points", 26)
        self.table.setHorizontalHeaderLabels(_HEADS)
        self.table.setFont(font(10))
        self.table.setMinimumSize(230, 150)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.itemChanged.connect(self._typed)
        self.table.currentCellChanged.connect(self._chosen)
        self.buttons = {
            words: push_button(words, signal.emit, words.replace("&", "").rstrip(".") + " horizon points")
            for words, signal in (
                ("&Add", self.add_wanted),
                ("&Remove", self.remove_wanted),
                ("&Import...", self.import_wanted),
                ("Clear", self.clear_wanted),
            )
        }
        row = QHBoxLayout()
        row.setSpacing(8)
        for button in self.buttons.values():
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        top = heading("Horizon points")
        top.setMinimumHeight(31)
        column.addWidget(top)
        column.addWidget(self.table, 1)
        column.addLayout(row)

    def show_points(self, points: tuple[HorizonPoint, ...], mount: Mount) -> None:
        """Fill the table, by bearing."""
        self.buttons["Clear"].setEnabled(bool(points))
        if (points, mount) == self._shown:
            return
        self._shown, self._points = (points, mount), points
        self._order = sorted(range(len(points)), key=lambda i: points[i].azimuth_deg)
        self._filling = True
        self.table.setRowCount(len(points))
        for row, index in enumerate(self._order):
            point = points[index]
            dials = [
                azimuth_dial(m, mount.azimuth).short
                for m in bearing_places_deg(point.azimuth_deg, zeta_deg(mount), mount.azimuth.travel_deg)
            ]
            texts = (f"{point.azimuth_deg:g}", f"{point.elevation_deg:g}", ", ".join(dials) or "none")
            for column, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                if column == 2:
                    item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
                self.table.setItem(row, column, item)
        self._filling = False

    def choose(self, index: int) -> None:
        """Show which point is chosen."""
        self._filling = True
        row = self._order.index(index) if index in self._order else -1
        if row != self.table.currentRow():
            self.table.setCurrentCell(row, max(self.table.currentColumn(), 0))
        if row < 0:
            self.table.clearSelection()
        self._filling = False

    def _chosen(self, row: int, _column: int, _before: int, _before_column: int) -> None:
        if not self._filling and 0 <= row < len(self._order):
            self.point_chosen.emit(self._order[row])

    def _typed(self, item: QTableWidgetItem) -> None:
        if self._filling or item.column() > 1:
            return
        index = self._order[item.row()]
        point = self._points[index]
        name = ("azimuth_deg", "elevation_deg")[item.column()]
        try:
            value = _number(item.text(), name)
        except ValueRangeError as error:
            self._shown = ()
            self.refused.emit(str(error))
            return
        new = HorizonPoint(
            **{"azimuth_deg": point.azimuth_deg, "elevation_deg": point.elevation_deg, name: value}
        )
        points = (*self._points[:index], new, *self._points[index + 1 :])
        self.mask_edited.emit(points, "type a horizon point", "")


def _number(text: str, name: str) -> float:
    """A typed figure within the range of the model's field.

    Raises:
        ValueRangeError: it is none, or out of range.
    """
    from core.base.edits import field_range

    low, high = field_range(HorizonPoint, name)
    try:
        value = float(text.strip().replace(",", ".").replace("\N{MINUS SIGN}", "-"))
    except ValueError:
        value = float("nan")
    if not low <= value <= high:
        words = {"azimuth_deg": "the bearing", "elevation_deg": "the height"}[name]
        raise ValueRangeError(words, repr(text), f"a number of degrees from {low:g} to {high:g}")
    return value
