"""The station seen from above, in bearings: plate, holes, stops, guards, overlap, and the passes round it.

Everything a picture or a description of the seat needs, with no pixels in it. Bearings are degrees true,
clockwise; spans of sectors are clockwise from their start.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import unwrap_deg, wrap_360
from core.base.units import INSIDE_DEG
from core.mount.model.chain import guarded_travel_deg, hole_in_use, stop_bearings_deg, usable_overlap_deg
from core.mount.model.station import AzimuthAxis, Mount
from core.passes.track import Pass

#: The picture's three legs, clockwise from the keyway: one opposite it. An illustration, not a measure.
LEGS_FROM_KEYWAY_DEG = (60.0, 180.0, 300.0)
#: Arcs that share a ring are at least this far apart.
_RING_GAP_DEG = 8.0


@dataclass(frozen=True)
class Sector:
    """Bearings from ``start_deg`` (0 to 360) clockwise over ``span_deg`` (0 to 360)."""

    start_deg: float
    span_deg: float


@dataclass(frozen=True)
class HoleBearing:
    """Where one of the adapter's holes lies on the ground, and whether the pin goes through it."""

    name: str
    bearing_deg: float
    in_use: bool


@dataclass(frozen=True)
class Above:
    """The station from above.

    Attributes:
        keyway_deg: where the keyway points.
        datum_deg: where the adapter's datum mark lies.
        holes: in the mount's order; the one in use lies over the keyway.
        legs_deg: the tripod's legs, which turn with the keyway.
        counter_clockwise_stop_deg, clockwise_stop_deg: where boresight looks on the stops.
        guards: clockwise of the counter-clockwise stop, and counter-clockwise of the clockwise one.
        overlap: bearings inside the guards that two mechanical azimuths point to; None without.
        unreachable: bearings that none points to, guards included; None without.
    """

    keyway_deg: float
    datum_deg: float
    holes: tuple[HoleBearing, ...]
    legs_deg: tuple[float, ...]
    counter_clockwise_stop_deg: float
    clockwise_stop_deg: float
    guards: tuple[Sector, Sector]
    overlap: Sector | None
    unreachable: Sector | None


def seated_at(mount: Mount, keyway_bearing_deg: float, hole: str | None = None) -> Mount:
    """The mount with its keyway elsewhere (and another hole in use), all else as it is."""
    update: dict[str, object] = {"keyway_bearing_deg": wrap_360(keyway_bearing_deg)}
    if hole is not None:
        update["index_hole"] = hole
    return mount.model_copy(update=update)


def seen_from_above(mount: Mount) -> Above:
    """The station as it stands; tonight's correction moves the stops, not the plate."""
    keyway, used = mount.keyway_bearing_deg, hole_in_use(mount)
    datum = keyway + used.offset_deg
    zeta, clockwise_stop = stop_bearings_deg(mount)
    guard, usable_end = guarded_travel_deg(mount.azimuth)
    overlap = usable_overlap_deg(mount.azimuth)
    return Above(
        keyway_deg=wrap_360(keyway),
        datum_deg=wrap_360(datum),
        # Hole k is drilled -iota_k clockwise of the datum mark, so it lies at kappa + iota_used - iota_k.
        holes=tuple(
            HoleBearing(hole.name, wrap_360(datum - hole.offset_deg), hole.name == used.name)
            for hole in mount.index_holes
        ),
        legs_deg=tuple(wrap_360(keyway + leg) for leg in LEGS_FROM_KEYWAY_DEG),
        counter_clockwise_stop_deg=zeta,
        clockwise_stop_deg=clockwise_stop,
        guards=(Sector(zeta, guard), Sector(wrap_360(zeta + usable_end), guard)),
        overlap=Sector(wrap_360(zeta + guard), min(overlap, 360.0)) if overlap > INSIDE_DEG else None,
        unreachable=Sector(wrap_360(zeta + usable_end), -overlap) if overlap < -INSIDE_DEG else None,
    )


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
