"""Columns of pixels, and Qt's form of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QByteArray, QDataStream
from PySide6.QtGui import QPolygonF

from core.base.angles import Floats, Indices

#: Points closer together than this are one; further apart than that, none is left out between them.
_NEAREST_PX, _FURTHEST_PX = 2.5, 24.0
#: How far a line may run off the curve through the points it leaves out.
_OFF_PX = 0.04


def pixels(x: Floats, y: Floats | float) -> Floats:
    """(N, 2) of a column across and one down."""
    points = np.empty((len(x), 2))
    points[:, 0], points[:, 1] = x, y
    return points


def polyline(points: Floats) -> QPolygonF:
    """Qt's form of (N, 2) pixels, without points whose absence the eye cannot see."""
    return polylines(points, [len(points)])[0]


def polylines(points: Floats, sizes: Sequence[int]) -> list[QPolygonF]:
    """The same of many lines at once.

    Args:
        points: (N, 2) pixels of all lines, one after another.
        sizes: how many points each line has, at least one; N in all.
    """
    if not sizes:
        return []
    steps = np.abs(np.diff(points, axis=0)).sum(axis=1)
    kept, counts = _thinned(points, np.asarray(sizes), steps / _NEAREST_PX)
    kept, counts = _thinned(kept, counts, _pieces_wanted(kept, counts))
    data, beyond = kept.astype(">f8").tobytes(), np.cumsum(counts)
    return _read([data[16 * a : 16 * b] for a, b in zip(beyond - counts, beyond, strict=True)])


def _thinned(points: Floats, sizes: Indices, pieces: Floats) -> tuple[Floats, Indices]:
    """The points left of lines, and how many each has, where every step (N - 1,) is worth so many pieces."""
    ends = np.cumsum(sizes)
    firsts = ends - sizes
    along = np.concatenate([[0.0], np.cumsum(pieces)])
    along = np.floor(along - np.repeat(along[firsts], sizes))
    keep = np.empty(len(points), dtype=bool)
    keep[1:] = along[1:] > along[:-1]
    keep[firsts] = keep[ends - 1] = True
    return points[keep], np.diff(np.cumsum(keep)[ends - 1], prepend=0)


def _pieces_wanted(points: Floats, sizes: Indices) -> Floats:
    """(N - 1,) how many straight pieces each step of some lines wants: one at a bend, a share elsewhere.

    A piece of length l that turns by a radians runs l a / 8 off its curve, so a curve wants the square root
    of (l a / 8) over what it may be off.
    """
    across, down = np.diff(points[:, 0]), np.diff(points[:, 1])
    length = np.hypot(across, down)
    turn = np.zeros(len(points))
    turned = across[:-1] * down[1:] - down[:-1] * across[1:]
    turn[1:-1] = np.abs(np.arctan2(turned, across[:-1] * across[1:] + down[:-1] * down[1:]))
    ends = np.cumsum(sizes)
    turn[ends - 1] = turn[ends - sizes] = 0.0  # from one line to the next is no bend
    bent = np.sqrt(length * np.maximum(turn[:-1], turn[1:]) / (8.0 * _OFF_PX))
    return np.minimum(np.maximum(bent, length / _FURTHEST_PX), 1.0)


def polygon(points: Floats) -> QPolygonF:
    """Qt's form of (N, 2) pixels, every one of them."""
    return _read([points.astype(">f8").tobytes()])[0]


def _read(lines: Sequence[bytes]) -> list[QPolygonF]:
    """Lines as Qt's stream has them, each after its count; a call for each point takes five times as long."""
    counted = [(len(line) // 16).to_bytes(4, "big") + line for line in lines]
    stream = QDataStream(QByteArray(b"".join(counted)))
    made = [QPolygonF() for _line in lines]
    for line in made:
        stream >> line
    return made
