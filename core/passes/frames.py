"""From a propagated state to where the satellite stands in the sky: frames, azimuth, elevation, range.

The only place that knows UT1 and reference frames. States come in TEME (the frame of SGP4), leave as
topocentric east, north, up, seen from the turning ground. Polar motion is taken as zero: it moves a
satellite by less than 15 m.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from typing import Any

import numpy as np

from core.base.angles import Floats, wrap_360
from core.base.ragged import distinct
from core.base.times import to_datetime
from core.base.units import DAY_S, J2000_JD, UNIX_EPOCH_JD
from core.place.site import Site

#: WGS-84 ellipsoid (NGA.STND.0036, table 3.1): semi-major axis in km, flattening.
WGS84_A_KM = 6378.137
WGS84_F = 1.0 / 298.257223563

_CENTURY_DAYS = 36_525.0
#: Two nodes this close (s) on either side of midnight carry a leap second as a step.
_STEP_S = 1e-3
#: Below this distance (km) from the vertical through the station azimuth has no meaning, nor has its rate.
_ON_THE_AXIS_KM = 1e-9
_ONES = np.ones(3)


@dataclass(frozen=True)
class Observer:
    """A station on the WGS-84 ellipsoid; equal places are equal observers.

    Attributes:
        latitude_deg: geodetic, north positive, -90 to 90.
        longitude_deg: east positive, -180 to 180.
        height_m: above the ellipsoid.
    """

    latitude_deg: float
    longitude_deg: float
    height_m: float = 0.0

    @classmethod
    def of_site(cls, site: Site) -> Observer:
        """The observer at a site's place; its mask and name do not matter here."""
        return cls(site.latitude_deg, site.longitude_deg, site.height_m)

    @cached_property
    def position_km(self) -> Floats:
        """Earth-fixed position (3,) km (NGA.STND.0036, section 4.1)."""
        latitude, longitude = np.radians(self.latitude_deg), np.radians(self.longitude_deg)
        e2 = WGS84_F * (2.0 - WGS84_F)
        normal_km = WGS84_A_KM / np.sqrt(1.0 - e2 * np.sin(latitude) ** 2)
        height_km = self.height_m / 1000.0
        across_km = (normal_km + height_km) * np.cos(latitude)
        return np.array(
            [
                across_km * np.cos(longitude),
                across_km * np.sin(longitude),
                (normal_km * (1.0 - e2) + height_km) * np.sin(latitude),
            ]
        )

    @cached_property
    def to_enu(self) -> Floats:
        """Rotation (3, 3) from Earth-fixed axes to east, north, up of the geodetic vertical."""
        latitude, longitude = np.radians(self.latitude_deg), np.radians(self.longitude_deg)
        sin_lat, cos_lat = np.sin(latitude), np.cos(latitude)
        sin_lon, cos_lon = np.sin(longitude), np.cos(longitude)
        return np.array(
            [
                [-sin_lon, cos_lon, 0.0],
                [-sin_lat * cos_lon, -sin_lat * sin_lon, cos_lat],
                [cos_lat * cos_lon, cos_lat * sin_lon, sin_lat],
            ]
        )


@dataclass(frozen=True, eq=False)
class EarthTurn:
    """How the Earth turns through one window: UT1-UTC as a broken line, nodes at its ends and midnights.

    Attributes:
        node_utc_s: nodes (K,), rising.
        ut1_minus_utc_s: (K,) from Skyfield's built-in tables.
    """

    node_utc_s: Floats
    ut1_minus_utc_s: Floats

    @classmethod
    @lru_cache(64)
    def over(cls, start_utc_s: float, end_utc_s: float) -> EarthTurn:
        """The turn from ``start_utc_s`` to ``end_utc_s`` (held beyond them), from built-in tables.

        Of the same hours it is always the same one: all that is asked of an evening asks for it.
        """
        midnights = np.arange(np.ceil(start_utc_s / DAY_S), np.floor(end_utc_s / DAY_S) + 1.0) * DAY_S
        nodes = distinct(np.concatenate([[start_utc_s, end_utc_s], midnights, midnights - _STEP_S]))
        nodes = nodes[(nodes >= start_utc_s) & (nodes <= end_utc_s)]
        moments = builtin_timescale().from_datetimes([to_datetime(node) for node in nodes])
        return cls(nodes, np.asarray(moments.dut1, dtype=float))

    def sidereal_angle(self, utc_s: Floats, later_s: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """Greenwich mean sidereal time of 1982 and its rate, rad and rad/s, in the shape of ``utc_s``.

        ``later_s`` is added to each moment, but only within its day, where that loses no digits.

        Source: IAU 1982 as in AIAA 2006-6753, appendix C. The day and its fraction are kept apart: one
        double for a Julian date has a step of 40 microseconds, 0.3 m at a low satellite.
        """
        angle, century = self._angle(utc_s, later_s)
        slow_rate = (8640184.812866 + (2.0 * 0.093104 - 3.0 * 6.2e-6 * century) * century) / _CENTURY_DAYS
        return angle, 2.0 * np.pi * (1.0 + slow_rate / DAY_S) / DAY_S

    def _angle(self, utc_s: Floats, later_s: Floats | float) -> tuple[Floats, Floats]:
        """The sidereal angle, rad, and the centuries since J2000 that it was taken at."""
        day = np.floor(utc_s / DAY_S)
        second = utc_s - day * DAY_S + later_s
        second += np.interp(utc_s + later_s, self.node_utc_s, self.ut1_minus_utc_s)
        whole_days, fraction = UNIX_EPOCH_JD - J2000_JD + day, second / DAY_S
        century = (whole_days + fraction) / _CENTURY_DAYS
        slow_s = 67310.54841 + (8640184.812866 + (0.093104 - 6.2e-6 * century) * century) * century
        turns = _fraction(whole_days) + fraction + _fraction(slow_s / DAY_S)
        return 2.0 * np.pi * _fraction(turns), century

    def turned(self, utc_s: Floats, vector: Floats, later_s: Floats | float = 0.0) -> Floats:
        """TEME vectors (..., 3) along Earth-fixed axes."""
        return _turned(self._angle(utc_s, later_s)[0], vector)

    def turned_back(self, utc_s: Floats, fixed: Floats) -> tuple[Floats, Floats]:
        """An Earth-fixed vector (3,) along TEME axes at moments (m,), and its rate a second, (m, 3) each."""
        angle, rate = self.sidereal_angle(utc_s)
        cos_angle, sin_angle = np.cos(angle), np.sin(angle)
        turned = np.empty((utc_s.size, 3))
        turned[:, 0] = cos_angle * fixed[0] - sin_angle * fixed[1]
        turned[:, 1] = cos_angle * fixed[1] + sin_angle * fixed[0]
        turned[:, 2] = fixed[2]
        turning = np.zeros_like(turned)
        turning[:, 0], turning[:, 1] = -turned[:, 1] * rate, turned[:, 0] * rate
        return turned, turning


def _fraction(turns: Floats) -> Floats:
    """What is over whole turns, 0 to below 1; as `numpy.mod` gives it, at a twentieth of the time."""
    return np.asarray(turns - np.floor(turns))


@cache
def builtin_timescale() -> Any:
    """Skyfield's built-in tables of UT1 and leap seconds, read once.

    The same as its `load.timescale(builtin=True)` (a test holds the two together), but the loader's module
    imports all that could be fetched or read besides, which takes ten times as long as the tables.
    """
    from skyfield.functions import load_bundled_npy
    from skyfield.timelib import Timescale

    tables = load_bundled_npy("iers.npz")  # type: ignore[no-untyped-call]
    day_tt = tables["tt_jd_minus_arange"] + np.arange(len(tables["tt_jd_minus_arange"]))
    delta_t_s = (tables["delta_t_1e7"] / 1e7).round(7)
    return Timescale((day_tt, delta_t_s), tables["leap_dates"], tables["leap_offsets"])  # type: ignore[no-untyped-call]


def _turned(angle: Floats, vector: Floats) -> Floats:
    """TEME vectors (..., 3) along Earth-fixed axes that have turned by angles (...,)."""
    cos_angle, sin_angle = np.cos(angle), np.sin(angle)
    x, y = vector[..., 0], vector[..., 1]
    turned = np.empty_like(vector)
    turned[..., 0] = cos_angle * x + sin_angle * y
    turned[..., 1] = cos_angle * y - sin_angle * x
    turned[..., 2] = vector[..., 2]
    return turned


def earth_fixed(
    turn: EarthTurn, utc_s: Floats, position_teme_km: Floats, velocity_teme_km_s: Floats
) -> tuple[Floats, Floats]:
    """TEME states (..., 3) in km and km/s at ``utc_s`` (...,) turned to Earth-fixed axes.

    The velocity is the one seen from the turning Earth (AIAA 2006-6753, appendix C, without polar motion).
    """
    angle, rate = turn.sidereal_angle(utc_s)
    position_km, velocity_km_s = _turned(angle, position_teme_km), _turned(angle, velocity_teme_km_s)
    velocity_km_s[..., 0] += rate * position_km[..., 1]
    velocity_km_s[..., 1] -= rate * position_km[..., 0]
    return position_km, velocity_km_s


def topocentric_position(
    observer: Observer,
    turn: EarthTurn,
    utc_s: Floats,
    position_teme_km: Floats,
    later_s: Floats | float = 0.0,
) -> Floats:
    """The position alone of ``topocentric``: TEME (..., 3) km to east, north, up (..., 3) km.

    ``later_s`` is added to each moment within its day (`EarthTurn.sidereal_angle`).
    """
    away_km = turn.turned(utc_s, position_teme_km, later_s) - observer.position_km
    return np.asarray((away_km.reshape(-1, 3) @ observer.to_enu.T).reshape(away_km.shape))


def topocentric(
    observer: Observer,
    turn: EarthTurn,
    utc_s: Floats,
    position_teme_km: Floats,
    velocity_teme_km_s: Floats,
) -> tuple[Floats, Floats]:
    """TEME states (..., 3) at ``utc_s`` (...,) as seen by the observer.

    Returns:
        Position (..., 3) km and velocity (..., 3) km/s along east, north, up, relative to the station on the
        turning ground. Geometric: no light time, no refraction.
    """
    fixed_km, fixed_km_s = earth_fixed(turn, utc_s, position_teme_km, velocity_teme_km_s)
    to_enu = observer.to_enu.T
    return (fixed_km - observer.position_km) @ to_enu, fixed_km_s @ to_enu


def teme_position(observer: Observer, turn: EarthTurn, utc_s: Floats, position_km: Floats) -> Floats:
    """``topocentric_position`` turned back: east, north, up (N, 3) km at ``utc_s`` (N,) to TEME (N, 3) km."""
    fixed_km = position_km @ observer.to_enu + observer.position_km
    angle, _ = turn.sidereal_angle(utc_s)
    cos_angle, sin_angle = np.cos(angle), np.sin(angle)
    x, y = fixed_km[:, 0], fixed_km[:, 1]
    return np.stack([cos_angle * x - sin_angle * y, sin_angle * x + cos_angle * y, fixed_km[:, 2]], axis=1)


def teme_to_gcrs(utc_s: float) -> Floats:
    """Rotation (3, 3) from TEME to the axes of the ephemeris at a moment: precession and nutation.

    It turns by less than 1 arc second a day, so that one serves an evening.
    """
    from skyfield.sgp4lib import TEME

    there = TEME.rotation_at(  # type: ignore[no-untyped-call]
        builtin_timescale().from_datetime(to_datetime(utc_s))
    )
    return np.asarray(there, dtype=float).T


def dotted(a: Floats, b: Floats) -> Floats:
    """Scalar products (...,) of vectors (..., 3), three times as fast as `numpy.einsum`.

    The last bit may depend on what else is in the table.
    """
    products = a * b
    return np.asarray((products.reshape(-1, 3) @ _ONES).reshape(products.shape[:-1]))


def slant_range(position_km: Floats) -> Floats:
    """Range (...,) km of topocentric positions (..., 3)."""
    squared: Floats = np.einsum("...i,...i->...", position_km, position_km)
    return np.sqrt(squared)


def azimuth_elevation(position_km: Floats) -> tuple[Floats, Floats]:
    """Azimuth (...,) true in [0, 360) and elevation (...,) in [-90, 90] deg of east, north, up (..., 3)."""
    azimuth_deg = wrap_360(np.asarray(np.degrees(np.arctan2(position_km[..., 0], position_km[..., 1]))))
    return azimuth_deg, elevation(position_km)


def elevation(position_km: Floats) -> Floats:
    """Elevation (...,) in [-90, 90] deg of east, north, up (..., 3)."""
    east, north, up = position_km[..., 0], position_km[..., 1], position_km[..., 2]
    return np.asarray(np.degrees(np.arctan2(up, np.sqrt(east * east + north * north))))


def range_rate(position_km: Floats, velocity_km_s: Floats) -> Floats:
    """Range rate (...,) km/s, positive receding."""
    along: Floats = np.einsum("...i,...i->...", position_km, velocity_km_s)
    return along / slant_range(position_km)


def angle_rates(position_km: Floats, velocity_km_s: Floats) -> tuple[Floats, Floats]:
    """Azimuth rate (clockwise positive) and elevation rate, (...,) deg/s each, of states (..., 3).

    Straight over the station azimuth has no rate: 0 is given there, and the elevation rate is that of a
    satellite still climbing.
    """
    east, north, up = position_km[..., 0], position_km[..., 1], position_km[..., 2]
    east_rate, north_rate, up_rate = velocity_km_s[..., 0], velocity_km_s[..., 1], velocity_km_s[..., 2]
    level_squared = east * east + north * north
    level = np.sqrt(level_squared)
    on_axis = level < _ON_THE_AXIS_KM
    safe = np.where(on_axis, 1.0, level)
    azimuth_rate = np.where(on_axis, 0.0, (north * east_rate - east * north_rate) / (safe * safe))
    outward = (east * east_rate + north * north_rate) / safe
    if on_axis.any():
        outward = np.where(on_axis, -np.hypot(east_rate, north_rate), outward)
    elevation_rate = (level * up_rate - up * outward) / np.maximum(
        level_squared + up * up, _ON_THE_AXIS_KM**2
    )
    return np.degrees(azimuth_rate), np.degrees(elevation_rate)
