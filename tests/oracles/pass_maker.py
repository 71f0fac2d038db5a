"""Synthetic passes: circles and ellipses past a site on a turning ball, with gaps in the mask.

Geometry of its own (no propagation, no search), so that tests of the mount need neither. Directions are
east, north, up; everything is a plain function of a handful of drawn numbers.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from hypothesis import strategies as st

from core.passes.stays import Event
from core.passes.track import Pass
from tests.stays import stay_through

EARTH_KM = 6371.0
MU_KM3_S2 = 398_600.4418
TURN_RAD_S = 7.2921159e-5
T0_UTC_S = 1_730_480_400.0  # 2024-11-01T17:00:00Z


@dataclass(frozen=True)
class Orbit:
    """An ellipse past the site.

    Attributes:
        semi_major_km, eccentricity, anomaly_deg: the ellipse and the true anomaly at T0.
        heading_deg: bearing the satellite moves toward at T0, before the ground's own turning.
        aside_deg: angle at the Earth's centre between site and the point below the satellite at T0,
            positive to the right of the heading.
        latitude_deg: the site's, which sets how the ground turns under it.
        span_s: half the window, cut around T0.
        turning: False for a ground at rest, as textbook figures assume.
    """

    semi_major_km: float
    eccentricity: float
    anomaly_deg: float
    heading_deg: float
    aside_deg: float
    latitude_deg: float
    span_s: float
    turning: bool = True


def low_orbit(
    height_km: float, peak_deg: float, heading_deg: float, side: float, latitude_deg: float
) -> Orbit:
    """A low circle that peaks about here: to the heading's right where ``side`` is 1, to its left at -1."""
    return Orbit(
        semi_major_km=EARTH_KM + height_km,
        eccentricity=0.0,
        anomaly_deg=0.0,
        heading_deg=heading_deg,
        aside_deg=side * aside_of_peak_deg(height_km, peak_deg),
        latitude_deg=latitude_deg,
        span_s=1400.0,
    )


@dataclass(frozen=True)
class Recipe:
    """What a synthetic pass is made of; short to print when a test fails, unlike the pass."""

    orbit: Orbit
    minimum_deg: float = 5.0
    gaps: tuple[tuple[float, float], ...] = ()
    number: int = 1

    @property
    def pass_(self) -> Pass:
        """The pass; strategies draw only recipes that give one."""
        made = make(self)
        assert made is not None
        return made


@lru_cache(maxsize=64)
def make(recipe: Recipe) -> Pass | None:
    """The pass of a recipe, as `build` gives it."""
    return build(
        recipe.orbit,
        minimum_deg=recipe.minimum_deg,
        gaps=recipe.gaps,
        name=f"Test {recipe.number}",
        norad_id=recipe.number,
        start_utc_s=T0_UTC_S + 3600.0 * recipe.number,
    )


def aside_of_peak_deg(height_km: float, peak_deg: float) -> float:
    """Angle at the Earth's centre at which a satellite of this height stands this high."""
    peak = math.radians(peak_deg)
    return math.degrees(math.acos(EARTH_KM * math.cos(peak) / (EARTH_KM + height_km))) - peak_deg


def _kepler(mean: np.ndarray, ecc: float) -> np.ndarray:
    anomaly = mean + ecc * np.sin(mean)
    for _ in range(25 if ecc else 0):
        anomaly = anomaly - (anomaly - ecc * np.sin(anomaly) - mean) / (1.0 - ecc * np.cos(anomaly))
    return anomaly


def state(orbit: Orbit, after_s: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Position (N, 3) km and velocity (N, 3) km/s seen from the turning ground."""
    ecc, a = orbit.eccentricity, orbit.semi_major_km
    start = math.radians(orbit.anomaly_deg)
    e0 = 2.0 * math.atan2(math.sqrt(1 - ecc) * math.sin(start / 2), math.sqrt(1 + ecc) * math.cos(start / 2))
    motion = math.sqrt(MU_KM3_S2 / a**3)
    big = _kepler(e0 - ecc * math.sin(e0) + motion * after_s, ecc)
    minor = a * math.sqrt(1 - ecc**2)
    rate = motion / (1.0 - ecc * np.cos(big))
    plane = np.stack([a * (np.cos(big) - ecc), minor * np.sin(big)], axis=1)
    speed = np.stack([-a * np.sin(big), minor * np.cos(big)], axis=1) * rate[:, None]

    heading, aside = math.radians(orbit.heading_deg), math.radians(orbit.aside_deg)
    right = np.array([math.cos(heading), -math.sin(heading), 0.0])
    ahead = np.array([math.sin(heading), math.cos(heading), 0.0])
    out = np.array([0.0, 0.0, math.cos(aside)]) + math.sin(aside) * right
    # perigee direction and the one a quarter turn on, from where the satellite stands at T0
    p = math.cos(start) * out - math.sin(start) * ahead
    q = math.sin(start) * out + math.cos(start) * ahead
    fixed, velocity = plane @ np.stack([p, q]), speed @ np.stack([p, q])

    latitude = math.radians(orbit.latitude_deg)
    pole = np.array([0.0, math.cos(latitude), math.sin(latitude)])
    turn = TURN_RAD_S if orbit.turning else 0.0
    turned = _turn_back(fixed, pole, turn * after_s)
    moved = _turn_back(velocity, pole, turn * after_s) - np.cross(turn * pole, turned)
    return turned - np.array([0.0, 0.0, EARTH_KM]), moved


def _turn_back(vectors: np.ndarray, axis: np.ndarray, angle: np.ndarray) -> np.ndarray:
    along = (vectors @ axis)[:, None] * axis
    across = vectors - along
    return along + across * np.cos(angle)[:, None] - np.cross(axis, across) * np.sin(angle)[:, None]


class _Knots(NamedTuple):
    """Moments (N,), positions and velocities (N, 3) that a path of cubics goes through."""

    utc_s: np.ndarray
    position_km: np.ndarray
    velocity_km_s: np.ndarray


def _hermite(knots: _Knots, utc_s: np.ndarray) -> np.ndarray:
    """Positions on the cubics."""
    left = np.clip(np.searchsorted(knots.utc_s, utc_s, side="right") - 1, 0, len(knots.utc_s) - 2)
    h = (knots.utc_s[left + 1] - knots.utc_s[left])[:, None]
    s = (utc_s - knots.utc_s[left])[:, None] / h
    p0, p1 = knots.position_km[left], knots.position_km[left + 1]
    v0, v1 = knots.velocity_km_s[left] * h, knots.velocity_km_s[left + 1] * h
    return (
        p0 * (1 - 3 * s**2 + 2 * s**3)
        + v0 * (s - 2 * s**2 + s**3)
        + p1 * (3 * s**2 - 2 * s**3)
        + v1 * (s**3 - s**2)
    )


def _look(position: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    range_km = np.linalg.norm(position, axis=-1)
    azimuth = np.degrees(np.arctan2(position[..., 0], position[..., 1])) % 360.0
    return (
        np.where(azimuth >= 360.0, 0.0, azimuth),
        np.degrees(np.arcsin(position[..., 2] / range_km)),
        range_km,
    )


def _root(f: Callable[[np.ndarray], np.ndarray], low: float, high: float) -> float:
    """Where f changes sign, by five rounds of looking at 100 points."""
    for _ in range(5):
        points = np.linspace(low, high, 101)
        over = f(points) > 0.0
        index = int(np.argmax(over != over[0]))
        low, high = float(points[index - 1]), float(points[index])
    return (low + high) / 2.0


def build(
    orbit: Orbit,
    minimum_deg: float = 5.0,
    gaps: tuple[tuple[float, float], ...] = (),
    name: str = "Test 1",
    norad_id: int = 1,
    start_utc_s: float = T0_UTC_S,
) -> Pass | None:
    """The pass around T0; None where the satellite is not over the minimum elevation then.

    Args:
        orbit: the path.
        minimum_deg: minimum elevation.
        gaps: hidden parts as (start, end) fractions of AOS to LOS, inside (0, 1), rising, apart.
        name, norad_id: labels.
        start_utc_s: POSIX seconds of T0.
    """
    fast = orbit.span_s < 1500.0
    grid = np.linspace(-orbit.span_s, orbit.span_s, 2 * int(orbit.span_s / (10.0 if fast else 30.0)) + 1)

    def height(after: np.ndarray) -> np.ndarray:
        return _look(state(orbit, after)[0])[1]

    elevation, middle = height(grid), len(grid) // 2
    if elevation[middle] < minimum_deg + 0.2:
        return None
    low = _edge(grid, elevation, middle, -1, height)
    high = _edge(grid, elevation, middle, 1, height)
    knots = np.linspace(low[0], high[0], max(int((high[0] - low[0]) / (10.0 if fast else 30.0)), 8) + 1)
    position, velocity = state(orbit, knots)
    through = _Knots(knots + start_utc_s, position, velocity)
    return _cut(through, (low[1], high[1]), minimum_deg, gaps, (name, norad_id))


def from_angles(
    azimuth_deg: np.ndarray,
    elevation_deg: np.ndarray,
    utc_s: np.ndarray,
    label: tuple[str, int] = ("Test 1", 1),
) -> Pass:
    """A pass through given azimuths and elevations (N,), 1000 km away, over the mask throughout."""
    azimuth, elevation = np.radians(azimuth_deg), np.radians(elevation_deg)
    flat = np.stack([np.sin(azimuth) * np.cos(elevation), np.cos(azimuth) * np.cos(elevation)], axis=-1)
    position = 1000.0 * np.concatenate([flat, np.sin(elevation)[:, None]], axis=-1)
    velocity = np.gradient(position, utc_s, axis=0)
    events = [
        Event(float(utc_s[i]), float(azimuth_deg[i] % 360.0), float(elevation_deg[i]), 1000.0)
        for i in (0, int(elevation_deg.argmax()), -1)
    ]
    stay = stay_through(*label, utc_s, (position, velocity), (events[1], events[1]))
    return Pass(stay, events[0], events[2], ((float(utc_s[0]), float(utc_s[-1])),), None)


def _edge(
    grid: np.ndarray, elevation: np.ndarray, middle: int, way: int, height: Callable[[np.ndarray], np.ndarray]
) -> tuple[float, bool]:
    """Where the satellite meets the horizon, going outward from T0; (time, whether the window cut it)."""
    index = middle
    while 0 <= index + way < len(grid):
        if elevation[index + way] < 0.0:
            return _root(height, float(grid[index]), float(grid[index + way])), False
        index += way
    return float(grid[index]), True


def _cut(
    knots: _Knots,
    cut_ends: tuple[bool, bool],
    minimum_deg: float,
    gaps: tuple[tuple[float, float], ...],
    label: tuple[str, int],
) -> Pass | None:
    utc = knots.utc_s

    def at(moment: float) -> Event:
        azimuth, elevation, range_km = _look(_hermite(knots, np.array([moment])))
        return Event(moment, float(azimuth[0]), float(elevation[0]), float(range_km[0]))

    def heights_at(moments: np.ndarray) -> np.ndarray:
        return _look(_hermite(knots, moments))[1]

    dense = np.linspace(utc[0], utc[-1], 4001)
    _, heights, ranges = _look(_hermite(knots, dense))
    over = heights > minimum_deg
    if not over.any():
        return None
    turns = [
        _root(lambda moments: heights_at(moments) - minimum_deg, float(dense[i]), float(dense[i + 1]))
        for i in np.flatnonzero(over[1:] != over[:-1])
    ]
    edges = ([float(utc[0])] if over[0] else []) + turns + ([float(utc[-1])] if over[-1] else [])
    parts = list(zip(edges[::2], edges[1::2], strict=True))
    aos, los = parts[0][0], parts[-1][1]
    hidden = [(aos + a * (los - aos), aos + b * (los - aos)) for a, b in gaps]
    parts = [part for part in _without(parts, hidden) if part[1] - part[0] > 1.0]
    if not parts:
        return None
    aos, los = parts[0][0], parts[-1][1]
    starts, ends = cut_ends[0] and aos == utc[0], cut_ends[1] and los == utc[-1]
    peak, tca = at(float(dense[heights.argmax()])), at(float(dense[ranges.argmin()]))
    states = knots.position_km, knots.velocity_km_s
    stay = stay_through(*label, utc, states, (peak, tca), _cut_word(*cut_ends))
    return Pass(stay, at(aos), at(los), tuple(parts), _cut_word(starts, ends))


def _cut_word(start: bool, end: bool) -> str | None:
    return {(True, True): "both", (True, False): "start", (False, True): "end"}.get((start, end))


def _without(
    parts: list[tuple[float, float]], hidden: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    for start, end in hidden:
        kept = []
        for low, high in parts:
            kept += [(low, min(high, start)), (max(low, end), high)]
        parts = [(low, high) for low, high in kept if high > low]
    return parts


# --- strategies -------------------------------------------------------------------------------------

_angles = st.floats(0.0, 359.99, allow_nan=False)


@st.composite
def gap_lists(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    """No gap, one or two, as fractions of the pass."""
    number = draw(st.sampled_from([0, 0, 1, 2]))
    ends = sorted(draw(st.lists(st.floats(0.05, 0.95), min_size=2 * number, max_size=2 * number)))
    return tuple((a, b) for a, b in zip(ends[::2], ends[1::2], strict=True) if b - a > 0.01)


@st.composite
def fast_orbits(draw: st.DrawFn) -> Orbit:
    """Low circular orbits in any sense, a third of them passing near the zenith."""
    height = draw(st.floats(300.0, 2000.0))
    peak = draw(st.one_of(st.floats(8.0, 89.9), st.floats(20.0, 75.0), st.floats(84.0, 89.9)))
    side = draw(st.sampled_from([-1.0, 1.0]))
    return low_orbit(height, peak, draw(_angles), side, draw(st.floats(-70.0, 70.0)))


@st.composite
def slow_orbits(draw: st.DrawFn) -> Orbit:
    """Nearly at rest over the ground, a few hours cut out of a stay that never ends."""
    lean = draw(st.floats(-8.0, 8.0))
    return Orbit(
        semi_major_km=42_164.0 + draw(st.floats(-300.0, 300.0)),
        eccentricity=draw(st.floats(0.0, 0.01)),
        anomaly_deg=draw(_angles),
        heading_deg=90.0 + lean,
        aside_deg=draw(st.floats(25.0, 65.0)),
        latitude_deg=draw(st.floats(25.0, 65.0)),
        span_s=draw(st.floats(1800.0, 5400.0)),
    )


@st.composite
def loop_orbits(draw: st.DrawFn) -> Orbit:
    """Long ellipses around apogee, where the ground overtakes the satellite and the azimuth turns back."""
    return Orbit(
        semi_major_km=draw(st.floats(18_000.0, 30_000.0)),
        eccentricity=draw(st.floats(0.4, 0.7)),
        anomaly_deg=180.0 + draw(st.floats(-40.0, 40.0)),
        heading_deg=draw(_angles),
        aside_deg=draw(st.floats(-60.0, 60.0)),
        latitude_deg=draw(st.floats(-65.0, 65.0)),
        span_s=draw(st.floats(3600.0, 9000.0)),
    )


@st.composite
def recipes(
    draw: st.DrawFn,
    kinds: tuple[str, ...] = ("fast", "fast", "fast", "loop", "slow"),
    number: int = 1,
) -> Recipe:
    """One synthetic pass; ``number`` names it and puts it that many hours into the evening."""
    orbits = {"fast": fast_orbits(), "slow": slow_orbits(), "loop": loop_orbits()}
    orbit = draw(orbits[draw(st.sampled_from(kinds))])
    recipe = Recipe(orbit, draw(st.floats(0.0, 10.0)), draw(gap_lists()), number)
    return recipe if make(recipe) is not None else draw(st.nothing())


@st.composite
def evenings(draw: st.DrawFn, least: int = 1, most: int = 4) -> tuple[Recipe, ...]:
    """A few fast passes, an hour apart, each under a catalogue number of its own."""
    count = draw(st.integers(least, most))
    return tuple(draw(recipes(kinds=("fast",), number=number)) for number in range(1, count + 1))


@st.composite
def mount_numbers(draw: st.DrawFn) -> dict[str, Any]:
    """The numbers of a mount, in the plain form the oracle reads."""
    offset = st.floats(-180.0, 180.0)
    keyway = draw(_angles)
    lean_deg = draw(st.sampled_from([0.0, 0.0, 1.0]))
    return {
        "keyway": keyway,
        "hole": "A",
        "iota": draw(offset),
        "sigma": draw(offset),
        "beta": draw(st.floats(-30.0, 30.0)),
        "correction": draw(corrections(keyway)),
        "tau": lean_deg * draw(st.floats(0.1, 5.0)),
        "phi": draw(_angles),
        "travel": draw(st.one_of(st.floats(300.0, 720.0), st.sampled_from([360.0, 450.0, 540.0]))),
        "guard": draw(st.one_of(st.floats(0.0, 15.0), st.sampled_from([0.0, 3.0, 5.0]))),
        "e_min": draw(st.sampled_from([0.0, 0.0, 5.0, 12.0, -5.0])),
        "e_max": draw(st.one_of(st.floats(60.0, 180.0), st.sampled_from([90.0, 180.0, 180.0]))),
        "beam": draw(st.floats(5.0, 60.0)),
    }


@st.composite
def corrections(draw: st.DrawFn, keyway: float) -> dict[str, Any] | None:
    """None, one in force, one bound to a posture, or one that another keyway or hole has made void."""
    kind = draw(st.sampled_from(["none", "here", "here", "other keyway", "other hole"]))
    if kind == "none":
        return None
    return {
        "deg": draw(st.floats(-20.0, 20.0)),
        "keyway": (keyway + draw(st.floats(0.5, 359.5))) % 360.0 if kind == "other keyway" else keyway,
        "hole": "B" if kind == "other hole" else "A",
        "posture": draw(st.sampled_from([None, None, "upright", "over the top"])),
    }
