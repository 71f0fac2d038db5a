"""The wind's rose: the mean wind that tips the stand, toward every bearing, north up."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF

from app.window.look.scheme import Scheme, font
from app.window.pages.stand.views.picture import StandPicture
from app.window.views.painting import painting
from core.base.words import bearing_text
from core.stand.answer import StandAnswer

_CENTRE = Qt.AlignmentFlag.AlignCenter
_TITLE_PX, _ROUND_PX, _UNDER_PX = 20.0, 20.0, 18.0
#: Rings are so far apart, m/s.
_RING_M_S = 5.0


def polar(middle: QPointF, bearing_deg: float, radius: float) -> QPointF:
    """A bearing clockwise from up."""
    angle = math.radians(bearing_deg)
    return QPointF(middle.x() + radius * math.sin(angle), middle.y() - radius * math.cos(angle))


class RosePicture(StandPicture):
    """Wind that tips the stand as a curve, the wind reckoned with as a ring, legs and keyway as marks."""

    def __init__(self) -> None:
        super().__init__("The wind's rose")
        self._found: StandAnswer | None = None

    def show_answer(self, found: StandAnswer, scheme: Scheme) -> None:
        """Another answer."""
        self._found, self._scheme = found, scheme
        weakest = found.tip_mean_m_s(found.weakest_deg)
        self.setAccessibleDescription(
            f"Mean wind that tips it, by where it blows to: {weakest:.1f} m/s at the least, toward "
            f"{bearing_text(found.weakest_deg)} deg true."
        )
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        found, s = self._found, self._scheme
        if found is None:
            return
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(font(10, True))
            painter.setPen(s.color("ink"))
            title = "Mean wind that tips it, toward"
            painter.drawText(QRectF(0, 0, self.width(), _TITLE_PX), _CENTRE, title)
            room = self.height() - _TITLE_PX - _UNDER_PX
            radius = max(min(self.width(), room) / 2.0 - _ROUND_PX, 20.0)
            middle = QPointF(self.width() / 2.0, _TITLE_PX + room / 2.0)
            most = max(float(found.rose.mean_m_s.max()), found.wind.mean_m_s, _RING_M_S)
            rings = math.ceil(most / _RING_M_S)
            scale = radius / (rings * _RING_M_S)
            self._paint_rings(painter, middle, scale, rings)
            self._paint_station(painter, found, middle, radius)
            self._paint_curve(painter, found, middle, scale)
            self._paint_wind(painter, found, middle, radius)
            painter.setFont(font(8.5))
            painter.setPen(s.color("faint"))
            under = QRectF(0, self.height() - _UNDER_PX, self.width(), _UNDER_PX)
            painter.drawText(under, _CENTRE, f"dashed: {found.wind.mean_m_s:.1f} m/s; wedge: keyway")

    def _paint_rings(self, painter: QPainter, middle: QPointF, scale: float, rings: int) -> None:
        s = self._scheme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for ring in range(1, rings + 1):
            radius = ring * _RING_M_S * scale
            painter.setPen(QPen(s.color("edge"), 1.0))
            painter.drawEllipse(middle, radius, radius)
            at = polar(middle, 22.5, radius)
            painter.setFont(font(8))
            painter.setPen(s.color("faint"))
            painter.drawText(
                QRectF(at.x() - 12.0, at.y() - 8.0, 24.0, 16.0), _CENTRE, f"{ring * _RING_M_S:g}"
            )
        painter.setFont(font(9, True))
        painter.setPen(s.color("ink"))
        outer = rings * _RING_M_S * scale + 10.0
        for bearing, word in ((0, "N"), (90, "E"), (180, "S"), (270, "W")):
            at = polar(middle, bearing, outer)
            painter.drawText(QRectF(at.x() - 10.0, at.y() - 9.0, 20.0, 18.0), _CENTRE, word)

    def _paint_station(self, painter: QPainter, found: StandAnswer, middle: QPointF, radius: float) -> None:
        """Where the feet stand, and a wedge at the keyway's bearing."""
        s = self._scheme
        furthest = max(math.hypot(float(x), float(y)) for x, y in found.support.feet_m)
        painter.setPen(QPen(s.color("faint"), 2.0))
        for x, y in found.support.feet_m:
            bearing = math.degrees(math.atan2(float(x), float(y))) + found.keyway_deg
            painter.drawLine(middle, polar(middle, bearing, radius * 0.3 * math.hypot(x, y) / furthest))
        tip = polar(middle, found.keyway_deg, radius * 0.42)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(s.color("accent"))
        base = [polar(middle, found.keyway_deg + side, radius * 0.32) for side in (-9.0, 9.0)]
        painter.drawPolygon(QPolygonF([tip, *base]))

    def _paint_wind(self, painter: QPainter, found: StandAnswer, middle: QPointF, radius: float) -> None:
        """An arrow in from where the plan says that the wind comes from."""
        comes_from = found.stand.wishes.wind_from_deg
        if comes_from is None:
            return
        tail, head = (polar(middle, comes_from, share * radius) for share in (1.2, 1.03))
        painter.setPen(QPen(self._scheme.color("ink"), 2.0))
        painter.drawLine(tail, head)
        for side in (-28.0, 28.0):
            painter.drawLine(head, polar(head, comes_from + side, 9.0))

    def _paint_curve(self, painter: QPainter, found: StandAnswer, middle: QPointF, scale: float) -> None:
        s, rose = self._scheme, found.rose
        points = [
            polar(middle, at, mean * scale)
            for at, mean in zip(rose.toward_deg.tolist(), rose.mean_m_s.tolist(), strict=True)
        ]
        painter.setPen(QPen(s.color("signal"), 2.2))
        painter.setBrush(s.color("signal_soft", 90))
        painter.drawPolygon(QPolygonF(points))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(s.color("ink"), 1.4, Qt.PenStyle.DashLine))
        reckoned = found.wind.mean_m_s * scale
        painter.drawEllipse(middle, reckoned, reckoned)
        for bearing, role in ((found.weakest_deg, "accent"), (found.strongest_deg, "ink")):
            mean = found.tip_mean_m_s(bearing)
            at = polar(middle, bearing, mean * scale)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(s.color(role))
            painter.drawEllipse(at, 3.6, 3.6)
            painter.setPen(s.color(role))
            painter.setFont(font(9, True))
            inner = polar(middle, bearing, max(mean * scale - 16.0, 0.0))
            painter.drawText(QRectF(inner.x() - 24.0, inner.y() - 9.0, 48.0, 18.0), _CENTRE, f"{mean:.1f}")
