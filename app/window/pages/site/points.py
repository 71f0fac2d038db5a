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
from app.window.widgets.refusal import RefusalNote
from app.window.widgets.tables import dress_table
from core.base.errors import ValueRangeError
from core.base.typed import page_words, read_quantity
from core.mount.dial.readings import azimuth_dial
from core.mount.dial.unrolled import bearing_places_deg
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount
from core.place.site import HorizonPoint
from core.plan.quantities import QUANTITIES

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
        self._mount = Mount()
        self._wrong: QTableWidgetItem | None = None
        self.table = QTableWidget(0, 3)
        dress_table(self.table, "Horizon points", 26)
        self.table.setHorizontalHeaderLabels(_HEADS)
        self.table.setFont(font(10))
        self.table.setMinimumSize(230, 150)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.horizontalHeader().setSortIndicatorClearable(True)
        self.table.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self.table.horizontalHeader().setSortIndicatorShown(True)
        self.table.horizontalHeader().setSectionsClickable(True)
        self.table.horizontalHeader().sortIndicatorChanged.connect(lambda _column, _order: self._on_head())
        self.table.itemChanged.connect(self._typed)
        self.table.currentCellChanged.connect(self._chosen)
        self.note = RefusalNote(self.table.viewport())
        self.table.verticalScrollBar().valueChanged.connect(self._place_note)
        self.buttons = {
            words: push_button(
                words, signal.emit, f"{words.replace('&', '').rstrip('.')} horizon points", tip
            )
            for words, signal, tip in (
                ("&Add", self.add_wanted, "One more point, midway to the next (Insert on the picture)"),
                ("&Remove", self.remove_wanted, "Without the chosen point (Delete on the picture)"),
                ("&Import...", self.import_wanted, "Points from a file of bearings and elevations, degrees"),
                ("Clear", self.clear_wanted, "No horizon at all; undo brings it back"),
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
        self._shown, self._points, self._mount = (points, mount), points, mount
        self._show_cells()

    def _show_cells(self) -> None:
        points, mount = self._points, self._mount
        self._refuse(None, "")
        self._order = self._ordered()
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

    def _ordered(self) -> list[int]:
        """The points in the order of the head that was clicked; by bearing to begin with."""
        header, points = self.table.horizontalHeader(), self._points
        by_height = header.sortIndicatorSection() == 1
        order = sorted(range(len(points)), key=lambda i: points[i].azimuth_deg)
        if by_height:
            order.sort(key=lambda i: points[i].elevation_deg)
        falling = header.sortIndicatorOrder() == Qt.SortOrder.DescendingOrder
        return order[::-1] if falling and header.sortIndicatorSection() >= 0 else order

    def _on_head(self) -> None:
        row = self.table.currentRow()
        chosen = self._order[row] if 0 <= row < len(self._order) else -1
        self._show_cells()
        self.choose(chosen)

    def _refuse(self, item: QTableWidgetItem | None, why: str) -> None:
        """What was typed stays in its cell with the reason beside it, until another figure is typed."""
        self._wrong = item
        if item is not None:
            self._filling = True
            item.setData(Qt.ItemDataRole.AccessibleDescriptionRole, why)
            item.setFont(font(10, True))
            self._filling = False
            self.refused.emit(why)
        self._place_note()

    def _place_note(self) -> None:
        item = self._wrong
        if item is None or not self.table.viewport().rect().intersects(self.table.visualItemRect(item)):
            self.note.tell("")
        else:
            why = str(item.data(Qt.ItemDataRole.AccessibleDescriptionRole))
            self.note.tell(why, self.table.visualItemRect(item))

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
            value = read_quantity(item.text(), QUANTITIES[f"site.horizon.{name}"])
        except ValueRangeError as error:
            self._refuse(item, page_words(error))
            return
        self._refuse(None, "")
        if value == getattr(point, name):
            self._show_cells()
            return
        new = HorizonPoint(
            **{"azimuth_deg": point.azimuth_deg, "elevation_deg": point.elevation_deg, name: value}
        )
        points = (*self._points[:index], new, *self._points[index + 1 :])
        self.mask_edited.emit(points, "type a horizon point", "")
