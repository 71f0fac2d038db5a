"""What the seat's curve paints: axes, steps, band and best arcs (fixed), and the bearing (moving)."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen, QPolygonF

from app.window.look.scheme import Scheme, font
from core.mount.seat.best_arcs import BestArcs
from core.mount.seat.curve import CurveSteps

#: Height of the band of counts, its distance to the curve, and of the bars of the best arcs.
_BAND, _GAP, _BAR = 8.0, 4.0, 5.0
#: Room for the scales left and right.
_SIDE = 66.0


@dataclass(frozen=True)
class CurveFrame:
    """The plot's place: bearing 0 to 360 across, seconds up from 0 to ``top_s``, in logical pixels."""

    left: float
    top: float
    width: float
    height: float
    top_s: float

    def x(self, bearing_deg: float) -> float:
        """Across."""
        return self.left + self.width * bearing_deg / 360.0

    def y(self, seconds: float) -> float:
        """Up."""
        return self.top + self.height * (1.0 - seconds / self.top_s)

    def bearing_at(self, x: float) -> float:
        """Bearing under a pixel, kept inside 0 to 359.9."""
        return min(max((x - self.left) / self.width * 360.0, 0.0), 359.9)

    @property
    def bottom(self) -> float:
        """The axis."""
        return self.top + self.height


def frame_in(width: float, height: float, worst_s: float) -> CurveFrame:
    """The plot inside a widget, with room for a scale on either side."""
    low = _GAP + _BAND + 3.0 + _BAR + 22.0
    across = max(width - 2.0 * _SIDE, 50.0)
    return CurveFrame(_SIDE, 24.0, across, max(height - 24.0 - low, 20.0), top_of(worst_s))


def top_of(worst_s: float) -> float:
    """A round figure above the worst: 60 s at least, halves of it are round too."""
    for top in (60.0, 120.0, 240.0, 360.0, 600.0, 1200.0, 1800.0, 2400.0, 3600.0):
        if worst_s <= top:
            return top
    return math.ceil(worst_s / 3600.0) * 3600.0


def _axis_words(seconds: float, top_s: float) -> str:
    if seconds == 0.0:
        return "0"
    return f"{seconds:.0f} s" if top_s < 180.0 else f"{seconds / 60.0:g} min"


def paint_axes(
    painter: QPainter,
    frame: CurveFrame,
    scheme: Scheme,
    quantity: str = "off beam",
    words: Callable[[float, float], str] = _axis_words,
) -> None:
    """Card, three lines across, bearings below, and what goes up on the left.

    Args:
        painter, frame, scheme: where and how.
        quantity: what goes up.
        words: of a value and the greatest one.
    """
    painter.fillRect(QRectF(frame.left, frame.top, frame.width, frame.height), scheme.color("card"))
    painter.setFont(font(9, True))
    painter.setPen(scheme.color("signal"))
    painter.drawText(QRectF(0.0, 0.0, frame.left - 8.0, 15.0), Qt.AlignmentFlag.AlignRight, quantity)
    painter.setFont(font(9))
    for part in (0.0, 0.5, 1.0):
        seconds = part * frame.top_s
        y = frame.y(seconds)
        painter.setPen(QPen(scheme.color("faint" if part == 0.0 else "edge"), 1.0))
        painter.drawLine(QPointF(frame.left, y), QPointF(frame.left + frame.width, y))
        painter.setPen(scheme.color("faint"))
        box = QRectF(0.0, y - 9.0, frame.left - 8.0, 18.0)
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(box, right, words(seconds, frame.top_s))
    step = 30 if frame.width > 560.0 else 90
    under = frame.bottom + _GAP + _BAND + 3.0 + _BAR + 2.0
    for bearing in range(0, 361, step):
        x = frame.x(bearing)
        painter.setPen(QPen(scheme.color("edge"), 1.0))
        painter.drawLine(QPointF(x, frame.bottom), QPointF(x, frame.bottom - 4.0))
        painter.setPen(scheme.color("faint"))
        box = QRectF(x - 30.0, under, 60.0, 18.0)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, f"{bearing}" if bearing % 360 else "N")


def paint_steps(
    painter: QPainter, frame: CurveFrame, steps: CurveSteps, scheme: Scheme, strong: bool
) -> None:
    """One hole's curve: filled and inked, or a faint line."""
    line = QPolygonF()
    for start, end, lost in zip(steps.from_deg, steps.to_deg, steps.lost_s, strict=True):
        y = frame.y(float(lost))
        line.append(QPointF(frame.x(float(start)), y))
        line.append(QPointF(frame.x(float(end)), y))
    if strong:
        area = QPolygonF(line)
        area.append(QPointF(frame.left + frame.width, frame.bottom))
        area.append(QPointF(frame.left, frame.bottom))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.color("signal_soft", 150))
        painter.drawPolygon(area)
    painter.setPen(QPen(scheme.color("signal", 255 if strong else 95), 2.0 if strong else 1.1))
    painter.drawPolyline(line)


def paint_band(painter: QPainter, frame: CurveFrame, steps: CurveSteps, scheme: Scheme) -> None:
    """How many are split, worked in part or out of reach: the more, the deeper the tone."""
    count = steps.splits + steps.parts + steps.out_of_reach
    most = max(float(count.max(initial=0.0)), 1.0)
    top = frame.bottom + _GAP
    painter.fillRect(QRectF(frame.left, top, frame.width, _BAND), scheme.color("card"))
    for start, end, n in zip(steps.from_deg, steps.to_deg, count, strict=True):
        if n:
            x0, x1 = frame.x(float(start)), frame.x(float(end))
            tone = scheme.color("accent", round(40 + 215 * float(n) / most))
            painter.fillRect(QRectF(x0, top, x1 - x0, _BAND), tone)


def paint_best(painter: QPainter, frame: CurveFrame, arcs: BestArcs, best_deg: float, scheme: Scheme) -> None:
    """Bars under the band where it is as good as the best, diamonds at single bearings, a notch there."""
    top = frame.bottom + _GAP + _BAND + 3.0
    signal = scheme.color("signal")
    for start, end in arcs.spans:
        painter.fillRect(QRectF(frame.x(start), top, max(frame.x(end) - frame.x(start), 2.0), _BAR), signal)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(signal)
    for point in arcs.points:
        painter.drawPolygon(_diamond(frame.x(point), top + _BAR / 2.0, 4.5))
    x = frame.x(best_deg % 360.0)
    painter.setBrush(scheme.color("ink"))
    painter.drawPolygon(
        QPolygonF([QPointF(x, top - 1.0), QPointF(x - 5.0, top + 8.0), QPointF(x + 5.0, top + 8.0)])
    )


def _diamond(x: float, y: float, half: float) -> QPolygonF:
    return QPolygonF([QPointF(x, y - half), QPointF(x + half, y), QPointF(x, y + half), QPointF(x - half, y)])


def paint_bearing(painter: QPainter, frame: CurveFrame, at_deg: float, scheme: Scheme, focus: bool) -> None:
    """The line where the keyway points now, with a grip on top."""
    x = frame.x(at_deg % 360.0)
    painter.setPen(QPen(scheme.color("accent"), 2.2))
    painter.drawLine(QPointF(x, frame.top), QPointF(x, frame.bottom + _GAP + _BAND))
    painter.setPen(QPen(scheme.color("signal"), 2.5) if focus else Qt.PenStyle.NoPen)
    painter.setBrush(scheme.color("accent"))
    painter.drawEllipse(QPointF(x, frame.top), 5.5, 5.5)


def paint_reading(
    painter: QPainter, frame: CurveFrame, at_deg: float, words: str, strong: bool, scheme: Scheme
) -> None:
    """What the curve says at a bearing, in a line over the plot, near the bearing and never clipped."""
    made = font(9.5, strong)
    width = QFontMetricsF(made).horizontalAdvance(words) + 8.0
    x = frame.x(at_deg % 360.0)
    left = min(max(x - width / 2.0, frame.left), frame.left + frame.width - width)
    if not strong:
        painter.setPen(QPen(scheme.color("faint"), 1.0, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, frame.top), QPointF(x, frame.bottom))
    painter.setFont(made)
    painter.setPen(scheme.color("accent" if strong else "ink"))
    painter.drawText(QRectF(left, 0.0, width, 17.0), Qt.AlignmentFlag.AlignCenter, words)
