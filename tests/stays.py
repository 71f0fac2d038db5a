"""Made-up stays for tests: a satellite on a straight great-circle sweep past the station."""

from __future__ import annotations

import numpy as np

from core.passes.stays import Event, Stay


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
    return Stay(f"MADE-{norad_id}", norad_id, utc_s, position, velocity, None, middle, middle)
