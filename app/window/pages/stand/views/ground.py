"""The station from above with its fall circle, and what is near by, to scale, north up."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen

from app.window.look.scheme import Scheme, font
from app.window.pages.stand.views.picture import StandPicture
from app.window.pages.stand.views.rose import polar
from app.window.views.painting import painting
from core.base.words import bearing_text, plain
from core.stand.pictures import GroundView, NearBy

_CENTRE = Qt.AlignmentFlag.AlignCenter
_TITLE_PX, _UNDER_PX, _ROUND_PX = 20.0, 18.0, 18.0
#: So much of the picture's radius the fall circle takes; what lies further than the rim stands at it.
_CIRCLE_SHARE = 0.55


class GroundPicture(StandPicture):
    """Feet, pegs, the fall circle, and each thing near by at its bearing and distance."""

    def __init__(self) -> None:
        super().__init__("What it could fall on, from above")
        self._view: GroundView | None = None
        #: Where words stand already, while it is painted.
        self._taken: list[QRectF] = []

    def show_view(self, view: GroundView, scheme: Scheme) -> None:
        """Another ground."""
        self._view, self._scheme = view, scheme
        told = [f"{near_words(one)}, {bearing_text(one.near.bearing_deg)} deg true" for one in view.near]
        self.setAccessibleDescription("; ".join([f"Fall circle {view.circle_m:.1f} m", *told]))
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        view, s = self._view, self._scheme
        if view is None:
            return
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(font(10, True))
            painter.setPen(s.color("ink"))
            painter.drawText(
                QRectF(0, 0, self.width(), _TITLE_PX), _CENTRE, "From above: what it could fall on"
            )
            room = self.height() - _TITLE_PX - _UNDER_PX
            rim = max(min(self.width(), room) / 2.0 - _ROUND_PX, 20.0)
            middle = QPointF(self.width() / 2.0, _TITLE_PX + room / 2.0)
            scale = rim * _CIRCLE_SHARE / max(view.circle_m, 0.1)
            painter.setPen(QPen(s.color("accent"), 1.8))
            painter.setBrush(s.color("accent_soft", 120))
            painter.drawEllipse(middle, view.circle_m * scale, view.circle_m * scale)
            painter.setPen(QPen(s.color("faint"), 1.0, Qt.PenStyle.DashLine))
            for peg in view.pegs:
                painter.drawLine(middle, polar(middle, peg.bearing_deg, peg.distance_m * scale))
            painter.setPen(QPen(s.color("ink"), 2.2))
            for foot in view.feet:
                painter.drawLine(middle, polar(middle, foot.bearing_deg, foot.distance_m * scale))
            painter.setFont(font(9, True))
            north = polar(middle, 0.0, rim + 4.0)
            painter.drawText(QRectF(north.x() - 10.0, north.y() - 9.0, 20.0, 18.0), _CENTRE, "N")
            self._taken = []
            for one in view.near:
                self._paint_near(painter, one, middle, rim, scale)
            painter.setFont(font(8.5))
            painter.setPen(s.color("faint"))
            under = QRectF(0, self.height() - _UNDER_PX, self.width(), _UNDER_PX)
            painter.drawText(under, _CENTRE, f"circle: {view.circle_m:.1f} m; arrows: further")

    def _paint_near(self, painter: QPainter, one: NearBy, middle: QPointF, rim: float, scale: float) -> None:
        """Filled where it is reached, a ring where it hangs over, an arrow where it is further off."""
        s, near = self._scheme, one.near
        beyond = near.distance_m * scale > rim
        at = polar(middle, near.bearing_deg, min(near.distance_m * scale, rim))
        role = "accent" if one.reached or one.overhead else "ink"
        painter.setPen(QPen(s.color(role), 1.6))
        painter.setBrush(s.color("accent") if one.reached else s.color("card"))
        if beyond:
            painter.drawLine(polar(middle, near.bearing_deg, rim - 12.0), at)
            for side in (-150.0, 150.0):
                painter.drawLine(at, polar(at, near.bearing_deg + side, 6.0))
        elif one.overhead:
            painter.drawEllipse(at, 5.0, 5.0)
        else:
            painter.drawRect(QRectF(at.x() - 4.0, at.y() - 4.0, 8.0, 8.0))
        painter.setFont(font(8.5, one.reached))
        painter.setPen(s.color(role))
        words = f"{_short(near.name)} {plain(near.distance_m, 1)} m"
        size = QFontMetricsF(painter.font()).size(0, words)
        box = self._room_for(at, size, at.y() <= middle.y())
        if box is not None:
            self._taken.append(box)
            painter.drawText(box, _CENTRE, words)

    def _room_for(self, at: QPointF, size: QSizeF, over: bool) -> QRectF | None:
        """A free place for words at a mark, outward first; None where there is none: the table has them."""
        left = min(max(at.x() - size.width() / 2.0, 2.0), self.width() - size.width() - 2.0)
        tops = (at.y() - size.height() - 7.0, at.y() + 7.0)
        for top in tops if over else tops[::-1]:
            box = QRectF(QPointF(left, top), size)
            inside = top >= _TITLE_PX and box.bottom() <= self.height() - _UNDER_PX
            if inside and not any(box.intersects(other) for other in self._taken):
                return box
        return None


def near_words(one: NearBy) -> str:
    """A thing, how far it is, and whether it is reached."""
    state = "reached" if one.reached else "over the fall circle" if one.overhead else _not_reached(one)
    return f"{one.near.name} {plain(one.near.distance_m, 1)} m, {state}"


def _not_reached(one: NearBy) -> str:
    return "not reached" if one.known else "not known: no boom is typed"


def _short(name: str) -> str:
    return name if len(name) <= 16 else f"{name[:15]}\N{HORIZONTAL ELLIPSIS}"
