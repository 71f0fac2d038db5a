"""Sets of index holes, judged: each evening the ground says how the keyway lies, and the best hole is used.

Where the ground may say any bearing, all bearings count alike, and the share of an evening is a mean round
the circle of the least of several step curves, one for each hole; it is taken exactly, piece by piece.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.seat.season.struck_season import AnySeason

#: More than a turn: it keeps evenings apart in one column of bearings.
_APART = 1024.0


@dataclass(frozen=True, eq=False)
class Placed:
    """What a set of holes makes of some evenings, (E,) each, the mean over the bearings of the keyway.

    Attributes:
        share: of the passes that are not clear through the best hole.
        free: of the bearings at which no pass is lost through the best hole.
    """

    share: Floats
    free: Floats

    @property
    def mean_share(self) -> float:
        """Over the evenings."""
        return float(self.share.mean())

    @property
    def free_evenings(self) -> float:
        """How many evenings lose no pass."""
        return float(self.free.sum())


def placed(season: AnySeason, offsets_deg: Floats, zero_deg: float, keyways_deg: Floats | None) -> Placed:
    """What a set of holes makes of the evenings.

    Args:
        season: the evenings.
        offsets_deg: (H,) the holes' index offsets.
        zero_deg: zeta of a hole without offset where the keyway points north.
        keyways_deg: bearings that the keyway may be given, alike often; None: every bearing.
    """
    if keyways_deg is None:
        return _round_the_circle(season, offsets_deg, zero_deg)
    least = np.stack(
        [
            np.min([season.shares_seated(keyway, offset, zero_deg) for offset in offsets_deg], axis=0)
            for keyway in keyways_deg
        ]
    )
    return Placed(least.mean(axis=0), (least == 0.0).mean(axis=0))


def _round_the_circle(season: AnySeason, offsets_deg: Floats, zero_deg: float) -> Placed:
    """Steps of all holes' curves in one column, evening by evening; each hole's count is summed along it."""
    holes, evenings = offsets_deg.size, np.arange(season.evenings)
    # A turned curve begins its evening with what it holds at north and is done with it there.
    turned = [season.turned_by(float(offset), zero_deg) for offset in offsets_deg]
    begins = [np.diff(one.at_north, prepend=0) for one in turned]
    parts = [one.ends for one in turned]
    evening = np.concatenate([np.tile(evenings, holes), *(part.evening for part in parts)])
    bearing = np.concatenate([np.zeros(holes * evenings.size), *(part.bearing_deg for part in parts)])
    step = np.concatenate([*begins, *(part.step for part in parts)])
    hole = np.concatenate(
        [
            np.repeat(np.arange(holes), evenings.size),
            np.repeat(np.arange(holes), [part.step.size for part in parts]),
        ]
    )
    order = np.argsort(evening * _APART + bearing)  # far quicker than by two keys
    evening, bearing, step, hole = evening[order], bearing[order], step[order], hole[order]
    least = np.min([np.cumsum(np.where(hole == one, step, 0.0)) for one in range(holes)], axis=0)
    last = np.diff(evening, append=season.evenings) != 0
    width = np.where(last, 360.0, np.append(bearing[1:], 0.0)) - bearing
    lost = np.bincount(evening, least * width, season.evenings) / season.passes
    free = np.bincount(evening, (least == 0.0) * width, season.evenings)
    return Placed(lost / 360.0, free / 360.0)
