"""The size and shape of an orbit, for showing: from the mean elements alone, no propagation."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.units import GM_WGS72_KM3_S2
from core.elements.model import ElementSet

#: WGS-72, which SGP4's elements belong to (AIAA 2006-6753, section "Constants"): equatorial radius in km,
#: second zonal harmonic.
_RADIUS_KM = 6378.135
_J2 = 0.001082616
_DAY_MIN = 1440.0


@dataclass(frozen=True)
class Orbit:
    """What an operator asks of an orbit.

    Attributes:
        perigee_km, apogee_km: heights over the equator's radius (6378.135 km), of the mean orbit.
        inclination_deg: 0 to 180.
        period_min: minutes between two passages of perigee, 1440 / mean motion.
    """

    perigee_km: float
    apogee_km: float
    inclination_deg: float
    period_min: float


def orbit_of(elements: ElementSet) -> Orbit:
    """Heights, inclination and period of a set's mean orbit.

    The mean motion of an element set is Kozai's; SGP4 first recovers Brouwer's, from which the semi-major
    axis follows by Kepler's third law: F. R. Hoots, R. L. Roehrich, Spacetrack Report No. 3 (1980),
    section 6, with WGS-72's constants. Low orbits swing by some 10 km about these heights.
    Elements that describe no orbit give heights that are no numbers.
    """
    semi_major_km = _semi_major_km(elements)
    return Orbit(
        perigee_km=semi_major_km * (1.0 - elements.eccentricity) - _RADIUS_KM,
        apogee_km=semi_major_km * (1.0 + elements.eccentricity) - _RADIUS_KM,
        inclination_deg=elements.inclination_deg,
        period_min=_DAY_MIN / elements.mean_motion_rev_day,
    )


def _semi_major_km(elements: ElementSet) -> float:
    motion_rad_min = elements.mean_motion_rev_day * 2.0 * math.pi / _DAY_MIN
    ke = 60.0 * math.sqrt(GM_WGS72_KM3_S2 / _RADIUS_KM**3)
    tilt = 3.0 * math.cos(math.radians(elements.inclination_deg)) ** 2 - 1.0
    bulge = 0.75 * _J2 * tilt / (1.0 - elements.eccentricity**2) ** 1.5
    first = (ke / motion_rad_min) ** (2.0 / 3.0)
    delta = bulge / first**2
    second = first * (1.0 - delta * (1.0 / 3.0 + delta * (1.0 + delta * 134.0 / 81.0)))
    if second == 0.0 or (slowed := 1.0 + bulge / second**2) <= 0.0:
        return math.nan
    return float((ke / (motion_rad_min / slowed)) ** (2.0 / 3.0)) * _RADIUS_KM
