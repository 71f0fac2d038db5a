"""The best bearing of the keyway over a season."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from core.base.angles import Floats, wrap_360
from core.mount.seat.limits import SeatLimit, forbidden_at
from core.mount.seat.season.not_clear import StepCurve

#: Mean shares this near the least are as good as it: a tenth of a point is far below what a season tells.
AS_GOOD = 0.001


class Stretch(NamedTuple):
    """Keyway bearings side by side that are as good as the best.

    Attributes:
        middle_deg: 0 to below 360; 0 where every bearing is.
        width_deg: 360 where every bearing is.
        forbidden: every bearing is forbidden, so that none was left out.
    """

    middle_deg: float
    width_deg: float
    forbidden: bool


def best_stretch(curve: StepCurve, limits: tuple[SeatLimit, ...]) -> Stretch:
    """The widest stretch of bearings as good as the best, of those that are not forbidden.

    Args:
        curve: mean share over the keyway's bearing.
        limits: forbidden bearings.
    """
    start, value = _cut_at(curve, limits)
    width = np.diff(start, append=360.0)
    shut = forbidden_at(start + width / 2.0, limits)
    forbidden = bool(shut.all())
    open_ = np.ones_like(shut) if forbidden else ~shut
    good = open_ & (value <= value[open_].min() + AS_GOOD)
    if good.all():
        return Stretch(0.0, 360.0, forbidden)
    # Twice round from a piece that is not as good, so that a stretch over north is whole.
    first = int(np.argmin(good))
    order = np.roll(np.arange(good.size), -first)
    edges = np.flatnonzero(np.diff(good[order].astype(int), prepend=0, append=0))
    past = np.concatenate([[0.0], np.cumsum(width[order])])
    begin, end = past[edges[::2]], past[edges[1::2]]
    widest = int(np.argmax(end - begin))
    middle = float(start[first] + (begin[widest] + end[widest]) / 2.0)
    return Stretch(wrap_360(middle), float(end[widest] - begin[widest]), forbidden)


def _cut_at(curve: StepCurve, limits: tuple[SeatLimit, ...]) -> tuple[Floats, Floats]:
    """The curve's pieces, cut where forbidden bearings begin and end."""
    ends = [angle % 360.0 for limit in limits for angle in (limit.from_deg, limit.to_deg)]
    start = np.unique(np.concatenate([curve.start_deg, ends]))
    return start, curve.at(start)
