"""Tracks: a stay sampled as finely as a mount needs it, and the pass that the mask cuts out of it.

Everything here reads the stay's knots; nothing propagates, so the mask can be edited at no such cost.

The moments when a satellite stands over mask and minimum elevation are found one limit at a time and then
intersected, since each limit alone is smooth between the nodes used here: the stay's knots, the turning
points of azimuth, and the moments when azimuth meets a corner of the mask.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats, unwrap_deg, wrap_180, wrap_360
from core.base.curves import find_roots, hermite
from core.base.errors import PropagationError, ValueRangeError
from core.base.progress import reported
from core.base.runs import runs_of
from core.base.times import format_iso
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.passes.frames import Observer, angle_rates, azimuth_elevation, range_rate, slant_range
from core.passes.search import find_stays
from core.passes.stays import Cut, Event, Stay
from core.place.site import HorizonPoint, Site, mask_elevation_deg, mask_floor_deg, mask_vertices_deg

__all__ = ["Cut", "Event", "Pass", "Stay", "cut_pass", "cut_passes", "predict", "stay_at"]

#: Crossings of the mask are refined to this many seconds, and shorter stretches and gaps are touches.
_TIME_TOLERANCE_S = 1e-5
_SHORTEST_S = 1e-3
#: Times this far outside a stay are taken as its ends.
_OUTSIDE_S = 1e-3
#: Nodes for every knot interval.
_PARTS = 4
#: Passes up to this long are sampled every ``_FAST_STEP_S``; longer ones by angle, ``_SLOW_STEP_S`` at most.
_FAST_PASS_S = 2000.0
_FAST_STEP_S = 0.5
_SLOW_STEP_S = 60.0
_STEP_DEG = 0.3
#: No two samples are further apart in azimuth, unless they are closer than this in time.
_AZIMUTH_STEP_DEG = 90.0
_FINEST_S = 1e-4


Ints = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Pass:
    """A stay as the site sees it: cut to mask and minimum elevation.

    Attributes:
        satellite: object name.
        norad_id: catalogue number.
        aos: first crossing of mask and minimum elevation (or the window's start).
        peak: highest elevation of the stay (it may lie behind the mask).
        tca: least range of the stay.
        los: last crossing.
        stretches: the parts over the mask, (start, end) in POSIX seconds.
        cut: which of aos and los are window ends and no crossings.
        stay: the knots everything else is sampled from.
        utc_s: samples (N,) from aos to los, both included, at most 0.5 s apart for fast passes;
            the ends of every stretch are among them.
        azimuth_deg: (N,) true, wrapped to [0, 360).
        elevation_deg: (N,) geometric.
        range_km: (N,).
        range_rate_km_s: (N,) positive receding.
        azimuth_rate_deg_s: (N,) clockwise positive.
        elevation_rate_deg_s: (N,).
        over_mask: (N,) bool, inside a stretch (its ends included).
    """

    satellite: str
    norad_id: int
    aos: Event
    peak: Event
    tca: Event
    los: Event
    stretches: tuple[tuple[float, float], ...]
    cut: Cut | None
    stay: Stay
    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    range_km: Floats
    range_rate_km_s: Floats
    azimuth_rate_deg_s: Floats
    elevation_rate_deg_s: Floats
    over_mask: NDArray[np.bool_]


def stay_at(stay: Stay, utc_s: Floats) -> tuple[Floats, Floats]:
    """States along a stay by cubic Hermite interpolation, good to some centimetres.

    Args:
        stay: the knots.
        utc_s: (N,) within the stay.

    Returns:
        Topocentric position (N, 3) km and velocity (N, 3) km/s, east, north, up.

    Raises:
        ValueRangeError: a time lies outside the stay.
    """
    knots = stay.utc_s
    if utc_s.size and (utc_s.min() < knots[0] - _OUTSIDE_S or utc_s.max() > knots[-1] + _OUTSIDE_S):
        allowed = f"between {format_iso(float(knots[0]))} and {format_iso(float(knots[-1]))}"
        worst = utc_s.min() if utc_s.min() < knots[0] - _OUTSIDE_S else utc_s.max()
        raise ValueRangeError("utc_s", format_iso(float(worst)), allowed)
    left = np.minimum(np.maximum(np.searchsorted(knots, utc_s, side="right") - 1, 0), knots.size - 2)
    width = knots[left + 1] - knots[left]
    share = (utc_s - knots[left]) / width
    position, velocity = stay.position_km, stay.velocity_km_s
    ends = position[left], position[left + 1], velocity[left], velocity[left + 1]
    return hermite(share[:, None], width[:, None], *ends)


def cut_pass(stay: Stay, horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> Pass | None:
    """The pass that mask and minimum elevation leave of a stay, or None where they leave nothing.

    Works on the stay's interpolation alone. Crossing times are good to a millisecond; a stretch, or a gap in
    one, of 2 s or more is never missed.
    """
    return _cut_to(stay, _limits(horizon, minimum_elevation_deg))


def _cut_to(stay: Stay, limits: Sequence[_Mask]) -> Pass | None:
    """The pass that is left of a stay over all of the limits."""
    stretches = _stretches(stay, limits)
    if not stretches:
        return None
    utc_s, position, velocity = _sampled(stay, _sample_times(stay, stretches))
    azimuth_deg, elevation_deg = azimuth_elevation(position)
    azimuth_rate, elevation_rate = angle_rates(position, velocity)
    range_km = slant_range(position)
    first, last = (
        Event(float(utc_s[i]), float(azimuth_deg[i]), float(elevation_deg[i]), float(range_km[i]))
        for i in (0, -1)
    )
    starts, ends = np.array(stretches).T
    inside = np.searchsorted(starts, utc_s, side="right") > np.searchsorted(ends, utc_s, side="left")
    return Pass(
        satellite=stay.satellite,
        norad_id=stay.norad_id,
        aos=first,
        peak=stay.peak,
        tca=stay.tca,
        los=last,
        stretches=stretches,
        cut=_cut(stay, first.utc_s, last.utc_s),
        stay=stay,
        utc_s=utc_s,
        azimuth_deg=azimuth_deg,
        elevation_deg=elevation_deg,
        range_km=range_km,
        range_rate_km_s=range_rate(position, velocity),
        azimuth_rate_deg_s=azimuth_rate,
        elevation_rate_deg_s=elevation_rate,
        over_mask=inside,
    )


def cut_passes(
    stays: Iterable[Stay],
    horizon: Sequence[HorizonPoint],
    minimum_elevation_deg: float,
    progress: Progress = no_progress,
) -> tuple[Pass, ...]:
    """The passes that mask and minimum elevation leave of the stays, by AOS.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    limits = _limits(horizon, minimum_elevation_deg)
    each = reported(tuple(stays), "cutting passes to the horizon", progress)
    passes = [found for stay in each if (found := _cut_to(stay, limits)) is not None]
    return tuple(sorted(passes, key=lambda found: (found.aos.utc_s, found.norad_id)))


def predict(
    sets: Sequence[ElementSet],
    site: Site,
    start_utc_s: float,
    end_utc_s: float,
    progress: Progress = no_progress,
) -> tuple[tuple[Pass, ...], tuple[PropagationError, ...]]:
    """Search and cut in one: passes by AOS over the site's mask and minimum elevation, and the refusals.

    Raises:
        Cancelled: ``progress`` returned False.
        ValueRangeError: the window is empty or turned round.
    """
    floor_deg = mask_floor_deg(site.horizon, site.minimum_elevation_deg)
    observer = Observer.of_site(site)
    search = find_stays(sets, observer, start_utc_s, end_utc_s, floor_deg, progress=progress)
    return cut_passes(search.stays, site.horizon, site.minimum_elevation_deg), search.refused


# --- stretches over the mask ------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class _Mask:
    """The mask as straight pieces: piece k starts at bearing ``start_deg[k]`` and runs to the next one."""

    start_deg: Floats
    height_deg: Floats
    slope: Floats
    lowest_deg: float

    @classmethod
    def of(cls, horizon: Sequence[HorizonPoint]) -> _Mask:
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
    def level(cls, elevation_deg: float) -> _Mask:
        return cls(np.zeros(1), np.array([elevation_deg]), np.zeros(1), elevation_deg)

    def corners_between(self, low_deg: Floats, high_deg: Floats) -> tuple[Ints, Floats]:
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


def _limits(horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> list[_Mask]:
    """What a satellite has to stand over: the minimum elevation, and the mask where any of it is higher."""
    limits = [_Mask.level(minimum_elevation_deg)]
    if any(point.elevation_deg > minimum_elevation_deg for point in horizon):
        limits.append(_Mask.of(horizon))
    return limits


def _stretches(stay: Stay, limits: Sequence[_Mask]) -> tuple[tuple[float, float], ...]:
    """When the stay is over all limits, (start, end) each, rising; touches of a millisecond left out."""
    over = [(float(stay.utc_s[0]), float(stay.utc_s[-1]))]
    for limit in limits:
        if not over or stay.peak.elevation_deg < limit.lowest_deg:
            return ()
        over = _intersection(over, _over(stay, limit))
    merged: list[tuple[float, float]] = []
    for start, end in over:
        if merged and start - merged[-1][1] < _SHORTEST_S:
            merged[-1] = merged[-1][0], end
        else:
            merged.append((start, end))
    return tuple((start, end) for start, end in merged if end - start >= _SHORTEST_S)


def _intersection(
    one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]
) -> list[tuple[float, float]]:
    both = [(max(a[0], b[0]), min(a[1], b[1])) for a in one for b in other]
    return [(start, end) for start, end in both if end > start]


def _over(stay: Stay, mask: _Mask) -> list[tuple[float, float]]:
    """When the stay is over one limit, (start, end) each, rising."""
    limit = _Limit(stay, mask, _nodes(stay, mask))
    breaks = np.union1d(limit.nodes, limit.roots())
    middles = 0.5 * (breaks[:-1] + breaks[1:])
    above = limit.clearance(limit.interval_of(middles), middles) > 0.0
    return [(float(breaks[a]), float(breaks[b])) for a, b in runs_of(above)]


class _Limit:
    """How far a stay is over one limit: smooth in each interval between ``nodes`` (N,), N - 1 intervals."""

    def __init__(self, stay: Stay, mask: _Mask, nodes: Floats) -> None:
        self.stay, self.nodes = stay, nodes
        azimuth_deg, _ = azimuth_elevation(stay_at(stay, nodes)[0])
        self.middle_deg = azimuth_deg[:-1] + 0.5 * np.asarray(wrap_180(np.diff(azimuth_deg)))
        self.height_deg, self.slope = mask.line_at(self.middle_deg)

    def interval_of(self, utc_s: Floats) -> Ints:
        """The interval each time (N,) lies in."""
        found = np.searchsorted(self.nodes, utc_s, side="right") - 1
        return np.minimum(np.maximum(found, 0), self.nodes.size - 2)

    def clearance(self, interval: Ints, utc_s: Floats) -> Floats:
        """Elevation over the piece of mask that belongs to the interval, deg."""
        return self._over(interval, stay_at(self.stay, utc_s)[0])

    def clearance_and_rate(self, interval: Ints, utc_s: Floats) -> tuple[Floats, Floats]:
        """The clearance, deg, and its rate, deg/s."""
        position, velocity = stay_at(self.stay, utc_s)
        azimuth_rate, elevation_rate = angle_rates(position, velocity)
        return self._over(interval, position), elevation_rate - self.slope[interval] * azimuth_rate

    def _over(self, interval: Ints, position_km: Floats) -> Floats:
        azimuth, elevation = azimuth_elevation(position_km)
        past = np.asarray(wrap_180(azimuth - self.middle_deg[interval]))
        return elevation - self.height_deg[interval] - self.slope[interval] * past

    def roots(self) -> Floats:
        """Every moment (R,) at which the clearance passes zero inside an interval."""
        low, high = self.nodes[:-1], self.nodes[1:]
        every = np.arange(low.size)
        g_low, d_low = self.clearance_and_rate(every, low)
        g_high, d_high = self.clearance_and_rate(every, high)
        above = g_low > 0.0
        # Both ends on one side, the curve bending toward zero between them, its tangents meeting beyond it.
        side = np.where(above, 1.0, -1.0)
        turns_back = (side * d_low < 0.0) & (side * d_high > 0.0) & (above == (g_high > 0.0))
        reach = np.minimum(side * (g_low + (high - low) * d_low), side * (g_high - (high - low) * d_high))
        turning = np.flatnonzero(turns_back & (reach < 0.0))
        turns = find_roots(
            lambda utc_s: self.clearance_and_rate(turning, utc_s)[1],
            low[turning],
            high[turning],
            _TIME_TOLERANCE_S,
        )
        through = (self.clearance(turning, turns) > 0.0) != above[turning]
        turning, turns = turning[through], turns[through]
        plain = np.flatnonzero(above != (g_high > 0.0))
        interval = np.concatenate([plain, turning, turning])
        return find_roots(
            lambda utc_s: self.clearance(interval, utc_s),
            np.concatenate([low[plain], low[turning], turns]),
            np.concatenate([high[plain], turns, high[turning]]),
            _TIME_TOLERANCE_S,
        )


def _nodes(stay: Stay, mask: _Mask) -> Floats:
    """Times (N,) between which azimuth runs one way, by 90 deg at most, over one piece of the mask."""
    if mask.start_deg.size < 2:
        # Peaks are knots, so elevation turns at a knot or gently between two.
        return stay.utc_s
    nodes, position, velocity = _sampled(stay, _subdivided(stay.utc_s, _PARTS))
    rate, _ = angle_rates(position, velocity)
    back = np.flatnonzero((rate[:-1] > 0.0) != (rate[1:] > 0.0))
    turns = find_roots(
        lambda utc_s: angle_rates(*stay_at(stay, utc_s))[0], nodes[back], nodes[back + 1], _TIME_TOLERANCE_S
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
        _TIME_TOLERANCE_S,
    )
    return np.union1d(nodes, meetings)


# --- samples ----------------------------------------------------------------------------------------------


def _sample_times(stay: Stay, stretches: Sequence[tuple[float, float]]) -> Floats:
    """Sample times (N,) from AOS to LOS; the ends of the stretches, peak and TCA are among them."""
    first, last = stretches[0][0], stretches[-1][1]
    fixed = [moment for stretch in stretches for moment in stretch]
    for moment in (stay.peak.utc_s, stay.tca.utc_s):
        if first < moment < last and min(abs(moment - other) for other in fixed) > _SHORTEST_S:
            fixed.append(moment)
    fixed_utc_s = np.sort(np.array(fixed))
    knots = np.union1d(stay.utc_s[(stay.utc_s > first) & (stay.utc_s < last)], fixed_utc_s)
    # A clock that ticks once a step, laid along the pass and cut at the fixed moments.
    ticks = np.concatenate([[0.0], np.cumsum(np.diff(knots) / _steps(stay, knots))])
    ticks_fixed = np.interp(fixed_utc_s, knots, ticks)
    parts = np.maximum(np.ceil(np.diff(ticks_fixed) - 1e-9), 1.0).astype(np.intp)
    piece = np.repeat(np.arange(parts.size), parts)
    place = np.arange(piece.size) - np.repeat(np.cumsum(parts) - parts, parts)
    share = place / parts[piece]
    between = np.interp(ticks_fixed[piece] + share * np.diff(ticks_fixed)[piece], ticks, knots)
    utc_s = np.where(place == 0, fixed_utc_s[piece], between)
    return np.append(utc_s, fixed_utc_s[-1])


def _steps(stay: Stay, knots: Floats) -> Floats:
    """The longest step (N - 1,) in s between knots (N,)."""
    if knots[-1] - knots[0] <= _FAST_PASS_S:
        return np.full(knots.size - 1, _FAST_STEP_S)
    position, velocity = stay_at(stay, knots)
    across = np.linalg.norm(np.cross(position, velocity), axis=1)
    rate_deg_s = np.degrees(across / slant_range(position) ** 2)
    fastest = np.maximum(np.maximum(rate_deg_s[:-1], rate_deg_s[1:]), 1e-9)
    steps: Floats = np.clip(_STEP_DEG / fastest, _FAST_STEP_S, _SLOW_STEP_S)
    return steps


def _sampled(stay: Stay, utc_s: Floats) -> tuple[Floats, Floats, Floats]:
    """Times (N,) with more put between until no step in azimuth is above 90 deg, or steps are down to 0.1 ms.

    Returns:
        The times, and the stay's positions and velocities (N, 3) at them.
    """
    while True:
        position, velocity = stay_at(stay, utc_s)
        step_deg = np.abs(np.asarray(wrap_180(np.diff(azimuth_elevation(position)[0]))))
        wide = np.flatnonzero((step_deg > _AZIMUTH_STEP_DEG) & (np.diff(utc_s) > 2.0 * _FINEST_S))
        if wide.size == 0:
            return utc_s, position, velocity
        utc_s = np.insert(utc_s, wide + 1, 0.5 * (utc_s[wide] + utc_s[wide + 1]))


def _subdivided(utc_s: Floats, parts: int) -> Floats:
    """Times (N,) with each interval cut into equal parts."""
    shares = np.arange(parts) / parts
    inner = utc_s[:-1, None] + np.diff(utc_s)[:, None] * shares
    return np.append(inner.ravel(), utc_s[-1])


def _cut(stay: Stay, first_utc_s: float, last_utc_s: float) -> Cut | None:
    """Which ends of a pass are the stay's own cut ends."""
    at_start = stay.cut in ("start", "both") and first_utc_s == stay.utc_s[0]
    at_end = stay.cut in ("end", "both") and last_utc_s == stay.utc_s[-1]
    if at_start:
        return "both" if at_end else "start"
    return "end" if at_end else None
