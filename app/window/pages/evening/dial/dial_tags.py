"""Words that teach the dial's marks, each said once: a move, what is let go, the ends of the cable."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter

from app.window.look.scheme import Scheme
from app.window.pages.evening.dial.dial_frame import DialFrame, guard_px
from app.window.pages.evening.dial.dial_names import paint_tag, tag_size, try_tag
from app.window.pages.evening.dial.line_paint import middle_of
from app.window.views.label_places import Ground
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.evening.line import Leg
from core.mount.evening.moment import KIND_WORDS

#: A run let go is named from this length on, pixels; so many moves and runs are tried, the longest first.
_LEAST_PX, _TRIED = 14.0, 12
#: A shorter move is not worth a word.
_LEAST_TURN_DEG = 20.0
#: How much lower than the middle of its line a move is told, the nearest first.
_BESIDE_PX = (0.0, -14.0, 14.0, -28.0, 28.0, -42.0, 42.0, -56.0, 56.0)
#: How far from the guard its word stands, and how far apart places for it are tried, pixels.
_OFF_GUARD_PX, _STEP_PX = 9.0, 24.0
_CABLE_END = "cable end"


def move_words(leg: Leg) -> str:
    """How far a move turns the azimuth axis and how long it takes, settling counted."""
    return f"turn {_turned_deg(leg):.0f} deg, {float(leg.utc_s[-1] - leg.utc_s[0]):.0f} s"


def _turned_deg(leg: Leg) -> float:
    return abs(float(leg.m_deg[-1] - leg.m_deg[0]))


def paint_one_move(
    painter: QPainter, frame: DialFrame, scheme: Scheme, ground: Ground, legs: Sequence[Leg]
) -> None:
    """The farthest move that has room beside it, told on its line."""
    moves = [leg for leg in legs if leg.kind == "move" and _turned_deg(leg) >= _LEAST_TURN_DEG]
    moves = [leg for leg in moves if frame.box.contains(middle_of(frame, leg))]
    moves.sort(key=_turned_deg, reverse=True)
    for shift in _BESIDE_PX:
        for leg in moves[:_TRIED]:
            at = middle_of(frame, leg)
            if try_tag(painter, frame, scheme, ground, move_words(leg), at, "ink", (shift,)):
                return


def paint_one_let_go(
    painter: QPainter, frame: DialFrame, scheme: Scheme, ground: Ground, paths: Sequence[DrawnPass]
) -> None:
    """The longest outline of what is not worked of a contact's pass, named."""
    found: list[tuple[float, QPointF]] = []
    for path in paths:
        points = None
        for kind, first, last in path.runs():
            if kind != Kind.LET_GO:
                continue
            points = frame.points(path.utc_s, path.m_deg) if points is None else points
            ends = points[[first, last]]
            middle = QPointF(*points[(first + last) // 2].tolist())
            if frame.box.contains(middle):
                found.append((float(np.hypot(*(ends[1] - ends[0]))), middle))
    for length, at in sorted(found, key=lambda one: -one[0])[:_TRIED]:
        if length >= _LEAST_PX and try_tag(
            painter, frame, scheme, ground, KIND_WORDS[Kind.LET_GO], at, "ink"
        ):
            return


def paint_cable_ends(painter: QPainter, frame: DialFrame, scheme: Scheme, ground: Ground) -> None:
    """At both stops, from the right on where there is room: this is where the cable ends."""
    off, size = guard_px(frame) + _OFF_GUARD_PX, tag_size(_CABLE_END)
    left = np.arange(frame.box.right() - size.width() - 8.0, frame.box.left(), -_STEP_PX)
    for y in (frame.top + off, frame.bottom - off):
        top = np.full(left.size, y - size.height() / 2.0)
        edges = np.column_stack([left, top, left + size.width(), top + size.height()])
        free = np.flatnonzero(ground.off_strokes(edges) & ground.off_names(edges))
        if free.size:
            at = QPointF(*edges[free[0], :2].tolist())
            ground.take(paint_tag(painter, frame, scheme, _CABLE_END, at, "accent"))
