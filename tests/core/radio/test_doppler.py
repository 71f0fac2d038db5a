"""Doppler shift: the sign, a published example, and range rate against ranges differenced."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.passes.frames import slant_range
from core.passes.stays import stay_at
from core.radio.doppler import LIGHT_KM_S, downlink_shift_hz, range_rates, uplink_shift_hz
from tests.core.passes.flights import START, flight, stay_of

SPEEDS = st.floats(-8.0, 8.0)


def test_a_satellite_that_comes_nearer_is_received_higher_and_wants_to_be_sent_lower():
    nearer, further = np.array([-7.0, 7.0])
    assert downlink_shift_hz(435e6, nearer) > 0.0 > uplink_shift_hz(435e6, nearer)
    assert downlink_shift_hz(435e6, further) < 0.0 < uplink_shift_hz(435e6, further)


def test_the_published_example_of_a_satellite_at_1000_km_over_the_horizon():
    """T. Pratt, C. Bostian, J. Allnutt, Satellite Communications, 2nd ed. (Wiley, 2003), chapter 2:
    a polar orbit 1000 km high, seen by an observer in its plane as it comes over the horizon, the Earth's
    turning left out, sends at 2.65 GHz and 20 GHz: 56.130 kHz and 423.60 kHz, with c = 3e8 m/s."""
    radius_km, earth_km = 7378.137, 6378.137
    nearer_km_s = -math.sqrt(398_600.4418 / radius_km) * earth_km / radius_km
    shifts = downlink_shift_hz(np.array([2.65e9, 20e9]), np.array(nearer_km_s))
    assert shifts * (LIGHT_KM_S / 3e5) == pytest.approx([56_130.0, 423_600.0], rel=1e-4)


@given(range_rate_km_s=SPEEDS)
def test_what_first_order_leaves_out_is_as_small_as_it_says(range_rate_km_s):
    beta = range_rate_km_s / LIGHT_KM_S
    exact = 435e6 * (math.sqrt((1.0 - beta) / (1.0 + beta)) - 1.0)
    assert abs(downlink_shift_hz(435e6, np.array(range_rate_km_s)) - exact) < 0.4


@given(range_rate_km_s=SPEEDS)
def test_what_is_sent_with_its_shift_is_heard_as_nominal(range_rate_km_s):
    rate = np.array(range_rate_km_s)
    heard = (145.9e6 + uplink_shift_hz(145.9e6, rate)) * (1.0 - range_rate_km_s / LIGHT_KM_S)
    assert heard == pytest.approx(145.9e6, abs=0.2)


@given(height_km=st.floats(300.0, 1500.0), bearing_deg=st.floats(0.0, 360.0), miss_deg=st.floats(0.1, 8.0))
@settings(max_examples=25, deadline=None)
def test_range_rates_are_the_ranges_differenced_and_zero_where_the_range_is_least(
    height_km, bearing_deg, miss_deg
):
    path, half_s = flight(height_km, bearing_deg, miss_deg)
    stay = stay_of(path, START - half_s, START + half_s)
    rates = range_rates(stay, stay.start_utc_s + 1.0, stay.end_utc_s - 1.0)
    ranges = [slant_range(stay_at(stay, rates.utc_s + by)[0]) for by in (-0.1, 0.1)]
    assert rates.km_s == pytest.approx((ranges[1] - ranges[0]) / 0.2, abs=2e-4)
    assert rates.zeros_utc_s == pytest.approx([stay.tca.utc_s], abs=0.1)
    assert rates.turns == ()
    assert np.diff(rates.utc_s).max() <= 5.0


def test_a_part_before_the_nearest_point_has_no_zero_and_a_long_one_is_sampled_within_measure():
    path, half_s = flight(700.0, 30.0, 5.0)
    stay = stay_of(path, START - half_s, START + half_s)
    rates = range_rates(stay, START - half_s, START - 60.0)
    assert rates.zeros_utc_s == ()
    assert rates.km_s.max() < 0.0
    assert range_rates(stay, START, START).km_s.size == 2
