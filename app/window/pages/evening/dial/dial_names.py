"""Words on the evening's dial: satellites' names beside their strokes, tags where something is wrong."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.window.look.scheme import Scheme, font
from app.window.pages.evening.dial.dial_frame import DialFrame
from app.window.views.label_places import Ground, Placed, Wish, place_names
from core.base.angles import Floats

_TAG_POINTS = 8.5
#: How far from its stroke a name may stand.
_REACH_PX, _REACH_CROWDED_PX = 90.0, 12.0
_LONGEST = 11
#: How much lower than its place a tag is tried.
_SHIFTS_PX = (0.0, -14.0, 14.0, -28.0, 28.0, -42.0, 42.0)


def paint_names(
    painter: QPainter,
    frame: DialFrame,
    scheme: Scheme,
    names: dict[int, str],
    strokes: dict[int, Floats],
    ground: Ground,
    crowded: bool,
) -> dict[int, Placed]:
    """Each name where nothing is under it; a long one that finds no place is tried short, then left out.

    Args:
        painter, frame, scheme: where and in which colours.
        names: by index of the pass, those that matter most first. strokes: (N, 2) pixels of each.
        ground: what is taken; the names painted are taken too.
        crowded: smaller names, close to their strokes.
    """
    face = font(8 if crowded else 9, not crowded)
    metrics = QFontMetricsF(face)
    low, high = [frame.box.left(), frame.top], [frame.box.right(), frame.bottom]
    found: dict[int, Placed] = {}
    painter.setFont(face)
    for words in (names, {index: short_name(name) for index, name in names.items()}):
        wishes = []
        for index in names:
            if index not in found:
                size = QSizeF(metrics.horizontalAdvance(words[index]) + 4.0, metrics.height())
                wishes.append(Wish(index, size, np.clip(strokes[index], low, high)))
        placed = place_names(wishes, ground, _REACH_CROWDED_PX if crowded else _REACH_PX)
        found |= placed
        for index, spot in placed.items():
            if spot.far:
                painter.setPen(QPen(scheme.color("faint", 150), 0.8))
                painter.drawLine(spot.rect.center(), spot.anchor)
            if not crowded:  # it may lie over a move's line
                painter.fillRect(spot.rect, scheme.color("card", 200))
            painter.setPen(scheme.color("ink"))
            painter.drawText(spot.rect, Qt.AlignmentFlag.AlignCenter, words[index])
    return found


def short_name(name: str) -> str:
    """A name without what stands in brackets, at most eleven letters."""
    bare = name.split("(", maxsplit=1)[0].strip() or name
    return bare if len(bare) <= _LONGEST else bare[: _LONGEST - 1].rstrip() + "…"


def tag_size(words: str) -> QSizeF:
    """Room that a tag takes."""
    metrics = QFontMetricsF(font(_TAG_POINTS, True))
    return QSizeF(metrics.horizontalAdvance(words) + 8.0, metrics.height() + 2.0)


def paint_tag(
    painter: QPainter, frame: DialFrame, scheme: Scheme, words: str, at: QPointF, role: str
) -> QRectF:
    """Words on a ground of their own, kept inside the picture; returns where they stand."""
    size, box = tag_size(words), frame.box
    left = min(max(at.x(), box.left()), box.right() - size.width())
    top = min(max(at.y(), box.top()), box.bottom() - size.height())
    rect = QRectF(QPointF(left, top), size)
    painter.setFont(font(_TAG_POINTS, True))
    painter.fillRect(rect, scheme.color("card", 225))
    painter.setPen(scheme.color(role))
    painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, words)
    return rect


def paint_name_tag(
    painter: QPainter, frame: DialFrame, scheme: Scheme, words: str, points: Floats, taken: Iterable[QRectF]
) -> QRectF:
    """A name beside its stroke, (N, 2) pixels, on no other name if one of its ends allows that."""
    size, names = tag_size(words), list(taken)
    high, low = points[int(np.argmin(points[:, 1]))], points[int(np.argmax(points[:, 1]))]
    spots = [
        QPointF(x + right, y + down)
        for (x, y), down in (
            (high.tolist(), -20.0),
            (low.tolist(), 4.0),
            (points[len(points) // 2].tolist(), -8.0),
        )
        for right in (8.0, -8.0 - size.width())
    ]
    free = (at for at in spots if not any(QRectF(at, size).intersects(name) for name in names))
    return paint_tag(painter, frame, scheme, words, next(free, spots[0]), "ink")


def try_tag(
    painter: QPainter,
    frame: DialFrame,
    scheme: Scheme,
    ground: Ground,
    words: str,
    at: QPointF,
    role: str,
    shifts: Sequence[float] = _SHIFTS_PX,
) -> bool:
    """A tag beside a place, right or left of it and so much lower, where nothing is under it; else False."""
    size = tag_size(words)
    for up in shifts:
        for left in (8.0, -8.0 - size.width()):
            spot = at + QPointF(left, up - size.height() / 2.0)
            if ground.is_free(QRectF(spot, size)):
                ground.take(paint_tag(painter, frame, scheme, words, spot, role))
                return True
    return False
