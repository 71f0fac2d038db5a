"""Frames and look angles: against Skyfield's own chain, and against geometry."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skyfield.api import EarthSatellite, load, wgs84

from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.passes.frames import (
    EarthTurn,
    Observer,
    angle_rates,
    azimuth_elevation,
    builtin_timescale,
    dotted,
    range_rate,
    slant_range,
    topocentric,
    topocentric_position,
)
from core.place.site import Site

START = datetime(2024, 11, 1, 16, 0, tzinfo=UTC)
#: Invented orbits of three sizes.
ORBITS = [
    ("1 90001U 24001A   24306.50000000  .00000000  00000-0  10000-3 0  9990", 97.5, 1200, 15.1),
    ("1 90002U 24001B   24306.50000000  .00000000  00000-0  00000-0 0  9990", 63.4, 7200000, 2.006),
    ("1 90003U 24001C   24306.50000000  .00000000  00000-0  00000-0 0  9990", 3.2, 4000, 1.0027),
]


def _satellites(timescale):
    for line_1, inclination, eccentricity_e7, mean_motion in ORBITS:
        number = line_1[2:7]
        angles = f"{inclination:8.4f} 210.0000 {eccentricity_e7:07d} 270.0000  40.0000"
        line_2 = f"2 {number} {angles} {mean_motion:11.8f}    10"
        yield EarthSatellite(line_1, line_2, ts=timescale)


def test_the_turn_of_the_same_hours_is_one():
    assert EarthTurn.over(0.0, 86400.0) is EarthTurn.over(0.0, 86400.0)
    assert EarthTurn.over(0.0, 86401.0) is not EarthTurn.over(0.0, 86400.0)


def test_scalar_products_are_einsums():
    a, b = np.random.default_rng(3).normal(size=(2, 4, 5, 3))
    assert dotted(a, b[0]) == pytest.approx(np.einsum("nmk,mk->nm", a, b[0]), rel=1e-12)
    assert dotted(a[0, 0], b[0, 0]) == pytest.approx(a[0, 0] @ b[0, 0], rel=1e-12)


@pytest.mark.parametrize(
    "place", [(78.2, 15.6, 20.0), (-33.9, 18.4, 110.0), (51.9, 180.0, 0.0), (0.0, -51.1, 4000.0)]
)
def test_skyfields_own_chain_gives_the_same(place):
    timescale = load.timescale(builtin=True)
    moments = [START + timedelta(seconds=61.7 * n) for n in range(500)]
    utc_s = np.array([moment.timestamp() for moment in moments])
    time = timescale.from_datetimes(moments)
    turn = EarthTurn.over(float(utc_s[0]), float(utc_s[-1]))
    station = wgs84.latlon(*place)
    for satellite in _satellites(timescale):
        altitude, azimuth, distance, _, _, rate = (
            (satellite - station).at(time).frame_latlon_and_rates(station)
        )
        day = np.floor(utc_s / DAY_S)
        code, teme, teme_rate = satellite.model.sgp4_array(UNIX_EPOCH_JD + day, utc_s / DAY_S - day)
        assert not code.any()
        position, velocity = topocentric(Observer(*place), turn, utc_s, teme, teme_rate)
        ours_azimuth, ours_elevation = azimuth_elevation(position)
        across = (ours_azimuth - azimuth.degrees + 180.0) % 360.0 - 180.0
        assert np.abs(ours_elevation - altitude.degrees).max() < 1e-6
        assert np.abs(across * np.cos(altitude.radians)).max() < 1e-6
        assert np.abs(slant_range(position) - distance.km).max() < 2e-5
        assert np.abs(range_rate(position, velocity) - rate.km_per_s).max() < 2e-6
        alone = topocentric_position(Observer(*place), turn, utc_s, teme)
        assert np.array_equal(alone, position)


def test_leap_second_is_a_step_in_ut1():
    # IERS Bulletin C 52: a leap second at the end of 2016; UT1-UTC went from -0.4 to +0.6 s.
    before, after = (datetime(2016, 12, 31, 20, tzinfo=UTC), datetime(2017, 1, 1, 4, tzinfo=UTC))
    turn = EarthTurn.over(before.timestamp(), after.timestamp())
    midnight = datetime(2017, 1, 1, tzinfo=UTC).timestamp()
    around = np.interp([midnight - 1.0, midnight + 1.0], turn.node_utc_s, turn.ut1_minus_utc_s)
    assert around == pytest.approx([-0.408, 0.592], abs=0.002)


def test_turn_over_many_days_has_a_node_at_every_midnight():
    start = START.timestamp()
    turn = EarthTurn.over(start, start + 10 * DAY_S)
    assert np.all(np.diff(turn.node_utc_s) > 0.0)
    assert np.sum(turn.node_utc_s % DAY_S == 0.0) == 10
    assert np.abs(np.diff(turn.ut1_minus_utc_s)).max() < 0.003


def test_equal_places_are_equal_observers():
    site = Site(name="hill", latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0)
    assert Observer.of_site(site) == Observer(47.2, 9.1, 1300.0)
    assert hash(Observer.of_site(site)) == hash(Observer(47.2, 9.1, 1300.0))


@given(
    latitude=st.floats(-90.0, 90.0),
    longitude=st.floats(-180.0, 180.0),
    height=st.floats(-400.0, 9000.0),
)
def test_local_axes_are_a_right_handed_frame_with_up_along_the_geodetic_vertical(latitude, longitude, height):
    observer = Observer(latitude, longitude, height)
    axes = observer.to_enu
    assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(axes) == pytest.approx(1.0, abs=1e-12)
    climbed = Observer(latitude, longitude, height + 1000.0)
    assert axes @ (climbed.position_km - observer.position_km) == pytest.approx([0.0, 0.0, 1.0], abs=1e-9)


@pytest.mark.parametrize(
    ("position", "azimuth", "elevation"),
    [
        ((0.0, 1.0, 0.0), 0.0, 0.0),
        ((1.0, 0.0, 0.0), 90.0, 0.0),
        ((0.0, -1.0, 1.0), 180.0, 45.0),
        ((-1.0, 0.0, -1.0), 270.0, -45.0),
        ((-1e-30, 1.0, 0.0), 0.0, 0.0),
        ((0.0, 0.0, 5.0), 0.0, 90.0),
    ],
)
def test_azimuth_runs_clockwise_from_north(position, azimuth, elevation):
    found = azimuth_elevation(np.array(position))
    assert (float(found[0]), float(found[1])) == pytest.approx((azimuth, elevation))
    assert 0.0 <= found[0] < 360.0


coordinate = st.floats(-2000.0, 2000.0)


@given(
    position=st.tuples(coordinate, coordinate, coordinate),
    velocity=st.tuples(*[st.floats(-8.0, 8.0)] * 3),
)
def test_rates_are_the_slopes_of_the_angles(position, velocity):
    position, velocity = np.array(position), np.array(velocity)
    if np.hypot(position[0], position[1]) < 50.0:
        position = position + np.array([100.0, 0.0, 0.0]) * np.sign(position[0] or 1.0)
    h = 1e-3
    before, after = azimuth_elevation(position - h * velocity), azimuth_elevation(position + h * velocity)
    azimuth_step = (after[0] - before[0] + 180.0) % 360.0 - 180.0
    azimuth_rate, elevation_rate = angle_rates(position, velocity)
    assert azimuth_rate == pytest.approx(azimuth_step / (2.0 * h), abs=1e-6)
    assert elevation_rate == pytest.approx((after[1] - before[1]) / (2.0 * h), abs=1e-6)
    ranges = slant_range(np.stack([position - h * velocity, position + h * velocity]))
    assert range_rate(position, velocity) == pytest.approx((ranges[1] - ranges[0]) / (2.0 * h), abs=1e-6)


def test_rates_straight_overhead_are_finite():
    azimuth_rate, elevation_rate = angle_rates(np.array([0.0, 0.0, 500.0]), np.array([7.5, 0.0, 0.0]))
    assert azimuth_rate == 0.0
    assert elevation_rate == pytest.approx(np.degrees(7.5 / 500.0))


def test_the_tables_of_ut1_are_skyfields_own():
    moments = [datetime(1957, 1, 1, tzinfo=UTC) + timedelta(days=37.3 * step) for step in range(1390)]
    ours, theirs = (
        scale.from_datetimes(moments) for scale in (builtin_timescale(), load.timescale(builtin=True))
    )
    assert (ours.dut1 == theirs.dut1).all()
    assert (ours.tt == theirs.tt).all()
