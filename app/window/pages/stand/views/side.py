"""The station from the side, to scale, with the wind from the left."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF

from app.window.look.scheme import Scheme, font
from app.window.pages.stand.views.picture import StandPicture
from app.window.views.painting import painting
from core.base.words import bearing_text
from core.stand.pictures import Placed, SideView

_CENTRE = Qt.AlignmentFlag.AlignCenter
_TITLE_PX, _GROUND_PX, _BESIDE_PX = 20.0, 28.0, 14.0
#: The area of a mass's disc, pixels squared for a kg; the length of a bar for a square metre of drag area.
_DISC_PX2_KG, _BAR_PX_M2 = 22.0, 220.0


class SideViewPicture(StandPicture):
    """Feet, masses, areas, guys, the centre of mass and the line about which it tips."""

    def __init__(self) -> None:
        super().__init__("The station from the side")
        self._view: SideView | None = None

    def show_view(self, view: SideView, scheme: Scheme) -> None:
        """Another station."""
        self._view, self._scheme = view, scheme
        self.setAccessibleDescription(
            f"Wind toward {bearing_text(view.toward_deg)} deg true blows to the right. Centre of mass at "
            f"{view.centre.height_m:.2f} m, highest point {view.highest_m:.2f} m."
        )
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        view, s = self._view, self._scheme
        if view is None:
            return
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(font(10, True))
            painter.setPen(s.color("ink"))
            title = f"From the side, wind toward {bearing_text(view.toward_deg)}"
            painter.drawText(QRectF(0, 0, self.width(), _TITLE_PX), _CENTRE, title)
            wide = 2.0 * max(*(abs(x) for x in view.feet), *(abs(peg.across_m) for peg in view.pegs), 0.3)
            room = QRectF(
                _BESIDE_PX,
                _TITLE_PX + 8.0,
                self.width() - 2.0 * _BESIDE_PX,
                self.height() - _TITLE_PX - _GROUND_PX - 12.0,
            )
            scale = max(min(room.width() / wide, room.height() / max(view.highest_m, 0.5)), 1.0)
            self._paint(painter, view, QPointF(room.center().x(), room.bottom()), scale)

    def _paint(self, painter: QPainter, view: SideView, ground: QPointF, scale: float) -> None:
        s = self._scheme

        def at(across_m: float, height_m: float) -> QPointF:
            return QPointF(ground.x() + across_m * scale, ground.y() - height_m * scale)

        painter.setPen(QPen(s.color("faint"), 1.2))
        painter.drawLine(QPointF(6.0, ground.y()), QPointF(self.width() - 6.0, ground.y()))
        painter.setPen(QPen(s.color("faint"), 1.0, Qt.PenStyle.DashLine))
        for peg in view.pegs:
            painter.drawLine(at(0.0, peg.height_m), at(peg.across_m, 0.0))
        painter.setPen(QPen(s.color("ink"), 2.4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        for foot in view.feet:
            painter.drawLine(at(0.0, view.knee_m), at(foot, 0.0))
        painter.drawLine(at(0.0, min(view.knee_m, 0.3)), at(0.0, view.mast_m))
        self._paint_areas(painter, view, at)
        for mass in (*view.masses, *view.hung):
            self._paint_mass(painter, mass, at(mass.across_m, mass.height_m))
        painter.setPen(QPen(s.color("faint"), 1.0, Qt.PenStyle.DotLine))
        top = at(0.0, view.highest_m).y()
        painter.drawLine(QPointF(6.0, top), QPointF(self.width() - 6.0, top))
        self._paint_centre(painter, view, at(view.centre.across_m, view.centre.height_m))
        self._paint_tip(painter, at(view.tips_at_m, 0.0))
        painter.setFont(font(8.5))
        painter.setPen(s.color("faint"))
        painter.drawText(
            QPointF(8.0, top - 3.0 if top > _TITLE_PX + 14.0 else top + 13.0), f"{view.highest_m:.1f} m"
        )
        painter.drawText(
            QRectF(0, ground.y() + 10.0, self.width(), 16.0),
            _CENTRE,
            f"tips about {view.tips_at_m * 1000.0:.0f} mm from the axis",
        )

    def _paint_areas(self, painter: QPainter, view: SideView, at: object) -> None:
        """A bar upwind of the axis at each height, as long as the area with its drag, arrow to the right."""
        place = at
        assert callable(place)
        painter.setPen(QPen(self._scheme.color("signal"), 2.0))
        for area in view.areas:
            head = place(0.0, area.height_m) - QPointF(9.0, 0.0)
            length = min(max(area.size * _BAR_PX_M2, 8.0), self.width() / 2.0 - 30.0)
            painter.drawLine(head - QPointF(length, 0.0), head)
            painter.drawLine(head, head + QPointF(-5.0, -3.5))
            painter.drawLine(head, head + QPointF(-5.0, 3.5))

    def _paint_mass(self, painter: QPainter, mass: Placed, place: QPointF) -> None:
        radius = math.sqrt(mass.size * _DISC_PX2_KG / math.pi)
        painter.setPen(QPen(self._scheme.color("ink"), 1.2))
        painter.setBrush(self._scheme.color("signal_soft", 200))
        painter.drawEllipse(place, radius, radius)

    def _paint_centre(self, painter: QPainter, view: SideView, place: QPointF) -> None:
        s = self._scheme
        painter.setPen(QPen(s.color("accent"), 1.6))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(place, 6.0, 6.0)
        painter.drawLine(place - QPointF(9.0, 0.0), place + QPointF(9.0, 0.0))
        painter.drawLine(place - QPointF(0.0, 9.0), place + QPointF(0.0, 9.0))
        painter.setFont(font(8.5, True))
        painter.drawText(place + QPointF(13.0, 4.0), f"{view.centre.height_m:.2f} m")

    def _paint_tip(self, painter: QPainter, place: QPointF) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._scheme.color("accent"))
        painter.drawPolygon(QPolygonF([place, place + QPointF(-5.0, 9.0), place + QPointF(5.0, 9.0)]))
