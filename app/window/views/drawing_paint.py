"""The core's drawings on the screen: strokes, discs and labels as on paper, in the colours of a scheme."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from app.window.look.scheme import Scheme, font
from core.base.drawing import Dash, Disc, Item, Label, Paint, Stroke

_DASHES = {
    "solid": Qt.PenStyle.SolidLine,
    "dashed": Qt.PenStyle.DashLine,
    "dotted": Qt.PenStyle.DotLine,
    "chain": Qt.PenStyle.DashDotLine,
}
_THICK_MM = 0.3
_LABEL_PT = 8.5


def paint_items(painter: QPainter, items: Iterable[Item], px_mm: float, scheme: Scheme) -> None:
    """Paint items, ``px_mm`` pixels to a millimetre of their paper; thin lines are faint."""
    for item in items:
        if isinstance(item, Stroke):
            points = QPolygonF([QPointF(x * px_mm, y * px_mm) for x, y in item.points_mm])
            painter.setPen(_pen(item.width_mm, item.dash, px_mm, scheme))
            painter.setBrush(_fill(item.fill, scheme))
            if item.closed:
                painter.drawPolygon(points)
            else:
                painter.drawPolyline(points)
        elif isinstance(item, Disc):
            painter.setPen(_pen(item.width_mm, item.dash, px_mm, scheme))
            painter.setBrush(_fill(item.fill, scheme))
            radius = item.radius_mm * px_mm
            painter.drawEllipse(QPointF(item.x_mm * px_mm, item.y_mm * px_mm), radius, radius)
        else:
            _paint_label(painter, item, px_mm, scheme)


def _pen(width_mm: float, dash: Dash, px_mm: float, scheme: Scheme) -> QPen:
    if width_mm == 0.0:
        return QPen(Qt.PenStyle.NoPen)
    main = width_mm >= _THICK_MM
    return QPen(scheme.color("ink" if main else "faint"), max(width_mm * px_mm, 0.8), _DASHES[dash])


def _fill(paint: Paint, scheme: Scheme) -> QColor | Qt.BrushStyle:
    if paint == "none":
        return Qt.BrushStyle.NoBrush
    return scheme.color("ink" if paint == "black" else "card")


def _paint_label(painter: QPainter, label: Label, px_mm: float, scheme: Scheme) -> None:
    painter.setFont(font(_LABEL_PT, label.bold))
    painter.setPen(scheme.color("faint"))
    at = QPointF(label.x_mm * px_mm, label.y_mm * px_mm)
    wide = painter.fontMetrics().horizontalAdvance(label.text) + 4.0
    left = {"left": at.x(), "center": at.x() - wide / 2.0, "right": at.x() - wide}[label.anchor]
    painter.drawText(QRectF(left, at.y() - 9.0, wide, 18.0), Qt.AlignmentFlag.AlignCenter, label.text)
