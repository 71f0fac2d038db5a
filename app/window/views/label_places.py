"""Places for names beside strokes, so that no name covers another or a stroke."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSizeF

from core.angles import Flags, Floats

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
    """What is taken of a picture, in cells of some pixels."""

    def __init__(self, box: QRectF) -> None:
        self._box = box
        shape = (int(box.height() / _CELL_PX) + 2, int(box.width() / _CELL_PX) + 2)
        self._taken: Flags = np.zeros(shape, dtype=bool)

    def take_line(self, points: Floats) -> None:
        """A stroke takes the cells it goes through."""
        steps = np.hypot(*np.diff(points, axis=0).T) if len(points) > 1 else np.zeros(0)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        at = np.arange(0.0, along[-1] + _CELL_PX, _CELL_PX * 0.7)
        column = ((np.interp(at, along, points[:, 0]) - self._box.left()) / _CELL_PX).astype(int)
        row = ((np.interp(at, along, points[:, 1]) - self._box.top()) / _CELL_PX).astype(int)
        inside = (row >= 0) & (column >= 0) & (row < self._taken.shape[0]) & (column < self._taken.shape[1])
        self._taken[row[inside], column[inside]] = True

    def _cells(self, rect: QRectF) -> tuple[slice, slice]:
        top, left = rect.top() - self._box.top(), rect.left() - self._box.left()
        rows = slice(int(top / _CELL_PX), int((top + rect.height()) / _CELL_PX) + 1)
        return rows, slice(int(left / _CELL_PX), int((left + rect.width()) / _CELL_PX) + 1)

    def is_free(self, rect: QRectF) -> bool:
        """Nothing is under the rectangle, and it lies inside."""
        return self._box.contains(rect) and not bool(self._taken[self._cells(rect)].any())

    def take(self, rect: QRectF) -> None:
        """A name takes its rectangle."""
        self._taken[self._cells(rect)] = True


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
        spot = next((spot for spot in _spots(wish, reach_px) if ground.is_free(spot.rect)), None)
        if spot is not None:
            ground.take(spot.rect)
            placed[wish.index] = spot
    return placed


def _spots(wish: Wish, reach_px: float) -> Iterator[Placed]:
    """Above the highest point and below the lowest, then about the ends, then ever further off."""
    points, width, height = wish.points, wish.size.width(), wish.size.height()
    high, low = points[int(np.argmin(points[:, 1]))], points[int(np.argmax(points[:, 1]))]
    away = 0.0
    while away <= reach_px:
        for number, (x, y) in enumerate((high, low, points[0], points[-1], points[len(points) // 2])):
            anchor, gap = QPointF(float(x), float(y)), _GAP_PX + away
            over, under = y - height - gap, y + gap
            # The highest point asks for a place above it first, the lowest for one below.
            rows = (under, over) if number == 1 else (over, under)
            for top in (*rows, y - height / 2.0 - away, y - height / 2.0 + away):
                beside = top not in rows
                for left in (x + _GAP_PX, x - width - _GAP_PX) if beside else _across(float(x), width):
                    yield Placed(QRectF(float(left), float(top), width, height), anchor)
        away += _NUDGE_PX


def _across(x: float, width: float) -> tuple[float, float, float]:
    return x - width / 2.0, x - 4.0, x - width + 4.0
