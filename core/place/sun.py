"""The Sun from the site, and how dark the sky is: for the ground behind the evening's hills.

The Sun's place is the almanac's low-precision one, stated good to 0.01 deg from 1950 to 2050; against the
DE421 ephemeris it was at most 0.012 deg off in 1973 to 2035. That is a few seconds of a sunset in middle
latitudes, far less than what the horizon's shape leaves open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.base.angles import Floats, unwrap_deg, wrap_360
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
#: The drawn path: time between its points, and how far below the horizon it is followed.
_PATH_STEP_S = 300.0
_PATH_LOWEST_DEG = -9.0
#: A whole hour this soon after the start is not marked: the start is.
_MARKS_APART_S = 900.0


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


@dataclass(frozen=True, eq=False)
class SunPath:
    """The Sun over a site, without refraction.

    Attributes:
        azimuth_deg: (N,) true, unwrapped: continuous across north.
        elevation_deg: (N,) of its centre.
        marks: (POSIX seconds, azimuth 0 to 360, elevation) at the start and whole hours UTC, while it is up.
    """

    azimuth_deg: Floats
    elevation_deg: Floats
    marks: tuple[tuple[float, float, float], ...]


def sun_path(site: Site, start_utc_s: float, end_utc_s: float) -> SunPath | None:
    """The Sun's path between two moments, a day at most; None where it stays more than 9 deg down.

    Only the ends are cut off there: a path that dips deeper and comes up again is given as a whole.
    """
    end_utc_s = min(end_utc_s, start_utc_s + DAY_S)
    azimuth, elevation = _direction(site, np.arange(start_utc_s, end_utc_s, _PATH_STEP_S))
    shown = np.flatnonzero(elevation > _PATH_LOWEST_DEG)
    if not shown.size:
        return None
    hours = np.arange(np.ceil(start_utc_s / 3600.0) * 3600.0, end_utc_s, 3600.0)
    moments = np.concatenate([[start_utc_s], hours[hours > start_utc_s + _MARKS_APART_S]])
    marks = zip(moments.tolist(), *(angles.tolist() for angles in _direction(site, moments)), strict=True)
    here = slice(int(shown[0]), int(shown[-1]) + 1)
    return SunPath(unwrap_deg(azimuth)[here], elevation[here], tuple(mark for mark in marks if mark[2] > 0.0))


def _direction(site: Site, utc_s: Floats) -> tuple[Floats, Floats]:
    return sun_direction_deg(site.latitude_deg, site.longitude_deg, utc_s)


def sky_spans(site: Site, start_utc_s: float, end_utc_s: float) -> tuple[SkySpan, ...]:
    """Day, the three twilights and dark between two moments, without gaps, in order.

    Civil, nautical and astronomical twilight end with the Sun's centre 6, 12 and 18 deg below the horizon.
    Grazings shorter than two minutes may be missed.
    """
    count = max(int(np.ceil((end_utc_s - start_utc_s) / _STEP_S)), 1) + 1
    utc_s = np.linspace(start_utc_s, end_utc_s, count)
    _azimuth, elevation = _direction(site, utc_s)
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
