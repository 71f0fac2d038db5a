"""Places for names beside strokes, so that no name covers another or a stroke."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSizeF

from core.base.angles import Flags, Floats

_CELL_PX = 3.0
#: How far apart a stroke is looked at.
_STEP_PX = _CELL_PX * 0.7
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

    def take_lines(self, points: Floats, sizes: Sequence[int]) -> None:
        """Strokes take the cells they go through.

        Args:
            points: (N, 2) pixels of all strokes, one after another.
            sizes: how many points each has; N in all.
        """
        if not sizes:
            return
        x, y = points.T
        ends = np.cumsum(sizes)
        # All strokes are gone along in one; what lies between two of them is not stepped on.
        along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
        first, last = along[ends - sizes], along[ends - 1]
        counts = np.ceil((last - first + _CELL_PX) / _STEP_PX).astype(int)
        number = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
        at = np.minimum(np.repeat(first, counts) + number * _STEP_PX, np.repeat(last, counts))
        column = ((np.interp(at, along, x) - self._box.left()) / _CELL_PX).astype(int)
        row = ((np.interp(at, along, y) - self._box.top()) / _CELL_PX).astype(int)
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
        return bool(self.off_strokes(edges)[0] and self.off_names(edges)[0])

    def off_strokes(self, edges: Floats) -> Flags:
        """(K,) whether each rectangle, (K, 4) left, top, right, bottom, lies inside and on no stroke."""
        box = self._box
        inside = (edges[:, 0] >= box.left()) & (edges[:, 1] >= box.top())
        inside &= (edges[:, 2] <= box.right()) & (edges[:, 3] <= box.bottom())
        found: Flags = inside
        found[inside] = self._cells_under(edges[inside]) == 0
        return found

    def off_names(self, edges: Floats) -> Flags:
        """(K,) whether each rectangle, (K, 4), lies on no name."""
        names = self._names
        apart = (edges[:, None, 0] >= names[:, 2]) | (edges[:, None, 2] <= names[:, 0])
        apart |= (edges[:, None, 1] >= names[:, 3]) | (edges[:, None, 3] <= names[:, 1])
        return np.asarray(apart.all(axis=1))

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
    if not wishes:
        return placed
    spots, anchors = _spots(wishes, reach_px)
    off_strokes = ground.off_strokes(spots.reshape(-1, 4)).reshape(spots.shape[:2])
    for wish, edges, places, clear in zip(wishes, spots, anchors, off_strokes, strict=True):
        open_to_it = np.flatnonzero(clear)
        free = open_to_it[ground.off_names(edges[open_to_it])]
        if free.size:
            left, top, right, bottom = edges[free[0]].tolist()
            rect = QRectF(left, top, right - left, bottom - top)
            ground.take(rect)
            placed[wish.index] = Placed(rect, QPointF(*places[free[0]].tolist()))
    return placed


def _spots(wishes: Sequence[Wish], reach_px: float) -> tuple[Floats, Floats]:
    """Places to try, best first: above the highest point, below the lowest, about the ends, ever further off.

    Returns:
        (W, K, 4) left, top, right, bottom for each wish, and (W, K, 2) the points of strokes they belong to.
    """
    away = np.arange(0.0, reach_px + 1e-9, _NUDGE_PX)[:, None]
    stroke = np.array([_about(wish.points) for wish in wishes])
    size = np.array([(wish.size.width(), wish.size.height()) for wish in wishes])
    width, height = size[:, 0, None, None], size[:, 1, None, None]
    x, y = stroke[:, None, :, 0], stroke[:, None, :, 1]
    over, under = y - height - _GAP_PX - away, y + _GAP_PX + away
    # The highest point asks for a place above it first, the lowest for one below.
    first, second = over.copy(), under.copy()
    first[..., 1], second[..., 1] = under[..., 1], over[..., 1]
    across = (x - width / 2.0, x - 4.0, x - width + 4.0)
    aside = (x + _GAP_PX, x - width - _GAP_PX)
    middle = y - height / 2.0
    here = [(left, top) for top in (first, second) for left in across]
    here += [(left, middle + shift) for shift in (-away, away) for left in aside]
    spots = np.empty((*first.shape, len(here), 4))
    for place, (left, top) in enumerate(here):
        spots[..., place, 0], spots[..., place, 1] = left, top
    spots[..., 2:] = spots[..., :2] + size[:, None, None, None, :]
    anchors = np.broadcast_to(stroke[:, None, :, None, :], (*spots.shape[:-1], 2))
    return spots.reshape(len(wishes), -1, 4), anchors.reshape(len(wishes), -1, 2)


def _about(points: Floats) -> Floats:
    """(5, 2): the highest and the lowest point of a stroke, its ends and its middle."""
    y, last = points[:, 1], len(points) - 1
    return points[[int(np.argmin(y)), int(np.argmax(y)), 0, last, len(points) // 2]]
