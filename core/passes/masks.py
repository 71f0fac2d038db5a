"""When stays stand over the horizon mask, all stays at once.

Between two nodes of a path azimuth runs one way, over one straight piece of the mask, so that the clearance
over that piece is smooth there. Nodes are looks along the path, closer where azimuth turns fast, the turning
points of azimuth, and the moments at which azimuth meets a corner of the mask.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180, wrap_360
from core.base.curves import corrected_roots, find_roots, hermite, hermite_value
from core.base.ragged import ranges
from core.passes.frames import angle_rates, azimuth_elevation
from core.passes.looks import Looks
from core.passes.paths import Paths
from core.passes.stays import TIME_TOLERANCE_S, StayTable
from core.place.site import HorizonPoint, mask_elevation_deg, mask_vertices_deg

#: Between two nodes azimuth turns by no more than this, unless they are closer than this in time.
_AZIMUTH_STEP_DEG = 40.0
_FINEST_S = 1e-4


@dataclass(frozen=True, eq=False)
class MaskPieces:
    """The mask as straight pieces (K,): each starts at a bearing and runs to the next one's.

    Attributes:
        start_deg: bearings, rising, 0 to below 360.
        height_deg: the mask's elevation there, clockwise of a step.
        slope: degrees of elevation a degree of bearing.
        lowest_deg, highest_deg: of all its points.
    """

    start_deg: Floats
    height_deg: Floats
    slope: Floats
    lowest_deg: float
    highest_deg: float

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
        heights = [point.elevation_deg for point in horizon]
        return cls(start, 2.0 * one_third - two_thirds, slope, min(heights), max(heights))

    def corners_between(self, low_deg: Floats, high_deg: Floats) -> tuple[Indices, Floats]:
        """Corners strictly inside [low, high], (N,) each, unwrapped: index of the interval, bearing."""
        if self.start_deg.size < 2 or low_deg.size == 0:
            return np.zeros(0, dtype=np.intp), np.zeros(0)
        turns = np.arange(np.floor(low_deg.min() / 360.0), np.floor(high_deg.max() / 360.0) + 1.0)
        ring = (self.start_deg + 360.0 * turns[:, None]).ravel()
        first = np.searchsorted(ring, low_deg, side="right")
        interval, corner = ranges(first, np.maximum(np.searchsorted(ring, high_deg, side="left"), first))
        return interval, ring[corner]

    def line_at(self, azimuth_deg: Floats) -> tuple[Floats, Floats]:
        """Height at and slope of the piece under each bearing (N,), not necessarily wrapped."""
        bearing = wrap_360(azimuth_deg)
        piece = np.searchsorted(self.start_deg, bearing, side="right") - 1
        past = np.mod(bearing - self.start_deg[piece], 360.0)
        return self.height_deg[piece] + self.slope[piece] * past, self.slope[piece]


def over_mask(table: StayTable, looks: Looks, mask: MaskPieces) -> tuple[Indices, Floats, Floats]:
    """When stays are over a mask: stay, start and end of every stretch (N,), by stay and time."""
    nodes = _nodes(table, looks, mask)
    clearance = _Clearance(nodes, mask)
    interval, utc_s, above = clearance.changes()
    stay = nodes.stay[interval]
    same = stay[1:] == stay[:-1]
    starts = above & ~np.append(False, above[:-1] & same)
    stops = above & ~np.append(above[1:] & same, False)
    until = np.where(np.append(same, False), np.append(utc_s[1:], 0.0), table.end_utc_s[stay])
    return stay[starts], utc_s[starts], until[stops]


@dataclass(frozen=True, eq=False)
class _Nodes:
    """Moments of stays (N,), by stay and time.

    Attributes:
        paths: the paths of all stays.
        piece: (N,) the piece of path each lies on.
        rows: (N, 7) time, position and velocity.
    """

    paths: Paths
    piece: Indices
    rows: Floats

    @classmethod
    def in_order(cls, paths: Paths, pieces: Sequence[Indices], rows: Sequence[Floats]) -> _Nodes:
        """Columns of nodes put one after another, by stay and time."""
        piece, every = np.concatenate(pieces), np.concatenate(rows)
        share = (every[:, 0] - paths.start_utc_s[piece]) / (2.0 * paths.half_s[piece])
        # The end of one stay's piece comes before the beginning of another's.
        order = np.argsort(piece + np.clip(share, 0.0, 1.0 - 1e-9), kind="stable")
        return cls(paths, piece[order], every[order])

    @cached_property
    def stay(self) -> Indices:
        """(N,) the stay each is of."""
        return self.paths.owner[self.piece]

    @property
    def utc_s(self) -> Floats:
        return self.rows[:, 0]

    @property
    def position_km(self) -> Floats:
        return self.rows[:, 1:4]

    @property
    def velocity_km_s(self) -> Floats:
        return self.rows[:, 4:]

    @cached_property
    def look(self) -> tuple[Floats, Floats]:
        """Azimuth, wrapped, and elevation (N,), deg."""
        return azimuth_elevation(self.position_km)

    @cached_property
    def look_rates(self) -> tuple[Floats, Floats]:
        """The rates of both (N,), deg/s."""
        return angle_rates(self.position_km, self.velocity_km_s)

    @cached_property
    def intervals(self) -> Flags:
        """(N - 1,) true where a node and a later next one are of the same stay."""
        return np.asarray((self.stay[1:] == self.stay[:-1]) & (np.diff(self.utc_s) > 0.0))

    @cached_property
    def turns_deg(self) -> Floats:
        """(N - 1,) how far azimuth turns from each node to the next, the short way."""
        return np.asarray(wrap_180(np.diff(self.look[0])))

    def with_more(self, left: Indices, utc_s: Floats) -> _Nodes:
        """With nodes put between: each moment (M,) lies after node ``left`` (M,) and before the next."""
        if not left.size:
            return self
        piece = self.piece[left]
        more = np.column_stack([utc_s, *self.paths.at(piece, utc_s)])
        return _Nodes.in_order(self.paths, (self.piece, piece), (self.rows, more))

    def between(self, left: Indices) -> _Cubics:
        """The cubics from nodes ``left`` (M,) to the next ones; they are out by a metre at most."""
        return _Cubics(self.rows[left], self.rows[left + 1])


class _Cubics:
    """Paths between two rows of nodes (M, 7), each by a cubic."""

    def __init__(self, low: Floats, high: Floats) -> None:
        self._start = low[:, :1]
        self._width = high[:, :1] - self._start
        self._ends = low[:, 1:4], high[:, 1:4], low[:, 4:], high[:, 4:]

    def at(self, utc_s: Floats) -> tuple[Floats, Floats]:
        """Positions and velocities (M, 3) at moments (M,)."""
        return hermite((utc_s[:, None] - self._start) / self._width, self._width, *self._ends)

    def position(self, utc_s: Floats) -> Floats:
        """The positions alone."""
        return hermite_value((utc_s[:, None] - self._start) / self._width, self._width, *self._ends)


def _nodes(table: StayTable, looks: Looks, mask: MaskPieces) -> _Nodes:
    """All nodes; between those of an interval that is plainly over or under the mask none are put."""
    nodes = _first_nodes(table, looks)
    asks = _asking(nodes, mask)
    pairs = zip(_where_azimuth_is_fast(nodes, asks), _where_azimuth_turns(nodes, asks), strict=True)
    nodes = nodes.with_more(*(np.concatenate(pair) for pair in pairs))
    return nodes.with_more(*_meetings(nodes, mask, _asking(nodes, mask)))


def _first_nodes(table: StayTable, looks: Looks) -> _Nodes:
    """Both ends, the peak, and the looks at a path inside its stay."""
    paths, count = table.paths, looks.utc_s.shape[1]
    inside = (looks.utc_s > table.start_utc_s[paths.owner, None]) & (
        looks.utc_s < table.end_utc_s[paths.owner, None]
    )
    piece = np.repeat(np.arange(paths.owner.size), count)[inside.ravel()]
    seen = np.column_stack([looks.utc_s[inside], looks.position_km[inside], looks.velocity_km_s[inside]])
    every, peak = np.arange(len(table.satellites)), table.peak[:, 0]
    fixed = np.concatenate([table.offsets[:-1], table.offsets[1:] - 1, paths.piece_at(every, peak)])
    fixed_utc_s = np.concatenate([table.start_utc_s, table.end_utc_s, peak])
    told = np.column_stack([fixed_utc_s, *paths.at(fixed, fixed_utc_s)])
    return _Nodes.in_order(paths, (piece, fixed), (seen, told))


def _where_azimuth_is_fast(nodes: _Nodes, asks: Flags) -> tuple[Indices, Floats]:
    """After which nodes (M,), and when, more are wanted, so that azimuth turns little between two."""
    left = np.flatnonzero((np.abs(nodes.turns_deg) > _AZIMUTH_STEP_DEG) & asks)
    moments, azimuths = ([column[left], column[left + 1]] for column in (nodes.utc_s, nodes.look[0]))
    found: list[tuple[Indices, Floats]] = [(left[:0], moments[0][:0])]
    while left.size:
        middle = 0.5 * (moments[0] + moments[1])
        found.append((left, middle))
        at_middle = azimuth_elevation(nodes.paths.at(nodes.piece[left], middle)[0])[0]
        left = np.tile(left, 2)
        moments, azimuths = (
            [np.concatenate([ends[0], here]), np.concatenate([here, ends[1]])]
            for ends, here in ((moments, middle), (azimuths, at_middle))
        )
        again = np.abs(wrap_180(azimuths[1] - azimuths[0])) > _AZIMUTH_STEP_DEG
        again &= moments[1] - moments[0] > _FINEST_S
        left, moments, azimuths = left[again], [m[again] for m in moments], [a[again] for a in azimuths]
    lefts, middles = zip(*found, strict=True)
    return np.concatenate(lefts), np.concatenate(middles)


def _where_azimuth_turns(nodes: _Nodes, asks: Flags) -> tuple[Indices, Floats]:
    """After which nodes (M,), and when, azimuth begins to run the other way."""
    rate = nodes.look_rates[0]
    back = np.flatnonzero(((rate[:-1] > 0.0) != (rate[1:] > 0.0)) & asks)
    path = nodes.between(back)
    return back, find_roots(
        lambda utc_s: angle_rates(*path.at(utc_s))[0],
        nodes.utc_s[back],
        nodes.utc_s[back + 1],
        TIME_TOLERANCE_S,
    )


def _meetings(nodes: _Nodes, mask: MaskPieces, asks: Flags) -> tuple[Indices, Floats]:
    """Where azimuth meets corners of the mask: after which nodes (M,), and when.

    Azimuth is A where the height over the vertical plane through A is zero.
    """
    turn, azimuth_deg = np.where(asks, nodes.turns_deg, 0.0), nodes.look[0][:-1]
    left, corner_deg = mask.corners_between(
        azimuth_deg + np.minimum(turn, 0.0), azimuth_deg + np.maximum(turn, 0.0)
    )
    sin, cos = np.sin(np.radians(corner_deg)), np.cos(np.radians(corner_deg))

    def aside(vector: Floats, at: Indices) -> Floats:
        return np.asarray(vector[at, 0] * cos - vector[at, 1] * sin)

    width = nodes.utc_s[left + 1] - nodes.utc_s[left]
    low, high = (aside(nodes.position_km, at) for at in (left, left + 1))
    slopes = [width * aside(nodes.velocity_km_s, at) for at in (left, left + 1)]
    one = np.ones(left.size)
    share = corrected_roots(
        lambda which, s: hermite(s, one[which], low[which], high[which], *(d[which] for d in slopes)),
        np.clip(low / np.where(low == high, np.inf, low - high), 0.0, 1.0),
        np.zeros(left.size),
        one,
        TIME_TOLERANCE_S / max(float(width.max(initial=0.0)), 1.0),
    )
    return left, nodes.utc_s[left] + share * width


def _plainly(nodes: _Nodes, mask: MaskPieces) -> tuple[Flags, Flags]:
    """(N - 1,) intervals that are wholly over the mask's highest point, and wholly under its lowest."""
    low, high = nodes.look[1][:-1], nodes.look[1][1:]
    rate = nodes.look_rates[1]
    dips, tops = (rate[:-1] < 0.0) & (rate[1:] > 0.0), (rate[:-1] > 0.0) & (rate[1:] < 0.0)
    over = (np.minimum(low, high) > mask.highest_deg) & ~dips
    return over, (np.maximum(low, high) < mask.lowest_deg) & ~tops


def _asking(nodes: _Nodes, mask: MaskPieces) -> Flags:
    """(N - 1,) intervals that are plainly neither."""
    over, under = _plainly(nodes, mask)
    return nodes.intervals & ~over & ~under


class _Clearance:
    """How far stays are over the mask: smooth in each interval from a node to the next of the same stay."""

    def __init__(self, nodes: _Nodes, mask: MaskPieces) -> None:
        self.nodes = nodes
        self.middle_deg = nodes.look[0][:-1] + 0.5 * nodes.turns_deg
        self.height_deg, self.slope = mask.line_at(self.middle_deg)
        self.plainly_over, plainly_under = _plainly(nodes, mask)
        self.asks = nodes.intervals & ~self.plainly_over & ~plainly_under

    def over(self, interval: Indices | slice, azimuth_deg: Floats, elevation_deg: Floats) -> Floats:
        """Elevation over the straight piece of mask that belongs to an interval, deg."""
        past = np.asarray(wrap_180(azimuth_deg - self.middle_deg[interval]))
        return elevation_deg - self.height_deg[interval] - self.slope[interval] * past

    def with_rate(self, interval: Indices, position: Floats, velocity: Floats) -> tuple[Floats, Floats]:
        """The clearance, deg, and its rate, deg/s, of states (M, 3)."""
        azimuth_rate, elevation_rate = angle_rates(position, velocity)
        rate = elevation_rate - self.slope[interval] * azimuth_rate
        return self.over(interval, *azimuth_elevation(position)), rate

    def changes(self) -> tuple[Indices, Floats, Flags]:
        """The interval, the moment, and whether the stay is over the mask from there on, (C,) each.

        One at the start of every interval, and one at every crossing inside; by interval and time.
        """
        nodes, every = self.nodes, np.flatnonzero(self.nodes.intervals)
        whole = slice(None)
        azimuth_deg, elevation_deg = nodes.look
        g_low = self.over(whole, azimuth_deg[:-1], elevation_deg[:-1])
        g_high = self.over(whole, azimuth_deg[1:], elevation_deg[1:])
        above = np.where(self.asks, g_low > 0.0, self.plainly_over)
        crossed = above != (g_high > 0.0)
        plain = np.flatnonzero(crossed & self.asks)
        turning, turn, g_turn = self._turns(np.flatnonzero(~crossed & self.asks), g_low, g_high)
        interval = np.concatenate([plain, turning, turning])
        low, high = nodes.utc_s[:-1], nodes.utc_s[1:]
        root = self._roots(
            interval,
            np.concatenate([low[plain], low[turning], turn]),
            np.concatenate([high[plain], turn, high[turning]]),
            (
                np.concatenate([g_low[plain], g_low[turning], g_turn]),
                np.concatenate([g_high[plain], g_turn, g_high[turning]]),
            ),
        )
        after = np.concatenate([~above[plain], ~above[turning], above[turning]])
        interval = np.concatenate([every, interval])
        utc_s = np.concatenate([low[every], root])
        order = np.lexsort((np.arange(utc_s.size), utc_s, interval))
        return interval[order], utc_s[order], np.concatenate([above[every], after])[order]

    def _turns(self, both: Indices, g_low: Floats, g_high: Floats) -> tuple[Indices, Floats, Floats]:
        """Of intervals with both ends on one side those that cross over and back.

        Returns:
            Which, the moment of the turn, and the clearance then.
        """
        nodes, right = self.nodes, both + 1
        azimuth_rate, elevation_rate = nodes.look_rates
        side = np.where(g_low[both] > 0.0, 1.0, -1.0)
        d_low, d_high = (
            side * (elevation_rate[at] - self.slope[both] * azimuth_rate[at]) for at in (both, right)
        )
        width = nodes.utc_s[right] - nodes.utc_s[both]
        reach = np.minimum(side * g_low[both] + width * d_low, side * g_high[both] - width * d_high)
        # The curve bends toward zero between the ends, its tangents meeting beyond it.
        turning = both[(d_low < 0.0) & (d_high > 0.0) & (reach < 0.0)]
        path = nodes.between(turning)
        turn = find_roots(
            lambda utc_s: self.with_rate(turning, *path.at(utc_s))[1],
            nodes.utc_s[turning],
            nodes.utc_s[turning + 1],
            TIME_TOLERANCE_S,
        )
        beyond = self.over(turning, *azimuth_elevation(path.position(turn)))
        through = (beyond > 0.0) != (g_low[turning] > 0.0)
        return turning[through], turn[through], beyond[through]

    def _roots(self, interval: Indices, low: Floats, high: Floats, ends: tuple[Floats, Floats]) -> Floats:
        """The crossing in each bracket, between whose ends the clearance is first taken to change evenly."""
        piece = self.nodes.piece[interval]
        share = ends[0] / np.where(ends[0] == ends[1], np.inf, ends[0] - ends[1])
        return corrected_roots(
            lambda which, utc_s: self.with_rate(interval[which], *self.nodes.paths.at(piece[which], utc_s)),
            low + np.clip(share, 0.0, 1.0) * (high - low),
            low,
            high,
            TIME_TOLERANCE_S,
        )
