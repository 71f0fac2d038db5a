"""Where the keyway may point with one hole and be as good as the best seat: what is drawn as best arcs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.mount.seat.choice import BestSeat, worse_than
from core.mount.seat.curve import LossCurve
from core.mount.seat.limits import SeatLimit, forbidden_at


@dataclass(frozen=True)
class BestArcs:
    """Keyway bearings that are as good as the best: by its passes, and within the seconds that count.

    Attributes:
        spans: (from, to) inside 0 to 360, rising, joined where they touch.
        points: single bearings that are as good while both sides of them are not.
    """

    spans: tuple[tuple[float, float], ...]
    points: tuple[float, ...]


def best_arcs(curve: LossCurve, best: BestSeat, limits: tuple[SeatLimit, ...]) -> BestArcs:
    """The best arcs of one hole; the best seat lies in one of the spans or is one of the points.

    Args:
        curve: of the hole.
        best: the best seat with it.
        limits: forbidden bearings, which no arc covers unless all are forbidden.
    """
    moved = best.splits + best.parts
    good = ~worse_than(curve, best.out_of_reach, moved, best.seconds_lost)
    if not best.forbidden:
        good &= ~forbidden_at(curve.bearing_deg, limits)
    ends = np.flatnonzero(curve.is_end)
    if ends.size == 0:
        return BestArcs(((0.0, 360.0),) if good.any() else (), ())
    after, before = (ends + 1) % good.size, ends - 1  # the middles on both sides of an end
    points = curve.bearing_deg[ends[good[ends] & ~good[before] & ~good[after]]]
    start = curve.bearing_deg[ends]
    width = np.mod(np.roll(start, -1) - start, 360.0)
    width[width == 0.0] = 360.0
    pieces = [(a, a + b) for a, b in zip(start[good[after]], width[good[after]], strict=True)]
    return BestArcs(_joined(pieces), tuple(points.tolist()))


def _joined(pieces: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Pieces from a start to an end that may run past 360, cut at north and joined where they touch."""
    cut = [(float(start), min(float(end), 360.0)) for start, end in pieces]
    cut += [(0.0, float(end) - 360.0) for _start, end in pieces if end > 360.0]
    spans: list[tuple[float, float]] = []
    for start, end in sorted(cut):
        if spans and start - spans[-1][1] < 1e-6:
            spans[-1] = (spans[-1][0], max(end, spans[-1][1]))
        else:
            spans.append((start, end))
    return tuple(spans)
