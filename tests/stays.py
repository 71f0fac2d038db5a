"""Made-up stays for tests: paths through given states, and a satellite on a straight great-circle sweep."""

from __future__ import annotations

import numpy as np

from core.passes.paths import Paths
from core.passes.stays import Cut, Event, Stay

#: Takes the ordinates of a cubic's Bezier curve to Chebyshev coefficients.
_BEZIER = np.array([[10, 6, 6, 10], [-15, -3, 3, 15], [6, -6, -6, 6], [-1, 3, -3, 1]]) / 32.0


def path_through(utc_s: np.ndarray, position_km: np.ndarray, velocity_km_s: np.ndarray) -> Paths:
    """Cubics from knot to knot through positions and velocities (N, 3) at times (N,)."""
    width = np.diff(utc_s)[:, None]
    low, high = position_km[:-1], position_km[1:]
    ordinates = np.stack(
        [low, low + width * velocity_km_s[:-1] / 3.0, high - width * velocity_km_s[1:] / 3.0, high], axis=1
    )
    half_s = np.diff(utc_s) / 2.0
    owner = np.zeros(half_s.size, dtype=np.intp)
    return Paths(owner, utc_s[:-1] + half_s, half_s, (_BEZIER @ ordinates).swapaxes(1, 2))


def stay_through(
    satellite: str,
    norad_id: int,
    utc_s: np.ndarray,
    states: tuple[np.ndarray, np.ndarray],
    events: tuple[Event, Event],
    cut: Cut | None = None,
) -> Stay:
    """A stay from the first to the last of some times (N,), along cubics through the states there.

    Args:
        satellite, norad_id: labels.
        utc_s: (N,) rising.
        states: positions and velocities (N, 3).
        events: peak and TCA.
        cut: which ends are cut.
    """
    start, end = float(utc_s[0]), float(utc_s[-1])
    return Stay(satellite, norad_id, start, end, path_through(utc_s, *states), cut, *events)


def arc_stay(
    norad_id: int, start_s: float, azimuth_deg: float, seconds: float = 600.0, peak_deg: float = 50.0
) -> Stay:
    """A satellite 1000 km off on a great circle from the horizon at one bearing to the opposite one.

    Args:
        norad_id: any number.
        start_s: when it rises, POSIX seconds.
        azimuth_deg: where it rises; it passes north of overhead for a rise in the east.
        seconds: how long it is up.
        peak_deg: its highest elevation.
    """
    utc_s = start_s + np.linspace(0.0, seconds, 121)
    angle = np.pi * (utc_s - start_s) / seconds
    rise = np.radians(azimuth_deg)
    along = np.array([np.sin(rise), np.cos(rise), 0.0])
    side = np.array([-np.cos(rise), np.sin(rise), 0.0])
    peak = np.radians(peak_deg)
    top = np.cos(peak) * side + np.sin(peak) * np.array([0.0, 0.0, 1.0])
    position = 1000.0 * (np.cos(angle)[:, None] * along + np.sin(angle)[:, None] * top)
    rate = np.pi / seconds
    velocity = 1000.0 * rate * (-np.sin(angle)[:, None] * along + np.cos(angle)[:, None] * top)
    middle = Event(
        start_s + seconds / 2.0, float(np.degrees(np.arctan2(top[0], top[1])) % 360.0), peak_deg, 1000.0
    )
    return stay_through(f"MADE-{norad_id}", norad_id, utc_s, (position, velocity), (middle, middle))
