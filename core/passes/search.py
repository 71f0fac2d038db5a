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

Between the o lies a span that is looked into, and between the x a stay. A search that asked the cubic alone,
or took samples only, would not see the stay on the right.

Over a cone below the horizon the height bends too sharply for the search's step, so the plane is lowered
instead, as far as the cone reaches down for that satellite.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.curves import find_roots, halve_brackets, hermite_value, turns_of_cubic
from core.base.errors import Cancelled, PropagationError, ValueRangeError
from core.base.times import format_iso
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.passes.chunks import stay_columns, stay_table
from core.passes.domain import followable
from core.passes.exact import ExactStates, Orbits
from core.passes.fit import Spans, lay_paths
from core.passes.frames import WGS84_A_KM, EarthTurn, Observer
from core.passes.stays import SHORTEST_S, Stay, StayTable

if TYPE_CHECKING:
    from sgp4.api import Satrec

#: Objects in one call of the propagator, and states in one call: it holds Python's lock meanwhile.
CHUNK_OBJECTS = 200
_CHUNK_STATES = 40_000
#: Satellites are sampled together if the slowest turns at least so fast, as a share of the fastest.
_LIKE_SPEED = 0.7
#: Samples of a revolution taken at perigee speed.
_SAMPLES_PER_TURN = 8.0
#: SGP4's velocity is off the derivative of its position by less than this, km/s (measured: 0.0025).
_VELOCITY_OFF_KM_S = 0.005
#: Spans are found to this many seconds, and widened by it.
_SPAN_TOLERANCE_S = 0.5
#: Higher limits are the mask's business.
_HIGHEST_FLOOR_DEG = 10.0


@dataclass(frozen=True, eq=False)
class StaySearch:
    """What a search found.

    Attributes:
        table: the stays, by start, then catalogue number.
        refused: element sets that give no or not all stays in the window, with the reason.
    """

    table: StayTable
    refused: tuple[PropagationError, ...]

    @property
    def stays(self) -> tuple[Stay, ...]:
        """The table's rows."""
        return self.table.stays


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
    for index, elements in enumerate(sets):
        try:
            records[index] = followable(elements, start_utc_s, maximum_age_days, Orbits.of)
        except PropagationError as error:
            refused[index] = error
    sky = observer, EarthTurn.over(start_utc_s, end_utc_s)
    found = []
    done = len(refused)
    for indices in _chunks(sets, records):
        _report(progress, done, len(sets))
        members = [sets[i] for i in indices]
        states = ExactStates(members, [records[i] for i in indices], sky, (start_utc_s, end_utc_s))
        spans = spans_of_interest(states, floor_deg)
        found.append(stay_columns(spans, lay_paths(states, spans), floor_deg, indices))
        refused.update(
            {indices[which]: states.refusal(which) for which in np.flatnonzero(states.failure).tolist()}
        )
        done += len(indices)
    _report(progress, done, len(sets))
    return StaySearch(stay_table(sets, found, floor_deg), tuple(refused[index] for index in sorted(refused)))


class _Pieces(NamedTuple):
    """Intervals of the height curve of the satellites of a chunk, (K,) each: ends, values, derivatives."""

    which: Indices
    low: Floats
    high: Floats
    f_low: Floats
    f_high: Floats
    d_low: Floats
    d_high: Floats


class _Crossings(NamedTuple):
    """Crossings of a level, (C,) each: satellite, moment, and whether upward."""

    which: Indices
    utc_s: Floats
    upward: Flags


def spans_of_interest(states: ExactStates, floor_deg: float) -> Spans:
    """Where satellites may be over the floor: no stay reaches beyond a span, but a span may hold none.

    Which satellites fail, and when, is noted with their states.
    """
    above_at_start = np.zeros(len(states.sets), dtype=bool)
    pieces: list[_Pieces] = []
    failing: list[_Crossings] = []
    for members in _like_speeds(states.orbits.fastest_rad_s):
        above_at_start[members] = _sampled(states, members, floor_deg, pieces, failing)
    found = [_crossings(_Pieces(*map(np.concatenate, zip(*pieces, strict=True)))), *failing]
    return _paired(states, above_at_start, *map(np.concatenate, zip(*found, strict=True)))


def _like_speeds(speed: Floats) -> Iterator[Indices]:
    """Satellites (n,) in groups that are sampled at one step, the fastest first."""
    order = np.argsort(-speed, kind="stable")
    while order.size:
        alike = speed[order] >= _LIKE_SPEED * speed[order[0]]
        yield order[alike]
        order = order[~alike]


def _sampled(
    states: ExactStates,
    members: Indices,
    floor_deg: float,
    pieces: list[_Pieces],
    failing: list[_Crossings],
) -> Flags:
    """Which of some satellites may be up at the window's start.

    Adds the intervals in which their cubics may pass the reach, and where what fails has to be looked into.
    """
    start, end = states.start_utc_s, states.end_utc_s
    orbits = states.orbits.of_some(members)
    step_s = sampling_step_s(orbits)
    grid = np.linspace(start, end, 2 + int((end - start) / step_s))
    lowered_km = (reach_km(orbits, step_s) - _plane_km(orbits, floor_deg))[:, None]
    length = max(2, _CHUNK_STATES // members.size)
    above_at_start = np.zeros(members.size, dtype=bool)
    for begin in range(0, grid.size - 1, length - 1):
        utc_s = grid[begin : begin + length]
        code, height, rate = states.heights_on_grid(members, utc_s)
        good = np.where(states.failure[members] == 0, _good_samples(code), 0)
        f = height + lowered_km
        if begin == 0:
            above_at_start = (f[:, 0] > 0.0) & (code[:, 0] == 0)
        pieces.append(_pieces_of(members, utc_s, f, rate, good))
        failing.append(_into_failure(states, members, utc_s, f, code, good))
    return above_at_start


def sampling_step_s(orbits: Orbits) -> float:
    """The step at which some satellites are sampled together, the fastest of them often enough."""
    return 2.0 * np.pi / (_SAMPLES_PER_TURN * float(orbits.fastest_rad_s.max()))


def reach_km(orbits: Orbits, step_s: float) -> Floats:
    """(n,) by how much the cubic of a step may miss the height of each satellite, and more than that.

    h^4/384 of the fourth derivative at perigee, which is the circle's w^4 r there, and up to eight times that
    where the orbit is eccentric; and h/4 of what the velocities are off.
    """
    perigee_km = orbits.axis_km * (1.0 - orbits.eccentricity)
    bend = (orbits.fastest_rad_s * step_s) ** 4 / 384.0 * perigee_km * (1.0 + 7.0 * orbits.eccentricity)
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
    return np.asarray(np.where((code != 0).any(axis=1), (code != 0).argmax(axis=1), code.shape[1]))


def _pieces_of(members: Indices, utc_s: Floats, f: Floats, d: Floats, good: Indices) -> _Pieces:
    """The intervals of one block of samples (n, m) of some satellites (n,) whose cubic may pass zero."""
    h = np.diff(utc_s)
    with np.errstate(invalid="ignore"):
        inner = (f[:, :-1] + h * d[:, :-1] / 3.0, f[:, 1:] - h * d[:, 1:] / 3.0)
        # The cubic stays within the hull of its Bezier ordinates.
        lowest = np.minimum(np.minimum(f[:, :-1], f[:, 1:]), np.minimum(*inner))
        highest = np.maximum(np.maximum(f[:, :-1], f[:, 1:]), np.maximum(*inner))
        passes_zero = (lowest <= 0.0) & (highest > 0.0)
    passes_zero &= np.arange(utc_s.size - 1) < (good - 1)[:, None]
    i, j = np.nonzero(passes_zero)
    return _Pieces(members[i], utc_s[j], utc_s[j + 1], f[i, j], f[i, j + 1], d[i, j], d[i, j + 1])


def _into_failure(
    states: ExactStates, members: Indices, utc_s: Floats, f: Floats, code: Indices, good: Indices
) -> _Crossings:
    """Satellites that fail in this block are given up; all from their last good sample on is looked into."""
    rows = np.flatnonzero((states.failure[members] == 0) & (good < utc_s.size))
    last = np.full(rows.size, utc_s[0])
    before = rows[good[rows] > 0]
    low = utc_s[good[before] - 1]
    _, last[good[rows] > 0] = halve_brackets(
        utc_s[good[before]],
        low,
        lambda middle: states.positions(members[before], middle)[0] == 0,
        tolerance=SHORTEST_S,
    )
    states.give_up(members[rows], last, code[rows, good[rows]])
    below = f[before, good[before] - 1] <= 0.0
    return _Crossings(members[before[below]], low[below], np.ones(int(below.sum()), dtype=bool))


def _crossings(pieces: _Pieces) -> _Crossings:
    """Where the cubics of some intervals pass zero, each interval cut at its tops and bottoms."""
    width = pieces.high - pieces.low
    ends = pieces.f_low, pieces.f_high, pieces.d_low, pieces.d_high
    piece, share = turns_of_cubic(width, *ends)
    at_turn = hermite_value(share, width[piece], *(end[piece] for end in ends))
    every = np.arange(width.size)
    owner = np.concatenate([every, every, piece])
    shares = np.concatenate([np.zeros(width.size), np.ones(width.size), share])
    f = np.concatenate([pieces.f_low, pieces.f_high, at_turn])
    order = np.lexsort((shares, owner))
    owner, shares, above = owner[order], shares[order], f[order] > 0.0
    left = np.flatnonzero((owner[1:] == owner[:-1]) & (above[1:] != above[:-1]))
    piece = owner[left]
    inside = [end[piece] for end in ends]
    tolerance = _SPAN_TOLERANCE_S / max(float(width.max(initial=0.0)), 1.0)
    root = find_roots(
        lambda s: hermite_value(s, width[piece], *inside), shares[left], shares[left + 1], tolerance
    )
    return _Crossings(pieces.which[piece], pieces.low[piece] + root * width[piece], above[left + 1])


def _paired(
    states: ExactStates, above_at_start: Flags, which: Indices, utc_s: Floats, upward: Flags
) -> Spans:
    """The crossings in pairs; what is above at a window end is cut there."""
    start, end = states.start_utc_s, states.last_utc_s
    first = np.flatnonzero(above_at_start)
    balance = np.bincount(which, np.where(upward, 1.0, -1.0), len(states.sets)) + above_at_start
    last = np.flatnonzero(balance > 0.5)
    low_which = np.concatenate([first, which[upward]])
    low = np.concatenate([np.full(first.size, start), utc_s[upward] - _SPAN_TOLERANCE_S])
    high_which = np.concatenate([which[~upward], last])
    high = np.concatenate([utc_s[~upward] + _SPAN_TOLERANCE_S, end[last]])
    by_low, by_high = np.lexsort((low, low_which)), np.lexsort((high, high_which))
    which, low, high = low_which[by_low], low[by_low], high[by_high]
    low, high = np.maximum(low, start), np.minimum(high, end[which])
    lasting = high - low >= SHORTEST_S
    return Spans(which[lasting], low[lasting], high[lasting])


def _chunks(sets: Sequence[ElementSet], usable: Iterable[int]) -> Iterator[list[int]]:
    """Positions in groups of at most ``CHUNK_OBJECTS``, satellites of like speed together."""
    indices = np.fromiter(usable, dtype=np.intp)
    speed = Orbits.of([sets[index] for index in indices.tolist()]).fastest_rad_s
    ordered = indices[np.argsort(-speed, kind="stable")].tolist()
    for begin in range(0, len(ordered), CHUNK_OBJECTS):
        yield ordered[begin : begin + CHUNK_OBJECTS]


def _report(progress: Progress, done: int, total: int) -> None:
    if not progress(done, total, "searching passes"):
        raise Cancelled
