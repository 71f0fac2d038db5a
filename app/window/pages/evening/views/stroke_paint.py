"""How a pass is painted as a stroke or a hill: the marks of the verdicts, drawn along a course."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from app.window.look.marks import hatch
from app.window.look.scheme import Scheme
from core.base.angles import Floats
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.model.results import Verdict

#: Points closer together than this are one; strokes stay smooth.
_APART_PX = 2.5


def tone(scheme: Scheme, verdict: Verdict) -> QColor:
    """Work in the colour of the signal, what loses something in the accent."""
    return scheme.color("signal" if verdict in {"upright", "over the top"} else "accent")


def polyline(points: Floats) -> QPolygonF:
    """Qt's form of (N, 2) pixels, without points that the eye cannot tell from the one before."""
    if len(points) > 2:
        along = np.cumsum(np.abs(np.diff(points, axis=0)).sum(axis=1)) // _APART_PX
        keep = np.concatenate([[True], np.diff(along, prepend=0.0) > 0.0])
        keep[-1] = True
        points = points[keep]
    return QPolygonF([QPointF(x, y) for x, y in points.tolist()])


def round_pen(color: QColor, width: float, dashes: list[float] | None = None) -> QPen:
    """A pen with round joins; dashes in pixels."""
    pen = QPen(color, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin)
    if dashes is not None:
        pen.setDashPattern([dash / width for dash in dashes])
    return pen


def paint_stroke(
    painter: QPainter, points: Floats, path: DrawnPass, color: QColor, scheme: Scheme, width: float
) -> None:
    """A pass as a stroke: upright solid, over the top dashed with a white core, a move dotted.

    Args:
        painter, scheme: where and in which colours.
        points: (N, 2) pixels of the path's samples.
        path: how each sample is worked.
        color: of the stroke. width: in pixels.
    """
    core_color = scheme.color("card")
    for kind, first, last in path.runs():
        line = polyline(points[first : last + 1])
        if kind == Kind.HIDDEN:
            painter.setPen(round_pen(scheme.color("faint"), 1.0, [1.0, 3.0]))
            painter.drawPolyline(line)
        elif kind == Kind.MOVING:
            painter.setPen(round_pen(color, max(width * 0.45, 1.2), [2.0, 3.0]))
            painter.drawPolyline(line)
        elif kind == Kind.LET_GO:
            painter.setPen(round_pen(color, width))
            painter.drawPolyline(line)
            painter.setPen(round_pen(core_color, max(width - 2.0, 0.8)))
            painter.drawPolyline(line)
        else:
            painter.setPen(round_pen(color, width + (0.8 if kind == Kind.OVER_THE_TOP else 0.0)))
            painter.drawPolyline(line)
            if kind == Kind.OVER_THE_TOP:
                painter.setPen(round_pen(core_color, max(width - 1.6, 0.9), [6.0, 5.0]))
                painter.drawPolyline(line)


def paint_hill(
    painter: QPainter, points: Floats, base: float, path: DrawnPass, color: QColor, alpha: int
) -> None:
    """A pass as a hill over the line ``base``: filled, hatched, a gap for the move, outlined where let go."""
    fill = QColor(color)
    fill.setAlpha(alpha)
    for kind, first, last in path.runs():
        piece = points[first : last + 1]
        area = QPainterPath()
        area.addPolygon(polyline(np.vstack([[piece[0, 0], base], piece, [piece[-1, 0], base]])))
        if kind == Kind.UPRIGHT:
            painter.fillPath(area, fill)
        elif kind == Kind.OVER_THE_TOP:
            hatch(painter, area, fill)
    painter.setPen(round_pen(fill, 1.2))
    painter.drawPolyline(polyline(points))
