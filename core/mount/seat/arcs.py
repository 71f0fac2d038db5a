"""Closed arcs of zeta that let passes through, and which of them hold a given bearing. Exact, no stepping."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_360
from core.base.ragged import places_in, ranges
from core.base.units import INSIDE_DEG
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.station import AzimuthAxis

if TYPE_CHECKING:
    from core.mount.check.ways import Reach


@dataclass(frozen=True, eq=False)
class Struck:
    """Arcs of zeta at which passes would strike something, (K,) each; an arc's ends strike too.

    Attributes:
        of_pass: which pass, rising.
        start_deg, width_deg: from where clockwise over how much; 360 is the circle.
    """

    of_pass: Indices
    start_deg: Floats
    width_deg: Floats

    def holds(self, zeta_deg: Floats, passes: int, tolerance_deg: float) -> Flags:
        """(M, P): bearing m lies in an arc of pass p, its ends included."""
        past = np.mod(zeta_deg[:, None] - self.start_deg[None, :] + tolerance_deg, 360.0)
        inside = past <= self.width_deg + 2.0 * tolerance_deg
        found = np.zeros((zeta_deg.size, passes), dtype=bool)
        for arc, of_pass in enumerate(self.of_pass.tolist()):
            found[:, of_pass] |= inside[:, arc]
        return found

    def holds_own(self, of_pass: Indices, zeta_deg: Floats) -> Flags:
        """(Z,): each bearing lies in an arc of its own pass, its ends included."""
        first, beyond = (np.searchsorted(self.of_pass, of_pass, side=side) for side in ("left", "right"))
        row, arc = ranges(first, beyond)
        past = np.mod(zeta_deg[row] - self.start_deg[arc] + INSIDE_DEG, 360.0)
        found = np.zeros(zeta_deg.size, dtype=bool)
        found[row[past <= self.width_deg[arc] + 2.0 * INSIDE_DEG]] = True
        return found

    def some(self, which: slice) -> Struck:
        """Of some of the passes, numbered anew."""
        first, beyond = np.searchsorted(self.of_pass, [which.start, which.stop])
        own = slice(int(first), int(beyond))
        return Struck(self.of_pass[own] - which.start, self.start_deg[own], self.width_deg[own])

    def own_ends_deg(self) -> tuple[Indices, Floats]:
        """Both ends of the arcs that have any: of which pass, and where."""
        real = self.width_deg < 360.0
        start = self.start_deg[real]
        return np.tile(self.of_pass[real], 2), np.concatenate([start, start + self.width_deg[real]])


@dataclass(frozen=True, eq=False)
class Arcs:
    """One closed arc of zeta per pass: from ``start_deg`` clockwise over ``width_deg``.

    Attributes:
        start_deg: (P,) any turn.
        width_deg: (P,) negative where there is none, 360 or more where every bearing will do.
        struck: what is taken out of the arcs, as the passes would strike something there.
    """

    start_deg: Floats
    width_deg: Floats
    struck: Struck | None = None


def clear_arcs(reaches: tuple[Reach, ...], azimuth: AzimuthAxis) -> Arcs:
    """Arcs in which each pass is clear: [max A - T + g, min A - g], of width T - 2g - sweep."""
    low = np.array([reach.low_deg for reach in reaches])
    high = np.array([reach.high_deg for reach in reaches])
    return arcs_through(
        low, high, np.array([reach.elevation_clear for reach in reaches], dtype=bool), azimuth
    )


def arcs_through(low_deg: Floats, high_deg: Floats, possible: Flags, azimuth: AzimuthAxis) -> Arcs:
    """The same of passes in columns (P,): least and greatest azimuth the axis must point to."""
    guard, top = guarded_travel_deg(azimuth)
    return _arcs(high_deg - top, low_deg - guard, ~possible)


def resting_arcs(reaches: tuple[Reach, ...], azimuth: AzimuthAxis) -> Arcs:
    """Arcs in which each pass holds at least by resting: [max(A - D) - T + g, min(A + D) - g]."""
    guard, top = guarded_travel_deg(azimuth)
    none = ~np.array([reach.can_rest for reach in reaches], dtype=bool)
    low = np.array([reach.rest_low_deg if reach.can_rest else 0.0 for reach in reaches])
    high = np.array([reach.rest_high_deg if reach.can_rest else 0.0 for reach in reaches])
    # A seat from which the whole pass lies half a turn outside the travel is another turn's, not a rest.
    span_low = np.array([reach.low_deg for reach in reaches])
    span_high = np.array([reach.high_deg for reach in reaches])
    start = np.maximum(low - top, span_low - top - 180.0)
    end = np.minimum(high - guard, span_high - guard + 180.0)
    return _arcs(start, end, none)


def _arcs(start: Floats, end: Floats, none: Flags) -> Arcs:
    width = end - start
    # Touching ends are inside: a width that is nothing but rounding is a single bearing.
    width = np.where((width < 0.0) & (width >= -INSIDE_DEG), 0.0, width)
    return Arcs(start, np.where(none, -1.0, width))


def holds(arcs: Arcs, zeta_deg: Floats, tolerance_deg: float = INSIDE_DEG) -> Flags:
    """(M, P): bearing m lies in pass p's arc, its ends included."""
    if not (arcs.width_deg >= 0.0).any():  # as of a posture that the mount has not
        return np.zeros((zeta_deg.size, arcs.width_deg.size), dtype=bool)
    past = np.mod(zeta_deg[:, None] - arcs.start_deg[None, :] + tolerance_deg, 360.0)
    inside = np.asarray((arcs.width_deg >= 0.0) & (past <= arcs.width_deg + 2.0 * tolerance_deg))
    if arcs.struck is None:
        return inside
    return inside & ~arcs.struck.holds(zeta_deg, arcs.width_deg.size, tolerance_deg)


def holds_own(arcs: Arcs, of_pass: Indices, zeta_deg: Floats) -> Flags:
    """(Z,): each bearing lies in the arc of its own pass, its ends included."""
    width = arcs.width_deg[of_pass]
    past = np.mod(zeta_deg - arcs.start_deg[of_pass] + INSIDE_DEG, 360.0)
    inside = np.asarray((width >= 0.0) & (past <= width + 2.0 * INSIDE_DEG))
    return inside if arcs.struck is None else inside & ~arcs.struck.holds_own(of_pass, zeta_deg)


def room_deg(arcs: Arcs, of_pass: Indices, zeta_deg: Floats) -> Floats:
    """(Z,) distance to the nearer end of its own pass' arc from inside it; 0 outside, 180 without ends."""
    width = arcs.width_deg[of_pass]
    past = np.mod(zeta_deg - arcs.start_deg[of_pass], 360.0)
    inside = np.clip(np.minimum(past, width - past), 0.0, None)
    return np.asarray(np.where(width >= 360.0, 180.0, inside))


def ends_deg(*families: Arcs) -> Floats:
    """All arc ends on [0, 360), ends within the inside tolerance counted once; whole circles have none."""
    ends = [np.zeros(0)]
    for arcs in families:
        real = (arcs.width_deg >= 0.0) & (arcs.width_deg < 360.0)
        ends += [arcs.start_deg[real], arcs.start_deg[real] + arcs.width_deg[real]]
        if arcs.struck is not None:
            ends.append(arcs.struck.own_ends_deg()[1])
    bearings = np.sort(wrap_360(np.concatenate(ends)))
    if bearings.size < 2:
        return bearings
    apart = np.diff(bearings, append=bearings[0] + 360.0)
    return np.asarray(bearings[apart > INSIDE_DEG]) if (apart > INSIDE_DEG).any() else bearings[:1]


def own_ends_deg(arcs: Arcs) -> tuple[Indices, Floats]:
    """Both ends of every pass' arc, a whole circle's too, and of what is taken out: which pass, and where."""
    real = np.flatnonzero(arcs.width_deg >= 0.0)
    start = arcs.start_deg[real]
    of_pass, ends = [real, real], [start, start + arcs.width_deg[real]]
    if arcs.struck is not None:
        struck, struck_deg = arcs.struck.own_ends_deg()
        of_pass, ends = [*of_pass, struck], [*ends, struck_deg]
    return np.concatenate(of_pass), np.concatenate(ends)


def arcs_of(arcs: Arcs, which: slice) -> Arcs:
    """The arcs of some of the passes."""
    struck = None if arcs.struck is None else arcs.struck.some(which)
    return Arcs(arcs.start_deg[which], arcs.width_deg[which], struck)


def no_wider(ends: Floats, widest_deg: float) -> Floats:
    """The ends with further bearings between them, so that no piece is wider than ``widest_deg``."""
    starts = ends if ends.size else np.zeros(1)
    widths = np.diff(starts, append=starts[0] + 360.0)
    count = np.ceil(widths / widest_deg).astype(np.intp)
    piece = np.repeat(np.arange(count.size), count)
    return np.sort(wrap_360(starts[piece] + widths[piece] * places_in(count) / count[piece]))


def middles_deg(ends: Floats) -> Floats:
    """Middle of each piece from ``ends[k]`` to the next end clockwise; [0] where there are no ends."""
    if ends.size == 0:
        return np.zeros(1)
    following = np.append(ends[1:], ends[0] + 360.0)
    return wrap_360(np.asarray((ends + following) / 2.0))
