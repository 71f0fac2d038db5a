"""The list of passes to pick from: its model, how its cells are painted, and the table."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QObject,
    QPointF,
    QRectF,
    QSize,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from app.window.look.marks import paint_mark
from app.window.look.scheme import font
from app.window.pages.evening.state import EveningState
from app.window.state.context import PassKey
from app.window.widgets.plain import tip
from app.window.widgets.tables import GridModel, Index, SortProxy, dress_table, sort_by_heads
from core.base.times import clock
from core.base.words import cut_words
from core.place.zones import local_clock

PICK, SATELLITE, VERDICT, LOCAL, UTC, PEAK, LENGTH, WRAP = range(8)
_ROW_PX = 25
#: As the style sets words in a cell off its edges: its margin of a focus frame, and one more.
CELL_MARGIN_PX = 3
_SHOWN = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
_TICKED = _SHOWN | Qt.ItemFlag.ItemIsUserCheckable
#: The tick of a pick, pixels from the corner of its box.
_TICK = (QPointF(3.4, 7.4), QPointF(6.0, 10.2), QPointF(10.8, 4.0))


class PassModel(GridModel):
    """Every pass of the evening, by AOS; the first column is checked where the pass is picked."""

    headings = ("Pick", "Satellite", "Verdict", "local", "UTC", "Peak", "Min", "Wrap")
    tips = (
        "Picked: Space or a click changes it",
        "Satellite",
        "How the mount serves the pass",
        "AOS in the site's local time",
        "AOS in UTC",
        "Highest elevation, degrees",
        "Minutes over the mask, AOS to LOS; cut where the evening begins or ends within the pass",
        "Cable wrap at the end of the contact, degrees clockwise from mid travel",
    )
    right = frozenset({LOCAL, UTC, PEAK, LENGTH, WRAP})

    def __init__(self, state: EveningState, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self._rows = 0
        self._passes: list[PassKey] = []

    def rows(self) -> int:
        return self._rows

    def reload(self) -> None:
        """Show what the state holds now; rows and the selection are kept where no pass came or went."""
        rows = len(self.state.paths)
        passes = [PassKey.of(self.state.check(row).pass_) for row in range(rows)]
        if passes == self._passes:
            self.renew_cells()
            return
        self.beginResetModel()
        self._rows, self._passes = rows, passes
        self.endResetModel()

    def sort_key(self, row: int, column: int) -> Any:
        check = self.state.check(row)
        contact = self.state.contact_of.get(row)
        peak_deg = check.pass_.peak.elevation_deg
        keys: dict[int, Callable[[], Any]] = {
            PICK: lambda: row not in self.state.pick_of,
            VERDICT: lambda: (check.verdict.code, check.resting),
            SATELLITE: lambda: (check.pass_.satellite.casefold(), row),
            PEAK: lambda: peak_deg,
            LENGTH: lambda: check.pass_.los.utc_s - check.pass_.aos.utc_s,
            WRAP: lambda: (contact is None, 0.0 if contact is None else contact.wrap_after_deg),
        }
        return keys[column]() if column in keys else check.pass_.aos.utc_s

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        return _TICKED if index.column() == PICK else _SHOWN

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row, column = index.row(), index.column()
        answer: Any = None
        if role == Qt.ItemDataRole.DisplayRole:
            answer = self.text(row, column)
        elif role == Qt.ItemDataRole.CheckStateRole and column == PICK:
            answer = Qt.CheckState.Checked if row in self.state.pick_of else Qt.CheckState.Unchecked
        elif role == Qt.ItemDataRole.TextAlignmentRole:
            answer = self.alignment(column)
        elif role == Qt.ItemDataRole.FontRole:
            answer = font(9.5, column == SATELLITE and row in self.state.contact_of)
        elif role == Qt.ItemDataRole.ForegroundRole:
            answer = QColor(self.state.scheme.color("ink" if row in self.state.contact_of else "faint"))
        elif role == Qt.ItemDataRole.AccessibleTextRole:
            answer = self.spoken(row) if column == SATELLITE else self._cell_spoken(row, column)
        elif role == Qt.ItemDataRole.ToolTipRole:
            why = self.state.why_left.get(row, "")
            answer = tip(self.spoken(row) + (f"; left out: {why}" if why else ""))
        return answer

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        if role != Qt.ItemDataRole.CheckStateRole or index.column() != PICK:
            return False
        wanted = Qt.CheckState(value) == Qt.CheckState.Checked
        if wanted != (index.row() in self.state.pick_of):
            self.state.pick_asked.emit(index.row())
        return True

    def text(self, row: int, column: int) -> str:
        """What a cell says."""
        check = self.state.check(row)
        pass_, aos_s = check.pass_, check.pass_.aos.utc_s
        words = ""
        if column == VERDICT:
            words = check.verdict + (", rests" if check.resting else "")
        elif column == SATELLITE:
            words = pass_.satellite
        elif column == LOCAL:
            words = local_clock(aos_s, self.state.zone, False)
        elif column == UTC:
            words = clock(aos_s, False)
        elif column == PEAK:
            words = f"{pass_.peak.elevation_deg:.0f}°"
        elif column == LENGTH:
            words = f"{(pass_.los.utc_s - aos_s) / 60.0:.0f}" + (" cut" if pass_.cut else "")
        elif column == WRAP:
            words = self._wrap(row)
        return words

    def _wrap(self, row: int) -> str:
        """The running cable wrap after a contact, empty where there is none."""
        contact = self.state.contact_of.get(row)
        return "" if contact is None else f"{contact.wrap_after_deg:+.0f}°"

    def _cell_spoken(self, row: int, column: int) -> str:
        if column == PICK:
            return "picked" if row in self.state.pick_of else "not picked"
        return f"{self.headings[column]} {self.text(row, column)}"

    def spoken(self, row: int) -> str:
        """The row in words."""
        check = self.state.check(row)
        picked = "picked" if row in self.state.pick_of else "not picked"
        contact = self.state.contact_of.get(row)
        if contact is None and self.state.absence(row) == "left out":
            picked += ", left out"
        cut = f" ({cut_words(check.pass_.cut)} of the evening)" if check.pass_.cut else ""
        wrap = (
            ""
            if contact is None
            else f", cable wrap {contact.wrap_before_deg:+.0f} to {contact.wrap_after_deg:+.0f} degrees"
        )
        return (
            f"{check.pass_.satellite}, {picked}, {self.text(row, VERDICT)}, AOS {self.text(row, UTC)} UTC, "
            f"{self.text(row, LOCAL)} local, peak {check.pass_.peak.elevation_deg:.0f} degrees, "
            f"{(check.pass_.los.utc_s - check.pass_.aos.utc_s) / 60.0:.0f} minutes{cut}{wrap}"
        )


class _CellPainter(QStyledItemDelegate):
    """Paints the pick as a box with a tick, and the verdict as its mark and word."""

    def __init__(self, state: EveningState, model: PassModel, view: QTableView) -> None:
        super().__init__(view)
        self._state, self._model, self._view = state, model, view

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        if index.column() not in {PICK, VERDICT}:
            if self._selected(index):
                super().paint(painter, option, index)
            else:
                self._paint_text(painter, option, index)
            return
        rect, scheme = QRectF(option.rect), self._state.scheme
        if self._selected(index):
            painter.fillRect(rect, scheme.color("choice"))
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if index.column() == PICK:
            self._paint_pick(painter, rect, index)
        else:
            self._paint_verdict(painter, rect, index)
        painter.restore()

    def _selected(self, index: Index) -> bool:
        """As the style is told it: asking ``option.state`` makes all of Qt's names of style parts first."""
        return self._view.selectionModel().isSelected(index)

    def _paint_text(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """A cell of words as the style paints it, which asks the model seven times and takes longer."""
        row, column = self._row(index), index.column()
        taken = row in self._state.contact_of
        painter.setFont(font(9.5, column == SATELLITE and taken))
        painter.setPen(self._state.scheme.color("ink" if taken else "faint"))
        box = option.rect.adjusted(CELL_MARGIN_PX, 0, -CELL_MARGIN_PX, 0)
        text = self._model.text(row, column)
        if column == SATELLITE:
            text = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, self._model.alignment(column), text)

    def _row(self, index: Index) -> int:
        source = index.model()
        return source.mapToSource(index).row() if isinstance(source, QSortFilterProxyModel) else index.row()

    def _paint_pick(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        scheme = self._state.scheme
        box = QRectF(rect.center().x() - 7.0, rect.center().y() - 7.0, 14.0, 14.0)
        picked = index.data(Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked
        painter.setPen(QPen(scheme.color("ink" if picked else "faint"), 1.4))
        painter.setBrush(scheme.color("ink") if picked else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box, 3.0, 3.0)
        if picked:
            painter.setPen(QPen(scheme.color("card"), 2.2))
            corner = box.topLeft()
            painter.drawPolyline([corner + p for p in _TICK])

    def _paint_verdict(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        row = self._row(index)
        check, scheme = self._state.check(row), self._state.scheme
        taken = row in self._state.contact_of or row in self._state.pick_of
        box = QRectF(rect.left() + 5.0, rect.center().y() - 5.5, 17.0, 11.0)
        work, lost = scheme.color("signal"), scheme.color("accent")
        if not taken:
            painter.setOpacity(0.55)
        paint_mark(painter, box, check.verdict, work, lost, check.resting)
        painter.setOpacity(1.0)
        painter.setFont(font(9))
        painter.setPen(scheme.color("ink" if taken else "faint"))
        words = rect.adjusted(31.0, 0.0, 0.0, 0.0)
        text = painter.fontMetrics().elidedText(
            str(index.data()), Qt.TextElideMode.ElideRight, int(words.width())
        )
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)

    def editorEvent(self, _event: QEvent, _model: Any, _option: QStyleOptionViewItem, _index: Index) -> bool:
        return False  # the table itself toggles, on click and on Space


class EveningList(QTableView):
    """The list; what is selected is the chosen pass, what the hand is on marks its AOS."""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.evening = state
        self.model_ = PassModel(state, self)
        self.proxy = SortProxy(self.model_, self)
        self.proxy.setFilterKeyColumn(SATELLITE)
        self.proxy.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setModel(self.proxy)
        self.setItemDelegate(_CellPainter(state, self.model_, self))
        dress_table(self, "Passes to pick from", _ROW_PX)
        sort_by_heads(self)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setWordWrap(False)
        self.setCornerButtonEnabled(False)
        self.setMouseTracking(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._size_columns()
        self.clicked.connect(self._on_clicked)
        self.doubleClicked.connect(lambda _index: state.open_asked.emit())
        self.selectionModel().currentRowChanged.connect(self._on_current)
        state.rebuilt.connect(self.reload)
        state.moved.connect(self.follow)

    def _size_columns(self) -> None:
        header = self.horizontalHeader()
        header.setFont(font(9))
        header.setHighlightSections(False)
        header.setMinimumSectionSize(30)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setSectionResizeMode(SATELLITE, QHeaderView.ResizeMode.Stretch)
        widths = {PICK: 34, VERDICT: 104, LOCAL: 45, UTC: 45, PEAK: 40, LENGTH: 44, WRAP: 47}
        for column, width in widths.items():
            header.resizeSection(column, width)

    def sizeHint(self) -> QSize:
        return QSize(440, 400)

    def reload(self) -> None:
        """Show what the state holds now."""
        self.model_.reload()
        self.follow()
        self.viewport().update()

    def seek(self, text: str) -> None:
        """Only satellites whose name holds the text."""
        self.proxy.setFilterFixedString(text.strip())
        self.follow()

    def step(self, by: int) -> None:
        """Choose the pass so many rows on, among those listed."""
        count = self.proxy.rowCount()
        if not count:
            return
        here = self.currentIndex().row()
        row = min(max(here + by, 0), count - 1) if here >= 0 else (0 if by > 0 else count - 1)
        self.selectRow(row)

    def follow(self) -> None:
        """Select the chosen pass."""
        chosen = self.evening.chosen
        if chosen is None:
            return
        index = self.proxy.place_of(chosen, SATELLITE)
        if index.isValid() and index.row() != self.currentIndex().row():
            self.setCurrentIndex(index)
            self.scrollTo(index)

    def _on_current(self, current: QModelIndex, _before: QModelIndex) -> None:
        if current.isValid():
            self.evening.choose(self.proxy.mapToSource(current).row())

    def _on_clicked(self, index: QModelIndex) -> None:
        if index.column() == PICK:
            self.evening.pick_asked.emit(self.proxy.mapToSource(index).row())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        plain = {Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Home}
        if event.key() in plain or not self.evening.key(event):
            super().keyPressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        index = self.indexAt(event.position().toPoint())
        if index.isValid():
            row = self.proxy.mapToSource(index).row()
            self.evening.point(float(self.evening.paths[row].utc_s[0]), row)
        else:
            self.evening.point(None)
        super().mouseMoveEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        self.evening.point(None)
        super().leaveEvent(event)
