"""Places for names beside strokes, so that no name covers another or a stroke."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSizeF

from core.base.angles import Flags, Floats

_CELL_PX = 3.0
_GAP_PX = 5.0
_NUDGE_PX = 9.0
_FAR_PX = 12.0


@dataclass(frozen=True)
class Wish:
    """A name to be placed: its size, and the stroke it belongs to, (N, 2) pixels."""

    index: int
    size: QSizeF
    points: Floats


class Ground:
    """What is taken of a picture: strokes in cells of some pixels, names as rectangles."""

    def __init__(self, box: QRectF) -> None:
        self._box = box
        shape = (int(box.height() / _CELL_PX) + 2, int(box.width() / _CELL_PX) + 2)
        self._taken: Flags = np.zeros(shape, dtype=bool)
        self._sums: NDArray[np.int64] | None = None
        self._names: Floats = np.zeros((0, 4))

    def take_line(self, points: Floats) -> None:
        """A stroke, (N, 2) pixels, takes the cells it goes through."""
        steps = np.hypot(*np.diff(points, axis=0).T) if len(points) > 1 else np.zeros(0)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        at = np.arange(0.0, along[-1] + _CELL_PX, _CELL_PX * 0.7)
        column = ((np.interp(at, along, points[:, 0]) - self._box.left()) / _CELL_PX).astype(int)
        row = ((np.interp(at, along, points[:, 1]) - self._box.top()) / _CELL_PX).astype(int)
        inside = (row >= 0) & (column >= 0) & (row < self._taken.shape[0]) & (column < self._taken.shape[1])
        self._taken[row[inside], column[inside]] = True
        self._sums = None

    def take(self, rect: QRectF) -> None:
        """A name takes its rectangle."""
        edges = [rect.left(), rect.top(), rect.right(), rect.bottom()]
        self._names = np.vstack([self._names, edges])

    def is_free(self, rect: QRectF) -> bool:
        """Nothing is under the rectangle, and it lies inside."""
        edges = np.array([[rect.left(), rect.top(), rect.right(), rect.bottom()]])
        return bool(self.free(edges)[0])

    def free(self, edges: Floats) -> Flags:
        """(K,) whether each rectangle, (K, 4) left, top, right, bottom, is free and lies inside."""
        box = self._box
        inside = (edges[:, 0] >= box.left()) & (edges[:, 1] >= box.top())
        inside &= (edges[:, 2] <= box.right()) & (edges[:, 3] <= box.bottom())
        found: Flags = inside
        found[inside] = self._cells_under(edges[inside]) == 0
        some = edges[found]
        apart = (some[:, None, 0] >= self._names[:, 2]) | (some[:, None, 2] <= self._names[:, 0])
        apart |= (some[:, None, 1] >= self._names[:, 3]) | (some[:, None, 3] <= self._names[:, 1])
        found[found] = apart.all(axis=1)
        return found

    def _cells_under(self, edges: Floats) -> NDArray[np.int64]:
        """(K,) how many taken cells lie under each rectangle, by a table of sums."""
        if self._sums is None:
            self._sums = np.pad(self._taken.astype(np.int64).cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
        corner = np.array([self._box.left(), self._box.top()])
        low = ((edges[:, :2] - corner) / _CELL_PX).astype(int)
        high = ((edges[:, 2:] - corner) / _CELL_PX).astype(int) + 1
        high = np.minimum(high, [self._taken.shape[1], self._taken.shape[0]])
        left, top, right, bottom = low[:, 0], low[:, 1], high[:, 0], high[:, 1]
        sums = self._sums
        return np.asarray(sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left])


@dataclass(frozen=True)
class Placed:
    """Where a name stands, and the place on its stroke that it belongs to, pixels."""

    rect: QRectF
    anchor: QPointF

    @property
    def far(self) -> bool:
        """So far off that a line should lead from it to its stroke."""
        inside_x = min(max(self.anchor.x(), self.rect.left()), self.rect.right())
        inside_y = min(max(self.anchor.y(), self.rect.top()), self.rect.bottom())
        return math.hypot(self.anchor.x() - inside_x, self.anchor.y() - inside_y) > _FAR_PX


def place_names(wishes: list[Wish], ground: Ground, reach_px: float) -> dict[int, Placed]:
    """A free place for each name, the earlier wishes first; names that find none are left out.

    Args:
        wishes: names and strokes. ground: what is taken; the names placed are taken too.
        reach_px: how far from its stroke a name may stand, besides its own size.
    """
    placed: dict[int, Placed] = {}
    for wish in wishes:
        edges, anchors = _spots(wish, reach_px)
        free = np.flatnonzero(ground.free(edges))
        if free.size:
            left, top, right, bottom = edges[free[0]].tolist()
            rect = QRectF(left, top, right - left, bottom - top)
            ground.take(rect)
            placed[wish.index] = Placed(rect, QPointF(*anchors[free[0]].tolist()))
    return placed


def _spots(wish: Wish, reach_px: float) -> tuple[Floats, Floats]:
    """Places to try, best first: above the highest point, below the lowest, about the ends, ever further off.

    Returns:
        (K, 4) left, top, right, bottom, and (K, 2) the point of the stroke each belongs to.
    """
    points, width, height = wish.points, wish.size.width(), wish.size.height()
    high, low = points[int(np.argmin(points[:, 1]))], points[int(np.argmax(points[:, 1]))]
    corners: list[tuple[float, float]] = []
    anchors: list[tuple[float, float]] = []
    for away in np.arange(0.0, reach_px + 1e-9, _NUDGE_PX).tolist():
        for number, anchor in enumerate((high, low, points[0], points[-1], points[len(points) // 2])):
            x, y = anchor.tolist()
            over, under = y - height - _GAP_PX - away, y + _GAP_PX + away
            across = (x - width / 2.0, x - 4.0, x - width + 4.0)
            aside = (x + _GAP_PX, x - width - _GAP_PX)
            # The highest point asks for a place above it first, the lowest for one below.
            rows = (under, over) if number == 1 else (over, under)
            here = [(left, top) for top in rows for left in across]
            here += [(left, y - height / 2.0 + shift) for shift in (-away, away) for left in aside]
            corners += here
            anchors += [(x, y)] * len(here)
    places = np.array(corners)
    return np.hstack([places, places + np.array([width, height])]), np.array(anchors)
