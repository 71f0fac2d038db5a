"""Gaps between what turns and what stands, at any bearings of the boom and elevations."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.clearance.lengths import Clearance
from core.mount.clearance.lines import (
    COLUMN,
    GROUND,
    StandingLines,
    TurningLines,
    standing_lines,
    turning_lines,
)
from core.mount.clearance.segments import least_distance

#: Pairs of lines worked on together, so that the tables stay in the processor's cache.
_TOGETHER = 20_000


@dataclass(frozen=True)
class Nearest:
    """The nearest pair at one place of the axes.

    Attributes:
        gap_mm: 0 where they touch.
        turning, standing: which lines.
    """

    gap_mm: float
    turning: str
    standing: str


class Gaps:
    """The gaps of a station; ``turning`` and ``standing`` are its lines."""

    def __init__(self, lengths: Clearance) -> None:
        self.turning: TurningLines = turning_lines(lengths)
        self.standing: StandingLines = standing_lines(lengths)
        self._column = np.array([name == COLUMN for name in self.standing.names], dtype=bool)

    def of_line(self, line: int, boom_deg: Floats, e_deg: Floats) -> Floats:
        """(N, F + 1) gaps in mm of one turning line to all that stand, the ground last; 0 where they touch.

        Args:
            line: which.
            boom_deg: (N,) bearing of the boom from the keyway.
            e_deg: (N,) elevation axis.
        """
        number = len(self.standing.names)
        gaps = np.empty((boom_deg.size, number + 1))
        step = max(_TOGETHER // (number + 1), 1)
        for first in range(0, boom_deg.size, step):
            some = slice(first, first + step)
            ends = self.turning.at(boom_deg[some], e_deg[some], slice(line, line + 1))
            apart = least_distance(ends, self.standing.ends_mm[None]) - self.standing.radius_mm
            if self.turning.on_axis[line]:
                apart = np.where(self._column, np.inf, apart)
            gaps[some, :number] = apart
            gaps[some, number] = ends[:, 0, :, 2].min(axis=1)
        return np.maximum(gaps, 0.0)

    def least(self, boom_deg: Floats, e_deg: Floats) -> tuple[Floats, Indices, Indices]:
        """(N,) least gap in mm, (N,) which line that turns and (N,) which that stands, F for the ground."""
        least = np.full(boom_deg.size, np.inf)
        turning, standing = np.zeros(boom_deg.size, dtype=np.intp), np.zeros(boom_deg.size, dtype=np.intp)
        for line in range(len(self.turning.names)):
            gaps = self.of_line(line, boom_deg, e_deg)
            nearest = gaps.argmin(axis=1)
            gap = gaps[np.arange(gaps.shape[0]), nearest]
            better = gap < least
            least[better], turning[better], standing[better] = gap[better], line, nearest[better]
        return least, turning, standing

    def names(self, turning: int, standing: int) -> tuple[str, str]:
        """The words for a pair of `least`."""
        names = (*self.standing.names, GROUND)
        return self.turning.names[turning], names[standing]

    def nearest(self, boom_deg: float, e_deg: float) -> Nearest | None:
        """The nearest pair at one place of the axes; None where nothing turns."""
        if not self.turning.names:
            return None
        gap, turning, standing = self.least(np.array([boom_deg]), np.array([e_deg]))
        return Nearest(float(gap[0]), *self.names(int(turning[0]), int(standing[0])))


@dataclass(frozen=True, eq=False)
class GapMap:
    """Least gaps over the circle and the elevations, for a picture.

    Attributes:
        boom_deg: (B,) bearings of the boom from the keyway.
        e_deg: (E,) elevation axis.
        gap_mm: (E, B) least gap.
        turning, standing: (E, B) which lines, as `Gaps.names` takes them.
    """

    boom_deg: Floats
    e_deg: Floats
    gap_mm: Floats
    turning: Indices
    standing: Indices


def gap_map(lengths: Clearance, step_deg: float = 2.0) -> GapMap:
    """The map every ``step_deg``, bearings 0 to below 360 and elevations 0 to 180."""
    boom, e = np.arange(0.0, 360.0, step_deg), np.arange(0.0, 180.0 + step_deg / 2.0, step_deg)
    every = [each.ravel() for each in np.meshgrid(boom, e)]
    shape = e.size, boom.size
    gap, turning, standing = Gaps(lengths).least(*every)
    return GapMap(boom, e, gap.reshape(shape), turning.reshape(shape), standing.reshape(shape))
