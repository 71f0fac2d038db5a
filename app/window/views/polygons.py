"""Columns of pixels, and Qt's form of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from PySide6.QtCore import QByteArray, QDataStream
from PySide6.QtGui import QPolygonF

from core.base.angles import Floats

#: Points closer together than this are one; strokes stay smooth.
_APART_PX = 2.5


def pixels(x: Floats, y: Floats | float) -> Floats:
    """(N, 2) of a column across and one down."""
    points = np.empty((len(x), 2))
    points[:, 0], points[:, 1] = x, y
    return points


def polyline(points: Floats) -> QPolygonF:
    """Qt's form of (N, 2) pixels, without points that the eye cannot tell from the one before."""
    return polylines(points, [len(points)])[0]


def polylines(points: Floats, sizes: Sequence[int]) -> list[QPolygonF]:
    """The same of many lines at once.

    Args:
        points: (N, 2) pixels of all lines, one after another.
        sizes: how many points each line has, at least one; N in all.
    """
    if not sizes:
        return []
    ends = np.cumsum(sizes)
    firsts = ends - sizes
    steps = np.abs(points[1:] - points[:-1])
    along = np.zeros(len(points))
    np.cumsum(steps[:, 0] + steps[:, 1], out=along[1:])
    along = (along - np.repeat(along[firsts], sizes)) // _APART_PX
    keep = np.empty(len(points), dtype=bool)
    keep[1:] = along[1:] > along[:-1]
    keep[firsts] = keep[ends - 1] = True
    data = _as_stream(points[keep])
    counts = np.concatenate([[0], np.cumsum(keep)[ends - 1]]).tolist()
    return [_read(data[16 * a : 16 * b], b - a) for a, b in pairwise(counts)]


def polygon(points: Floats) -> QPolygonF:
    """Qt's form of (N, 2) pixels, every one of them."""
    return _read(_as_stream(points), len(points))


def _as_stream(points: Floats) -> bytes:
    """As Qt's stream has them after their count; a call for each point takes five times as long."""
    return points.astype(">f8").tobytes()


def _read(data: bytes, count: int) -> QPolygonF:
    made = QPolygonF()
    QDataStream(QByteArray(count.to_bytes(4, "big") + data)) >> made
    return made
