"""Tubes: where an axis can be at every moment of a pass with the error on the sky within a bound.

For a bound h the moment t allows m within asin(sin h / cos E) of A + 180 j, j any whole number, and every m
where h >= 90 - E. What the azimuth axis can have reached of that is a union of intervals, carried from moment
to moment: widened by rate times time, cut to what is allowed. A single interval would not do: near the zenith
the axis may be on either side, upright or over the top, and only later does one of the two come to nothing.

Beside an azimuth path, with d = m - A, the elevation axis is allowed phi +- acos(cos h / R),
phi = atan2(sin E, cos E cos d), R = hypot(sin E, cos E cos d): one interval, and so is azimuth's beside an
elevation path.

In a tube the least motion is to move only when its wall comes (*lazily*), after both ends have been cut back
to what can still go on to the end.
"""

from __future__ import annotations

import math

import numpy as np

from core.base.angles import Floats
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.station import Mount, Rates
from core.mount.steering.grid_search import Target

#: One stretch of angles that an axis can have reached, from and to.
AxisSpan = tuple[float, float]


class AzimuthTube:
    """Which m the azimuth axis can have at every moment with the error within a bound."""

    def __init__(self, target: Target, mount: Mount, start_deg: float) -> None:
        self._azimuth = target.azimuth_deg
        self._elevation = target.elevation_deg
        self._free = ~target.worked
        self._range = mount.elevation.minimum_deg, mount.elevation.maximum_deg
        self._low, self._top = guarded_travel_deg(mount.azimuth)
        up, down = mount.azimuth.rates_deg_s
        steps_s = np.diff(target.utc_s)
        self._up, self._down = (up * steps_s).tolist(), (down * steps_s).tolist()
        self._start = start_deg
        self._made: tuple[float, list[list[AxisSpan]] | None] | None = None

    def holds(self, bound_deg: float) -> bool:
        """Whether there is a path in the tube of this bound: at a fraction of what a path costs."""
        return self._passable(bound_deg) is not None

    def path(self, bound_deg: float, lazy: bool = True) -> Floats | None:
        """A path of the axis in the tube of this bound: (N,); None where the tube breaks.

        Args:
            bound_deg: of the error on the sky.
            lazy: move only when the wall comes; else stay as near the satellite as can be.
        """
        tube = self._passable(bound_deg)
        if tube is None:
            return None
        starts = {min(max(self._start, low), high) for low, high in tube[0]}
        if lazy:
            starts |= {end for interval in tube[0] for end in interval}
        paths = [self._walk(tube, start, lazy) for start in sorted(starts)]
        return min(paths, key=lambda path: float(np.abs(np.diff(path)).sum()))

    def _passable(self, bound_deg: float) -> list[list[AxisSpan]] | None:
        """The tube of this bound cut back to what can still go on to the end; None where it breaks."""
        if self._made is None or self._made[0] != bound_deg:
            self._made = bound_deg, self._cut_back(self._tube(bound_deg))
        return self._made[1]

    def _cut_back(self, tube: list[list[AxisSpan]] | None) -> list[list[AxisSpan]] | None:
        if tube is None:
            return None
        for index in range(len(tube) - 2, -1, -1):
            tube[index] = _common(tube[index], _widened(tube[index + 1], self._up[index], self._down[index]))
            if not tube[index]:  # rounding at a wall
                return None
        return tube

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
            near = _nearest(tube[index], wanted, low, high)
            if (
                near is None
            ):  # rounding at a wall that is met exactly: on to the wall, not to another interval
                near = _nearest(tube[index], place, -math.inf, math.inf)
            place = place if near is None else near
            path.append(place)
        return np.array(path)


def _nearest(spans: list[AxisSpan], wanted: float, low: float, high: float) -> float | None:
    """The place nearest to the wanted one in some spans and between two ends; None where there is none."""
    found, away = None, math.inf
    for start, end in spans:
        a, b = max(start, low), min(end, high)
        if a <= b:
            place = min(max(wanted, a), b)
            if found is None or abs(place - wanted) < away:
                found, away = place, abs(place - wanted)
    return found


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


def elevation_beside(target: Target, mount: Mount, m_deg: Floats, bound_deg: float) -> Floats | None:
    """A lazy path of the elevation axis within the bound; None where its tube breaks."""
    apart, elevation = np.radians(m_deg - target.azimuth_deg), np.radians(target.elevation_deg)
    along = np.cos(elevation) * np.cos(apart)
    middle = np.degrees(np.arctan2(np.sin(elevation), along))
    share = np.cos(np.radians(bound_deg)) / np.hypot(np.sin(elevation), along)
    lowest, highest = mount.elevation.minimum_deg, mount.elevation.maximum_deg
    # Lag and elevation were made for the bound: a share a hair above 1 is rounding, more is out of it.
    broken = target.worked & (share > 1.0 + 1e-9)
    lag = np.degrees(np.arccos(np.clip(share, -1.0, 1.0)))
    low = np.where(target.worked, np.maximum(middle - lag, lowest), lowest)
    high = np.where(target.worked, np.minimum(middle + lag, highest), highest)
    if broken.any() or (low > high).any():
        return None
    return _lazy_in(target.utc_s, low, high, mount.elevation.rates_deg_s)


def _lazy_in(utc_s: Floats, low: Floats, high: Floats, rates: Rates) -> Floats | None:
    """The path of least motion between two walls under rates each way; None where there is none."""
    steps_s = np.diff(utc_s)
    up, down = (rates[0] * steps_s).tolist(), (rates[1] * steps_s).tolist()
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


def azimuth_beside(
    target: Target, mount: Mount, path: tuple[Floats, Floats], bound_deg: float
) -> Floats | None:
    """A lazy azimuth path within the bound beside an elevation path; None where its tube breaks.

    sin^2(d/2) <= (sin^2(h/2) - sin^2((E - e)/2)) / (cos E cos e), measured from A or, over the top, A + 180.
    """
    m_deg, e_deg = path
    e, elevation = np.radians(e_deg), np.radians(target.elevation_deg)
    over = e_deg > 90.0
    e = np.where(over, np.pi - e, e)
    middle = target.azimuth_deg + np.where(over, 180.0, 0.0)
    middle = middle + 360.0 * np.round((m_deg - middle) / 360.0)
    spare = np.sin(np.radians(bound_deg) / 2.0) ** 2 - np.sin((elevation - e) / 2.0) ** 2
    width = np.maximum(np.cos(elevation) * np.cos(e), 1e-12)
    if (spare < -1e-12)[target.worked].any():
        return None
    free = ~target.worked | (spare >= width)
    share = np.where(free, 1.0, spare / width)
    lag = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(share, 0.0, 1.0))))
    guard, top = guarded_travel_deg(mount.azimuth)
    low = np.where(free, guard, np.maximum(middle - lag, guard))
    high = np.where(free, top, np.minimum(middle + lag, top))
    if (low > high).any():
        return None
    return _lazy_in(target.utc_s, low, high, mount.azimuth.rates_deg_s)
