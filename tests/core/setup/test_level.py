"""Lean from inclinometer readings, against planes built by vectors; shims make the plate level."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.setup.level import level_of, shims
from core.setup.model import LevelReading

leans = st.floats(0.05, 6.0)
bearings = st.floats(0.0, 360.0)


def rise_deg(lean_deg: float, toward_deg: float, bearing_deg: float) -> float:
    """Along a leaning plate, by its normal: the direction in the plane above a bearing."""
    tau, phi, b = np.radians([lean_deg, toward_deg, bearing_deg])
    normal = np.array([math.sin(tau) * math.sin(phi), math.sin(tau) * math.cos(phi), math.cos(tau)])
    along = np.array([math.sin(b), math.cos(b), 0.0])
    along[2] = -(normal @ along) / normal[2]
    return float(np.degrees(np.arctan2(along[2], 1.0)))


def readings(lean, toward, along, zero=0.0):
    return [LevelReading(bearing_deg=b, rise_deg=rise_deg(lean, toward, b) + zero) for b in along]


@given(leans, bearings, bearings, st.floats(40.0, 140.0))
def test_two_readings_give_the_lean(lean, toward, first, across):
    found = level_of(readings(lean, toward, [first, first + across]), 0.1, 0.0)
    assert found is not None
    assert found.lean_deg == pytest.approx(lean, abs=1e-6)
    assert math.cos(math.radians(found.toward_deg - toward)) == pytest.approx(1.0, abs=1e-9)
    assert found.zero_deg is None


@given(leans, bearings, bearings, st.floats(-1.0, 1.0))
def test_half_a_turn_takes_the_inclinometers_own_zero_out(lean, toward, first, zero):
    along = [first, first + 180.0, first + 90.0, first + 270.0]
    found = level_of(readings(lean, toward, along, zero), 0.1, 0.5)
    assert found is not None
    assert found.zero_deg == pytest.approx(zero, abs=1e-6)
    assert found.lean_deg == pytest.approx(lean, abs=1e-6)


def test_readings_along_one_line_say_nothing_across_it():
    assert level_of(readings(1.0, 30.0, [10.0]), 0.1, 0.2) is None
    assert level_of(readings(1.0, 30.0, [10.0, 190.0]), 0.1, 0.2) is None
    assert level_of([], 0.1, 0.2) is None


def test_the_sigma_is_what_many_readings_scatter_by():
    chance = np.random.default_rng(5)
    along = [0.0, 90.0, 180.0, 270.0]
    found = []
    for _ in range(2000):
        noisy = [
            LevelReading(bearing_deg=one.bearing_deg, rise_deg=one.rise_deg + chance.normal(0.0, 0.1))
            for one in readings(1.0, 30.0, along)
        ]
        level = level_of(noisy, 0.1, 0.2)
        assert level is not None
        toward = math.radians(level.toward_deg)
        found.append([level.lean_deg * math.sin(toward), level.lean_deg * math.cos(toward)])
    spread = np.std(found, axis=0)
    assert spread == pytest.approx([level.sigma_deg] * 2, rel=0.08)


@given(leans, bearings, bearings, st.integers(3, 6), st.floats(300.0, 1500.0))
def test_shims_make_it_level(lean, toward, keyway, count, radius_mm):
    legs = [(360.0 * leg / count + 7.0, radius_mm) for leg in range(count)]
    level = level_of(readings(lean, toward, [0.0, 90.0]), 0.1, 0.2)
    assert level is not None
    put = shims(level, keyway, legs)
    assert min(one.mm for one in put) == pytest.approx(0.0, abs=1e-9)
    bearing = np.radians([keyway + leg for leg, _ in legs])
    foot = radius_mm * np.stack([np.sin(bearing), np.cos(bearing)])
    tau, phi = math.radians(lean), math.radians(toward)
    height = -math.tan(tau) * (foot[0] * math.sin(phi) + foot[1] * math.cos(phi)) + [one.mm for one in put]
    assert height == pytest.approx([height[0]] * count, abs=1e-3)


def test_the_present_lean_is_handed_on_to_the_mount():
    level = level_of(readings(1.25, 359.99, [0.0, 90.0]), 0.1, 0.2)
    assert level is not None
    assert (level.tilt.angle_deg, level.tilt.toward_deg) == (1.25, 0.0)


def test_one_degree_over_a_leg_circle_of_half_a_metre():
    """The low leg toward the lean: r (1 + cos 60) tan 1 deg = 13.1 mm under it, for three legs."""
    level = level_of(readings(1.0, 90.0, [0.0, 90.0]), 0.1, 0.2)
    assert level is not None
    put = {
        one.from_keyway_deg: one.mm
        for one in shims(level, 90.0, [(0.0, 500.0), (120.0, 500.0), (240.0, 500.0)])
    }
    assert put[0.0] == pytest.approx(500.0 * 1.5 * math.tan(math.radians(1.0)), abs=1e-6)
    assert [put[120.0], put[240.0]] == pytest.approx([0.0, 0.0], abs=1e-9)
