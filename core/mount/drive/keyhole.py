"""The keyhole: how high a pass may peak before azimuth turns faster than the mount.

Near the zenith a satellite changes its bearing by half a turn within moments, however slowly it moves on the
sky. The cone about the mount's axis in which no azimuth rate suffices is the keyhole.
"""

from __future__ import annotations

import numpy as np

from core.mount.model.station import Mount
from core.passes.stays import stay_at
from core.passes.track import Pass

#: Mean radius of the Earth, km (IUGG, R1).
_EARTH_KM = 6371.0088


def keyhole_deg(rate_deg_s: float, height_km: float, speed_km_s: float) -> float:
    """Highest peak elevation that an azimuth rate can follow: E_key = atan(w h / v), 0 to 90.

    The flat form of A' = v / (R cos E) at culmination, v at right angles to the line of sight; for circular
    orbits of 400 km and more and rates of 2 deg/s and more within a quarter of a degree of the round one.

    Args:
        rate_deg_s: w, of the azimuth axis.
        height_km: h, of the satellite.
        speed_km_s: v, of the satellite, relative to the turning ground.
    """
    return float(np.degrees(np.arctan(np.radians(rate_deg_s) * height_km / speed_km_s)))


def rate_in_sense(mount: Mount, clockwise: bool) -> float:
    """Azimuth's rate in that sense, degrees a second."""
    forward, back = mount.azimuth.rates_deg_s
    return forward if clockwise else back


def keyhole_of(pass_: Pass, mount: Mount) -> float:
    """The keyhole of a pass' orbit for a mount, with height, speed and sense of turning at the peak."""
    position, velocity = stay_at(pass_.stay, np.array([pass_.peak.utc_s]))
    up_km = float(position[0, 2]) + _EARTH_KM
    height_km = float(np.hypot(np.hypot(position[0, 0], position[0, 1]), up_km)) - _EARTH_KM
    clockwise = position[0, 1] * velocity[0, 0] >= position[0, 0] * velocity[0, 1]
    rate = rate_in_sense(mount, bool(clockwise))
    return keyhole_deg(rate, height_km, float(np.linalg.norm(velocity[0])))
