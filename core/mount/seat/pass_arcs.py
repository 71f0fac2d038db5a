"""The passes seen from above: each an arc of bearings round the station, and where a stop cuts into it.

A pass may sweep through north and turn back on itself, so an arc is kept unwrapped and with both its ends and
its extremes: from 350 to 20 deg it is 350 to 380, and of a pass that goes out and comes back the extremes are
not the ends. What is drawn of a stop depends on the turn that the pass is followed in, which bearings alone
do not tell: see `stop_gaps` and `resting_pieces`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import unwrap_deg
from core.base.units import INSIDE_DEG
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.station import AzimuthAxis
from core.passes.track import Pass

#: Arcs that share a ring are at least this far apart.
_RING_GAP_DEG = 8.0


@dataclass(frozen=True)
class PassArc:
    """A pass as an arc of bearings, unwrapped.

    Attributes:
        aos_deg, los_deg: bearings at AOS and LOS; los above aos is clockwise.
        low_deg, high_deg: least and greatest bearing on the way.
    """

    aos_deg: float
    los_deg: float
    low_deg: float
    high_deg: float

    @property
    def clockwise(self) -> bool:
        """The sense of motion from AOS to LOS."""
        return self.los_deg >= self.aos_deg


def pass_arc(pass_: Pass) -> PassArc:
    """The bearings a pass covers over the mask, in the true sense of its motion."""
    azimuth = unwrap_deg(pass_.azimuth_deg)
    return PassArc(float(azimuth[0]), float(azimuth[-1]), float(azimuth.min()), float(azimuth.max()))


Piece = tuple[float, float]


def stop_gaps(arc: PassArc, zeta_deg: float, azimuth: AzimuthAxis) -> tuple[Piece, ...]:
    """Where a pass that has no way meets a stop, as pieces of its arc (unwrapped, rising).

    Where no mechanical azimuth points to a sector, the pieces inside it; else the single bearing (a piece
    without width) at which the way that comes furthest arrives at a guard. Empty where it meets none.
    """
    guard, top = guarded_travel_deg(azimuth)
    if top - guard < 360.0 - INSIDE_DEG:
        return _inside(arc, zeta_deg + top, zeta_deg + guard + 360.0)
    first = (arc.aos_deg - zeta_deg) % 360.0
    if arc.clockwise:
        start = first if first >= guard else first + 360.0
        at = arc.aos_deg + top - start
    else:
        start = first + 360.0 * np.floor((top - first) / 360.0)
        at = arc.aos_deg + guard - start
    return ((float(at), float(at)),) if arc.low_deg <= at <= arc.high_deg else ()


def resting_pieces(arc: PassArc, zeta_deg: float, azimuth: AzimuthAxis) -> tuple[Piece, ...]:
    """The pieces of an arc outside the guarded travel, in the turn that holds most of it (unwrapped).

    Args:
        arc: the pass.
        zeta_deg: bearing of the counter-clockwise stop; over the top, of its opposite.
        azimuth: travel and guard.
    """
    guard, top = guarded_travel_deg(azimuth)
    first = np.floor((arc.low_deg - zeta_deg - top) / 360.0)
    windows = [(zeta_deg + guard + 360.0 * k, zeta_deg + top + 360.0 * k) for k in first + np.arange(4)]
    low, high = max(windows, key=lambda w: min(w[1], arc.high_deg) - max(w[0], arc.low_deg))
    pieces = []
    if arc.low_deg < low:
        pieces.append((arc.low_deg, float(min(low, arc.high_deg))))
    if arc.high_deg > high:
        pieces.append((float(max(high, arc.low_deg)), arc.high_deg))
    return tuple(pieces)


def _inside(arc: PassArc, start_deg: float, end_deg: float) -> tuple[Piece, ...]:
    """What of an arc lies in a sector, in any turn."""
    first = np.floor((arc.low_deg - end_deg) / 360.0)
    pieces = []
    for turn in first + np.arange(3):
        low = max(arc.low_deg, start_deg + 360.0 * turn)
        high = min(arc.high_deg, end_deg + 360.0 * turn)
        if high > low:
            pieces.append((float(low), float(high)))
    return tuple(pieces)


def rings(arcs: tuple[PassArc, ...], most_alone: int) -> tuple[int, ...]:
    """Which ring each arc is drawn on, 0 the outermost, numbered without gaps.

    Up to ``most_alone`` arcs have a ring each, in the order given. More share rings, each taking the first
    on which it overlaps none.
    """
    if len(arcs) <= most_alone:
        return tuple(range(len(arcs)))
    on_ring: list[list[PassArc]] = []
    chosen = []
    for arc in arcs:
        free = (k for k, others in enumerate(on_ring) if all(_apart(arc, other) for other in others))
        ring = next(free, len(on_ring))
        if ring == len(on_ring):
            on_ring.append([])
        on_ring[ring].append(arc)
        chosen.append(ring)
    return tuple(chosen)


def _apart(one: PassArc, other: PassArc) -> bool:
    """No bearing in common, and some room between."""
    width = one.high_deg - one.low_deg
    if width + (other.high_deg - other.low_deg) + 2.0 * _RING_GAP_DEG > 360.0:
        return False
    ahead = (other.low_deg - one.low_deg) % 360.0
    behind = (one.low_deg - other.low_deg) % 360.0
    return ahead >= width + _RING_GAP_DEG and behind >= other.high_deg - other.low_deg + _RING_GAP_DEG
