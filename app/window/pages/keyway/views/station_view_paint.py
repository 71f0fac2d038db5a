"""What the station view paints: the compass (fixed), and plate, stops, gaps and labels (moving)."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPainterPath, QPen, QPixmap, QPolygonF, QTransform

from app.window.look.marks import paint_mark
from app.window.look.scheme import Scheme, font
from app.window.pages.keyway.views.station_view_arcs import ArcsLayer, stroke
from app.window.pages.keyway.views.station_view_geometry import (
    CompassFrame,
    label_box,
    legend_height,
    legend_lines,
    placed,
    qt_arc,
)
from app.window.views.painting import painting
from core.base.words import bearing_text
from core.mount.model.from_above import FromAbove, Sector
from core.mount.model.results import Verdict
from core.mount.model.station import AzimuthAxis
from core.mount.seat.limits import SeatLimit
from core.mount.seat.outcome import PassAtSeat
from core.mount.seat.pass_arcs import resting_pieces, stop_gaps

_LEGEND: tuple[tuple[Verdict, str], ...] = (
    (Verdict.UPRIGHT, "upright"),
    (Verdict.OVER_THE_TOP, "over the top"),
    (Verdict.SPLIT, "split"),
    (Verdict.PART, "part"),
    (Verdict.OUT_OF_REACH, "out of reach"),
)

#: Width of the band of forbidden bearings, up to the ring's figures.
_LIMIT_PX = 11.0


def paint_compass(painter: QPainter, disc: CompassFrame, scheme: Scheme) -> None:
    """The ground of the picture: card, ring, ticks and figures."""
    painter.setPen(QPen(scheme.color("edge"), 1.2))
    painter.setBrush(scheme.color("card"))
    painter.drawEllipse(disc.box(disc.radius))
    for tick in range(0, 360, 5):
        length = 12.0 if tick % 30 == 0 else 7.0 if tick % 10 == 0 else 4.0
        role = "ink" if tick % 30 == 0 else "faint"
        painter.setPen(QPen(scheme.color(role), 1.4 if tick % 30 == 0 else 0.8))
        painter.drawLine(disc.point(tick, disc.radius), disc.point(tick, disc.radius - length))
    for figure in range(0, 360, 30):
        name = {0: "N", 90: "E", 180: "S", 270: "W"}.get(figure)
        painter.setPen(scheme.color("ink" if name else "faint"))
        painter.setFont(font(13, True) if name else font(9))
        box = _figure_box(disc, figure)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, name or f"{figure}")


def _figure_box(disc: CompassFrame, figure: int) -> QRectF:
    at = disc.point(figure, disc.radius + 21.0)
    half = 10.0 if figure % 90 == 0 else 14.0
    return QRectF(at.x() - half, at.y() - 9.0, 2.0 * half, 18.0)


#: Stands for the band of bearings at which the boom strikes, in the legend.
_STRIKES = "the boom strikes"


def paint_legend(
    painter: QPainter, width: float, height: float, scheme: Scheme, strikes: bool = False
) -> None:
    """The marks with their words under the picture, in one line or two; ``strikes``: their band's too."""
    entries: list[tuple[Verdict | None, str]] = [*_LEGEND, (None, "rests at a guard")]
    if strikes:
        entries.append((None, _STRIKES))
    lines = legend_lines(width)
    per_line = -(-len(entries) // lines)
    room = legend_height(width)
    for line in range(lines):
        y = height - room + room * (line + 0.5) / lines
        _paint_legend_line(painter, entries[line * per_line : (line + 1) * per_line], width, y, scheme)


def _paint_legend_line(
    painter: QPainter, entries: list[tuple[Verdict | None, str]], width: float, y: float, scheme: Scheme
) -> None:
    painter.setFont(font(9))
    metrics = QFontMetricsF(font(9))
    lengths = [22.0 + metrics.horizontalAdvance(words) for _mark, words in entries]
    gap = max(min((width - sum(lengths)) / len(entries), 22.0), 6.0)
    x = (width - sum(lengths) - gap * (len(entries) - 1)) / 2.0
    signal, accent = scheme.color("signal"), scheme.color("accent")
    for (mark, words), length in zip(entries, lengths, strict=True):
        box = QRectF(x, y - 5.0, 11.0 if mark is None else 15.0, 10.0)
        if words == _STRIKES:
            _fill_struck(painter, box, scheme)
        else:
            paint_mark(painter, box, mark or Verdict.UPRIGHT, signal, accent, mark is None)
        painter.setPen(scheme.color("faint"))
        painter.drawText(QPointF(x + 22.0, y + metrics.ascent() / 2.0 - 1.5), words)
        x += length + gap


class HatchBrushes:
    """The guards' hatch as a tiled brush, made once per scheme and device ratio."""

    def __init__(self) -> None:
        self._made: dict[tuple[str, float], QBrush] = {}

    def get(self, scheme: Scheme, ratio: float) -> QBrush:
        """The brush."""
        key = (scheme.name, ratio)
        if key not in self._made:
            side = round(7 * ratio)
            tile = QPixmap(side, side)
            tile.fill(scheme.color("accent_soft"))
            with painting(tile) as painter:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                painter.setPen(QPen(scheme.color("accent", 150), 1.2 * ratio))
                for shift in (-side, 0, side):
                    painter.drawLine(QPointF(shift, side), QPointF(shift + side, 0))
                brush = QBrush(tile)
                if ratio != 1.0:
                    brush.setTransform(QTransform.fromScale(1.0 / ratio, 1.0 / ratio))
                self._made[key] = brush
        return self._made[key]


def wedge(disc: CompassFrame, sector: Sector, inner: float, outer: float) -> QPainterPath:
    """A sector between two radii."""
    start, span = qt_arc(sector.start_deg, sector.start_deg + sector.span_deg)
    path = QPainterPath()
    path.arcMoveTo(disc.box(outer), start / 16.0)
    path.arcTo(disc.box(outer), start / 16.0, span / 16.0)
    path.arcTo(disc.box(inner), (start + span) / 16.0, -span / 16.0)
    path.closeSubpath()
    return path


def paint_sectors(
    painter: QPainter, disc: CompassFrame, above: FromAbove, scheme: Scheme, hatch: QBrush
) -> None:
    """Overlap, what no azimuth points to, and the guards at both stops."""
    painter.setPen(Qt.PenStyle.NoPen)
    rim = disc.radius - 13.0
    if above.overlap is not None:
        painter.fillPath(wedge(disc, above.overlap, disc.plate, rim), scheme.color("overlap"))
    if above.unreachable is not None:
        painter.fillPath(wedge(disc, above.unreachable, disc.plate, rim), scheme.color("accent_soft"))
    for guard in above.guards:
        if guard.span_deg > 0.0:
            painter.fillPath(wedge(disc, guard, disc.plate, rim), hatch)


def paint_limits(
    painter: QPainter, disc: CompassFrame, limits: Sequence[SeatLimit], scheme: Scheme, hatch: QBrush
) -> None:
    """Forbidden keyway bearings, hatched in a band outside the ring where the keyway's handle would be."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for limit in limits:
        band = wedge(disc, Sector(limit.from_deg, limit.width_deg), disc.radius, disc.radius + _LIMIT_PX)
        painter.fillPath(band, hatch)
        painter.strokePath(band, QPen(scheme.color("accent"), 1.2))
    painter.restore()


def paint_stops(painter: QPainter, disc: CompassFrame, above: FromAbove, scheme: Scheme) -> None:
    """The lines of the two stops, over the arcs."""
    painter.setPen(QPen(scheme.color("accent"), 2.2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    for stop in (above.counter_clockwise_stop_deg, above.clockwise_stop_deg):
        painter.drawLine(disc.point(stop, disc.plate), disc.point(stop, disc.radius))


def paint_gaps(
    painter: QPainter,
    disc: CompassFrame,
    layer: ArcsLayer,
    here: Sequence[PassAtSeat],
    above: FromAbove,
    azimuth: AzimuthAxis,
    scheme: Scheme,
) -> None:
    """What moves with the stop: gaps of the passes not held, the worked side of parts, resting bits."""
    zeta, width = above.counter_clockwise_stop_deg, layer.width(disc)
    card, accent, signal = scheme.color("card"), scheme.color("accent"), scheme.color("signal")
    guard = scheme.color("accent_soft")
    room = min(width + 2.0, disc.ring_step(layer.ring_count))
    for one in here:
        arc = layer.arcs[one.index]
        radius = layer.radius(one.index, disc)
        if one.held and one.resting:
            base = zeta + (180.0 if one.verdict == Verdict.OVER_THE_TOP else 0.0)
            for piece in resting_pieces(arc, base, azimuth):
                stroke(painter, disc, radius, piece, guard, room)
                stroke(painter, disc, radius, piece, signal, max(width * 0.35, 1.0))
                if room < 5.0:
                    continue
                edge = piece[1] if piece[0] == arc.low_deg else piece[0]
                painter.setPen(QPen(signal, 2.0))
                painter.drawLine(
                    disc.point(edge, radius - room * 0.75), disc.point(edge, radius + room * 0.75)
                )
        elif one.verdict in {Verdict.SPLIT, Verdict.PART}:
            nominal = 220.0 / radius
            gaps = [
                (low, high)
                if high - low > nominal
                else ((low + high - nominal) / 2, (low + high + nominal) / 2)
                for low, high in stop_gaps(arc, zeta, azimuth)
            ]
            if one.verdict == Verdict.PART and gaps:
                before, after = gaps[0][0] - arc.low_deg, arc.high_deg - gaps[-1][1]
                worked = (arc.low_deg, gaps[0][0]) if before >= after else (gaps[-1][1], arc.high_deg)
                if worked[1] > worked[0]:
                    stroke(painter, disc, radius, worked, accent, width)
            for gap in gaps:
                stroke(painter, disc, radius, gap, guard if gap[1] - gap[0] > nominal + 1e-9 else card, room)


def paint_strikes(painter: QPainter, disc: CompassFrame, above: FromAbove, scheme: Scheme) -> None:
    """A band about the plate where the boom strikes something at some elevation."""
    for sector in above.strikes:
        _fill_struck(painter, wedge(disc, sector, disc.plate * 1.16, disc.plate * 1.4), scheme)


def _fill_struck(painter: QPainter, shape: QRectF | QPainterPath, scheme: Scheme) -> None:
    """A tone, a hatch of its own and an outline."""
    path = QPainterPath()
    if isinstance(shape, QRectF):
        path.addRect(shape)
    else:
        path = shape
    painter.save()
    painter.setPen(QPen(scheme.color("accent", 200), 1.0))
    painter.setBrush(scheme.color("accent_soft"))
    painter.drawPath(path)
    painter.fillPath(path, QBrush(scheme.color("accent", 220), Qt.BrushStyle.DiagCrossPattern))
    painter.restore()


def paint_plate(painter: QPainter, disc: CompassFrame, above: FromAbove, scheme: Scheme) -> None:
    """Legs, plate, keyway, adapter with its datum mark and holes, and the pin in the hole in use."""
    plate = disc.plate
    adapter = plate * 0.72
    paint_strikes(painter, disc, above, scheme)
    guy = QPen(scheme.color("faint", 190), max(plate * 0.03, 1.2), Qt.PenStyle.DashLine)
    painter.setPen(guy)
    for at in above.guys_deg:
        painter.drawLine(disc.point(at, plate * 0.9), disc.point(at, plate * 1.6))
    leg = QPen(scheme.color("faint", 150), plate * 0.2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)
    painter.setPen(leg)
    for at in above.legs_deg:
        painter.drawLine(disc.point(at, plate * 0.9), disc.point(at, plate * 1.55))
    painter.setPen(QPen(scheme.color("ink"), 1.4))
    painter.setBrush(scheme.color("edge"))
    painter.drawEllipse(disc.box(plate))
    painter.setBrush(scheme.color("paper"))
    painter.drawEllipse(disc.box(adapter))
    painter.setPen(QPen(scheme.color("ink"), 2.0))
    datum = above.datum_deg
    painter.drawLine(disc.point(datum, adapter * 0.18), disc.point(datum, adapter * 0.42))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(disc.box(adapter * 0.18))
    _paint_keyway(painter, disc, above.keyway_deg, scheme)
    _paint_holes(painter, disc, above, scheme, adapter)


def _paint_keyway(painter: QPainter, disc: CompassFrame, at: float, scheme: Scheme) -> None:
    """The slot of the plate, open to the outside."""
    half = disc.plate * 0.115
    painter.save()
    painter.translate(disc.x, disc.y)
    painter.rotate(at)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(scheme.color("ink"))
    painter.drawRect(QRectF(-half, -disc.plate * 1.01, 2.0 * half, disc.plate * 0.34))
    painter.restore()


def _paint_holes(
    painter: QPainter, disc: CompassFrame, above: FromAbove, scheme: Scheme, adapter: float
) -> None:
    small = max(disc.plate * 0.06, 3.0)
    on = disc.plate * 0.84
    painter.setFont(font(max(min(disc.plate * 0.16, 12.0), 7.5), True))
    for hole in above.holes:
        at = disc.point(hole.bearing_deg, on)
        painter.setPen(QPen(scheme.color("ink"), 1.3))
        painter.setBrush(scheme.color("accent" if hole.in_use else "paper"))
        size = small * (1.25 if hole.in_use else 1.0)
        painter.drawEllipse(at, size, size)
        name = disc.point(hole.bearing_deg, adapter * 0.68)
        painter.setPen(scheme.color("ink" if hole.in_use else "faint"))
        painter.drawText(
            QRectF(name.x() - 20.0, name.y() - 10.0, 40.0, 20.0), Qt.AlignmentFlag.AlignCenter, hole.name[:3]
        )


def paint_handle(painter: QPainter, disc: CompassFrame, at: float, scheme: Scheme, focus: bool) -> None:
    """The grip of the keyway on the compass ring, and the line from the plate to it."""
    painter.setPen(QPen(scheme.color("ink", 110), 1.2, Qt.PenStyle.DashLine))
    painter.drawLine(disc.point(at, disc.plate * 1.05), disc.point(at, disc.radius - 16.0))
    painter.save()
    painter.translate(disc.x, disc.y)
    painter.rotate(at)
    tip = -disc.radius
    corners = ((0.0, 15.0), (-11.0, -3.0), (-8.0, -9.0), (8.0, -9.0), (11.0, -3.0))
    shape = QPolygonF([QPointF(x, tip + y) for x, y in corners])
    painter.setPen(QPen(scheme.color("signal" if focus else "card"), 3.0 if focus else 1.5))
    painter.setBrush(scheme.color("ink"))
    painter.drawPolygon(shape)
    painter.restore()


def paint_labels(
    painter: QPainter, disc: CompassFrame, above: FromAbove, scheme: Scheme, within: QRectF
) -> None:
    """Names and bearings of the keyway and of both stops, outside the ring and clear of each other."""
    keyway, first, second = above.keyway_deg, above.counter_clockwise_stop_deg, above.clockwise_stop_deg
    texts = [(keyway, f"keyway {bearing_text(keyway)}", "ink")]
    if abs((first - second + 180.0) % 360.0 - 180.0) < 0.05:
        texts.append((first, f"both stops {bearing_text(first)}", "accent"))
    else:
        texts.append((first, f"counter-clockwise\nstop {bearing_text(first)}", "accent"))
        texts.append((second, f"clockwise\nstop {bearing_text(second)}", "accent"))
    made = font(10, True)
    metrics = QFontMetricsF(made)
    boxes = []
    for at, text, _role in texts:
        lines = text.split("\n")
        width = max(metrics.horizontalAdvance(line) for line in lines) + 8.0
        boxes.append(label_box(disc, at, disc.radius + 33.0, width, metrics.height() * len(lines)))
    grip = disc.point(keyway, disc.radius)
    obstacles = [_figure_box(disc, figure) for figure in range(0, 360, 30)]
    obstacles.append(QRectF(grip.x() - 12.0, grip.y() - 12.0, 24.0, 24.0))
    painter.setFont(made)
    for box, (_at, text, role) in zip(placed(boxes, obstacles, disc, within), texts, strict=True):
        painter.setPen(scheme.color(role))
        middle = box.center().x() - disc.x
        side = Qt.AlignmentFlag.AlignHCenter
        if abs(middle) > disc.radius * 0.45:
            side = Qt.AlignmentFlag.AlignLeft if middle > 0.0 else Qt.AlignmentFlag.AlignRight
        painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter, text)
