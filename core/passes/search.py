r"""The search: stays of many satellites over the horizon in a window. Knows no mask.

For one satellite the height over the station's tangent plane, u(t), is as smooth as its orbit, while the
elevation is not (it has a cusp when the satellite passes near the zenith), and the two are positive at the
same moments. So u and its derivative are sampled eight times a revolution and a cubic is laid through each
interval. It misses u by h^4/384 u'''' (Hermite interpolation), some kilometres for a low orbit: far too much
for a crossing, little enough to say where none can be. Wherever the cubic comes within that reach of zero the
path itself is laid through exact states (`core.passes.fit`), and only the path tells crossings:

    u >  0        .-----.                            .-.      path: a stay of seconds
        ---------x-------x--------------------------x---x---
                /         \                       .'     '.
      - reach -o- - - - - -o- - - - - - - - - - -o- - - - -o-   cubic: its top lies below zero
    u <  0    /             \                  .'           '.

Between the o lies a span that is looked into, and between the x a stay. (The cubic is asked at the ends of
sixteen chords, and a chord's own miss is added to the reach.) A search that asked the cubic alone,
or took samples only, would not see the stay on the right.

Over a cone below the horizon the height bends too sharply for the search's step, so the plane is lowered
instead, as far as the cone reaches down for that satellite.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from core.base.angles import Floats, Indices
from core.base.curves import halve_brackets, hermite_values
from core.base.errors import Cancelled, PropagationError, ValueRangeError
from core.base.ragged import joined
from core.base.runs import run_ends_in_rows
from core.base.times import format_iso
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.passes.chunks import stays_within
from core.passes.domain import followable, no_orbits
from core.passes.exact import ExactStates, Orbits
from core.passes.fit import Spans, lay_paths
from core.passes.frames import WGS84_A_KM, EarthTurn, Observer
from core.passes.over_zero import SHORTEST_S
from core.passes.stays import StaySearch, StayTable

if TYPE_CHECKING:
    from sgp4.api import Satrec

#: Objects in one call of the propagator, and states in one call: it holds Python's lock meanwhile.
CHUNK_OBJECTS = 200
_CHUNK_STATES = 40_000
#: Satellites are sampled together if the slowest turns at least so fast, as a share of the fastest.
_LIKE_SPEED = 0.7
#: Samples of a revolution taken at perigee speed.
_SAMPLES_PER_TURN = 8.0
#: Straight lines that stand for the cubic between two samples.
CHORDS = 16
_SHARES = np.linspace(0.0, 1.0, CHORDS + 1)
#: SGP4's velocity is off the derivative of its position by less than this, km/s (measured: 0.0025).
_VELOCITY_OFF_KM_S = 0.005
#: Spans are widened by this many seconds.
_WIDER_S = 0.5
#: Higher limits are the mask's business.
_HIGHEST_FLOOR_DEG = 10.0


def find_stays(
    sets: Sequence[ElementSet],
    observer: Observer,
    start_utc_s: float,
    end_utc_s: float,
    floor_deg: float = 0.0,
    *,
    maximum_age_days: float = math.inf,
    progress: Progress = no_progress,
) -> StaySearch:
    """Every stay over ``floor_deg`` of elevation between two moments.

    Nothing longer than 2 s is missed and nothing is invented. Deterministic: the same input gives the same
    stays to the bit. A satellite that never rises gives none and is not refused.

    Args:
        sets: element sets, each taken as a satellite of its own.
        observer: the station.
        start_utc_s: start of the window, POSIX seconds.
        end_utc_s: its end, after the start.
        floor_deg: -90 to 10, usually 0 or a little below; higher limits are the mask's business.
        maximum_age_days: a set whose epoch lies further from the start, either way, is refused.
        progress: called with the number of satellites done before every chunk and at the end.

    Raises:
        Cancelled: ``progress`` returned False.
        ValueRangeError: the window is empty or turned round, or the floor out of range.
    """
    if not end_utc_s > start_utc_s:
        raise ValueRangeError("end", format_iso(end_utc_s), f"after the start, {format_iso(start_utc_s)}")
    if not -90.0 <= floor_deg <= _HIGHEST_FLOOR_DEG:
        raise ValueRangeError("floor_deg", floor_deg, f"-90 to {_HIGHEST_FLOOR_DEG:g}")
    refused: dict[int, PropagationError] = {}
    records: dict[int, Satrec] = {}
    orbits = Orbits.of(sets)
    none = no_orbits(orbits)
    for index, elements in enumerate(sets):
        try:
            records[index] = followable(elements, start_utc_s, maximum_age_days, Orbits.of, none.get(index))
        except PropagationError as error:
            refused[index] = error
    sky = observer, EarthTurn.over(start_utc_s, end_utc_s)
    found = []
    done = len(refused)
    for indices in _chunks(orbits.fastest_rad_s, records):
        _report(progress, done, len(sets))
        members, own = list(map(sets.__getitem__, indices)), list(map(records.__getitem__, indices))
        states = ExactStates(members, own, sky, (start_utc_s, end_utc_s), orbits.of_some(np.array(indices)))
        spans = spans_of_interest(states, floor_deg)
        found.append(stays_within(spans, lay_paths(states, spans), floor_deg, members))
        refused.update(
            {indices[which]: states.refusal(which) for which in np.flatnonzero(states.failure).tolist()}
        )
        done += len(indices)
    _report(progress, done, len(sets))
    return StaySearch(StayTable.joined(found), tuple(refused[index] for index in sorted(refused)))


def spans_of_interest(states: ExactStates, floor_deg: float) -> Spans:
    """Where satellites may be over the floor: no stay reaches beyond a span, but a span may hold none.

    Which satellites fail, and when, is noted with their states.
    """
    found = [
        part
        for members in _like_speeds(states.orbits.fastest_rad_s)
        for part in _sampled(states, members, floor_deg)
    ]
    which, low, high = (np.concatenate(column) for column in zip(*found, strict=True))
    # Of every satellite they are found in order of time.
    order = np.argsort(which, kind="stable")
    which, low, high = which[order], low[order] - _WIDER_S, high[order] + _WIDER_S
    first, last = joined(which, low, high, 0.0)
    which = which[first]
    low, high = np.maximum(low[first], states.start_utc_s), np.minimum(high[last], states.last_utc_s[which])
    lasting = high - low >= SHORTEST_S
    return Spans(which[lasting], low[lasting], high[lasting])


def _like_speeds(speed: Floats) -> Iterator[Indices]:
    """Satellites (n,) in groups that are sampled at one step, the fastest first."""
    order = np.argsort(-speed, kind="stable")
    while order.size:
        alike = speed[order] >= _LIKE_SPEED * speed[order[0]]
        yield order[alike]
        order = order[~alike]


def _sampled(states: ExactStates, members: Indices, floor_deg: float) -> Iterator[Spans]:
    """Where some satellites (n,) may be over the floor, and where what fails has to be looked into."""
    start, end = states.start_utc_s, states.end_utc_s
    orbits = states.orbits.of_some(members)
    step_s = sampling_step_s(orbits)
    grid = np.linspace(start, end, 2 + int((end - start) / step_s))
    lowered_km = (reach_km(orbits, step_s) - _plane_km(orbits, floor_deg))[:, None]
    length = max(2, _CHUNK_STATES // members.size)
    for begin in range(0, grid.size - 1, length - 1):
        utc_s = grid[begin : begin + length]
        code, height, rate = states.heights_on_grid(members, utc_s)
        good = np.where(states.failure[members] == 0, _good_samples(code), 0)
        yield _over_reach(members, utc_s, height + lowered_km, rate, good)
        failing = np.flatnonzero((states.failure[members] == 0) & (good < utc_s.size))
        if failing.size:
            yield _into_failure(states, members[failing], utc_s, code[failing], good[failing])


def sampling_step_s(orbits: Orbits) -> float:
    """The step at which some satellites are sampled together, the fastest of them often enough."""
    return 2.0 * np.pi / (_SAMPLES_PER_TURN * float(orbits.fastest_rad_s.max()))


def reach_km(orbits: Orbits, step_s: float) -> Floats:
    """(n,) by how much the chords of a step may miss the height of each satellite, and more than that.

    The cubic: h^4/384 of the fourth derivative at perigee, which is the circle's w^4 r there, and up to eight
    times that where the orbit is eccentric; and h/4 of what the velocities are off. A chord of it: h^2/8 of
    the second derivative, which is the circle's w^2 r at most.
    """
    perigee_km = orbits.axis_km * (1.0 - orbits.eccentricity)
    swept_rad = orbits.fastest_rad_s * step_s
    bend = swept_rad**4 / 384.0 * perigee_km * (1.0 + 7.0 * orbits.eccentricity)
    bend += (swept_rad / CHORDS) ** 2 / 8.0 * perigee_km
    return np.asarray(1.5 * bend + 0.25 * _VELOCITY_OFF_KM_S * step_s)


def _plane_km(orbits: Orbits, floor_deg: float) -> Floats:
    """(n,) the height over the tangent plane below which each satellite is below the floor."""
    if floor_deg >= 0.0:
        return np.zeros(orbits.axis_km.size)
    apogee_km = 1.02 * orbits.axis_km * (1.0 + orbits.eccentricity) + 50.0
    sin, cos = np.sin(np.radians(-floor_deg)), np.cos(np.radians(floor_deg))
    # The longest line of sight down at this angle: through a sphere of the equator's radius, and out again.
    furthest_km = WGS84_A_KM * sin + np.sqrt(np.maximum(apogee_km**2 - (WGS84_A_KM * cos) ** 2, 0.0))
    return np.asarray(-sin * furthest_km)


def _good_samples(code: Indices) -> Indices:
    """(n,) how many samples of a block (n, m) come before the first that fails."""
    if not code.any():
        return np.full(len(code), code.shape[1])
    return np.asarray(np.where((code != 0).any(axis=1), (code != 0).argmax(axis=1), code.shape[1]))


def _over_reach(members: Indices, utc_s: Floats, f: Floats, d: Floats, good: Indices) -> Spans:
    """Where the cubics through one block of samples (n, m) of some satellites are over zero, by chords."""
    h = utc_s[1:] - utc_s[:-1]
    with np.errstate(invalid="ignore"):
        # The cubic stays within the hull of its Bezier ordinates.
        up = f > 0.0
        over = up[:, :-1] | up[:, 1:]
        over |= (f[:, :-1] + h / 3.0 * d[:, :-1] > 0.0) | (f[:, 1:] - h / 3.0 * d[:, 1:] > 0.0)
    interval = np.flatnonzero(over & (np.arange(h.size) < (good - 1)[:, None]))
    i, j = np.divmod(interval, h.size)
    # In a row there is one more sample than intervals.
    at = interval + i
    ends = (f.take(at), f.take(at + 1), d.take(at), d.take(at + 1))
    above = hermite_values(_SHARES, h[j], *ends) > 0.0
    first, last = run_ends_in_rows(above[:, :-1] | above[:, 1:], at[1:] - at[:-1] == 1)
    (first, low_chord), (last, high_chord) = np.divmod(first, CHORDS + 1), np.divmod(last, CHORDS + 1)
    low = utc_s[j[first]] + _SHARES[low_chord] * h[j[first]]
    high = utc_s[j[last]] + _SHARES[high_chord] * h[j[last]] + h[j[last]] / CHORDS
    return Spans(members[i[first]], low, high)


def _into_failure(
    states: ExactStates, members: Indices, utc_s: Floats, code: Indices, good: Indices
) -> Spans:
    """Satellites fail in this block and are given up; all from their last good sample on is looked into."""
    last = np.full(members.size, utc_s[0])
    before = np.flatnonzero(good > 0)
    low = utc_s[good[before] - 1]
    _, last[before] = halve_brackets(
        utc_s[good[before]],
        low,
        lambda middle: states.positions(members[before], middle)[0] == 0,
        tolerance=SHORTEST_S,
    )
    states.give_up(members, last, code[np.arange(members.size), good])
    return Spans(members[before], low, last[before])


def _chunks(speed: Floats, usable: Iterable[int]) -> Iterator[list[int]]:
    """Positions in groups of at most ``CHUNK_OBJECTS``, satellites of like speed together."""
    indices = np.fromiter(usable, dtype=np.intp)
    ordered = indices[np.argsort(-speed[indices], kind="stable")].tolist()
    for begin in range(0, len(ordered), CHUNK_OBJECTS):
        yield ordered[begin : begin + CHUNK_OBJECTS]


def _report(progress: Progress, done: int, total: int) -> None:
    if not progress(done, total, "searching passes"):
        raise Cancelled
