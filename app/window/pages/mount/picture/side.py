"""The elevation axis from the side: its range, with the dial's figures around it."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from app.window.look.scheme import Scheme, font
from core.mount.dial.readings import elevation_dial
from core.mount.model.station import ElevationAxis

_CENTRE = Qt.AlignmentFlag.AlignCenter


def paint_side(painter: QPainter, box: QRectF, axis: ElevationAxis, part: str, scheme: Scheme) -> None:
    """Level is right, straight up is up, over the top is left; ``part`` stands out."""
    radius = min(box.width() / 2.0 - 20.0, box.height() - 44.0)
    pivot = QPointF(box.center().x(), box.bottom() - 26.0)

    def at(share: float, e_deg: float) -> QPointF:
        angle = math.radians(e_deg)
        return QPointF(
            pivot.x() + share * radius * math.cos(angle), pivot.y() - share * radius * math.sin(angle)
        )

    rect = QRectF(pivot.x() - radius, pivot.y() - radius, 2.0 * radius, 2.0 * radius)
    wedge = QPainterPath(pivot)
    wedge.arcTo(rect, axis.minimum_deg, axis.maximum_deg - axis.minimum_deg)
    wedge.closeSubpath()
    painter.fillPath(wedge, scheme.color("signal_soft"))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    lit = part == "elevation rate"
    painter.setPen(QPen(scheme.color("accent" if lit else "signal"), 4.0 if lit else 2.0))
    painter.drawArc(rect, round(axis.minimum_deg * 16), round((axis.maximum_deg - axis.minimum_deg) * 16))
    painter.setPen(QPen(scheme.color("faint"), 1.0))
    painter.drawLine(at(1.15, 180.0), at(1.15, 0.0))
    for name, e_deg in (("elevation minimum", axis.minimum_deg), ("elevation maximum", axis.maximum_deg)):
        hot = part == name
        painter.setPen(QPen(scheme.color("accent" if hot else "ink"), 3.5 if hot else 2.0))
        painter.drawLine(pivot, at(1.0, e_deg))
    hot = part == "elevation dial"
    painter.setFont(font(9, True))
    painter.setPen(scheme.color("accent" if hot else "ink"))
    ends = {axis.minimum_deg, axis.maximum_deg}
    inner = {e for e in (0.0, 90.0, 180.0) if axis.minimum_deg < e < axis.maximum_deg}
    clear = {e for e in inner if all(abs(e - end) > 20.0 for end in ends)}
    for e_deg in sorted(ends | clear):
        place = at(1.0 + 14.0 / radius, e_deg)
        figure = elevation_dial(e_deg, axis).text
        painter.drawText(QRectF(place.x() - 24, place.y() - 9, 48, 18), _CENTRE, figure)
    painter.setBrush(scheme.color("ink"))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawEllipse(pivot, 4.0, 4.0)
    painter.setFont(font(8.5))
    painter.setPen(scheme.color("faint"))
    painter.drawText(QRectF(box.left(), pivot.y() + 9, box.width(), 16), _CENTRE, "elevation dial")
