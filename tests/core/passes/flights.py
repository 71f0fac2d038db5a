"""Invented flights whose path is known in closed form, stays cut out of them, and masks."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from hypothesis import strategies as st

from core.base.times import parse_iso
from core.passes.frames import azimuth_elevation, slant_range
from core.passes.stays import Cut, Event, Stay
from core.place.site import HorizonPoint
from tests.stays import stay_through

START = parse_iso("2024-11-01T16:00:00Z")


EARTH_KM = 6371.0


Path = Callable[[np.ndarray], tuple[np.ndarray, np.ndarray]]


def flight(height_km: float, bearing_deg: float, miss_deg: float, mu: float = 398600.4) -> tuple[Path, float]:
    """A circular flight over a round Earth that stands still: its path, and half its time over the horizon.

    It passes ``miss_deg`` (as seen from the Earth's centre) beside the station, heading for ``bearing_deg``.
    """
    radius = EARTH_KM + height_km
    rate = np.sqrt(mu / radius**3)
    heading = np.array([np.sin(np.radians(bearing_deg)), np.cos(np.radians(bearing_deg)), 0.0])
    side = np.array([heading[1], -heading[0], 0.0])
    miss = np.radians(miss_deg)
    overhead = np.cos(miss) * np.array([0.0, 0.0, 1.0]) + np.sin(miss) * side

    def path(utc_s: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        angle = rate * (np.asarray(utc_s) - START)[..., None]
        position = radius * (np.cos(angle) * overhead + np.sin(angle) * heading)
        velocity = radius * rate * (np.cos(angle) * heading - np.sin(angle) * overhead)
        return position - np.array([0.0, 0.0, EARTH_KM]), velocity

    return path, float(np.arccos(EARTH_KM / radius / np.cos(miss)) / rate)


def stay_of(path: Path, start: float, end: float, cut: Cut | None = None, knots: int = 60) -> Stay:
    utc_s = np.linspace(start, end, knots)
    fine = np.linspace(start, end, 20001)
    position, _ = path(fine)
    azimuth, elevation = azimuth_elevation(position)
    away = slant_range(position)

    def event(i: int) -> Event:
        return Event(float(fine[i]), float(azimuth[i]), float(elevation[i]), float(away[i]))

    events = event(int(elevation.argmax())), event(int(away.argmin()))
    return stay_through("INVENTED", 90001, utc_s, path(utc_s), events, cut)


@st.composite
def flights(draw: st.DrawFn) -> tuple[Path, Stay]:
    height_km = draw(st.floats(300.0, 3000.0))
    reach = np.degrees(np.arccos(EARTH_KM / (EARTH_KM + height_km)))
    miss = draw(st.one_of(st.floats(0.0, 0.95), st.floats(0.0, 0.02))) * reach
    path, half = flight(height_km, draw(st.floats(0.0, 360.0)), miss)
    return path, stay_of(path, START - half, START + half)


def points(*pairs: tuple[float, float]) -> tuple[HorizonPoint, ...]:
    return tuple(HorizonPoint(azimuth_deg=azimuth, elevation_deg=elevation) for azimuth, elevation in pairs)


masks = st.lists(
    st.tuples(st.floats(0.0, 359.99), st.floats(-5.0, 60.0)),
    min_size=1,
    max_size=25,
    unique_by=lambda point: round(point[0], 1),
).map(lambda pairs: points(*pairs))
