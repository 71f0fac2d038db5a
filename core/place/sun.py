"""The Sun from the site, and how dark the sky is: for the ground behind the evening's hills.

The Sun's place is the almanac's low-precision one, stated good to 0.01 deg from 1950 to 2050; against the
DE421 ephemeris it was at most 0.012 deg off in 1973 to 2035. That is a few seconds of a sunset in middle
latitudes, far less than what the horizon's shape leaves open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.base.angles import Floats, wrap_360
from core.base.units import DAY_S, J2000_JD, UNIX_EPOCH_JD
from core.place.site import Site

Sky = Literal["day", "civil twilight", "nautical twilight", "astronomical twilight", "dark"]

#: From the darkest up: index of `_LIMITS_DEG` that the Sun stands above.
_SKIES: tuple[Sky, ...] = ("dark", "astronomical twilight", "nautical twilight", "civil twilight", "day")
#: Elevations of the Sun's centre between the skies. Sunset is the upper limb on the horizon, refracted:
#: 34' of refraction and 16' of half width (the almanacs' convention).
SUNSET_DEG = -50.0 / 60.0
_LIMITS_DEG = np.array([-18.0, -12.0, -6.0, SUNSET_DEG])
#: Between two samples the Sun's elevation is as good as straight.
_STEP_S = 120.0


@dataclass(frozen=True)
class SkySpan:
    """A stretch of time under one kind of sky, POSIX seconds."""

    start_utc_s: float
    end_utc_s: float
    sky: Sky


def sun_direction_deg(latitude_deg: float, longitude_deg: float, utc_s: Floats) -> tuple[Floats, Floats]:
    """True azimuth, 0 to 360, and elevation of the Sun's centre, degrees, without refraction.

    Source: Astronomical Almanac, section C, "Low precision formulas for the Sun"; UT is taken for UTC and
    parallax (0.002 deg) left out.

    Args:
        latitude_deg, longitude_deg: north and east positive.
        utc_s: (N,) POSIX seconds.
    """
    days = np.asarray(utc_s, dtype=float) / DAY_S + (UNIX_EPOCH_JD - J2000_JD)
    mean_longitude = 280.460 + 0.9856474 * days
    anomaly = np.radians(357.528 + 0.9856003 * days)
    ecliptic = np.radians(mean_longitude + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2.0 * anomaly))
    obliquity = np.radians(23.439 - 4e-7 * days)
    ascension = np.arctan2(np.cos(obliquity) * np.sin(ecliptic), np.cos(ecliptic))
    declination = np.arcsin(np.sin(obliquity) * np.sin(ecliptic))
    sidereal = np.radians(np.mod(280.46061837 + 360.98564736629 * days, 360.0) + longitude_deg)
    hour_angle = sidereal - ascension
    latitude = np.radians(latitude_deg)
    up = np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(declination) * np.cos(hour_angle)
    east = -np.cos(declination) * np.sin(hour_angle)
    north = np.cos(latitude) * np.sin(declination) - np.sin(latitude) * np.cos(declination) * np.cos(
        hour_angle
    )
    azimuth = wrap_360(np.asarray(np.degrees(np.arctan2(east, north))))
    return azimuth, np.asarray(np.degrees(np.arctan2(up, np.hypot(east, north))))


def sky_spans(site: Site, start_utc_s: float, end_utc_s: float) -> tuple[SkySpan, ...]:
    """Day, the three twilights and dark between two moments, without gaps, in order.

    Civil, nautical and astronomical twilight end with the Sun's centre 6, 12 and 18 deg below the horizon.
    Grazings shorter than two minutes may be missed.
    """
    count = max(int(np.ceil((end_utc_s - start_utc_s) / _STEP_S)), 1) + 1
    utc_s = np.linspace(start_utc_s, end_utc_s, count)
    _azimuth, elevation = sun_direction_deg(site.latitude_deg, site.longitude_deg, utc_s)
    level = np.digitize(elevation, _LIMITS_DEG)
    spans: list[SkySpan] = []
    begun = start_utc_s
    for index in np.flatnonzero(np.diff(level)):
        limit = _LIMITS_DEG[max(level[index], level[index + 1]) - 1]
        share = (limit - elevation[index]) / (elevation[index + 1] - elevation[index])
        moment = float(utc_s[index] + share * (utc_s[index + 1] - utc_s[index]))
        spans.append(SkySpan(begun, moment, _SKIES[int(level[index])]))
        begun = moment
    spans.append(SkySpan(begun, end_utc_s, _SKIES[int(level[-1])]))
    return tuple(spans)
