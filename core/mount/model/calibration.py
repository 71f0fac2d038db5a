"""A crooked dial's calibration table as a curve: axis angle to dial and back.

Between the pairs the dial follows the piecewise cubic of Fritsch and Butland (SIAM J. Sci. Stat. Comput. 5,
1984, 300-304): at each inner pair the slope is the weighted harmonic mean of the slopes of the two chords,
at the ends that of a parabola through three pairs, held between 0 and three chords. Such a curve goes
through every pair, never turns back between them, and has no kinks. Beyond the first and last pair it goes
on straight, by the dial's scale.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pydantic import Field

from core.base.curves import halve_bracket
from core.base.model import Model, Real

#: Halvings that find an axis angle: 2^-60 of a chord.
_HALVINGS = 60


class CalibrationPoint(Model):
    """One measured pair of a crooked dial: the axis' angle (m or e) and what the dial reads there.

    The figure is the running one: what a wrapping dial would read if it ran on, 370 for 10 after 360.
    """

    axis_deg: Real = Field(ge=-3600.0, le=3600.0)
    dial_deg: Real = Field(ge=-100_000.0, le=100_000.0)


def calibration_fault(points: Sequence[CalibrationPoint], scale: float) -> str:
    """What is wrong with a table, in words; empty where it rises (or falls, with the scale) strictly."""
    sense = 1.0 if scale > 0.0 else -1.0
    for before, after in pairwise(points):
        if after.axis_deg <= before.axis_deg:
            return (
                f"calibration: axis {after.axis_deg:g} deg does not come after {before.axis_deg:g} deg; list "
                "the pairs by rising axis angle, each angle once"
            )
        if sense * (after.dial_deg - before.dial_deg) <= 0.0:
            verb = "rise" if sense > 0.0 else "fall"
            return (
                f"calibration: the dial must {verb} from pair to pair, as its scale does, but reads "
                f"{before.dial_deg:g} at {before.axis_deg:g} deg and {after.dial_deg:g} at "
                f"{after.axis_deg:g} deg (past a wrap, give the running figure: 370, not 10)"
            )
    return ""


@dataclass(frozen=True)
class DialCurve:
    """A dial without its wrapping, as a function of the axis angle; strictly monotone.

    Attributes:
        axis_deg, dial_deg: the pairs, by rising axis angle; at least one.
        slope: the dial's slope at each pair.
        scale: the dial's slope beyond the first and last pair.
    """

    axis_deg: tuple[float, ...]
    dial_deg: tuple[float, ...]
    slope: tuple[float, ...]
    scale: float

    def dial_at(self, axis_deg: float) -> float:
        """The running figure at an axis angle."""
        if axis_deg <= self.axis_deg[0]:
            return self.dial_deg[0] + self.scale * (axis_deg - self.axis_deg[0])
        if axis_deg >= self.axis_deg[-1]:
            return self.dial_deg[-1] + self.scale * (axis_deg - self.axis_deg[-1])
        return self._between(bisect_right(self.axis_deg, axis_deg) - 1, axis_deg)

    def _between(self, k: int, axis_deg: float) -> float:
        """Cubic Hermite piece k."""
        width = self.axis_deg[k + 1] - self.axis_deg[k]
        t = (axis_deg - self.axis_deg[k]) / width
        u = 1.0 - t
        low, high = self.dial_deg[k], self.dial_deg[k + 1]
        # From the nearer pair, so that the pairs themselves come out to the bit.
        value = low * u * u * (1.0 + 2.0 * t) + high * t * t * (1.0 + 2.0 * u)
        return value + width * t * u * (u * self.slope[k] - t * self.slope[k + 1])

    def axis_at(self, dial_deg: float) -> float:
        """The axis angle at which the running figure is this one: the inverse of `dial_at`."""
        sense = 1.0 if self.scale > 0.0 else -1.0
        if sense * (dial_deg - self.dial_deg[0]) <= 0.0:
            return self.axis_deg[0] + (dial_deg - self.dial_deg[0]) / self.scale
        if sense * (dial_deg - self.dial_deg[-1]) >= 0.0:
            return self.axis_deg[-1] + (dial_deg - self.dial_deg[-1]) / self.scale
        k = next(i for i in range(len(self.dial_deg) - 1) if sense * (self.dial_deg[i + 1] - dial_deg) >= 0.0)
        low, high = halve_bracket(
            self.axis_deg[k],
            self.axis_deg[k + 1],
            lambda axis_deg: sense * (self._between(k, axis_deg) - dial_deg) >= 0.0,
            _HALVINGS,
        )
        return (low + high) / 2.0


def dial_curve(points: Sequence[CalibrationPoint], scale: float, at_zero_deg: float) -> DialCurve:
    """The curve of a table that `calibration_fault` has nothing against.

    Args:
        points: the table; empty for a straight dial.
        scale: dial degrees per degree of the axis, not 0; its sign is the table's too.
        at_zero_deg: the figure at axis angle 0 of a dial without a table.
    """
    if not points:
        return DialCurve((0.0,), (at_zero_deg,), (scale,), scale)
    axis = tuple(point.axis_deg for point in points)
    dial = tuple(point.dial_deg for point in points)
    return DialCurve(axis, dial, _slopes(axis, dial, scale), scale)


def _slopes(axis: tuple[float, ...], dial: tuple[float, ...], scale: float) -> tuple[float, ...]:
    """Slopes that keep every piece monotone."""
    if len(axis) == 1:
        return (scale,)
    width = [after - before for before, after in pairwise(axis)]
    chord = [(after - before) / w for (before, after), w in zip(pairwise(dial), width, strict=True)]
    if len(axis) == 2:
        return chord[0], chord[0]
    inner = [
        3.0
        * (width[i] + width[i + 1])
        / ((2 * width[i + 1] + width[i]) / chord[i] + (width[i + 1] + 2 * width[i]) / chord[i + 1])
        for i in range(len(chord) - 1)
    ]
    first = _end_slope(width[0], width[1], chord[0], chord[1])
    last = _end_slope(width[-1], width[-2], chord[-1], chord[-2])
    return first, *inner, last


def _end_slope(near_width: float, far_width: float, near: float, far: float) -> float:
    """A parabola's slope at its end, held between 0 and three times the chord."""
    slope = ((2.0 * near_width + far_width) * near - near_width * far) / (near_width + far_width)
    if slope * near <= 0.0:
        return 0.0
    return slope if abs(slope) <= 3.0 * abs(near) else 3.0 * near
