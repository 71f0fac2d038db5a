"""Sun, Moon and Polaris as the operator sees them: apparent places by Skyfield, refracted.

Places of Sun and Moon come from the ephemeris DE421 (JPL, 1899 to 2053) in its data package; that of Polaris
is HIP 11767 of the new reduction of the Hipparcos data (van Leeuwen, 2007; J2000), carried on by its proper
motion. UT1 is of Skyfield's built-in tables. Azimuth knows no refraction; elevation is told with and without:
sighting by eye sees it raised by the air, a beam of many degrees does not care. Refraction is Bennett's
formula (Journal of Navigation 35, 1982, 255-259) as Skyfield inverts it, for 10 deg C and the pressure of the
site's height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from core.base.angles import Floats
from core.base.times import to_datetime
from core.passes.frames import builtin_timescale
from core.place.ephemeris import ephemeris
from core.place.site import Site

Body = Literal["Sun", "Moon", "Polaris"]
BODIES: tuple[Body, Body, Body] = ("Sun", "Moon", "Polaris")

_TEMPERATURE_C = 10.0
#: Pressure at sea level and the height in which it falls by a factor e (a standard atmosphere's).
_SEA_LEVEL_MBAR, _SCALE_HEIGHT_M = 1010.0, 8435.0
_POLARIS = {
    "ra_hours": 37.95456067 / 15.0,
    "dec_degrees": 89.26410897,
    "ra_mas_per_year": 44.48,
    "dec_mas_per_year": -11.85,
    "parallax_mas": 7.54,
}


@dataclass(frozen=True, eq=False)
class Directions:
    """Where something stands, true and from the site, each (N,).

    Attributes:
        utc_s: POSIX seconds.
        azimuth_deg: true, 0 to 360.
        elevation_deg: of its centre, without refraction.
        apparent_deg: of its centre, as the eye sees it; as without refraction below -1 deg.
        half_width_deg: half its apparent width; 0 for a star.
    """

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    apparent_deg: Floats
    half_width_deg: Floats


_RADIUS_KM = {"Sun": 695_700.0, "Moon": 1737.4, "Polaris": 0.0}


def directions(site: Site, bodies: Sequence[Body], utc_s: Floats) -> tuple[Directions, ...]:
    """Apparent topocentric places of some bodies, in their order, at the same moments (N,).

    How the Earth stands at the moments takes most of the time, and is worked out once for all bodies.
    """
    from skyfield.api import wgs84

    here = wgs84.latlon(  # type: ignore[no-untyped-call]
        site.latitude_deg, site.longitude_deg, site.height_m
    )
    place = ephemeris()["earth"] + here
    from_here = place.at(_moments(utc_s))
    return tuple(_seen(from_here, body, np.asarray(utc_s, dtype=float), site.height_m) for body in bodies)


def _seen(from_here: Any, body: Body, utc_s: Floats, height_m: float) -> Directions:
    seen = from_here.observe(_target(body)).apparent()
    elevation, azimuth, distance = seen.altaz()
    raised, _, _ = seen.altaz(temperature_C=_TEMPERATURE_C, pressure_mbar=pressure_mbar(height_m))
    half = np.degrees(np.arcsin(np.minimum(_RADIUS_KM[body] / distance.km, 1.0)))
    return Directions(
        utc_s,
        np.asarray(azimuth.degrees),
        np.asarray(elevation.degrees),
        np.asarray(raised.degrees),
        np.asarray(half),
    )


def pressure_mbar(height_m: float) -> float:
    """What the air weighs at a height, for refraction."""
    return float(_SEA_LEVEL_MBAR * np.exp(-height_m / _SCALE_HEIGHT_M))


def _target(body: Body) -> Any:
    if body != "Polaris":
        return ephemeris()[body.lower()]
    from skyfield.api import Star

    return Star(**_POLARIS)  # type: ignore[no-untyped-call]


def _moments(utc_s: Floats) -> Any:
    return builtin_timescale().from_datetimes([to_datetime(moment) for moment in np.ravel(utc_s).tolist()])
