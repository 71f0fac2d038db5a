"""How a pass is painted as a stroke or a hill: the marks of the verdicts, drawn along a course."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from app.window.look.marks import hatch
from app.window.look.scheme import Scheme
from app.window.views.polygons import polylines
from core.base.angles import Floats
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.model.results import Verdict

#: Width of a worked stroke where there is room.
STROKE_PX = 4.2
#: How much wider than its stroke a halo is.
_HALO_PX = 9.0
_REST_PX = 3.0


def tone(scheme: Scheme, verdict: Verdict) -> QColor:
    """Work in the colour of the signal, what loses something in the accent."""
    return scheme.color("signal" if verdict in {"upright", "over the top"} else "accent")


def round_pen(color: QColor, width: float, dashes: list[float] | None = None) -> QPen:
    """A pen with round joins; dashes in pixels."""
    pen = QPen(color, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin)
    if dashes is not None:
        pen.setDashPattern([dash / width for dash in dashes])
    return pen


def halo_pen(scheme: Scheme, width: float) -> QPen:
    """What lies round a chosen stroke of this width, so that it keeps its colour and its mark."""
    pen = round_pen(scheme.color("ink", 75), width + _HALO_PX)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    return pen


@dataclass(frozen=True, eq=False)
class Course:
    """The lines of a pass in Qt's form: of each run worked alike, and of the whole."""

    runs: tuple[tuple[Kind, QPolygonF], ...]
    whole: QPolygonF


def courses(
    paths: Sequence[DrawnPass], points: Sequence[Floats], base: float | None = None, whole: bool = True
) -> list[Course]:
    """Passes as they are painted; all at once, since each by itself takes far longer.

    Args:
        paths: how each sample is worked.
        points: (N, 2) pixels of the samples of each.
        base: each run begins and ends down (or up) there, to be filled; None for strokes.
        whole: the line of the whole is wanted too; without it, it is empty.
    """
    runs = [path.runs() for path in paths]
    pieces = []
    for course, course_runs in zip(points, runs, strict=True):
        of_runs = [course[first : last + 1] for _kind, first, last in course_runs]
        pieces += [piece if base is None else _grounded(piece, base) for piece in of_runs]
        pieces += [course] if whole else []
    if not pieces:
        return []
    lines = iter(polylines(np.concatenate(pieces), [len(piece) for piece in pieces]))
    return [
        Course(tuple((kind, next(lines)) for kind, _a, _b in some), next(lines) if whole else QPolygonF())
        for some in runs
    ]


def _grounded(piece: Floats, base: float) -> Floats:
    grounded = np.empty((len(piece) + 2, 2))
    grounded[1:-1] = piece
    grounded[0], grounded[-1] = (piece[0, 0], base), (piece[-1, 0], base)
    return grounded


def paint_stroke(painter: QPainter, course: Course, color: QColor, scheme: Scheme, width: float) -> None:
    """A pass as a stroke: upright solid, over the top dashed with a white core, a move dotted.

    Args:
        painter, scheme: where and in which colours.
        course: its lines.
        color: of the stroke. width: in pixels.
    """
    core_color = scheme.color("card")
    for kind, line in course.runs:
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


def paint_sample(
    painter: QPainter, kind: Kind, line: QLineF, color: QColor, scheme: Scheme, width: float
) -> None:
    """A straight piece of a stroke worked in one way, as `paint_stroke` has it: for the legend."""
    course = QPolygonF([line.p1(), line.p2()])
    paint_stroke(painter, Course(((kind, course),), course), color, scheme, width)


def paint_rest(painter: QPainter, scheme: Scheme, left: float, right: float, y: float) -> None:
    """The bar along a guard while the axis is held there."""
    painter.setPen(QPen(scheme.color("ink"), _REST_PX))
    painter.drawLine(QPointF(left, y), QPointF(right, y))


def paint_hill(painter: QPainter, course: Course, color: QColor, alpha: int) -> None:
    """A pass as a hill, its runs grounded: filled, hatched, a gap for the move, outlined where let go."""
    fill = QColor(color)
    fill.setAlpha(alpha)
    for kind, line in course.runs:
        area = QPainterPath()
        area.addPolygon(line)
        if kind == Kind.UPRIGHT:
            painter.fillPath(area, fill)
        elif kind == Kind.OVER_THE_TOP:
            hatch(painter, area, fill)
    painter.setPen(round_pen(fill, 1.2))
    painter.drawPolyline(course.whole)
