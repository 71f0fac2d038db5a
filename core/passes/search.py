r"""The search: stays of many satellites over the horizon in a window. Knows no mask.

For one satellite the height over the station's tangent plane, u(t), is as smooth as its orbit, while the
elevation is not (it has a cusp when the satellite passes near the zenith), and the two are positive at the
same moments. So u and its derivative are sampled some 60 times a revolution, a cubic is laid through each
interval, and everything that could be a crossing is then settled on exact states:

    u >  0      .--x--.                              .-.   two samples below, a stay between them:
        --------/-----\--------------o---------------o   o--   the cubic has its top here
    u <  0     o       o              \                            within reach of zero
                                       '--o--

The cubic is off by h^4/384 u'''' (Hermite interpolation), a metre for a low orbit; every top and every
bottom that it places within ``_REACH_KM`` of zero is refined before it is believed or dropped.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats
from core.base.curves import find_roots, halve_brackets, hermite
from core.base.errors import Cancelled, PropagationError, ValueRangeError
from core.base.runs import runs_alike
from core.base.times import format_iso
from core.base.units import DAY_S, UNIX_EPOCH_JD, Progress, no_progress
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.passes.frames import (
    EarthTurn,
    Observer,
    angle_rates,
    azimuth_elevation,
    range_rate,
    slant_range,
    topocentric,
    topocentric_position,
)
from core.passes.stays import Cut, Event, Stay

if TYPE_CHECKING:
    from sgp4.api import Satrec

Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]

#: Objects in one call of the propagator, and states in one call: it holds Python's lock meanwhile.
CHUNK_OBJECTS = 200
_CHUNK_STATES = 40_000
#: Samples of a revolution taken at perigee speed, for the search and for the knots of a stay.
_SEARCH_PER_TURN = 60.0
_KNOTS_PER_TURN = 200.0
#: The Earth turns under a high satellite; no step is longer than this share of a day asks for.
_EARTH_RATE_RAD_S = 7.292115e-5
#: The gravity constant of SGP4 (WGS-72).
_MU_KM3_S2 = 398_600.8
#: Half the step of central differences as an angle along the orbit: a quarter of a second when low.
_DIFFERENCE_RAD = 3e-4
#: Extrema of the cubic within this height of zero are settled on exact states.
_REACH_KM = 2.0
#: Crossings, peaks and ends are refined to this many seconds.
_TIME_TOLERANCE_S = 1e-5
#: Over a steeper cone the height bends too sharply for the search's step.
_HIGHEST_FLOOR_DEG = 10.0
#: Faster than any orbit's perigee over the ground.
_FASTEST_RAD_S = 1.8e-3
#: A stay shorter than this is a touch.
_SHORTEST_S = 1e-3

#: SGP4's error codes other than "decayed" in words (AIAA 2006-6753; the last one is ours).
_REASONS = {
    1: "its mean elements leave the range of the theory",
    2: "its mean motion turns negative",
    3: "its perturbed elements leave the range of the theory",
    4: "its orbit degenerates",
    7: "it gives no number",
}
_DECAYED, _NO_NUMBER = 6, 7


@dataclass(frozen=True, eq=False)
class StaySearch:
    """What a search found.

    Attributes:
        stays: by start, then catalogue number.
        refused: element sets that give no or not all stays in the window, with the reason.
    """

    stays: tuple[Stay, ...]
    refused: tuple[PropagationError, ...]


def find_stays(
    sets: Sequence[ElementSet],
    observer: Observer,
    start_utc_s: float,
    end_utc_s: float,
    floor_deg: float = 0.0,
    *,
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
            records[index] = satrec(elements)
        except PropagationError as error:
            refused[index] = error
    sky = observer, EarthTurn.over(start_utc_s, end_utc_s)
    stays: list[tuple[float, int, int, Stay]] = []
    done = len(refused)
    for indices in _chunks(sets, records):
        _report(progress, done, len(sets))
        members = [sets[i] for i in indices]
        chunk = _Chunk(members, [records[i] for i in indices], sky, (start_utc_s, end_utc_s), floor_deg)
        found, failed = chunk.run()
        stays += [(float(stay.utc_s[0]), stay.norad_id, indices[which], stay) for which, stay in found]
        refused.update({indices[which]: error for which, error in failed})
        done += len(indices)
    _report(progress, done, len(sets))
    stays.sort(key=lambda entry: entry[:3])
    return StaySearch(tuple(entry[3] for entry in stays), tuple(refused[index] for index in sorted(refused)))


@dataclass(frozen=True, eq=False)
class _Pieces:
    """Intervals of the height curve of the satellites of a chunk, (K,) each: ends, values, derivatives."""

    which: Ints
    low: Floats
    high: Floats
    f_low: Floats
    f_high: Floats
    d_low: Floats
    d_high: Floats


@dataclass(frozen=True, eq=False)
class _Spans:
    """Raw stays of a chunk, (S,) each, by satellite and time; ``cut_*`` where the end is no crossing."""

    which: Ints
    low: Floats
    high: Floats
    cut_low: Bools
    cut_high: Bools


@dataclass(frozen=True, eq=False)
class _Knots:
    """Exact states along the stays of a chunk: stay number and time (N,), ENU states (N, 3)."""

    stay: Ints
    utc_s: Floats
    position_km: Floats
    velocity_km_s: Floats

    def merged(self, other: _Knots) -> _Knots:
        """Both, sorted; of ``other`` only what lies further than ``_SHORTEST_S`` from its neighbours."""
        stay, utc_s = np.concatenate([self.stay, other.stay]), np.concatenate([self.utc_s, other.utc_s])
        order = np.lexsort((utc_s, stay))
        added = (np.arange(order.size) >= self.stay.size)[order]
        near = (np.diff(utc_s[order]) < _SHORTEST_S) & (np.diff(stay[order]) == 0)
        crowded = np.concatenate([[False], near]) | np.concatenate([near, [False]])
        order = order[~(added & crowded)]
        position = np.concatenate([self.position_km, other.position_km])
        velocity = np.concatenate([self.velocity_km_s, other.velocity_km_s])
        return _Knots(stay[order], utc_s[order], position[order], velocity[order])


class _Chunk:
    """The search over some satellites at once."""

    def __init__(
        self,
        sets: Sequence[ElementSet],
        records: Sequence[Satrec],
        sky: tuple[Observer, EarthTurn],
        window: tuple[float, float],
        floor_deg: float,
    ) -> None:
        self.sets, self.records = sets, records
        self.observer, self.turn = sky
        self.start_utc_s, self.end_utc_s = window
        self.sin_floor = float(np.sin(np.radians(floor_deg)))
        self.rate_rad_s = np.array([_fastest_rate(elements) for elements in sets])
        #: Half the step of central differences; a power of two, so that times keep their last bit.
        self.half_step_s = 2.0 ** np.round(np.log2(_DIFFERENCE_RAD / self.rate_rad_s))
        #: Last moment each satellite can be followed to, and SGP4's code of what stops it there.
        self.last_utc_s = np.full(len(sets), self.end_utc_s)
        self.failure = np.zeros(len(sets), dtype=np.intp)
        self.above_at_start = np.zeros(len(sets), dtype=bool)

    def run(self) -> tuple[list[tuple[int, Stay]], list[tuple[int, PropagationError]]]:
        """Stays and refusals, each with the position of its element set in the chunk."""
        from sgp4.api import SatrecArray

        pieces = _join(list(self._sampled(SatrecArray(self.records))))
        spans = self._spans(*self._crossings(pieces))
        stays = self._stays(spans)
        return stays, [(int(i), self._refusal(int(i))) for i in np.flatnonzero(self.failure)]

    # --- exact states -----------------------------------------------------------------------------------

    def _positions(self, which: Ints, utc_s: Floats) -> tuple[Ints, Floats]:
        """SGP4 codes (N,) and exact ENU positions (N, 3) of satellites ``which`` (N,) at ``utc_s`` (N,)."""
        code, position = np.empty(utc_s.size, dtype=np.intp), np.empty((utc_s.size, 3))
        day, fraction = _julian(utc_s)
        for begin, end in runs_alike(which):
            run = slice(begin, end)
            code[run], position[run], _ = self.records[which[begin]].sgp4_array(day[run], fraction[run])
        position = topocentric_position(self.observer, self.turn, utc_s, position)
        code[(code == 0) & ~np.isfinite(position[:, 0])] = _NO_NUMBER
        return code, position

    def _states(self, which: Ints, utc_s: Floats) -> tuple[Ints, Floats, Floats]:
        """As ``_positions``, and the velocities (N, 3), seen from the ground, by central differences.

        SGP4's own velocity is not quite the derivative of its position: it was up to 0.6 m/s off it for low
        satellites and 2.5 m/s for high ones of the amateur list. Curves laid through positions and those
        velocities missed the path by 25 m between knots, curves laid through these by 6 mm.
        """
        half = self.half_step_s[which]
        code, position = self._positions(which, utc_s)
        _, before = self._positions(which, utc_s - half)
        _, after = self._positions(which, utc_s + half)
        # At the last valid moment one of the neighbours may be missing.
        before_half, after_half = (np.isfinite(side[:, 0]) * half for side in (before, after))
        before = np.where(np.isfinite(before), before, position)
        after = np.where(np.isfinite(after), after, position)
        span = np.maximum(before_half + after_half, np.finfo(float).tiny)
        return code, position, (after - before) / span[:, None]

    def _height(self, position_km: Floats, velocity_km_s: Floats) -> tuple[Floats, Floats]:
        """Height over the cone of the floor, positive above it, in km, and its rate in km/s."""
        if self.sin_floor == 0.0:
            return position_km[..., 2], velocity_km_s[..., 2]
        away = slant_range(position_km)
        return (
            position_km[..., 2] - self.sin_floor * away,
            velocity_km_s[..., 2] - self.sin_floor * range_rate(position_km, velocity_km_s),
        )

    def _exact_height(self, which: Ints, utc_s: Floats) -> Floats:
        _, position = self._positions(which, utc_s)
        return self._height(position, np.zeros_like(position))[0]

    def _exact(self, which: Ints, utc_s: Floats) -> tuple[Floats, Floats]:
        _, position, velocity = self._states(which, utc_s)
        return self._height(position, velocity)

    # --- sampling ---------------------------------------------------------------------------------------

    def _sampled(self, array: object) -> Iterator[_Pieces]:
        """Sample the window; yield the intervals that could hold a crossing."""
        step = 2.0 * np.pi / (_SEARCH_PER_TURN * float(self.rate_rad_s.max()))
        grid = np.linspace(
            self.start_utc_s, self.end_utc_s, 2 + int((self.end_utc_s - self.start_utc_s) / step)
        )
        length = max(2, _CHUNK_STATES // len(self.records))
        for begin in range(0, grid.size - 1, length - 1):
            utc_s = grid[begin : begin + length]
            day, fraction = _julian(utc_s)
            code, position, velocity = array.sgp4(day, fraction)  # type: ignore[attr-defined]
            position, velocity = topocentric(self.observer, self.turn, utc_s, position, velocity)
            f, d = self._height(position, velocity)
            code = np.where((code == 0) & ~np.isfinite(f), _NO_NUMBER, code)
            if begin == 0:
                self.above_at_start = (f[:, 0] > 0.0) & (code[:, 0] == 0)
            yield from self._pieces_of(utc_s, f, d, code)

    def _pieces_of(self, utc_s: Floats, f: Floats, d: Floats, code: NDArray[np.uint8]) -> Iterator[_Pieces]:
        """Candidate intervals of one block of samples (n, m), up to where each satellite fails."""
        alive = self.failure == 0
        good = np.where((code != 0).any(axis=1), (code != 0).argmax(axis=1), utc_s.size)
        good = np.where(alive, good, 0)
        h = np.diff(utc_s)
        with np.errstate(invalid="ignore"):
            inner = (f[:, :-1] + h * d[:, :-1] / 3.0, f[:, 1:] - h * d[:, 1:] / 3.0)
            # The cubic stays within the hull of its Bezier ordinates.
            lowest = np.minimum(np.minimum(f[:, :-1], f[:, 1:]), np.minimum(*inner))
            highest = np.maximum(np.maximum(f[:, :-1], f[:, 1:]), np.maximum(*inner))
            near = (lowest < _REACH_KM) & (highest > -_REACH_KM)
        near &= np.arange(utc_s.size - 1) < (good - 1)[:, None]
        i, j = np.nonzero(near)
        yield _Pieces(i, utc_s[j], utc_s[j + 1], f[i, j], f[i, j + 1], d[i, j], d[i, j + 1])
        failed = np.flatnonzero(alive & (good < utc_s.size))
        if failed.size:
            yield self._last_piece(failed, utc_s, f, d, code, good[failed])

    def _last_piece(
        self, failed: Ints, utc_s: Floats, f: Floats, d: Floats, code: NDArray[np.uint8], good: Ints
    ) -> _Pieces:
        """From the last good sample to the last moment, of satellites that fail in this block."""
        self.failure[failed] = code[failed, good]
        self.last_utc_s[failed] = utc_s[0]
        within = good > 0
        which, good = failed[within], good[within]
        low = utc_s[good - 1]
        _, last = halve_brackets(
            utc_s[good], low, lambda middle: self._positions(which, middle)[0] == 0, tolerance=_SHORTEST_S
        )
        self.last_utc_s[which] = last
        f_last, d_last = self._exact(which, last)
        return _Pieces(which, low, last, f[which, good - 1], f_last, d[which, good - 1], d_last)

    # --- crossings --------------------------------------------------------------------------------------

    def _crossings(self, pieces: _Pieces) -> tuple[Ints, Floats, Bools]:
        """Every crossing of the floor by satellite and time: which (C,), when (C,), upward (C,)."""
        _, d_low = self._exact(pieces.which, pieces.low)
        _, d_high = self._exact(pieces.which, pieces.high)
        pieces = replace(pieces, d_low=d_low, d_high=d_high)
        which_top, when_top = self._extrema(pieces)
        f_top, d_top = self._exact(which_top, when_top)
        which = np.concatenate([pieces.which, pieces.which, which_top])
        when = np.concatenate([pieces.low, pieces.high, when_top])
        f = np.concatenate([pieces.f_low, pieces.f_high, f_top])
        d = np.concatenate([d_low, d_high, d_top])
        order = np.lexsort((when, which))
        which, when, f, d = which[order], when[order], f[order], d[order]
        # Between two candidate intervals that do not touch the curve keeps its sign.
        above = f > 0.0
        left = np.flatnonzero((np.diff(which) == 0) & (above[1:] != above[:-1]))
        right = left + 1
        bracket = _Pieces(which[left], when[left], when[right], f[left], f[right], d[left], d[right])
        return bracket.which, self._roots(bracket), above[right]

    def _roots(self, bracket: _Pieces) -> Floats:
        """The exact crossing (C,) in each bracket: the cubic's, corrected twice, else by bracketing."""
        width = bracket.high - bracket.low
        ends = bracket.f_low, bracket.f_high, bracket.d_low, bracket.d_high
        share = find_roots(
            lambda s: hermite(s, width, *ends)[0],
            np.zeros_like(width),
            np.ones_like(width),
            _TIME_TOLERANCE_S / max(float(width.max(initial=0.0)), 1.0),
        )
        when, slope = bracket.low + share * width, hermite(share, width, *ends)[1]
        slope = np.where(slope == 0.0, np.inf, slope)
        step = np.full_like(when, np.inf)
        for _ in range(2):
            step = -self._exact_height(bracket.which, when) / slope
            when = when + step
        astray = np.flatnonzero(
            (np.abs(step) > _TIME_TOLERANCE_S)
            | (when < bracket.low)
            | (when > bracket.high)
            | np.isinf(slope)
        )
        when[astray] = find_roots(
            lambda utc_s: self._exact_height(bracket.which[astray], utc_s),
            bracket.low[astray],
            bracket.high[astray],
            _TIME_TOLERANCE_S,
        )
        return when

    def _extrema(self, pieces: _Pieces) -> tuple[Ints, Floats]:
        """Tops and bottoms inside the pieces, refined: which (E,), when (E,)."""
        h = pieces.high - pieces.low
        rise, m0, m1 = pieces.f_high - pieces.f_low, h * pieces.d_low, h * pieces.d_high
        a, b = 3.0 * (m0 + m1 - 2.0 * rise), 2.0 * (3.0 * rise - 2.0 * m0 - m1)
        with np.errstate(divide="ignore", invalid="ignore"):
            q = -0.5 * (b + np.copysign(np.sqrt(b * b - 4.0 * a * m0), b))
            shares = np.stack([q / a, m0 / q], axis=1)
            piece, root = np.nonzero((shares > 0.0) & (shares < 1.0))
        share, which, low, high = (
            shares[piece, root],
            pieces.which[piece],
            pieces.low[piece],
            pieces.high[piece],
        )
        curvature = (2.0 * a[piece] * share + b[piece]) / h[piece] ** 2
        curvature = np.where(curvature == 0.0, np.inf, curvature)
        when = low + share * h[piece]
        return which, np.clip(when - self._exact(which, when)[1] / curvature, low, high)

    def _spans(self, which: Ints, when: Floats, upward: Bools) -> _Spans:
        """Pair the crossings; what is above at a window end is cut there."""
        first = np.flatnonzero(self.above_at_start)
        balance = np.bincount(which, np.where(upward, 1.0, -1.0), len(self.records)) + self.above_at_start
        last = np.flatnonzero(balance > 0.5)
        low_which = np.concatenate([first, which[upward]])
        low = np.concatenate([np.full(first.size, self.start_utc_s), when[upward]])
        high_which = np.concatenate([which[~upward], last])
        high = np.concatenate([when[~upward], self.last_utc_s[last]])
        by_low, by_high = np.lexsort((low, low_which)), np.lexsort((high, high_which))
        cut_low = (np.arange(low.size) < first.size)[by_low]
        cut_high = (np.arange(high.size) >= high.size - last.size)[by_high]
        keep = high[by_high] - low[by_low] >= _SHORTEST_S
        return _Spans(
            low_which[by_low][keep], low[by_low][keep], high[by_high][keep], cut_low[keep], cut_high[keep]
        )

    # --- stays ------------------------------------------------------------------------------------------

    def _stays(self, spans: _Spans) -> list[tuple[int, Stay]]:
        """Knots, peak and least range of every raw stay."""
        if spans.which.size == 0:
            return []
        knots, broken = self._knots(spans)
        tops = self._turning_points(spans, knots, lambda p, v: angle_rates(p, v)[1])
        nearest = self._turning_points(spans, knots, lambda p, v: -range_rate(p, v))
        # A stay can have several tops, and the highest point can be one of its ends.
        knots = knots.merged(tops).merged(nearest)
        peaks = _best(knots, -azimuth_elevation(knots.position_km)[1])
        tcas = _best(knots, slant_range(knots.position_km))
        ends = np.searchsorted(knots.stay, np.arange(spans.which.size + 1))
        stays = []
        for number in np.flatnonzero(~broken):
            piece = slice(ends[number], ends[number + 1])
            elements = self.sets[spans.which[number]]
            stay = Stay(
                satellite=elements.name,
                norad_id=elements.norad_id,
                utc_s=knots.utc_s[piece],
                position_km=knots.position_km[piece],
                velocity_km_s=knots.velocity_km_s[piece],
                cut=_cut(bool(spans.cut_low[number]), bool(spans.cut_high[number])),
                peak=peaks[number],
                tca=tcas[number],
            )
            stays.append((int(spans.which[number]), stay))
        return stays

    def _knots(self, spans: _Spans) -> tuple[_Knots, Bools]:
        """Exact states along every span, both ends included, and which spans (S,) break.

        A span breaks where the satellite fails between two samples of the search: an orbit that dips into
        the ground for less than a step. From there on the satellite is given up.
        """
        stay, utc_s = self._knot_times(spans)
        code, position, velocity = self._states(spans.which[stay], utc_s)
        broken = np.zeros(spans.which.size, dtype=bool)
        for number in np.unique(stay[code != 0]):
            which = spans.which[number]
            if not self.failure[which]:
                self.failure[which] = code[(stay == number) & (code != 0)][0]
                self.last_utc_s[which] = spans.low[number]
            broken |= (spans.which == which) & (spans.low >= self.last_utc_s[which])
        return _Knots(stay, utc_s, position, velocity), broken

    def _knot_times(self, spans: _Spans) -> tuple[Ints, Floats]:
        """Span number and time (N,) of the knots: close where the satellite is low and fast, wide where high.

        The distance r alone sets the pace, sqrt(mu (1 + e) / r^3), which is the angular rate at perigee and
        more than it elsewhere.
        """
        rough_step = 2.0 * np.pi / (_SEARCH_PER_TURN * self.rate_rad_s[spans.which])
        parts = np.maximum(np.ceil((spans.high - spans.low) / rough_step), 2.0).astype(np.intp)
        stay, share = _shares(parts)
        utc_s = spans.low[stay] + share * (spans.high - spans.low)[stay]
        _, position = self._positions(spans.which[stay], utc_s)
        centre = self.observer.to_enu @ self.observer.position_km
        stretch = np.array([1.0 + elements.eccentricity for elements in self.sets])[spans.which[stay]]
        pace = np.sqrt(_MU_KM3_S2 * stretch / slant_range(position + centre) ** 3) + _EARTH_RATE_RAD_S
        inside = np.diff(stay) == 0
        angle = np.where(inside, 0.5 * (pace[1:] + pace[:-1]) * np.diff(utc_s), 1.0)
        phase = np.concatenate([[0.0], np.cumsum(angle)])
        first, last = np.cumsum(parts + 1) - parts - 1, np.cumsum(parts + 1) - 1
        swept = phase[last] - phase[first]
        stay, share = _shares(
            np.maximum(np.ceil(_KNOTS_PER_TURN * swept / (2.0 * np.pi)), 2.0).astype(np.intp)
        )
        utc_s = np.interp(phase[first][stay] + share * swept[stay], phase, utc_s)
        utc_s = np.where(share == 0.0, spans.low[stay], np.where(share == 1.0, spans.high[stay], utc_s))
        return stay, utc_s

    def _turning_points(
        self, spans: _Spans, knots: _Knots, rate_of: Callable[[Floats, Floats], Floats]
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
            _TIME_TOLERANCE_S / max(float(width.max(initial=0.0)), 1.0),
        )
        when, stay = low + share * width, knots.stay[left]
        _, position, velocity = self._states(spans.which[stay], when)
        return _Knots(stay, when, position, velocity)

    def _refusal(self, index: int) -> PropagationError:
        code, elements = int(self.failure[index]), self.sets[index]
        last = float(self.last_utc_s[index])
        at_start = last <= self.start_utc_s
        if code == _DECAYED:
            reason = "decayed (below the ground) " + ("before" if at_start else "from")
        else:
            words = _REASONS.get(code, f"error {code}")
            reason = f"SGP4 cannot follow it ({words}) " + ("at" if at_start else "from")
        reason += f" {format_iso(last)}" + ("" if at_start else " on: no passes after that")
        return PropagationError(elements.name, elements.norad_id, reason)


def _best(points: _Knots, cost: Floats) -> list[Event]:
    """Of the points of each stay the one of least cost (N,), the earliest of equals."""
    order = np.lexsort((points.utc_s, cost, points.stay))
    first = order[np.searchsorted(points.stay[order], np.unique(points.stay))]
    utc_s, position = points.utc_s[first], points.position_km[first]
    columns = (utc_s, *azimuth_elevation(position), slant_range(position))
    return [Event(*row) for row in zip(*(column.tolist() for column in columns), strict=True)]


def _cut(at_start: bool, at_end: bool) -> Cut | None:
    if at_start:
        return "both" if at_end else "start"
    return "end" if at_end else None


def _join(pieces: Sequence[_Pieces]) -> _Pieces:
    """All pieces in one, by satellite and time."""
    names = ("which", "low", "high", "f_low", "f_high", "d_low", "d_high")
    columns = [np.concatenate([getattr(piece, name) for piece in pieces]) for name in names]
    order = np.lexsort((columns[1], columns[0]))
    return _Pieces(*(column[order] for column in columns))


def _shares(parts: Ints) -> tuple[Ints, Floats]:
    """Cut each of (S,) spans into so many parts: span number and share of the way, 0 to 1 (N,) each."""
    span = np.repeat(np.arange(parts.size), parts + 1)
    place = np.arange(span.size) - np.repeat(np.cumsum(parts + 1) - parts - 1, parts + 1)
    return span, place / parts[span]


def _julian(utc_s: Floats) -> tuple[Floats, Floats]:
    """Julian dates split into the midnight before and the fraction of the day."""
    day = np.floor(utc_s / DAY_S)
    return UNIX_EPOCH_JD + day, (utc_s - day * DAY_S) / DAY_S


def _fastest_rate(elements: ElementSet) -> float:
    """Angular rate at perigee (two bodies) plus the Earth's, rad/s; no orbit over the ground is faster."""
    e = elements.eccentricity
    mean = 2.0 * np.pi * elements.mean_motion_rev_day / DAY_S
    perigee = mean * (1.0 + e) ** 2 / max(1.0 - e * e, 1e-4) ** 1.5
    return float(min(perigee, _FASTEST_RAD_S)) + _EARTH_RATE_RAD_S


def _chunks(sets: Sequence[ElementSet], usable: Iterable[int]) -> Iterator[list[int]]:
    """Positions in groups of at most ``CHUNK_OBJECTS``, satellites of like speed together."""
    ordered = sorted(usable, key=lambda index: (-_fastest_rate(sets[index]), index))
    for begin in range(0, len(ordered), CHUNK_OBJECTS):
        yield ordered[begin : begin + CHUNK_OBJECTS]


def _report(progress: Progress, done: int, total: int) -> None:
    if not progress(done, total, "searching passes"):
        raise Cancelled
