"""How the part is painted, from the core's circles and pieces: a view from one side, the section, a scale."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPainterPath, QPen, QPolygonF

from app.window.look.scheme import Scheme, font
from core.base.words import plain, signed
from core.plate.body.views import IndexLabel, Piece, PlateView, Round, Section

_CENTRE = Qt.AlignmentFlag.AlignCenter
#: Room beside the part for the holes' words, over it for the title and under it for the scale.
BESIDE_PX, OVER_PX, UNDER_PX = 76.0, 38.0, 4.0
_LABEL_PX = 30.0
#: Lengths that a scale may have, mm.
_SCALES = (5, 10, 20, 50, 100, 200)


def paint_view(painter: QPainter, box: QRectF, view: PlateView, title: str, scheme: Scheme) -> None:
    """The part from one side in a box, the datum mark on top."""
    radius_mm = view.rounds[0].radius_mm
    room = min(box.width() / 2.0 - BESIDE_PX, (box.height() - OVER_PX - UNDER_PX) / 2.0)
    scale = max(room, 20.0) / radius_mm
    middle = QPointF(box.center().x(), box.top() + OVER_PX + radius_mm * scale)
    painter.setFont(font(10, True))
    painter.setPen(scheme.color("ink"))
    painter.drawText(QRectF(box.left(), box.top(), box.width(), 16), _CENTRE, title)
    _paint_datum(painter, middle, radius_mm * scale, scheme)
    for at, round_ in enumerate(view.rounds):
        _paint_round(painter, middle, scale, round_, scheme, filled=at == 0)
    _paint_cut_line(painter, middle, radius_mm * scale, view.section_deg, scheme)
    _paint_labels(painter, box, middle, scale, view.labels, scheme)


def _place(middle: QPointF, angle_deg: float, radius: float) -> QPointF:
    angle = math.radians(angle_deg)
    return QPointF(middle.x() + radius * math.sin(angle), middle.y() - radius * math.cos(angle))


def _paint_datum(painter: QPainter, middle: QPointF, radius: float, scheme: Scheme) -> None:
    tip = QPointF(middle.x(), middle.y() - radius)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(scheme.color("ink"))
    painter.drawPolygon(QPolygonF([tip, tip + QPointF(-5.0, -9.0), tip + QPointF(5.0, -9.0)]))
    painter.setFont(font(8.5))
    painter.setPen(scheme.color("faint"))
    painter.drawText(QRectF(tip.x() - 60.0, tip.y() - 24.0, 120.0, 15.0), _CENTRE, "datum mark")


def _paint_round(
    painter: QPainter, middle: QPointF, scale: float, round_: Round, scheme: Scheme, filled: bool
) -> None:
    """Dashed where it is hidden; a thread is three quarters of a thin circle round its hole."""
    at = QPointF(middle.x() + round_.x_mm * scale, middle.y() - round_.y_mm * scale)
    radius = round_.radius_mm * scale
    role = "signal" if round_.role == "index" else "ink"
    pen = QPen(scheme.color("faint" if round_.hidden else role), 1.0 if round_.hidden else 1.6)
    if round_.hidden:
        pen.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(pen)
    if filled:
        painter.setBrush(scheme.color("card"))
    elif round_.role in {"body", "step"} or round_.hidden:
        painter.setBrush(Qt.BrushStyle.NoBrush)
    else:
        painter.setBrush(scheme.color("paper"))
    painter.drawEllipse(at, radius, radius)
    if round_.thread_mm:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(pen.color(), 0.9))
        outer = round_.thread_mm * scale
        painter.drawArc(QRectF(at.x() - outer, at.y() - outer, 2.0 * outer, 2.0 * outer), 0, 270 * 16)


def _paint_cut_line(
    painter: QPainter, middle: QPointF, radius: float, section_deg: tuple[float, float], scheme: Scheme
) -> None:
    painter.setPen(QPen(scheme.color("faint"), 1.0, Qt.PenStyle.DashDotLine))
    for angle in section_deg:
        painter.drawLine(middle, _place(middle, angle, radius + 6.0))


def _paint_labels(
    painter: QPainter,
    box: QRectF,
    middle: QPointF,
    scale: float,
    labels: Sequence[IndexLabel],
    scheme: Scheme,
) -> None:
    """Each hole's name and both offsets in a column on its side, joined to the hole by a thin line."""
    for side in (-1.0, 1.0):
        here = [one for one in labels if (math.sin(math.radians(one.angle_deg)) >= -1e-9) == (side > 0.0)]
        placed = [(one, _place(middle, one.angle_deg, one.radius_mm * scale)) for one in here]
        placed.sort(key=lambda pair: pair[1].y())
        tops = _spread([hole.y() - _LABEL_PX / 2.0 for _one, hole in placed], box.top() + 22.0, box.bottom())
        for (one, hole), top in zip(placed, tops, strict=True):
            _paint_label(painter, box, one, hole, top, side, scheme)


def _spread(wanted: Sequence[float], top: float, bottom: float) -> list[float]:
    """Tops of the labels, as near to those wanted as they go without covering each other."""
    step = min(_LABEL_PX, (bottom - top) / max(len(wanted), 1))
    found: list[float] = []
    for at, one in enumerate(wanted):
        left = len(wanted) - at
        low = max(top, found[-1] + step if found else top)
        found.append(max(low, min(one, bottom - left * step)))
    return found


def _paint_label(
    painter: QPainter,
    box: QRectF,
    one: IndexLabel,
    hole: QPointF,
    top: float,
    side: float,
    scheme: Scheme,
) -> None:
    wide = BESIDE_PX - 4.0
    left = box.right() - wide if side > 0.0 else box.left()
    words = QRectF(left, top, wide, _LABEL_PX)
    inner = QPointF(left - 2.0 if side > 0.0 else left + wide + 2.0, top + _LABEL_PX / 2.0)
    painter.setPen(QPen(scheme.color("accent" if one.in_use else "edge"), 1.0))
    painter.drawLine(hole, inner)
    flush = Qt.AlignmentFlag.AlignLeft if side > 0.0 else Qt.AlignmentFlag.AlignRight
    painter.setPen(scheme.color("accent" if one.in_use else "ink"))
    painter.setFont(font(8.5, one.in_use))
    name = one.name if len(one.name) <= 8 else f"{one.name[:7]}\N{HORIZONTAL ELLIPSIS}"
    text = f"{name}  h {plain(one.drilled_deg)}\niota {signed(one.offset_deg)}"
    painter.drawText(words, flush | Qt.AlignmentFlag.AlignVCenter, text)


def paint_section(painter: QPainter, box: QRectF, section: Section, scheme: Scheme) -> None:
    """The section to scale in a box, above on top, with a scale of its own."""
    wide_mm = section.solid[-1].right_mm - section.solid[0].left_mm
    top_mm = max(piece.high_mm for piece in section.solid)
    scale = min((box.width() - 150.0) / wide_mm, (box.height() - 8.0) / top_mm)
    middle = box.center().x() - 40.0
    base = box.top() + 4.0 + top_mm * scale

    def area(piece: Piece) -> QRectF:
        width, height = piece.right_mm - piece.left_mm, piece.high_mm - piece.low_mm
        return QRectF(
            middle + piece.left_mm * scale, base - piece.high_mm * scale, width * scale, height * scale
        )

    body = QPainterPath()
    for piece in section.solid:
        body = body.united(_path(area(piece).adjusted(-0.01, 0.0, 0.01, 0.0)))
    for piece in section.cuts:
        body = body.subtracted(_path(area(piece)))
    painter.setPen(QPen(scheme.color("ink"), 1.4))
    painter.fillPath(body, scheme.color("card"))
    painter.fillPath(body, QBrush(scheme.color("faint"), Qt.BrushStyle.BDiagPattern))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(body)
    painter.setPen(QPen(scheme.color("faint"), 1.0, Qt.PenStyle.DashDotLine))
    painter.drawLine(QPointF(middle, box.top()), QPointF(middle, base + 4.0))
    right = QRectF(box.right() - 100.0, box.top(), 100.0, box.height())
    paint_scale(painter, right, scale, scheme)


def _path(box: QRectF) -> QPainterPath:
    path = QPainterPath()
    path.addRect(box)
    return path


def paint_scale(painter: QPainter, box: QRectF, scale: float, scheme: Scheme) -> None:
    """A bar of a round length in the middle of a box, ``scale`` being pixels in a mm."""
    fitting = [length for length in _SCALES if length * scale <= box.width()] or [_SCALES[0]]
    wide = fitting[-1] * scale
    y = box.center().y()
    left = box.right() - wide
    painter.setPen(QPen(scheme.color("ink"), 2.0))
    painter.drawLine(QPointF(left, y), QPointF(left + wide, y))
    for x in (left, left + wide):
        painter.drawLine(QPointF(x, y - 4.0), QPointF(x, y + 4.0))
    painter.setFont(font(8.5))
    painter.setPen(scheme.color("faint"))
    painter.drawText(
        QRectF(box.left(), y + 4.0, box.width(), 16.0), Qt.AlignmentFlag.AlignRight, f"{fitting[-1]} mm"
    )
