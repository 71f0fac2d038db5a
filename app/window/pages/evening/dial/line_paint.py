"""The evening's one line between the strokes: moves, waits, what does not fit, and the way to stow."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPen

from app.window.look.scheme import Scheme
from app.window.pages.evening.dial.dial_frame import DialFrame
from app.window.pages.evening.views.stroke_paint import round_pen
from app.window.views.polygons import polylines
from core.mount.evening.drawn import DrawnPass
from core.mount.evening.line import Leg, LegKind

#: The line between strokes is clearly lighter than they are.
_MOVE_PX, _WAIT_PX, _BEHIND_PX = 1.5, 1.2, 0.9
_CROSS_PX, _END_PX = 4.5, 3.5
_MANY = 40
_LEG_KINDS: tuple[LegKind, ...] = ("move", "wait", "idle", "misfit", "stowing", "stowed", "left")


def middle_of(frame: DialFrame, leg: Leg) -> QPointF:
    """Half way along a leg, pixels."""
    first, last = frame.points(leg.utc_s, leg.m_deg)[[0, -1]].tolist()
    return (QPointF(*first) + QPointF(*last)) / 2.0


def leg_pen(scheme: Scheme, kind: LegKind, lifted: bool = False) -> QPen:
    """The pen of a leg between contacts; a lifted one stands out from the others."""
    more = 0.9 if lifted else 0.0
    if kind == "misfit":
        return round_pen(scheme.color("accent"), 1.6 + more, [7.0, 3.0, 1.6, 3.0])
    if kind in {"move", "stowing"}:
        return round_pen(scheme.color("ink", 255 if lifted else 165), _MOVE_PX + more)
    return round_pen(scheme.color("ink" if lifted else "faint"), _WAIT_PX + more)


def behind_pen(scheme: Scheme, count: int = 0) -> QPen:
    """The pen of passes that are not worked; the paler the more they are."""
    return round_pen(scheme.color("faint", 85 if count <= _MANY else 55), _BEHIND_PX)


def paint_legs(
    painter: QPainter, frame: DialFrame, scheme: Scheme, legs: Iterable[Leg], lifted: bool = False
) -> None:
    """All legs but the contacts, which are strokes; a lifted leg stands out from the others."""
    pens = {kind: leg_pen(scheme, kind, lifted) for kind in _LEG_KINDS}
    drawn = [leg for leg in legs if leg.kind != "contact"]
    for leg, line in zip(drawn, polylines(*frame.points_of(drawn)), strict=True):
        painter.setPen(pens[leg.kind])
        painter.drawPolyline(line)
        if leg.kind == "misfit":
            paint_cross(painter, scheme, middle_of(frame, leg))


def paint_cross(painter: QPainter, scheme: Scheme, at: QPointF) -> None:
    """What crosses out a move that does not fit."""
    painter.setPen(QPen(scheme.color("accent"), 2.2))
    for slant in (-1.0, 1.0):
        arm = QPointF(_CROSS_PX, _CROSS_PX * slant)
        painter.drawLine(at - arm, at + arm)


def paint_ends(painter: QPainter, frame: DialFrame, scheme: Scheme, legs: tuple[Leg, ...]) -> None:
    """A disc where the line begins, a square where the mount comes to stand stowed."""
    if not legs:
        return
    painter.setPen(QPen(scheme.color("card"), 1.4))
    painter.setBrush(scheme.color("ink"))
    first, last = legs[0], legs[-1]
    start = QPointF(*frame.points(first.utc_s, first.m_deg)[0].tolist())
    painter.drawEllipse(start, _END_PX, _END_PX)
    if last.kind == "stowed":
        x, y = frame.points(last.utc_s, last.m_deg)[0].tolist()
        painter.drawRect(QRectF(x - _END_PX, y - _END_PX, 2.0 * _END_PX, 2.0 * _END_PX))


def paint_behind(painter: QPainter, frame: DialFrame, scheme: Scheme, paths: Sequence[DrawnPass]) -> None:
    """Passes that are not worked, thin, so that what was passed over is seen."""
    painter.setPen(behind_pen(scheme, len(paths)))
    drawn = [path for path in paths if not np.isnan(path.m_deg).any()]
    for line in polylines(*frame.points_of(drawn)):
        painter.drawPolyline(line)
