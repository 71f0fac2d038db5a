"""When a stay stands over mask and minimum elevation.

These moments are found one limit at a time and then intersected, since each limit alone is smooth between
the nodes used here: the stay's knots, the turning points of azimuth, and the moments when azimuth meets a
corner of the mask. The higher of both limits, taken as one, would have corners wherever the two cross.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, Indices, unwrap_deg, wrap_180, wrap_360
from core.base.curves import find_roots
from core.base.runs import runs_of
from core.passes.frames import angle_rates, azimuth_elevation
from core.passes.stays import SHORTEST_S, TIME_TOLERANCE_S, Stay, stay_at, without_wide_steps
from core.place.site import HorizonPoint, mask_elevation_deg, mask_vertices_deg

#: Nodes for every knot interval.
_PARTS = 4


@dataclass(frozen=True, eq=False)
class MaskPieces:
    """The mask as straight pieces: piece k starts at bearing ``start_deg[k]`` and runs to the next one."""

    start_deg: Floats
    height_deg: Floats
    slope: Floats
    lowest_deg: float

    @classmethod
    def of(cls, horizon: Sequence[HorizonPoint]) -> MaskPieces:
        """The pieces of a mask of one point or more."""
        start = mask_vertices_deg(horizon)
        width = np.diff(start, append=start[0] + 360.0)
        one_third = mask_elevation_deg(horizon, start + width / 3.0)
        two_thirds = mask_elevation_deg(horizon, start + 2.0 * width / 3.0)
        # Read inside the pieces: a vertical step leaves two heights at a corner.
        # Points nearer than a millionth of a degree make a step, whose slope nobody meets.
        slope = np.where(width > 1e-6, 3.0 * (two_thirds - one_third) / np.maximum(width, 1e-6), 0.0)
        lowest_deg = min(point.elevation_deg for point in horizon)
        return cls(start, 2.0 * one_third - two_thirds, slope, lowest_deg)

    @classmethod
    def level(cls, elevation_deg: float) -> MaskPieces:
        """One elevation all round."""
        return cls(np.zeros(1), np.array([elevation_deg]), np.zeros(1), elevation_deg)

    def corners_between(self, low_deg: Floats, high_deg: Floats) -> tuple[Indices, Floats]:
        """Corners strictly inside [low, high], (N,) each, unwrapped: index of the interval, bearing."""
        if self.start_deg.size < 2 or low_deg.size == 0:
            return np.zeros(0, dtype=np.intp), np.zeros(0)
        turns = np.arange(np.floor(low_deg.min() / 360.0), np.floor(high_deg.max() / 360.0) + 1.0)
        ring = (self.start_deg + 360.0 * turns[:, None]).ravel()
        first = np.searchsorted(ring, low_deg, side="right")
        count = np.maximum(np.searchsorted(ring, high_deg, side="left") - first, 0)
        interval = np.repeat(np.arange(low_deg.size), count)
        place = np.arange(interval.size) - np.repeat(np.cumsum(count) - count, count)
        return interval, ring[first[interval] + place]

    def line_at(self, azimuth_deg: Floats) -> tuple[Floats, Floats]:
        """Height at and slope of the piece under each bearing (N,), not necessarily wrapped."""
        bearing = wrap_360(azimuth_deg)
        piece = np.searchsorted(self.start_deg, bearing, side="right") - 1
        past = np.mod(bearing - self.start_deg[piece], 360.0)
        return self.height_deg[piece] + self.slope[piece] * past, self.slope[piece]


def limits_of_sight(horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> list[MaskPieces]:
    """What a satellite has to stand over: the minimum elevation, and the mask where any of it is higher."""
    limits = [MaskPieces.level(minimum_elevation_deg)]
    if any(point.elevation_deg > minimum_elevation_deg for point in horizon):
        limits.append(MaskPieces.of(horizon))
    return limits


def stretches_over(stay: Stay, limits: Sequence[MaskPieces]) -> tuple[tuple[float, float], ...]:
    """When the stay is over all limits, (start, end) each, rising; touches of a millisecond left out."""
    over = [(float(stay.utc_s[0]), float(stay.utc_s[-1]))]
    for limit in limits:
        if not over or stay.peak.elevation_deg < limit.lowest_deg:
            return ()
        over = _intersection(over, _over(stay, limit))
    merged: list[tuple[float, float]] = []
    for start, end in over:
        if merged and start - merged[-1][1] < SHORTEST_S:
            merged[-1] = merged[-1][0], end
        else:
            merged.append((start, end))
    return tuple((start, end) for start, end in merged if end - start >= SHORTEST_S)


def _intersection(
    one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]
) -> list[tuple[float, float]]:
    both = [(max(a[0], b[0]), min(a[1], b[1])) for a in one for b in other]
    return [(start, end) for start, end in both if end > start]


def _over(stay: Stay, mask: MaskPieces) -> list[tuple[float, float]]:
    """When the stay is over one limit, (start, end) each, rising."""
    clearance = _Clearance(stay, mask, _nodes(stay, mask))
    breaks = np.union1d(clearance.nodes, clearance.roots())
    middles = 0.5 * (breaks[:-1] + breaks[1:])
    above = clearance.at(clearance.interval_of(middles), middles) > 0.0
    return [(float(breaks[a]), float(breaks[b])) for a, b in runs_of(above)]


class _Clearance:
    """How far a stay is over one limit: smooth in each interval between ``nodes`` (N,), N - 1 intervals."""

    def __init__(self, stay: Stay, mask: MaskPieces, nodes: Floats) -> None:
        self.stay, self.nodes = stay, nodes
        azimuth_deg, _ = azimuth_elevation(stay_at(stay, nodes)[0])
        self.middle_deg = azimuth_deg[:-1] + 0.5 * np.asarray(wrap_180(np.diff(azimuth_deg)))
        self.height_deg, self.slope = mask.line_at(self.middle_deg)

    def interval_of(self, utc_s: Floats) -> Indices:
        """The interval each time (N,) lies in."""
        found = np.searchsorted(self.nodes, utc_s, side="right") - 1
        return np.minimum(np.maximum(found, 0), self.nodes.size - 2)

    def at(self, interval: Indices, utc_s: Floats) -> Floats:
        """Elevation over the piece of mask that belongs to the interval, deg."""
        return self._height_over(interval, stay_at(self.stay, utc_s)[0])

    def with_rate(self, interval: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        """The clearance, deg, and its rate, deg/s."""
        position, velocity = stay_at(self.stay, utc_s)
        azimuth_rate, elevation_rate = angle_rates(position, velocity)
        return self._height_over(interval, position), elevation_rate - self.slope[interval] * azimuth_rate

    def _height_over(self, interval: Indices, position_km: Floats) -> Floats:
        azimuth, elevation = azimuth_elevation(position_km)
        past = np.asarray(wrap_180(azimuth - self.middle_deg[interval]))
        return elevation - self.height_deg[interval] - self.slope[interval] * past

    def roots(self) -> Floats:
        """Every moment (R,) at which the clearance passes zero inside an interval."""
        low, high = self.nodes[:-1], self.nodes[1:]
        every = np.arange(low.size)
        g_low, d_low = self.with_rate(every, low)
        g_high, d_high = self.with_rate(every, high)
        above = g_low > 0.0
        # Both ends on one side, the curve bending toward zero between them, its tangents meeting beyond it.
        side = np.where(above, 1.0, -1.0)
        turns_back = (side * d_low < 0.0) & (side * d_high > 0.0) & (above == (g_high > 0.0))
        reach = np.minimum(side * (g_low + (high - low) * d_low), side * (g_high - (high - low) * d_high))
        turning = np.flatnonzero(turns_back & (reach < 0.0))
        turns = find_roots(
            lambda utc_s: self.with_rate(turning, utc_s)[1],
            low[turning],
            high[turning],
            TIME_TOLERANCE_S,
        )
        through = (self.at(turning, turns) > 0.0) != above[turning]
        turning, turns = turning[through], turns[through]
        plain = np.flatnonzero(above != (g_high > 0.0))
        interval = np.concatenate([plain, turning, turning])
        return find_roots(
            lambda utc_s: self.at(interval, utc_s),
            np.concatenate([low[plain], low[turning], turns]),
            np.concatenate([high[plain], turns, high[turning]]),
            TIME_TOLERANCE_S,
        )


def _nodes(stay: Stay, mask: MaskPieces) -> Floats:
    """Times (N,) between which azimuth runs one way, by 90 deg at most, over one piece of the mask."""
    if mask.start_deg.size < 2:
        # Peaks are knots, so elevation turns at a knot or gently between two.
        return stay.utc_s
    nodes, position, velocity = without_wide_steps(stay, _subdivided(stay.utc_s, _PARTS))
    rate, _ = angle_rates(position, velocity)
    back = np.flatnonzero((rate[:-1] > 0.0) != (rate[1:] > 0.0))
    turns = find_roots(
        lambda utc_s: angle_rates(*stay_at(stay, utc_s))[0], nodes[back], nodes[back + 1], TIME_TOLERANCE_S
    )
    nodes = np.union1d(nodes, turns)
    track_deg = unwrap_deg(azimuth_elevation(stay_at(stay, nodes)[0])[0])
    interval, corner_deg = mask.corners_between(
        np.minimum(track_deg[:-1], track_deg[1:]), np.maximum(track_deg[:-1], track_deg[1:])
    )
    meetings = find_roots(
        lambda utc_s: np.asarray(wrap_180(azimuth_elevation(stay_at(stay, utc_s)[0])[0] - corner_deg)),
        nodes[interval],
        nodes[interval + 1],
        TIME_TOLERANCE_S,
    )
    return np.union1d(nodes, meetings)


def _subdivided(utc_s: Floats, parts: int) -> Floats:
    """Times (N,) with each interval cut into equal parts."""
    shares = np.arange(parts) / parts
    inner = utc_s[:-1, None] + np.diff(utc_s)[:, None] * shares
    return np.append(inner.ravel(), utc_s[-1])
