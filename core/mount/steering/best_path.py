"""The best path of a pass under the two rate limits: least worst error on the sky, then least motion.

Where boresight may look over the top as well, the elevation axis can always be set so that what is left is
the satellite's distance from the plane the azimuth axis stands for: the error is asin |cos E sin(m - A)|, or
90 - E with the axis at the zenith (spherical trigonometry: the least distance of a point from a great circle
through the zenith). So the least worst error is found for azimuth alone: for a bound h the moment t allows
m within asin(sin h / cos E) of A + 180 j, j any whole number, and every m where h >= 90 - E. The angles the
axis can have reached are a union of intervals, carried from moment to moment: widened by rate times time,
cut to what is allowed (*tube propagation*). The least h whose tube does not break is found by bisection.
Then the elevation axis gets a tube of its own: with d = m - A it is allowed
phi +- acos(cos h / R), phi = atan2(sin E, cos E cos d), R = hypot(sin E, cos E cos d). Where it breaks at h
(an elevation axis that is too slow, or has too little range), h stays a proof of how much better any path
could be, and both axes are searched together: dynamic programming over a grid of m, e and time, the least
worst error with which each cell can be reached; the path found is then smoothed, one axis in the tube that
the other leaves it, in turn.

In a tube the least motion is to move only when its wall comes (*lazily*), after both ends have been cut
back to what can still go on to the end. What is found is compared with the paths it is given (chased, led,
held, through the zenith), and the best of all is told.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, unwrap_deg
from core.mount.drive.motion import Limits, limits_of, off_boresight_deg
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.station import Mount
from core.mount.steering.grid_search import Room, Target, search_grid

#: Moments of the tubes are this far apart at most.
_STEP_S = 0.5
_MOST_MOMENTS = 6000
#: The bound is found to this.
_TOLERANCE_DEG = 0.005
#: No path is looked for that is better than another by no more than this.
_NEAR_ENOUGH_DEG = 0.1
#: Times each axis is smoothed beside the other after a search of both.
_SMOOTHINGS = 3
#: Paths are told on the tubes' moments; the worst error between them is no more than this above.
_SLACK_DEG = 0.002

AxisSpan = tuple[float, float]


@dataclass(frozen=True, eq=False)
class BestPath:
    """The best path of a pass, in one way at AOS.

    Attributes:
        utc_s: (N,) half a second apart at most.
        m_deg, e_deg: (N,) the axes; elevation may run through the zenith to over the top.
        off_deg: (N,) error on the sky.
        worst_deg: the greatest of them over the mask.
        proven_deg: no path under the azimuth rate and between the stops has a lesser worst error.
        motion_deg: what both axes move in all.
    """

    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    worst_deg: float
    proven_deg: float
    motion_deg: float


@dataclass(frozen=True, eq=False)
class _Moments:
    """A pass as tubes see it: ``azimuth_deg`` is the m that looks at the satellite upright."""

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    worked: Flags


def best_path(
    track: MountTrack,
    mount: Mount,
    offset_deg: float,
    over_the_top: bool,
    others: tuple[tuple[Floats, Floats], ...] = (),
) -> BestPath | None:
    """The best path that begins in a way; None where there is none between the guards.

    Args:
        track: the pass in the mount frame.
        mount: rates, guards and elevation range; nothing else of the motion is counted.
        offset_deg: what to add to azimuth to get m in that way (180 of posture included).
        over_the_top: the way's posture at AOS.
        others: (m, e) of paths to compare with, each (N,) at the track's moments, within rates and guards.
    """
    moments = _moments(track, offset_deg - (180.0 if over_the_top else 0.0))
    start = float(moments.azimuth_deg[0]) + (180.0 if over_the_top else 0.0)
    azimuth = _AzimuthTube(moments, mount, start)
    proven = _least(lambda bound: azimuth.path(bound) is not None, 0.0, 90.0)
    if proven is None:
        return None
    paths = [tuple(np.interp(moments.utc_s, track.utc_s, axis) for axis in other) for other in others]
    found = [_told(moments, m_deg, e_deg, proven) for m_deg, e_deg in paths]
    bound = proven + _SLACK_DEG
    for lazy in (True, False):
        m_deg = azimuth.path(bound, lazy)
        e_deg = None if m_deg is None else _elevation(moments, mount, m_deg, bound)
        if m_deg is not None and e_deg is None:
            e_deg = _least_elevation(moments, mount, m_deg)
        if m_deg is not None and e_deg is not None:
            found.append(_told(moments, m_deg, e_deg, proven))
    if not found or min(path.worst_deg for path in found) > proven + _NEAR_ENOUGH_DEG:
        found += _both_searched(moments, mount, start, found, proven)
    # The least worst error first; what is as good to the tolerance by the least motion.
    least = min((path.worst_deg for path in found), default=0.0) + 2.0 * (_TOLERANCE_DEG + _SLACK_DEG)
    good = [path for path in found if path.worst_deg <= least]
    return min(good, key=lambda path: path.motion_deg, default=None)


def _told(moments: _Moments, m_deg: Floats, e_deg: Floats, proven: float) -> BestPath:
    off = off_boresight_deg(m_deg - moments.azimuth_deg, e_deg, moments.elevation_deg)
    motion = float(np.abs(np.diff(m_deg)).sum() + np.abs(np.diff(e_deg)).sum())
    worst = float(off[moments.worked].max(initial=0.0))
    return BestPath(moments.utc_s, m_deg, e_deg, off, worst, min(proven, worst), motion)


def _both_searched(
    moments: _Moments, mount: Mount, start: float, found: list[BestPath], proven: float
) -> list[BestPath]:
    """The path of the grid search, smoothed; none where the grid holds nothing better."""
    enough = min((path.worst_deg for path in found), default=90.0) + _NEAR_ENOUGH_DEG
    guards = guarded_travel_deg(mount.azimuth)
    searched = search_grid(
        Target(moments.utc_s, moments.azimuth_deg, moments.elevation_deg, moments.worked),
        Room(
            guards,
            (mount.elevation.minimum_deg, mount.elevation.maximum_deg),
            limits_of(mount.azimuth),
            limits_of(mount.elevation),
        ),
        start,
        enough,
    )
    if searched is None:
        return []
    m_deg, e_deg = searched
    better = [_told(moments, m_deg, e_deg, proven)]
    for _ in range(_SMOOTHINGS):
        raised = _least_elevation(moments, mount, m_deg)
        e_deg = e_deg if raised is None else raised
        turned = _least_azimuth(moments, mount, m_deg, e_deg)
        m_deg = m_deg if turned is None else turned
        better.append(_told(moments, m_deg, e_deg, proven))
    return better


def _least_elevation(moments: _Moments, mount: Mount, m_deg: Floats) -> Floats | None:
    """The elevation path of least worst error beside an azimuth path; None where none is inside the range."""
    bound = _least(lambda at: _elevation(moments, mount, m_deg, at) is not None, 0.0, 180.0)
    return None if bound is None else _elevation(moments, mount, m_deg, bound + _SLACK_DEG)


def _least_azimuth(moments: _Moments, mount: Mount, m_deg: Floats, e_deg: Floats) -> Floats | None:
    """The azimuth path of least worst error beside an elevation path, near the given one."""
    bound = _least(lambda at: _azimuth(moments, mount, (m_deg, e_deg), at) is not None, 0.0, 180.0)
    return None if bound is None else _azimuth(moments, mount, (m_deg, e_deg), bound + _SLACK_DEG)


def _azimuth(moments: _Moments, mount: Mount, path: tuple[Floats, Floats], bound_deg: float) -> Floats | None:
    """A lazy azimuth path within the bound beside an elevation path; None where its tube breaks.

    sin^2(d/2) <= (sin^2(h/2) - sin^2((E - e)/2)) / (cos E cos e), measured from A or, over the top, A + 180.
    """
    m_deg, e_deg = path
    e, elevation = np.radians(e_deg), np.radians(moments.elevation_deg)
    over = e_deg > 90.0
    e = np.where(over, np.pi - e, e)
    middle = moments.azimuth_deg + np.where(over, 180.0, 0.0)
    middle = middle + 360.0 * np.round((m_deg - middle) / 360.0)
    spare = np.sin(np.radians(bound_deg) / 2.0) ** 2 - np.sin((elevation - e) / 2.0) ** 2
    width = np.maximum(np.cos(elevation) * np.cos(e), 1e-12)
    if (spare < -1e-12)[moments.worked].any():
        return None
    free = ~moments.worked | (spare >= width)
    share = np.where(free, 1.0, spare / width)
    lag = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(share, 0.0, 1.0))))
    guard, top = guarded_travel_deg(mount.azimuth)
    low = np.where(free, guard, np.maximum(middle - lag, guard))
    high = np.where(free, top, np.minimum(middle + lag, top))
    if (low > high).any():
        return None
    return _lazy_in(moments.utc_s, low, high, limits_of(mount.azimuth))


def _least(holds: Callable[[float], bool], low: float, high: float) -> float | None:
    """The least bound that holds, to the tolerance from above; None where not even ``high`` does."""
    if holds(low):
        return low
    if not holds(high):
        return None
    while high - low > _TOLERANCE_DEG:
        # Errors are small as a rule: half of the way in the logarithm first, then plainly.
        middle = math.sqrt(max(low, 0.02) * high) if high > 4.0 * max(low, 0.02) else (low + high) / 2.0
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def _moments(track: MountTrack, offset_deg: float) -> _Moments:
    """The track's own moments and even ones between, on the straight line through space."""
    first, last = float(track.utc_s[0]), float(track.utc_s[-1])
    count = min(max(math.ceil((last - first) / _STEP_S), 1), _MOST_MOMENTS)
    utc_s = np.union1d(np.linspace(first, last, count + 1), track.utc_s)
    azimuth, elevation = np.radians(track.azimuth_deg), np.radians(track.elevation_deg)
    parts = (np.sin(azimuth) * np.cos(elevation), np.cos(azimuth) * np.cos(elevation), np.sin(elevation))
    east, north, up = (np.interp(utc_s, track.utc_s, part) for part in parts)
    turned = unwrap_deg(np.degrees(np.arctan2(east, north)))
    whole = 360.0 * np.round((track.azimuth_deg[0] - turned[0]) / 360.0)
    nearest = np.clip(np.searchsorted(track.utc_s, utc_s), 0, track.utc_s.size - 1)
    return _Moments(
        utc_s=utc_s,
        azimuth_deg=turned + whole + offset_deg,
        elevation_deg=np.degrees(np.arctan2(up, np.hypot(east, north))),
        worked=track.worked[nearest] | track.worked[np.maximum(nearest - 1, 0)],
    )


class _AzimuthTube:
    """Which m the azimuth axis can have at every moment with the error within a bound."""

    def __init__(self, moments: _Moments, mount: Mount, start_deg: float) -> None:
        self._azimuth = moments.azimuth_deg
        self._elevation = moments.elevation_deg
        self._free = ~moments.worked
        self._range = mount.elevation.minimum_deg, mount.elevation.maximum_deg
        self._low, self._top = guarded_travel_deg(mount.azimuth)
        up, down = limits_of(mount.azimuth)
        steps_s = np.diff(moments.utc_s)
        self._up, self._down = (up * steps_s).tolist(), (down * steps_s).tolist()
        self._start = start_deg

    def path(self, bound_deg: float, lazy: bool = True) -> Floats | None:
        """A path of the axis in the tube of this bound: (N,); None where the tube breaks.

        Args:
            bound_deg: of the error on the sky.
            lazy: move only when the wall comes; else stay as near the satellite as can be.
        """
        tube = self._tube(bound_deg)
        if tube is None:
            return None
        for index in range(len(tube) - 2, -1, -1):
            tube[index] = _common(tube[index], _widened(tube[index + 1], self._up[index], self._down[index]))
            if not tube[index]:  # rounding at a wall
                return None
        starts = {min(max(self._start, low), high) for low, high in tube[0]}
        if lazy:
            starts |= {end for interval in tube[0] for end in interval}
        paths = [self._walk(tube, start, lazy) for start in sorted(starts)]
        return min(paths, key=lambda path: float(np.abs(np.diff(path)).sum()))

    def _tube(self, bound_deg: float) -> list[list[AxisSpan]] | None:
        lag, free = self._lags(bound_deg)
        upright, over = self._within_range(bound_deg)
        first = self._top - self._low if free[0] else lag[0]
        reach = [(max(self._start - first, self._low), min(self._start + first, self._top))]
        if reach[0][0] > reach[0][1]:
            return None
        tube = [reach]
        azimuth = self._azimuth.tolist()
        for index in range(1, len(azimuth)):
            # Forward the axis gains by its rate up and loses by its rate down.
            wide = _widened(reach, self._down[index - 1], self._up[index - 1])
            if free[index]:
                reach = _common(wide, [(self._low, self._top)])
            else:
                reach = self._cut(wide, azimuth[index], lag[index], (upright[index], over[index]))
            if not reach:
                return None
            tube.append(reach)
        return tube

    def _lags(self, bound_deg: float) -> tuple[list[float], list[bool]]:
        """How far m may be from the satellite's plane, and where any m will do."""
        cosine = np.cos(np.radians(self._elevation))
        free = self._free | (bound_deg >= 90.0 - self._elevation)
        share = np.where(free, 1.0, np.sin(np.radians(bound_deg)) / np.where(free, 1.0, cosine))
        return np.degrees(np.arcsin(np.clip(share, 0.0, 1.0))).tolist(), free.tolist()

    def _within_range(self, bound_deg: float) -> tuple[list[bool], list[bool]]:
        """Where elevation can be had within the bound at all, upright and over the top."""
        lowest, highest = self._range
        upright = (self._elevation - bound_deg <= highest) & (self._elevation + bound_deg >= lowest)
        return upright.tolist(), (180.0 - self._elevation - bound_deg <= highest).tolist()

    def _cut(
        self, wide: list[AxisSpan], azimuth: float, lag: float, postures: tuple[bool, bool]
    ) -> list[AxisSpan]:
        kept: list[AxisSpan] = []
        for low, high in wide:
            first, last = math.ceil((low - lag - azimuth) / 180.0), math.floor((high + lag - azimuth) / 180.0)
            for half_turns in range(first, last + 1):
                if not postures[half_turns % 2]:
                    continue
                middle = azimuth + 180.0 * half_turns
                left = max(low, middle - lag, self._low)
                right = min(high, middle + lag, self._top)
                if left <= right:
                    kept.append((left, right))
        return kept

    def _walk(self, tube: list[list[AxisSpan]], start: float, lazy: bool) -> Floats:
        place, azimuth = start, self._azimuth.tolist()
        path = [place]
        for index in range(1, len(tube)):
            low, high = place - self._down[index - 1], place + self._up[index - 1]
            wanted = place
            if not lazy:
                wanted = azimuth[index] + 180.0 * round((place - azimuth[index]) / 180.0)
            room = _common(tube[index], [(low, high)])
            if not room:  # rounding at a wall that is met exactly: on to the wall, not to another interval
                wanted, room = place, tube[index]
            place = min((min(max(wanted, a), b) for a, b in room), key=lambda at: abs(at - wanted))
            path.append(place)
        return np.array(path)


def _widened(intervals: list[AxisSpan], below: float, above: float) -> list[AxisSpan]:
    """Every interval longer at both ends; those that then meet are one."""
    wide: list[AxisSpan] = []
    for low, high in sorted(intervals):
        if wide and low - below <= wide[-1][1]:
            wide[-1] = (wide[-1][0], max(wide[-1][1], high + above))
        else:
            wide.append((low - below, high + above))
    return wide


def _common(one: list[AxisSpan], other: list[AxisSpan]) -> list[AxisSpan]:
    pairs = [(max(a, c), min(b, d)) for a, b in one for c, d in other]
    return [(low, high) for low, high in pairs if low <= high]


def _elevation(moments: _Moments, mount: Mount, m_deg: Floats, bound_deg: float) -> Floats | None:
    """A lazy path of the elevation axis within the bound; None where its tube breaks."""
    apart, elevation = np.radians(m_deg - moments.azimuth_deg), np.radians(moments.elevation_deg)
    along = np.cos(elevation) * np.cos(apart)
    middle = np.degrees(np.arctan2(np.sin(elevation), along))
    share = np.cos(np.radians(bound_deg)) / np.hypot(np.sin(elevation), along)
    lowest, highest = mount.elevation.minimum_deg, mount.elevation.maximum_deg
    # Lag and elevation were made for the bound: a share a hair above 1 is rounding, more is out of it.
    broken = moments.worked & (share > 1.0 + 1e-9)
    lag = np.degrees(np.arccos(np.clip(share, -1.0, 1.0)))
    low = np.where(moments.worked, np.maximum(middle - lag, lowest), lowest)
    high = np.where(moments.worked, np.minimum(middle + lag, highest), highest)
    if broken.any() or (low > high).any():
        return None
    return _lazy_in(moments.utc_s, low, high, limits_of(mount.elevation))


def _lazy_in(utc_s: Floats, low: Floats, high: Floats, limits: Limits) -> Floats | None:
    """The path of least motion between two walls under rates each way; None where there is none."""
    steps_s = np.diff(utc_s)
    up, down = (limits[0] * steps_s).tolist(), (limits[1] * steps_s).tolist()
    lows, highs = low.tolist(), high.tolist()
    for index in range(len(lows) - 2, -1, -1):
        lows[index] = max(lows[index], lows[index + 1] - up[index])
        highs[index] = min(highs[index], highs[index + 1] + down[index])
        if lows[index] > highs[index]:
            return None
    paths = []
    for start in {lows[0], highs[0], (lows[0] + highs[0]) / 2.0}:
        place, path = start, [start]
        for index in range(1, len(lows)):
            place = min(max(place, lows[index]), highs[index])
            path.append(place)
        paths.append(np.array(path))
    best = min(paths, key=lambda path: float(np.abs(np.diff(path)).sum()))
    over = np.maximum(np.diff(best) - np.array(up), -np.diff(best) - np.array(down))
    return best if over.max(initial=0.0) <= 1e-6 else None
