"""Look angles, ranges, rates and frames against published values.

The sources stand beside each check. Where a printed value is short, the tolerance is half its last digit.
"""

from __future__ import annotations

import numpy as np
import pytest

from core.base.times import parse_iso
from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.elements.propagator import satrec
from core.elements.readers.tle import parse_pair
from core.passes.frames import (
    EarthTurn,
    Observer,
    angle_rates,
    azimuth_elevation,
    earth_fixed,
    range_rate,
    slant_range,
    topocentric,
)
from core.passes.search import find_stays
from core.passes.track import cut_passes

#: Skyfield 1.55, documentation, earth-satellites: a station from its Bluffton example.
BLUFFTON = Observer(40.8939, -83.8917, 0.0)
STATION = parse_pair(
    "1 25544U 98067A   14020.93268519  .00009878  00000-0  18200-3 0  5082",
    "2 25544  51.6498 109.4756 0003572  55.9686 274.8005 15.49815350868473",
    "ISS (ZARYA)",
)


def _seen(*times: str) -> tuple[np.ndarray, np.ndarray]:
    """ENU states (N, 3) of the Bluffton example through our own chain."""
    utc_s = np.array([parse_iso(time) for time in times])
    day = np.floor(utc_s / DAY_S)
    code, position, velocity = satrec(STATION).sgp4_array(UNIX_EPOCH_JD + day, utc_s / DAY_S - day)
    assert not code.any()
    turn = EarthTurn.over(float(utc_s[0]), float(utc_s[-1]) + 1.0)
    return topocentric(BLUFFTON, turn, utc_s, position, velocity)


def test_look_angles_of_the_bluffton_example():
    # Skyfield 1.55, documentation, earth-satellites: alt 16deg 16' 32.6", az 350deg 15' 20.4", 1168.7 km.
    position, _ = _seen("2014-01-23T11:18:07Z")
    azimuth, elevation = azimuth_elevation(position)
    tenth_arcsecond = 0.05 / 3600.0
    assert elevation[0] == pytest.approx(16 + 16 / 60 + 32.6 / 3600, abs=tenth_arcsecond)
    assert azimuth[0] == pytest.approx(350 + 15 / 60 + 20.4 / 3600, abs=tenth_arcsecond)
    assert slant_range(position)[0] == pytest.approx(1168.7, abs=0.05)


def test_every_digit_of_the_bluffton_example():
    # Skyfield 1.55 run on the same example; not printed in its documentation.
    position, velocity = _seen("2014-01-23T11:18:07Z")
    azimuth, elevation = azimuth_elevation(position)
    azimuth_rate, elevation_rate = angle_rates(position, velocity)
    assert elevation[0] == pytest.approx(16.275713898, abs=1e-6)
    assert azimuth[0] == pytest.approx(350.255656134, abs=1e-6)
    assert slant_range(position)[0] == pytest.approx(1168.664103724, abs=1e-5)
    assert range_rate(position, velocity)[0] == pytest.approx(-3.00194023, abs=2e-6)
    assert azimuth_rate[0] == pytest.approx(0.335120566, abs=1e-6)
    assert elevation_rate[0] == pytest.approx(0.070954994, abs=1e-6)


def test_ut1_matters_as_much_as_it_should():
    # Taking UT1 = UTC (0.120 s) costs 0.0019 deg of azimuth there (computed with Skyfield 1.55).
    position, _ = _seen("2014-01-23T11:18:07Z")
    turn = EarthTurn.over(parse_iso("2014-01-23T11:18:07Z"), parse_iso("2014-01-23T11:18:08Z"))
    assert turn.ut1_minus_utc_s[0] == pytest.approx(-0.12008351966, abs=1e-6)
    azimuth, _ = azimuth_elevation(position)
    flat = EarthTurn(turn.node_utc_s, np.zeros(2))
    utc_s = turn.node_utc_s[:1]
    day = np.floor(utc_s / DAY_S)
    _, teme, teme_rate = satrec(STATION).sgp4_array(UNIX_EPOCH_JD + day, utc_s / DAY_S - day)
    without, _ = azimuth_elevation(topocentric(BLUFFTON, flat, utc_s, teme, teme_rate)[0])
    assert abs(without[0] - azimuth[0]) == pytest.approx(0.0019, abs=0.00005)


def test_range_and_range_rate_minute_by_minute():
    # Skyfield 1.55, documentation, earth-satellites: the table of 11:17 to 11:22 UTC.
    position, velocity = _seen(*(f"2014-01-23T11:{minute}:00Z" for minute in range(17, 23)))
    printed_km = [1434.2, 1190.5, 1064.3, 1097.3, 1277.4, 1553.6]
    printed_km_s = [-4.74, -3.24, -0.84, 1.90, 3.95, 5.14]
    assert slant_range(position) == pytest.approx(printed_km, abs=0.05 + 1e-9)
    assert range_rate(position, velocity) == pytest.approx(printed_km_s, abs=0.005 + 1e-9)


def test_passes_over_thirty_degrees():
    # Skyfield 1.55, documentation, earth-satellites: rise, culmination and set of 2014-01-23, whole seconds.
    start = parse_iso("2014-01-23T00:00:00Z")
    search = find_stays([STATION], BLUFFTON, start, start + DAY_S)
    passes = cut_passes(search.stays, (), 30.0)
    printed = [("06:25:37", "06:26:58", "06:28:19"), ("12:54:56", "12:56:27", "12:57:58")]
    found = [(cut.aos.utc_s, cut.peak.utc_s, cut.los.utc_s) for cut in passes]
    expected = [tuple(parse_iso(f"2014-01-23T{clock}Z") for clock in row) for row in printed]
    assert np.array(found) == pytest.approx(np.array(expected), abs=1.0)


def test_razel_with_rates():
    # Vallado, companion software to Fundamentals of Astrodynamics, TestAzEl. It holds an Earth of
    # 6378.1363 km and e^2 = 0.006694385; on WGS-84 the station lies 0.13 m off, 9e-6 deg as seen from there.
    observer = Observer(39.007, -104.883, 2102.0)
    fixed_km = np.array([-5225.545532658024, -3070.9865969614993, 3501.8159870845006])
    fixed_km_s = np.array([-5.373672578283977, -3.3021038634286506, 4.020523711114683])
    position = observer.to_enu @ (fixed_km - observer.position_km)
    velocity = observer.to_enu @ fixed_km_s
    azimuth, elevation = azimuth_elevation(position)
    azimuth_rate, elevation_rate = angle_rates(position, velocity)
    assert slant_range(position) == pytest.approx(4339.444884044615, abs=2e-4)
    assert azimuth == pytest.approx(np.degrees(-1.5639427896150881) + 360.0, abs=1.5e-5)
    assert elevation == pytest.approx(np.degrees(-0.18973540227923288), abs=1.5e-5)
    # Those 9e-6 deg turn 7.5 km/s across the line of sight into 1.2e-6 km/s along it.
    assert range_rate(position, velocity) == pytest.approx(3.1216042513457634, abs=1.2e-6)
    assert azimuth_rate == pytest.approx(np.degrees(5.093097833129788e-05), abs=1e-7)
    assert elevation_rate == pytest.approx(np.degrees(1.5655515448868324e-3), abs=1e-7)


def test_station_and_local_axes():
    # pymap3d 3.2.0, its own tests: station 42 N 82 W 200 m, a target at azimuth 33, elevation 70, 1000 m.
    observer = Observer(42.0, -82.0, 200.0)
    station_m = [660675.2518247, -4700948.68316, 4245737.66222]
    target_m = np.array([660930.19276, -4701424.22296, 4246579.60463])
    assert observer.position_km * 1000.0 == pytest.approx(station_m, abs=1e-4)
    position = observer.to_enu @ (target_m / 1000.0 - observer.position_km)
    azimuth, elevation = azimuth_elevation(position)
    assert position * 1000.0 == pytest.approx([186.2775, 286.8422, 939.6926], abs=1e-4)
    assert (float(azimuth), float(elevation)) == pytest.approx((33.0, 70.0), abs=1e-6)


def test_station_in_the_south_east():
    # ERFA, t_gd2gc, WGS84: longitude 3.1 rad, latitude -0.5 rad, 2500 m.
    observer = Observer(float(np.degrees(-0.5)), float(np.degrees(3.1)), 2500.0)
    expected_m = [-5599000.557704994, 233011.67223479203, -3040909.470698336]
    assert observer.position_km * 1000.0 == pytest.approx(expected_m, abs=1e-6)


@pytest.mark.parametrize(
    ("utc", "degrees", "within"),
    [
        # Vallado, Fundamentals of Astrodynamics, 5th ed., example 3-5 (four decimals printed).
        ("1992-08-20T12:14:00Z", 152.5788, 5e-5),
        # Meeus, Astronomical Algorithms, 2nd ed., example 12.a: 13h 10m 46.3668s.
        ("1987-04-10T00:00:00Z", 15.0 * (13 + 10 / 60 + 46.3668 / 3600), 2.5e-7),
        # The same, example 12.b: 8h 34m 57.0896s.
        ("1987-04-10T19:21:00Z", 15.0 * (8 + 34 / 60 + 57.0896 / 3600), 2.5e-7),
        # ERFA, t_gmst82: Julian date 2400000.5 + 53736, 1.754174981860675 rad.
        ("2006-01-01T00:00:00Z", np.degrees(1.754174981860675), 1e-10),
    ],
)
def test_sidereal_angle(utc, degrees, within):
    moment = parse_iso(utc)
    turn = EarthTurn(np.array([moment, moment + 1.0]), np.zeros(2))  # the sources give UT1
    angle, _ = turn.sidereal_angle(np.array([moment]))
    assert np.degrees(angle[0]) == pytest.approx(degrees, abs=within)


def test_sidereal_rate_is_the_angles_slope():
    # 7.292115e-5 rad/s: WGS-84 (NGA.STND.0036, table 3.1), for UT1 seconds.
    moment = parse_iso("2024-11-01T16:00:00Z")
    turn = EarthTurn(np.array([moment, moment + 100.0]), np.zeros(2))
    angle, rate = turn.sidereal_angle(np.array([moment, moment + 64.0]))
    assert rate[0] == pytest.approx(7.292115e-5, abs=1e-11)
    assert (angle[1] - angle[0]) / 64.0 == pytest.approx(rate[0], abs=1e-13)


def test_teme_to_the_turning_earth():
    # Vallado et al., AIAA 2006-6753, revision 2, appendix C. Polar motion, which we leave out, is undone
    # here. The paper holds UT1 in one double (steps of 40 microseconds), so 25 mm is as near as one gets.
    moment = parse_iso("2004-04-06T07:51:28.386Z")
    turn = EarthTurn(np.array([moment, moment + 1.0]), np.full(2, -0.439961))
    teme_km = np.array([[5094.1801621, 6127.6446595, 6380.3445327]])
    teme_km_s = np.array([[-4.746131487, 0.785818041, 5.531931288]])
    position, velocity = earth_fixed(turn, np.array([moment]), teme_km, teme_km_s)
    xp, yp = np.radians(-0.140682 / 3600.0), np.radians(0.333309 / 3600.0)
    wobble = np.array([[1.0, 0.0, xp], [0.0, 1.0, -yp], [-xp, yp, 1.0]])
    assert wobble @ position[0] == pytest.approx([-1033.479383, 7901.2952754, 6380.3565958], abs=25e-6)
    assert wobble @ velocity[0] == pytest.approx([-3.22563652, -2.87245145, 5.531924446], abs=1e-7)
