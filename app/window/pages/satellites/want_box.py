"""The cell that says whether a satellite is wanted: empty, half or full, by click or space."""

from __future__ import annotations

from PySide6.QtCore import QAbstractItemModel, QEvent, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from app.window.look.scheme import LIGHT, Scheme
from app.window.pages.satellites.roster_model import SHARE_ROLE
from app.window.widgets.tables import Index

_SIDE = 15.0
_TOGGLES = {Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter}


class WantBox(QStyledItemDelegate):
    """Paints the box in the first column, and takes clicks on it and the space bar anywhere in its row."""

    scheme: Scheme = LIGHT

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        super().paint(painter, option, index)
        share = index.data(SHARE_ROLE)
        if index.column() != 0 or share is None:
            return
        area = option.rect
        box = QRectF(area.center().x() - _SIDE / 2, area.center().y() - _SIDE / 2, _SIDE, _SIDE)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.scheme.color("ink"), 1.4))
        painter.drawRoundedRect(box, 2.5, 2.5)
        inner = box.adjusted(3.0, 3.0, -3.0, -3.0)
        if share == 1:
            inner.setRight(inner.center().x())
        if share:
            painter.fillRect(inner, self.scheme.color("signal"))
        painter.restore()

    def editorEvent(
        self, event: QEvent, model: QAbstractItemModel, option: QStyleOptionViewItem, index: Index
    ) -> bool:
        box = model.index(index.row(), 0)
        space = isinstance(event, QKeyEvent) and event.key() in _TOGGLES
        clicked = index.column() == 0 and event.type() == QEvent.Type.MouseButtonRelease
        if space or clicked:
            return model.setData(box, (box.data(SHARE_ROLE) or 0) < 2)
        return super().editorEvent(event, model, option, index)
