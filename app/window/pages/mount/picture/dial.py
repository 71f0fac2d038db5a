"""The azimuth dial as drawn, from one stop to the other, with its figures, divisions and jumps."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.window.look.scheme import Scheme, font
from core.mount.dial.face import dial_face
from core.mount.dial.readings import azimuth_dial
from core.mount.model.station import AzimuthAxis

_CENTRE = Qt.AlignmentFlag.AlignCenter


def paint_dial(painter: QPainter, box: QRectF, axis: AzimuthAxis, part: str, scheme: Scheme) -> None:
    """A straight scale along the travel; ``part`` stands out."""
    left, right = box.left() + 26.0, box.right() - 26.0
    base = box.top() + 40.0
    face = dial_face(axis)

    def x(m_deg: float) -> float:
        return left + m_deg / axis.travel_deg * (right - left)

    painter.setFont(font(8.5))
    painter.setPen(scheme.color("faint"))
    words = "azimuth dial, from the counter-clockwise stop to the clockwise one"
    painter.drawText(QRectF(box.left(), box.top(), box.width(), 16), _CENTRE, words)
    lit = part in {"travel", "dial scale"}
    painter.setPen(QPen(scheme.color("accent" if lit else "ink"), 3.0 if lit else 2.0))
    painter.drawLine(QPointF(left, base), QPointF(right, base))
    guard = QRectF(left, base - 6.0, x(axis.guard_deg) - left, 12.0)
    for piece in (guard, guard.translated(right - left - guard.width(), 0.0)):
        painter.fillRect(piece, scheme.color("accent", 230 if part == "guard" else 80))
    hot = part == "dial division"
    painter.setPen(QPen(scheme.color("accent" if hot else "faint"), 1.6 if hot else 1.0))
    for m in face.divisions_m_deg:
        painter.drawLine(QPointF(x(m), base - (7.0 if hot else 4.0)), QPointF(x(m), base))
    _paint_figures(painter, box, axis, part, scheme)
    hot = part == "dial wraps"
    painter.setPen(QPen(scheme.color("accent"), 3.0 if hot else 1.6, Qt.PenStyle.DashLine))
    for m in face.wraps_m_deg:
        painter.drawLine(QPointF(x(m), base - 18.0), QPointF(x(m), base + 10.0))


def _paint_figures(painter: QPainter, box: QRectF, axis: AzimuthAxis, part: str, scheme: Scheme) -> None:
    left, right = box.left() + 26.0, box.right() - 26.0
    base = box.top() + 40.0
    ends = ((0.0, azimuth_dial(0.0, axis)), (axis.travel_deg, azimuth_dial(axis.travel_deg, axis)))
    inner = [
        (m, reading)
        for m, reading in dial_face(axis).figures
        if min(m, axis.travel_deg - m) / axis.travel_deg * (right - left) > 40.0
    ]
    for m, reading in (*ends, *inner):
        x = left + m / axis.travel_deg * (right - left)
        first = m == 0.0 and part == "dial at stop"
        hot = first or part == "dial scale"
        painter.setPen(QPen(scheme.color("accent" if hot else "figure"), 2.0))
        painter.drawLine(QPointF(x, base - 9.0), QPointF(x, base))
        painter.setFont(font(13 if first else 10, True))
        figure = reading.text.partition(",")[0]
        painter.drawText(QRectF(x - 32.0, base + 6.0, 64.0, 22.0), _CENTRE, figure)
