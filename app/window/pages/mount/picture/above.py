"""The station from above: keyway, pin, holes, datum mark, stops, guards, travel and beam. North is up."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from app.window.look.scheme import Scheme, font
from core.base.angles import wrap_180
from core.mount.model.chain import correction_deg
from core.mount.model.from_above import FromAbove, station_from_above
from core.mount.model.station import Antenna, Mount, Station

#: Radii as shares of the drawing's: tripod plate, adapter, holes, the arcs of the chain, travel, letters.
_PLATE, _ADAPTER, _HOLES = 0.42, 0.335, 0.262
_CHAIN, _TRAVEL, _TURN = 0.50, 0.66, 0.09
_CENTRE = Qt.AlignmentFlag.AlignCenter


class _Compass:
    """Polar pixels: a bearing and a share of the radius."""

    def __init__(self, box: QRectF) -> None:
        self.centre = box.center()
        self.radius = min(box.width(), box.height()) / 2.0 - 24.0

    def at(self, share: float, bearing_deg: float) -> QPointF:
        angle = math.radians(bearing_deg)
        reach = share * self.radius
        return QPointF(self.centre.x() + reach * math.sin(angle), self.centre.y() - reach * math.cos(angle))

    def arc(self, from_deg: float, to_deg: float, share: float, grow: float = 0.0) -> QPainterPath:
        """Clockwise from one bearing to another (either may pass 360), growing by a share a full turn."""
        count = max(int(abs(to_deg - from_deg) / 3.0), 2)
        path = QPainterPath(self.at(share, from_deg))
        for step in range(1, count + 1):
            part = (to_deg - from_deg) * step / count
            path.lineTo(self.at(share + grow * abs(part) / 360.0, from_deg + part))
        return path


def paint_above(
    painter: QPainter, box: QRectF, mount: Mount, antennas: tuple[Antenna, ...], part: str, scheme: Scheme
) -> None:
    """All of it; ``part`` stands out."""
    compass = _Compass(box)
    hot = scheme.color("accent")

    def tone(role: str, *parts: str) -> QColor:
        return hot if part in parts else scheme.color(role)

    above = station_from_above(mount)
    _paint_rose(painter, compass, scheme)
    _paint_beam(painter, compass, above.counter_clockwise_stop_deg, Station(mount, antennas), part, scheme)
    _paint_letters(painter, compass, scheme)
    _paint_travel(painter, compass, above, part, scheme)
    _paint_plates(painter, compass, above, part, scheme)
    _paint_chain(painter, compass, mount, above, part, scheme)
    if mount.tilt.angle_deg or part == "tilt":
        _paint_tilt(painter, compass, mount, tone("faint", "tilt"))


def _paint_rose(painter: QPainter, compass: _Compass, scheme: Scheme) -> None:
    painter.setPen(QPen(scheme.color("edge"), 1.0))
    painter.setBrush(scheme.color("card"))
    painter.drawEllipse(compass.centre, compass.radius, compass.radius)


def _paint_letters(painter: QPainter, compass: _Compass, scheme: Scheme) -> None:
    painter.setFont(font(10, True))
    painter.setPen(scheme.color("ink"))
    for letter, bearing in (("N", 0.0), ("E", 90.0), ("S", 180.0), ("W", 270.0)):
        _text(painter, compass.at(1.0 - 12.0 / compass.radius, bearing), letter)


def _paint_beam(
    painter: QPainter,
    compass: _Compass,
    stop_deg: float,
    station: Station,
    part: str,
    scheme: Scheme,
) -> None:
    """Boom and beam on the counter-clockwise stop; a skewed antenna looks aside."""
    which = int(part.rpartition(" ")[2]) if part.startswith(("beam ", "skew ")) else -1
    chosen = station.antennas[which] if 0 <= which < len(station.antennas) else None
    half = chosen.beamwidth_deg / 2.0 if chosen else station.beam_limit_deg
    looks = stop_deg + (chosen.skew_deg if chosen else 0.0)
    wedge = compass.arc(looks - half, looks + half, 1.0)
    wedge.lineTo(compass.centre)
    wedge.closeSubpath()
    lit = chosen is not None
    painter.fillPath(wedge, scheme.color("accent_soft" if lit else "signal_soft", 190 if lit else 120))
    if chosen is not None and chosen.skew_deg:
        painter.setPen(QPen(scheme.color("accent"), 2.0, Qt.PenStyle.DashLine))
        painter.drawLine(compass.centre, compass.at(1.0, looks))


def _paint_travel(painter: QPainter, compass: _Compass, above: FromAbove, part: str, scheme: Scheme) -> None:
    first, travel = above.counter_clockwise_stop_deg, above.travel_deg
    last = first + travel
    # Travels of many turns are drawn tighter, so that the last one stays inside the rose.
    grow = min(_TURN, 0.26 / max(travel / 360.0, 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    hot = part in {"travel", "azimuth rate"}
    painter.setPen(QPen(scheme.color("accent" if hot else "signal"), 4.5 if hot else 3.0))
    painter.drawPath(compass.arc(first, last, _TRAVEL, grow))
    guard_pen = QPen(
        scheme.color("accent", 255 if part == "guard" else 110), 13.0 if part == "guard" else 8.0
    )
    guard_pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(guard_pen)
    outer = _TRAVEL + grow * travel / 360.0
    for guard, reach in zip(above.guards, (_TRAVEL, outer), strict=True):
        if guard.span_deg:
            painter.drawPath(compass.arc(guard.start_deg, guard.start_deg + guard.span_deg, reach))
    lit = part in {"stop", "travel"}
    for bearing, reach, width in ((first, _TRAVEL, 3.0), (last, outer, 2.0)):
        painter.setPen(QPen(scheme.color("accent"), width + (1.0 if lit else 0.0)))
        painter.drawLine(compass.at(reach - 0.05, bearing), compass.at(reach + 0.06, bearing))
    painter.setPen(QPen(scheme.color("accent", 200), 1.4, Qt.PenStyle.DotLine))
    painter.drawLine(compass.at(_PLATE, first), compass.at(_TRAVEL, first))
    if part == "azimuth rate":
        _arrow(painter, compass, first + 30.0, _TRAVEL - 0.07, scheme.color("accent"))
    painter.setFont(font(9, True))
    # Each name stands on the travel's side of its stop, so that two stops on one bearing stay apart.
    for bearing, reach, words, aside in (
        (first, _TRAVEL, "ccw stop", 7.0),
        (last, outer, "cw stop", -7.0),
    ):
        painter.setPen(QPen(scheme.color("accent"), 1.0))
        painter.drawLine(compass.at(reach, bearing), compass.at(1.0, bearing))
        _tag(painter, compass, bearing, bearing + aside, f"{words} {bearing % 360.0:.0f}", scheme)


def _paint_plates(painter: QPainter, compass: _Compass, above: FromAbove, part: str, scheme: Scheme) -> None:
    keyway, datum = above.keyway_deg, above.datum_deg
    painter.setPen(QPen(scheme.color("ink"), 1.6))
    painter.setBrush(scheme.color("edge"))
    painter.drawEllipse(compass.centre, _PLATE * compass.radius, _PLATE * compass.radius)
    notch = _block(compass, keyway, _ADAPTER - 0.105, _PLATE + 0.035, 0.042)
    painter.setBrush(scheme.color("card"))
    painter.drawEllipse(compass.centre, _ADAPTER * compass.radius, _ADAPTER * compass.radius)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(scheme.color("accent" if part == "keyway" else "ink"))
    painter.drawPolygon(notch)
    _paint_holes(painter, compass, above, part, scheme)
    lit = part == "stop" or part.startswith("hole ")
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(scheme.color("accent" if lit else "ink"))
    mark = [compass.at(_ADAPTER - 0.005, datum), compass.at(_ADAPTER - 0.09, datum - 9.0)]
    painter.drawPolygon(QPolygonF([*mark, compass.at(_ADAPTER - 0.09, datum + 9.0)]))
    painter.setPen(scheme.color("accent" if lit else "faint"))
    painter.setFont(font(8.5, lit))
    _text(painter, compass.at(_HOLES - 0.125, datum), "datum")
    if part == "keyway":
        _say(painter, compass, f"keyway {keyway:g} deg true", scheme)


def _paint_holes(painter: QPainter, compass: _Compass, above: FromAbove, part: str, scheme: Scheme) -> None:
    for index, hole in enumerate(above.holes):
        lit = part == f"hole {index}"
        place = compass.at(_HOLES, hole.bearing_deg)
        painter.setPen(QPen(scheme.color("accent" if lit else "ink"), 2.0))
        painter.setBrush(scheme.color("accent" if hole.in_use else "card"))
        painter.drawEllipse(place, 5.5, 5.5)
        painter.setFont(font(9, hole.in_use))
        painter.setPen(scheme.color("accent" if lit or hole.in_use else "ink"))
        # Beside the hole, away from the datum's mark; not toward the centre, where its word stands.
        away = -math.copysign(1.0, wrap_180(above.datum_deg - hole.bearing_deg))
        aside = away * math.degrees(15.0 / (_HOLES * compass.radius))
        _text(painter, compass.at(_HOLES, hole.bearing_deg + aside), hole.name[:3])


def _paint_chain(
    painter: QPainter, compass: _Compass, mount: Mount, above: FromAbove, part: str, scheme: Scheme
) -> None:
    """The link of the chain that the field is: an arc with an arrow from where to where."""
    datum = above.datum_deg
    at_stop = datum + mount.datum_to_stop_deg
    unit_on = at_stop + mount.elevation_unit_offset_deg
    links = {
        f"hole {index}": (seen.bearing_deg, hole.offset_deg, f"hole {hole.name} to datum mark")
        for index, (seen, hole) in enumerate(zip(above.holes, mount.index_holes, strict=True))
    }
    links |= {
        "stop": (datum, mount.datum_to_stop_deg, "datum to stop"),
        "unit": (at_stop, mount.elevation_unit_offset_deg, "elevation unit"),
        "correction": (unit_on, correction_deg(mount, "upright"), "sightings"),
    }
    if part not in links:
        return
    start, by_deg, words = links[part]
    color = scheme.color("accent")
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(color, 2.6))
    if by_deg:
        painter.drawPath(compass.arc(start, start + by_deg, _CHAIN))
        _arrow(painter, compass, start + by_deg, _CHAIN, color, 1.0 if by_deg > 0.0 else -1.0)
    _say(painter, compass, f"{words} {by_deg:+g} deg", scheme)


def _paint_tilt(painter: QPainter, compass: _Compass, mount: Mount, color: QColor) -> None:
    """An arrow toward the low edge."""
    toward = mount.tilt.toward_deg
    painter.setPen(QPen(color, 2.6))
    painter.drawLine(compass.at(_PLATE + 0.05, toward), compass.at(0.93, toward))
    painter.setBrush(color)
    head = [compass.at(1.0, toward), compass.at(0.91, toward - 3.0), compass.at(0.91, toward + 3.0)]
    painter.drawPolygon(QPolygonF(head))
    painter.setFont(font(9, True))
    _text(painter, compass.at(0.86, toward + 11.0), f"leans {mount.tilt.angle_deg:g}")


# --- small things -----------------------------------------------------------------------------------------


def _block(compass: _Compass, bearing: float, inner: float, outer: float, half: float) -> QPolygonF:
    """A rectangle along a bearing, shares of the radius."""
    ahead = compass.at(1.0, bearing) - compass.centre
    aside = QPointF(-ahead.y(), ahead.x())
    corners = ((inner, -half), (outer, -half), (outer, half), (inner, half))
    return QPolygonF([compass.centre + ahead * along + aside * across for along, across in corners])


def _arrow(
    painter: QPainter, compass: _Compass, bearing: float, share: float, color: QColor, sense: float = 1.0
) -> None:
    """An arrow head on an arc, pointing clockwise or counter-clockwise."""
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(color)
    back = bearing - sense * 7.0
    head = [compass.at(share, bearing), compass.at(share - 0.035, back), compass.at(share + 0.035, back)]
    painter.drawPolygon(QPolygonF(head))
    painter.restore()


def _text(painter: QPainter, place: QPointF, text: str) -> None:
    painter.drawText(QRectF(place.x() - 60.0, place.y() - 10.0, 120.0, 20.0), _CENTRE, text)


def _say(painter: QPainter, compass: _Compass, text: str, scheme: Scheme) -> None:
    """The figure of what stands out, in the upper left corner."""
    painter.setFont(font(11, True))
    painter.setPen(scheme.color("accent"))
    painter.drawText(QRectF(0.0, 0.0, 2.0 * compass.centre.x(), 22.0), Qt.AlignmentFlag.AlignLeft, text)


def _tag(
    painter: QPainter, compass: _Compass, bearing: float, beside: float, text: str, scheme: Scheme
) -> None:
    """A stop's name just outside the rose."""
    width = painter.fontMetrics().horizontalAdvance(text) + 8.0
    place = compass.at(1.0 + 10.0 / compass.radius, beside)
    away = math.sin(math.radians(beside))
    left = place.x() - width / 2.0 + away * width / 2.0
    if abs(away) < 0.5:
        # Above and below the rose there is room aside: away from the stop's own line.
        left = place.x() if compass.at(1.0, beside).x() > compass.at(1.0, bearing).x() else place.x() - width
    painter.setPen(scheme.color("accent"))
    painter.drawText(QRectF(max(left, 0.0), place.y() - 9.0, width, 18.0), _CENTRE, text)
