"""The list of what is lost or rests at this seat: mark, satellite, AOS, peak, and why."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from app.window.look.marks import paint_mark
from app.window.look.scheme import LIGHT, Scheme, font
from app.window.widgets.plain import tip
from core.mount.seat.words import TroubleRow

_Index = QModelIndex | QPersistentModelIndex
_ROW_ROLE = Qt.ItemDataRole.UserRole
_TALL = 44


class TroubleModel(QAbstractListModel):
    """The rows."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[TroubleRow, ...] = ()

    def set_rows(self, rows: tuple[TroubleRow, ...]) -> None:
        """Other rows; rows that stay keep their place and selection."""
        if rows == self.rows:
            return
        same = [row.index for row in rows] == [row.index for row in self.rows]
        if same:
            self.rows = rows
            self.dataChanged.emit(self.index(0), self.index(len(rows) - 1))
            return
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def rowCount(self, parent: _Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row = self.rows[index.row()]
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return row.spoken
        if role == Qt.ItemDataRole.ToolTipRole:
            return tip(row.reason or row.why)
        return row if role == _ROW_ROLE else None


class _TroubleDelegate(QStyledItemDelegate):
    """Two lines a row: the pass, and faint below it why."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.scheme = LIGHT

    def sizeHint(self, _option: QStyleOptionViewItem, _index: _Index) -> QSize:
        return QSize(280, _TALL)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        row = index.data(_ROW_ROLE)
        if not isinstance(row, TroubleRow):
            return
        scheme, box = self.scheme, QRectF(option.rect)
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, scheme.color("choice"))
        signal, accent = scheme.color("signal"), scheme.color("accent")
        mark = QRectF(box.left() + 8.0, box.top() + 8.0, 17.0, 11.0)
        paint_mark(painter, mark, row.verdict, signal, accent, row.resting)
        left, line = box.left() + 38.0, QRectF(box.left() + 38.0, box.top() + 3.0, 0.0, 21.0)
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        peak = QRectF(box.right() - 104.0, line.top(), 96.0, 21.0)
        aos = QRectF(peak.left() - 56.0, line.top(), 50.0, 21.0)
        name = QRectF(left, line.top(), aos.left() - left - 6.0, 21.0)
        painter.setPen(scheme.color("ink"))
        painter.setFont(font(10.5, True))
        painter.drawText(name, middle, _elided(painter, row.satellite, name.width()))
        painter.setFont(font(10.5))
        painter.drawText(aos, middle, row.aos)
        painter.drawText(peak, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, row.peak)
        painter.setFont(font(9))
        painter.setPen(scheme.color("faint"))
        why = QRectF(left, box.top() + 22.0, box.right() - 6.0 - left, 18.0)
        painter.drawText(why, middle, _elided(painter, row.why, why.width()))
        painter.restore()


def _elided(painter: QPainter, text: str, width: float) -> str:
    return painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(width))


class TroubleList(QListView):
    """The list; choosing a row chooses the pass."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = TroubleModel(self)
        self._delegate = _TroubleDelegate(self)
        self.setModel(self.rows)
        self.setItemDelegate(self._delegate)
        self.setUniformItemSizes(True)
        self.setAccessibleName("Passes lost or resting here")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)

    def set_scheme(self, scheme: Scheme) -> None:
        """Other colours."""
        self._delegate.scheme = scheme
        self.viewport().update()

    def row_of(self, pass_index: int) -> int:
        """The row that shows a pass, -1 if none."""
        return next((k for k, row in enumerate(self.rows.rows) if row.index == pass_index), -1)
