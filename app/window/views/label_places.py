"""Places for names beside strokes, so that no name covers another or a stroke."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QRectF, QSizeF

from core.angles import Flags, Floats

_CELL_PX = 3.0
_GAP_PX = 5.0


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


def place_names(wishes: list[Wish], ground: Ground) -> dict[int, QRectF]:
    """A free place for each name, the earlier wishes first; names that find none are left out."""
    placed: dict[int, QRectF] = {}
    for wish in wishes:
        rect = next((spot for spot in _spots(wish) if ground.is_free(spot)), None)
        if rect is not None:
            ground.take(rect)
            placed[wish.index] = rect
    return placed


def _spots(wish: Wish) -> list[QRectF]:
    """Above and below the stroke's ends, highest and lowest point, then aside of them."""
    points, width, height = wish.points, wish.size.width(), wish.size.height()
    first, last = points[0], points[-1]
    high, low = points[int(np.argmin(points[:, 1]))], points[int(np.argmax(points[:, 1]))]
    up, down = -height - _GAP_PX, _GAP_PX
    spots = [
        (high[0] - width / 2.0, high[1] + up),
        (low[0] - width / 2.0, low[1] + down),
    ]
    for x, y in (high, low, first, last):
        for nudge in (0.0, 10.0, 22.0):
            spots += [
                (x + _GAP_PX, y - height / 2.0 + nudge),
                (x - width - _GAP_PX, y - height / 2.0 + nudge),
                (x + _GAP_PX, y - height / 2.0 - nudge),
                (x - width - _GAP_PX, y - height / 2.0 - nudge),
                (x - width / 2.0, y + up - nudge),
                (x - width / 2.0, y + down + nudge),
            ]
    return [QRectF(float(x), float(y), width, height) for x, y in spots]
