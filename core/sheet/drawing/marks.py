"""How a stretch of a pass looks on paper, and the marks of the verdicts."""

from __future__ import annotations

from enum import Enum
from functools import cache

import numpy as np

from core.base.angles import Floats
from core.base.drawing import Drawing, Item, Points, Stroke, line_of, on_paper, thinned
from core.mount.evening.drawn import Kind, postures_of
from core.mount.model.results import PassCheck, Verdict
from core.mount.model.station import OVER_THE_TOP

_BAND_MM = 1.0


class Mark(Enum):
    """What a stretch of a pass looks like on paper."""

    FILLED = "filled"
    HATCHED = "hatched"
    OUTLINED = "outlined"
    GAP = "gap"
    HIDDEN = "hidden"


#: How a moment is worked says how it is drawn.
MARK_OF: dict[Kind, Mark] = {
    Kind.UPRIGHT: Mark.FILLED,
    Kind.OVER_THE_TOP: Mark.HATCHED,
    Kind.MOVING: Mark.GAP,
    Kind.LET_GO: Mark.OUTLINED,
    Kind.HIDDEN: Mark.HIDDEN,
}


def band(points_mm: Points, mark: Mark, half_width_mm: float = _BAND_MM) -> list[Item]:
    """A stretch of a track in its mark; a gap paints nothing, what the mask hides is a thin line."""
    points = thinned(points_mm, 0.25)
    if mark is Mark.GAP or len(points) < 2:
        return []
    if mark is Mark.HIDDEN:
        return [line_of(points, 0.25)]
    if mark is Mark.FILLED:
        return [line_of(points, 2.0 * half_width_mm)]
    left, right = _edges(points, half_width_mm - 0.15)
    outline = Stroke(on_paper([*left, *reversed(right)]), 0.3, closed=True, fill="white")
    return [outline, *(_hatch(left, right, half_width_mm) if mark is Mark.HATCHED else [])]


def _edges(points: Points, aside_mm: float) -> tuple[Points, Points]:
    line = np.array(points)
    along = np.gradient(line, axis=0)
    length = np.hypot(along[:, 0], along[:, 1])
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.maximum(length, 1e-9)[:, None]
    return (
        [(float(x), float(y)) for x, y in line - aside_mm * normal],
        [(float(x), float(y)) for x, y in line + aside_mm * normal],
    )


def _hatch(left: Points, right: Points, half_width_mm: float) -> list[Item]:
    """Oblique strokes from edge to edge at equal distances along the band."""
    middle = (np.array(left) + np.array(right)) / 2.0
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(middle, axis=0), axis=1))])
    slant = 1.2 * half_width_mm
    places = np.arange(0.5 * half_width_mm, max(run[-1] - slant, 0.0) + 1e-9, 1.5 * half_width_mm)
    return [Stroke(on_paper([_along(left, run, s), _along(right, run, s + slant)]), 0.45) for s in places]


def _along(points: Points, run: Floats, at_mm: float) -> tuple[float, float]:
    line = np.array(points)
    return float(np.interp(at_mm, run, line[:, 0])), float(np.interp(at_mm, run, line[:, 1]))


@cache
def verdict_mark(word: Verdict, hatched_first: bool = False, hatched_last: bool = False) -> Drawing:
    """The mark of a verdict, as it stands in lists and in the legend.

    Args:
        word: the verdict.
        hatched_first, hatched_last: a split's halves (a part's worked piece) are over the top.
    """
    width, height, half = 14.0, 4.0, 1.4
    middle = height / 2.0

    def piece(start: float, end: float, mark: Mark) -> list[Item]:
        steps = np.linspace(start, end, 9)
        return band([(float(x), middle) for x in steps], mark, half)

    first = Mark.HATCHED if hatched_first else Mark.FILLED
    last = Mark.HATCHED if hatched_last else Mark.FILLED
    pieces: dict[Verdict, list[tuple[float, float, Mark]]] = {
        Verdict.UPRIGHT: [(0.5, 13.5, Mark.FILLED)],
        Verdict.OVER_THE_TOP: [(0.5, 13.5, Mark.HATCHED)],
        Verdict.SPLIT: [(0.5, 5.2, first), (8.8, 13.5, last)],
        Verdict.PART: [(7.0, 13.5, Mark.OUTLINED), (0.5, 7.5, first)],
        Verdict.OUT_OF_REACH: [(0.5, 13.5, Mark.OUTLINED)],
    }
    items = [item for piece_ in pieces[word] for item in piece(*piece_)]
    return Drawing(width, height, tuple(items))


def mark_of_check(check: PassCheck) -> Drawing:
    """The mark of a pass' verdict, hatched where that is over the top."""
    first, last = (posture == OVER_THE_TOP for posture in postures_of(check))
    return verdict_mark(check.verdict, first, last)
