"""What the evening is worth over the keyway's bearing: a line over the curve, with its scale on the right."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from app.window.look.scheme import Scheme, font
from app.window.pages.keyway.views.seat_curve_paint import CurveFrame
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.evenings import EveningCurve


@dataclass(frozen=True)
class WorthScale:
    """The scale on the right: seconds of worth at the plot's foot and at its top, both round."""

    low_s: float
    top_s: float

    def y(self, frame: CurveFrame, worth_s: float) -> float:
        """Up."""
        return frame.top + frame.height * (1.0 - (worth_s - self.low_s) / (self.top_s - self.low_s))


def worth_scale(worth: EveningCurve) -> WorthScale:
    """Round figures below the least and above the greatest worth, with a round one half way."""
    least, most = float(worth.worth_s.min()), float(worth.worth_s.max())
    step = 10.0
    for step in (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 20_000.0, 50_000.0):
        low = math.floor(least / step) * step
        if low + 2.0 * step >= most:
            return WorthScale(low, low + 2.0 * step)
    return WorthScale(math.floor(least / step) * step, math.ceil(most / step) * step)


def paint_worth_axis(painter: QPainter, frame: CurveFrame, scale: WorthScale, scheme: Scheme) -> None:
    """The figures on the right, at the lines that are there."""
    right = frame.left + frame.width + 8.0
    across = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
    painter.setPen(scheme.color("ink"))
    painter.setFont(font(9, True))
    painter.drawText(QRectF(right, 0.0, 58.0, 15.0), Qt.AlignmentFlag.AlignLeft, "worth")
    painter.setFont(font(9))
    for part in (0.0, 0.5, 1.0):
        worth_s = scale.low_s + part * (scale.top_s - scale.low_s)
        painter.drawText(
            QRectF(right, frame.y(part * frame.top_s) - 9.0, 58.0, 18.0), across, f"{worth_s:,.0f} s"
        )


def paint_worth(
    painter: QPainter,
    frame: CurveFrame,
    scale: WorthScale,
    worth: EveningCurve,
    best: BestEvening | None,
    scheme: Scheme,
) -> None:
    """The line from candidate to candidate, over north too, and a ring at the best where this hole has it."""
    bearings, worths = worth.zeta_deg.tolist(), worth.worth_s.tolist()
    ends = [(bearings[-1] - 360.0, worths[-1]), *zip(bearings, worths, strict=True)]
    ends.append((bearings[0] + 360.0, worths[0]))
    line = QPolygonF([QPointF(frame.x(at), scale.y(frame, worth_s)) for at, worth_s in ends])
    painter.save()
    painter.setClipRect(QRectF(frame.left, 0.0, frame.width, frame.bottom + 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(scheme.color("card"), 3.6))  # a rim, so that it stands clear of the fill
    painter.drawPolyline(line)
    painter.setPen(QPen(scheme.color("ink"), 1.6))
    painter.drawPolyline(line)
    painter.restore()
    if best is not None:
        painter.setPen(QPen(scheme.color("ink"), 2.0))
        painter.setBrush(scheme.color("card"))
        at = QPointF(frame.x(best.keyway_bearing_deg % 360.0), scale.y(frame, best.worth_s))
        painter.drawEllipse(at, 5.0, 5.0)
