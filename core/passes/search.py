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

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.curves import find_roots, halve_brackets, hermite
from core.base.errors import Cancelled, PropagationError, ValueRangeError
from core.base.times import format_iso
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.passes.exact import ExactStates, fastest_rate
from core.passes.frames import EarthTurn, Observer, range_rate, slant_range
from core.passes.knots import Spans, stays_of
from core.passes.stays import SHORTEST_S, TIME_TOLERANCE_S, Stay

if TYPE_CHECKING:
    from sgp4.api import Satrec

#: Objects in one call of the propagator, and states in one call: it holds Python's lock meanwhile.
CHUNK_OBJECTS = 200
_CHUNK_STATES = 40_000
#: Samples of a revolution taken at perigee speed.
_SAMPLES_PER_TURN = 60.0
#: Extrema of the cubic within this height of zero are settled on exact states.
_REACH_KM = 2.0
#: Over a steeper cone the height bends too sharply for the search's step.
_HIGHEST_FLOOR_DEG = 10.0


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
        states = ExactStates(members, [records[i] for i in indices], sky, (start_utc_s, end_utc_s))
        found = stays_of(states, _Search(states, floor_deg).spans())
        stays += [(float(stay.utc_s[0]), stay.norad_id, indices[which], stay) for which, stay in found]
        refused.update(
            {indices[which]: states.refusal(which) for which in np.flatnonzero(states.failure).tolist()}
        )
        done += len(indices)
    _report(progress, done, len(sets))
    stays.sort(key=lambda entry: entry[:3])
    return StaySearch(tuple(entry[3] for entry in stays), tuple(refused[index] for index in sorted(refused)))


@dataclass(frozen=True, eq=False)
class _Pieces:
    """Intervals of the height curve of the satellites of a chunk, (K,) each: ends, values, derivatives."""

    which: Indices
    low: Floats
    high: Floats
    f_low: Floats
    f_high: Floats
    d_low: Floats
    d_high: Floats


class _Search:
    """The search over some satellites at once."""

    def __init__(self, states: ExactStates, floor_deg: float) -> None:
        self.states = states
        self.sin_floor = float(np.sin(np.radians(floor_deg)))
        self.above_at_start = np.zeros(len(states.sets), dtype=bool)

    def spans(self) -> Spans:
        """The ends of all stays; which satellites fail, and when, is noted with their states."""
        pieces = _join(list(self._sampled()))
        return self._paired(*self._crossings(pieces))

    def _height(self, position_km: Floats, velocity_km_s: Floats) -> tuple[Floats, Floats]:
        """Height over the cone of the floor, positive above it, in km, and its rate in km/s."""
        if self.sin_floor == 0.0:
            return position_km[..., 2], velocity_km_s[..., 2]
        away = slant_range(position_km)
        return (
            position_km[..., 2] - self.sin_floor * away,
            velocity_km_s[..., 2] - self.sin_floor * range_rate(position_km, velocity_km_s),
        )

    def _exact_height(self, which: Indices, utc_s: Floats) -> Floats:
        _, position = self.states.positions(which, utc_s)
        return self._height(position, np.zeros_like(position))[0]

    def _exact(self, which: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        _, position, velocity = self.states.at(which, utc_s)
        return self._height(position, velocity)

    # --- sampling ---------------------------------------------------------------------------------------

    def _sampled(self) -> Iterator[_Pieces]:
        """Sample the window; yield the intervals that could hold a crossing."""
        start, end = self.states.start_utc_s, self.states.end_utc_s
        step = 2.0 * np.pi / (_SAMPLES_PER_TURN * float(self.states.rate_rad_s.max()))
        grid = np.linspace(start, end, 2 + int((end - start) / step))
        length = max(2, _CHUNK_STATES // len(self.states.sets))
        for begin in range(0, grid.size - 1, length - 1):
            utc_s = grid[begin : begin + length]
            code, position, velocity = self.states.on_grid(utc_s)
            f, d = self._height(position, velocity)
            if begin == 0:
                self.above_at_start = (f[:, 0] > 0.0) & (code[:, 0] == 0)
            yield from self._pieces_of(utc_s, f, d, code)

    def _pieces_of(self, utc_s: Floats, f: Floats, d: Floats, code: Indices) -> Iterator[_Pieces]:
        """Candidate intervals of one block of samples (n, m), up to where each satellite fails."""
        alive = self.states.failure == 0
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
        self, failed: Indices, utc_s: Floats, f: Floats, d: Floats, code: Indices, good: Indices
    ) -> _Pieces:
        """From the last good sample to the last moment, of satellites that fail in this block."""
        self.states.failure[failed] = code[failed, good]
        self.states.last_utc_s[failed] = utc_s[0]
        within = good > 0
        which, good = failed[within], good[within]
        low = utc_s[good - 1]
        _, last = halve_brackets(
            utc_s[good],
            low,
            lambda middle: self.states.positions(which, middle)[0] == 0,
            tolerance=SHORTEST_S,
        )
        self.states.last_utc_s[which] = last
        f_last, d_last = self._exact(which, last)
        return _Pieces(which, low, last, f[which, good - 1], f_last, d[which, good - 1], d_last)

    # --- crossings --------------------------------------------------------------------------------------

    def _crossings(self, pieces: _Pieces) -> tuple[Indices, Floats, Flags]:
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
            TIME_TOLERANCE_S / max(float(width.max(initial=0.0)), 1.0),
        )
        when, slope = bracket.low + share * width, hermite(share, width, *ends)[1]
        slope = np.where(slope == 0.0, np.inf, slope)
        step = np.full_like(when, np.inf)
        for _ in range(2):
            step = -self._exact_height(bracket.which, when) / slope
            when = when + step
        astray = np.flatnonzero(
            (np.abs(step) > TIME_TOLERANCE_S) | (when < bracket.low) | (when > bracket.high) | np.isinf(slope)
        )
        when[astray] = find_roots(
            lambda utc_s: self._exact_height(bracket.which[astray], utc_s),
            bracket.low[astray],
            bracket.high[astray],
            TIME_TOLERANCE_S,
        )
        return when

    def _extrema(self, pieces: _Pieces) -> tuple[Indices, Floats]:
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

    def _paired(self, which: Indices, when: Floats, upward: Flags) -> Spans:
        """The crossings in pairs; what is above at a window end is cut there."""
        first = np.flatnonzero(self.above_at_start)
        balance = np.bincount(which, np.where(upward, 1.0, -1.0), len(self.states.sets)) + self.above_at_start
        last = np.flatnonzero(balance > 0.5)
        low_which = np.concatenate([first, which[upward]])
        low = np.concatenate([np.full(first.size, self.states.start_utc_s), when[upward]])
        high_which = np.concatenate([which[~upward], last])
        high = np.concatenate([when[~upward], self.states.last_utc_s[last]])
        by_low, by_high = np.lexsort((low, low_which)), np.lexsort((high, high_which))
        cut_low = (np.arange(low.size) < first.size)[by_low]
        cut_high = (np.arange(high.size) >= high.size - last.size)[by_high]
        keep = high[by_high] - low[by_low] >= SHORTEST_S
        return Spans(
            low_which[by_low][keep], low[by_low][keep], high[by_high][keep], cut_low[keep], cut_high[keep]
        )


def _join(pieces: Sequence[_Pieces]) -> _Pieces:
    """All pieces in one, by satellite and time."""
    names = ("which", "low", "high", "f_low", "f_high", "d_low", "d_high")
    columns = [np.concatenate([getattr(piece, name) for piece in pieces]) for name in names]
    order = np.lexsort((columns[1], columns[0]))
    return _Pieces(*(column[order] for column in columns))


def _chunks(sets: Sequence[ElementSet], usable: Iterable[int]) -> Iterator[list[int]]:
    """Positions in groups of at most ``CHUNK_OBJECTS``, satellites of like speed together."""
    ordered = sorted(usable, key=lambda index: (-fastest_rate(sets[index]), index))
    for begin in range(0, len(ordered), CHUNK_OBJECTS):
        yield ordered[begin : begin + CHUNK_OBJECTS]


def _report(progress: Progress, done: int, total: int) -> None:
    if not progress(done, total, "searching passes"):
        raise Cancelled
