"""What all passes together lose over the bearing: as samples to choose from, and as steps to draw and read.

Losses jump where a way begins or ceases to hold, and the bearing at which one ends may be the best of all. So
samples lie at the ends of the pieces between such jumps and in the middle of every piece, never on an even
grid. An end belongs to both of its pieces (arcs are closed), so it may be better than either: what a piece is
like is read off its middle.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_360


@dataclass(frozen=True, eq=False)
class LossCurve:
    """M samples over the circle, ends and middles of pieces by turns.

    Attributes:
        bearing_deg: (M,) rising; of the keyway with one hole in use, or zeta.
        lost_s: (M,) seconds lost in all.
        splits, parts, out_of_reach: (M,) how many passes.
        is_end: (M,) an end of a piece, not a middle.
        rest_room_deg: (M,) how far the pass that rests hardest is from leaving the beam; 180 if none rests.
    """

    bearing_deg: Floats
    lost_s: Floats
    splits: Floats
    parts: Floats
    out_of_reach: Floats
    is_end: Flags
    rest_room_deg: Floats

    def some(self, which: Indices) -> LossCurve:
        """Some of the samples."""
        return LossCurve(*(getattr(self, field.name)[which] for field in fields(self)))

    def turned(self, by_deg: float) -> LossCurve:
        """The same over bearings that are greater by so much."""
        bearing = wrap_360(self.bearing_deg + by_deg)
        order = np.argsort(bearing, kind="stable")
        return replace(self.some(order), bearing_deg=bearing[order])


@dataclass(frozen=True, eq=False)
class CurveSteps:
    """A curve as K steps that cover 0 to 360 once, each as high as the middle of its piece.

    Attributes:
        from_deg, to_deg: (K,) rising.
        lost_s, splits, parts, out_of_reach: (K,) as in `LossCurve`.
    """

    from_deg: Floats
    to_deg: Floats
    lost_s: Floats
    splits: Floats
    parts: Floats
    out_of_reach: Floats

    def at(self, bearing_deg: float) -> int:
        """Index of the step that holds a bearing."""
        found = int(np.searchsorted(self.from_deg, wrap_360(bearing_deg), side="right")) - 1
        return max(found, 0)


def curve_steps(curve: LossCurve) -> CurveSteps:
    """The steps of a curve. The piece over north is cut there: it is the last step and also the first."""
    ends = np.flatnonzero(curve.is_end)
    start, middle = curve.bearing_deg[ends], (ends + 1) % curve.bearing_deg.size
    if start[0] > 0.0:
        start, middle = np.concatenate([[0.0], start]), np.concatenate([middle[-1:], middle])
    return CurveSteps(
        from_deg=start,
        to_deg=np.append(start[1:], 360.0),
        lost_s=curve.lost_s[middle],
        splits=curve.splits[middle],
        parts=curve.parts[middle],
        out_of_reach=curve.out_of_reach[middle],
    )
