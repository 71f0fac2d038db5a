"""Sun and Moon of the set-up against published values and against a second library."""

from __future__ import annotations

import csv
import math

import numpy as np
import pytest

from core.base.times import parse_iso, to_datetime
from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.passes.frames import builtin_timescale
from core.place.site import Site
from core.setup.sky import directions, pressure_mbar
from tests.oracles.sky_erfa import direction_deg
from tests.shared_data import shared_file


def apart_deg(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Between two (azimuth, elevation) that are near each other."""
    across = ((one[0] - other[0] + 180.0) % 360.0 - 180.0) * math.cos(math.radians(one[1]))
    return math.hypot(across, one[1] - other[1])


def seen(site: Site, body: str, utc_s: float) -> tuple[float, float, float]:
    (found,) = directions(site, (body,), np.array([utc_s]))  # type: ignore[arg-type]
    return float(found.azimuth_deg[0]), float(found.elevation_deg[0]), float(found.apparent_deg[0])


def test_sun_of_nrel():
    """Reda and Andreas, NREL/TP-560-34302 (rev. 2008), the worked example.

    Azimuth 194.340241, e0 39.872046, e 39.888378, stated good to 0.0003 deg; with its UT1 = UTC and delta T
    of 67 s. UT1 - UTC was -0.364 s that day, which moves the Sun by 0.0020 deg in azimuth. Refraction for 820
    mbar and 11 deg C is 0.016332 deg; here the pressure follows from the height (813 mbar at 10 deg C).
    """
    boulder = Site(latitude_deg=39.742476, longitude_deg=-105.1786, height_m=1830.14)
    azimuth, elevation, apparent = seen(boulder, "Sun", parse_iso("2003-10-17T12:30:30-07:00"))
    assert apart_deg((azimuth, elevation), (194.340241, 39.872046)) < 0.0022
    assert apparent - elevation == pytest.approx(0.016332, abs=0.0005)
    assert pressure_mbar(1830.14) == pytest.approx(820.0, abs=12.0)


def test_sun_and_moon_of_novas():
    """Over Washington by NOVAS with DE405 and delta T = 0 (tests of the package skyfield).

    A delta T of 0 means that UT1 is TT; with the real one the Earth has turned alike when UT1 says so, the
    Moon meanwhile has gone on by 0.009 deg a minute of delta T.
    """
    with shared_file("reference/values/novas_topocentric_altaz.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["body"] in ("sun", "moon")]
    assert len(rows) == 8
    site = Site(latitude_deg=38.9215, longitude_deg=-77.0669, height_m=92.0)
    for row in rows:
        ut1_s = (float(row["jd_tt(delta_t=0)"]) - UNIX_EPOCH_JD) * DAY_S
        if ut1_s < 0.0:
            continue  # before 1970 the clocks of POSIX time had no leap seconds yet
        dut1_s = float(builtin_timescale().from_datetime(to_datetime(ut1_s)).dut1)
        azimuth, elevation, _ = seen(site, row["body"].capitalize(), ut1_s - dut1_s)
        published = float(row["az_deg"]), float(row["alt_deg_airless"])
        assert apart_deg((azimuth, elevation), published) < (0.013 if row["body"] == "moon" else 0.001), row


def test_moon_over_alma():
    """2017-04-06 0 h UTC by DE430: azimuth 15.032673662647138, elevation 50.303110087520054 deg.

    Tests of the package astropy (test_intermediate_transformations), at 22.959748 S, 67.78726 W, 5186 m.
    Without polar motion and with DE421 it comes out within 0.0001 deg.
    """
    alma = Site(latitude_deg=-22.959748, longitude_deg=-67.78726, height_m=5186.0)
    azimuth, elevation, _ = seen(alma, "Moon", parse_iso("2017-04-06T00:00:00Z"))
    assert apart_deg((azimuth, elevation), (15.032673662647138, 50.303110087520054)) < 0.0002


@pytest.mark.parametrize(("body", "limit_deg"), [("Sun", 0.0003), ("Moon", 0.006)])
def test_sun_and_moon_by_a_second_library(body, limit_deg):
    """ERFA (the IAU's models): 60 places and moments of 2001 to 2025; its Moon is good to some 10 arcsec."""
    chance = np.random.default_rng(14)
    worst = 0.0
    for _ in range(60):
        latitude, longitude = chance.uniform(-85.0, 85.0), chance.uniform(-180.0, 180.0)
        height_m, utc_s = chance.uniform(0.0, 3000.0), chance.uniform(1.0e9, 1.75e9)
        site = Site(latitude_deg=latitude, longitude_deg=longitude, height_m=height_m)
        dut1_s = float(builtin_timescale().from_datetime(to_datetime(utc_s)).dut1)
        ours = seen(site, body, utc_s)[:2]
        worst = max(worst, apart_deg(ours, direction_deg(body, latitude, longitude, height_m, utc_s, dut1_s)))
    assert worst < limit_deg


def test_polaris_strays_from_north_by_what_the_trade_says():
    """0.76, 0.97 and 1.24 deg at 35, 50 and 60 N (common practice, no source)."""
    utc_s = parse_iso("2024-11-01T00:00:00Z") + 600.0 * np.arange(144)
    for latitude_deg, strays_deg in ((35.0, 0.76), (50.0, 0.97), (60.0, 1.24)):
        (found,) = directions(Site(latitude_deg=latitude_deg, longitude_deg=8.0), ("Polaris",), utc_s)
        off = (found.azimuth_deg + 180.0) % 360.0 - 180.0
        assert np.abs(off).max() == pytest.approx(strays_deg, abs=0.03)


def test_refraction_at_the_horizon_is_the_almanacs():
    """34' at an apparent elevation of 0 (Bennett, Journal of Navigation 35, 1982), and 5.4' at 10 deg."""
    site = Site(latitude_deg=47.0, longitude_deg=8.0)
    utc_s = parse_iso("2024-11-01T14:00:00Z") + 10.0 * np.arange(1200)
    (found,) = directions(site, ("Sun",), utc_s)
    raised = found.apparent_deg - found.elevation_deg
    assert np.interp(0.0, found.apparent_deg[::-1], raised[::-1]) * 60.0 == pytest.approx(34.48, abs=0.3)
    assert np.interp(10.0, found.apparent_deg[::-1], raised[::-1]) * 60.0 == pytest.approx(5.39, abs=0.05)
