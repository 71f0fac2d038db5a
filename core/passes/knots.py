"""From the two ends of a stay to the stay itself: knots of exact states along it, peak and least range.

The knots lie some 200 to a revolution, so that a cubic from knot to knot is good to a centimetre: everything
later is read off these curves, and nothing propagates again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.curves import find_roots, hermite
from core.base.units import GM_WGS72_KM3_S2
from core.passes.exact import EARTH_RATE_RAD_S, ExactStates
from core.passes.frames import angle_rates, azimuth_elevation, range_rate, slant_range
from core.passes.stays import SHORTEST_S, TIME_TOLERANCE_S, Event, Stay, cut_at

#: Rough samples and knots of a revolution taken at perigee speed.
_ROUGH_PER_TURN = 60.0
_KNOTS_PER_TURN = 200.0


@dataclass(frozen=True, eq=False)
class Spans:
    """The ends of the stays of some satellites, (S,) each, by satellite and time.

    Attributes:
        which: position of the satellite's element set.
        low, high: start and end, POSIX seconds.
        cut_low, cut_high: where that end is the window's, or the last valid moment, and no crossing.
    """

    which: Indices
    low: Floats
    high: Floats
    cut_low: Flags
    cut_high: Flags


@dataclass(frozen=True, eq=False)
class _Knots:
    """Exact states along the stays of some satellites: stay number and time (N,), ENU states (N, 3)."""

    stay: Indices
    utc_s: Floats
    position_km: Floats
    velocity_km_s: Floats

    def merged(self, other: _Knots) -> _Knots:
        """Both, sorted; of ``other`` only what lies further than ``SHORTEST_S`` from its neighbours."""
        stay, utc_s = np.concatenate([self.stay, other.stay]), np.concatenate([self.utc_s, other.utc_s])
        order = np.lexsort((utc_s, stay))
        added = (np.arange(order.size) >= self.stay.size)[order]
        near = (np.diff(utc_s[order]) < SHORTEST_S) & (np.diff(stay[order]) == 0)
        crowded = np.concatenate([[False], near]) | np.concatenate([near, [False]])
        order = order[~(added & crowded)]
        position = np.concatenate([self.position_km, other.position_km])
        velocity = np.concatenate([self.velocity_km_s, other.velocity_km_s])
        return _Knots(stay[order], utc_s[order], position[order], velocity[order])


def stays_of(states: ExactStates, spans: Spans) -> list[tuple[int, Stay]]:
    """Every stay with its knots, peak and least range, and the number of its satellite.

    A stay whose satellite turns out to fail within it is left out, and the failure kept with ``states``.
    """
    if spans.which.size == 0:
        return []
    knots, broken = _knots(states, spans)
    tops = _turning_points(states, spans, knots, lambda p, v: angle_rates(p, v)[1])
    nearest = _turning_points(states, spans, knots, lambda p, v: -range_rate(p, v))
    # A stay can have several tops, and the highest point can be one of its ends.
    knots = knots.merged(tops).merged(nearest)
    peaks = _best(knots, -azimuth_elevation(knots.position_km)[1])
    tcas = _best(knots, slant_range(knots.position_km))
    ends = np.searchsorted(knots.stay, np.arange(spans.which.size + 1))
    stays = []
    for number in np.flatnonzero(~broken):
        piece = slice(ends[number], ends[number + 1])
        elements = states.sets[spans.which[number]]
        stay = Stay(
            satellite=elements.name,
            norad_id=elements.norad_id,
            utc_s=knots.utc_s[piece],
            position_km=knots.position_km[piece],
            velocity_km_s=knots.velocity_km_s[piece],
            cut=cut_at(bool(spans.cut_low[number]), bool(spans.cut_high[number])),
            peak=peaks[number],
            tca=tcas[number],
        )
        stays.append((int(spans.which[number]), stay))
    return stays


def _knots(states: ExactStates, spans: Spans) -> tuple[_Knots, Flags]:
    """Exact states along every span, both ends included, and which spans (S,) break.

    A span breaks where the satellite fails between two samples of the search: an orbit that dips into
    the ground for less than a step. From there on the satellite is given up.
    """
    stay, utc_s = _knot_times(states, spans)
    code, position, velocity = states.at(spans.which[stay], utc_s)
    broken = np.zeros(spans.which.size, dtype=bool)
    for number in np.unique(stay[code != 0]):
        which = spans.which[number]
        if not states.failure[which]:
            states.failure[which] = code[(stay == number) & (code != 0)][0]
            states.last_utc_s[which] = spans.low[number]
        broken |= (spans.which == which) & (spans.low >= states.last_utc_s[which])
    return _Knots(stay, utc_s, position, velocity), broken


def _knot_times(states: ExactStates, spans: Spans) -> tuple[Indices, Floats]:
    """Span number and time (N,) of the knots: close where the satellite is low and fast, wide where high.

    The distance r alone sets the pace, sqrt(mu (1 + e) / r^3), which is the angular rate at perigee and
    more than it elsewhere.
    """
    rough_step = 2.0 * np.pi / (_ROUGH_PER_TURN * states.rate_rad_s[spans.which])
    parts = np.maximum(np.ceil((spans.high - spans.low) / rough_step), 2.0).astype(np.intp)
    stay, share = _shares(parts)
    utc_s = spans.low[stay] + share * (spans.high - spans.low)[stay]
    _, position = states.positions(spans.which[stay], utc_s)
    centre = states.observer.to_enu @ states.observer.position_km
    stretch = np.array([1.0 + elements.eccentricity for elements in states.sets])[spans.which[stay]]
    pace = np.sqrt(GM_WGS72_KM3_S2 * stretch / slant_range(position + centre) ** 3) + EARTH_RATE_RAD_S
    inside = np.diff(stay) == 0
    angle = np.where(inside, 0.5 * (pace[1:] + pace[:-1]) * np.diff(utc_s), 1.0)
    phase = np.concatenate([[0.0], np.cumsum(angle)])
    first, last = np.cumsum(parts + 1) - parts - 1, np.cumsum(parts + 1) - 1
    swept = phase[last] - phase[first]
    stay, share = _shares(np.maximum(np.ceil(_KNOTS_PER_TURN * swept / (2.0 * np.pi)), 2.0).astype(np.intp))
    utc_s = np.interp(phase[first][stay] + share * swept[stay], phase, utc_s)
    utc_s = np.where(share == 0.0, spans.low[stay], np.where(share == 1.0, spans.high[stay], utc_s))
    return stay, utc_s


def _turning_points(
    states: ExactStates, spans: Spans, knots: _Knots, rate_of: Callable[[Floats, Floats], Floats]
) -> _Knots:
    """Exact states where the quantity of that rate turns from rising to falling between two knots.

    The curve through the knots is good to a centimetre, so it tells the moment to a millisecond or better
    wherever the turn is sharp; where it is flat the moment does not matter.
    """
    rate = rate_of(knots.position_km, knots.velocity_km_s)
    left = np.flatnonzero((np.diff(knots.stay) == 0) & (rate[:-1] > 0.0) & (rate[1:] <= 0.0))
    low, width = knots.utc_s[left], knots.utc_s[left + 1] - knots.utc_s[left]
    ends = [array[at] for array in (knots.position_km, knots.velocity_km_s) for at in (left, left + 1)]
    share = find_roots(
        lambda s: rate_of(*hermite(s[:, None], width[:, None], *ends)),
        np.zeros(left.size),
        np.ones(left.size),
        TIME_TOLERANCE_S / max(float(width.max(initial=0.0)), 1.0),
    )
    when, stay = low + share * width, knots.stay[left]
    _, position, velocity = states.at(spans.which[stay], when)
    return _Knots(stay, when, position, velocity)


def _best(points: _Knots, cost: Floats) -> list[Event]:
    """Of the points of each stay the one of least cost (N,), the earliest of equals."""
    order = np.lexsort((points.utc_s, cost, points.stay))
    first = order[np.searchsorted(points.stay[order], np.unique(points.stay))]
    utc_s, position = points.utc_s[first], points.position_km[first]
    columns = (utc_s, *azimuth_elevation(position), slant_range(position))
    return [Event(*row) for row in zip(*(column.tolist() for column in columns), strict=True)]


def _shares(parts: Indices) -> tuple[Indices, Floats]:
    """Cut each of (S,) spans into so many parts: span number and share of the way, 0 to 1 (N,) each."""
    span = np.repeat(np.arange(parts.size), parts + 1)
    place = np.arange(span.size) - np.repeat(np.cumsum(parts + 1) - parts - 1, parts + 1)
    return span, place / parts[span]
