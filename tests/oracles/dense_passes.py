"""A slow referee for the pass search: Skyfield every two seconds, crossings by halving. Nothing of core's.

A stretch over the limit that outlasts the step holds at least one sample, so the referee misses none.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from skyfield.api import EarthSatellite, load, wgs84

Floats = NDArray[np.float64]
Span = tuple[float, float]
#: Threshold elevation over azimuths (N,), both in degrees.
Threshold = Callable[[Floats], Floats]

#: Samples added between two neighbours of a sample that almost reaches the limit, and how near "almost" is.
_FINE_PARTS = 40
_ALMOST_DEG = 0.3
#: Halvings of a two-second bracket: half a millisecond.
_HALVINGS = 12


def read_rows(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV of OMM keywords."""
    with path.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def mask_threshold(points: Sequence[tuple[float, float]], minimum_deg: float) -> Threshold:
    """Straight lines between (azimuth, elevation) points round the circle, and never below the minimum."""
    if not points:
        return lambda azimuth: np.full(azimuth.shape, minimum_deg)
    azimuths, elevations = np.array(sorted(points)).T
    return lambda azimuth: np.maximum(np.interp(azimuth, azimuths, elevations, period=360.0), minimum_deg)


@dataclass(frozen=True)
class Best:
    """A peak (elevation in deg) or a least range (in km): when, and how much."""

    utc_s: float
    value: float


@dataclass(frozen=True)
class Sky:
    """One satellite from one site, on the referee's grid (N,), and exactly at any time."""

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    range_km: Floats
    exact: Callable[[Floats], tuple[Floats, Floats, Floats]]

    def over(self, threshold: Threshold) -> list[Span]:
        """When the satellite stands over the threshold, ends good to half a millisecond."""

        def clearance(utc_s: Floats) -> Floats:
            azimuth, elevation, _ = self.exact(utc_s)
            return elevation - threshold(azimuth)

        times, g = self._with_close_looks(clearance, self.elevation_deg - threshold(self.azimuth_deg))
        change = np.flatnonzero((g[:-1] > 0.0) != (g[1:] > 0.0))
        low, high, rising = times[change].copy(), times[change + 1].copy(), g[change + 1] > 0.0
        if change.size:
            for _ in range(_HALVINGS):
                middle = 0.5 * (low + high)
                past = (clearance(middle) > 0.0) == rising
                low, high = np.where(past, low, middle), np.where(past, middle, high)
        edges = [float(edge) for edge in 0.5 * (low + high)]
        if g[0] > 0.0:
            edges.insert(0, float(times[0]))
        if g[-1] > 0.0:
            edges.append(float(times[-1]))
        return list(zip(edges[::2], edges[1::2], strict=True))

    def _with_close_looks(self, clearance: Callable[[Floats], Floats], g: Floats) -> tuple[Floats, Floats]:
        """Grid and clearance with finer samples round every sample that turns just short of the limit."""
        times = self.utc_s
        top = (g[1:-1] >= g[:-2]) & (g[1:-1] >= g[2:]) & (g[1:-1] <= 0.0) & (g[1:-1] > -_ALMOST_DEG)
        dip = (g[1:-1] <= g[:-2]) & (g[1:-1] <= g[2:]) & (g[1:-1] > 0.0) & (g[1:-1] < _ALMOST_DEG)
        turn = np.flatnonzero(top | dip) + 1
        if turn.size == 0 or turn.size > 200:
            return times, g
        left = np.unique(np.concatenate([turn - 1, turn]))
        shares = np.arange(1, _FINE_PARTS) / _FINE_PARTS
        fine = (times[left, None] + (times[left + 1] - times[left])[:, None] * shares).ravel()
        order = np.argsort(np.concatenate([times, fine]), kind="stable")
        return np.concatenate([times, fine])[order], np.concatenate([g, clearance(fine)])[order]

    def highest(self, span: Span) -> Best:
        """The highest elevation within a span."""
        return self._best(span, lambda look: look[1], 1.0)

    def nearest(self, span: Span) -> Best:
        """The least range within a span."""
        return self._best(span, lambda look: look[2], -1.0)

    def _best(self, span: Span, pick: Callable[[Any], Floats], sign: float) -> Best:
        inside = self.utc_s[(self.utc_s > span[0]) & (self.utc_s < span[1])]
        times = np.concatenate([[span[0]], inside, [span[1]]])
        grid = pick((self.azimuth_deg, self.elevation_deg, self.range_km))
        values = np.concatenate(
            [
                pick(self.exact(np.array([span[0]]))),
                grid[(self.utc_s > span[0]) & (self.utc_s < span[1])],
                pick(self.exact(np.array([span[1]]))),
            ]
        )
        for _ in range(3):
            top = int(np.argmax(sign * values))
            low, high = times[max(top - 1, 0)], times[min(top + 1, times.size - 1)]
            times = np.linspace(low, high, 41)
            values = pick(self.exact(times))
        top = int(np.argmax(sign * values))
        return Best(float(times[top]), float(values[top]))

    def tops(self, span: Span) -> int:
        """How many times elevation turns downward within a span (by more than a thousandth of a degree)."""
        el = self.elevation_deg[(self.utc_s > span[0]) & (self.utc_s < span[1])]
        count, highest_since, lowest_since, climbing = 0, -np.inf, np.inf, True
        for value in el:
            if climbing:
                highest_since = max(highest_since, value)
                if value < highest_since - 1e-3:
                    count, climbing, lowest_since = count + 1, False, value
            else:
                lowest_since = min(lowest_since, value)
                if value > lowest_since + 1e-3:
                    climbing, highest_since = True, value
        return count


class Referee:
    """Skyfield over one window, the same grid for every satellite and site."""

    def __init__(self, start: datetime, hours: float, step_s: float = 2.0) -> None:
        self._start = start.astimezone(UTC)
        self._timescale = load.timescale(builtin=True)
        self.start_utc_s = self._start.timestamp()
        self.end_utc_s = self.start_utc_s + hours * 3600.0
        self._grid_utc_s = np.append(np.arange(self.start_utc_s, self.end_utc_s, step_s), self.end_utc_s)
        self._grid = self._moments(self._grid_utc_s)

    def _moments(self, utc_s: Floats) -> Any:
        """Skyfield's time of POSIX seconds; no leap second lies in the window."""
        day = self._start.replace(hour=0, minute=0, second=0, microsecond=0)
        seconds = utc_s - day.timestamp()
        return self._timescale.utc(day.year, day.month, day.day, 0, 0, seconds)

    def skies(
        self, row: dict[str, str], sites: Sequence[tuple[float, float, float]]
    ) -> Iterator[tuple[int, Sky]]:
        """The satellite of an OMM row from each (latitude, longitude, height in m); none if SGP4 fails."""
        satellite = EarthSatellite.from_omm(self._timescale, row)
        whole = self._grid.whole
        code, _, _ = satellite.model.sgp4_array(whole, self._grid.tai_fraction - 37.0 / 86400.0)
        if satellite.model.error or np.any(code):
            return
        for number, (latitude, longitude, height_m) in enumerate(sites):
            away = satellite - wgs84.latlon(latitude, longitude, height_m)

            def look(moments: Any, away: Any = away) -> tuple[Floats, Floats, Floats]:
                elevation, azimuth, distance = away.at(moments).altaz()
                return azimuth.degrees, elevation.degrees, distance.km

            def exact(utc_s: Floats, look: Any = look) -> tuple[Floats, Floats, Floats]:
                azimuth, elevation, distance = look(self._moments(utc_s))
                return azimuth, elevation, distance

            yield number, Sky(self._grid_utc_s, *look(self._grid), exact)
