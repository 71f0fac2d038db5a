"""Declination: the model for the date, what is said of it, and compass bearings."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.times import parse_iso
from core.place.declination import declination_deg, magnetic_from_true
from core.place.site import Site

_VIENNA = Site(latitude_deg=48.2, longitude_deg=16.4, height_m=171.0)


@pytest.mark.parametrize(
    ("when", "model", "valid"),
    [
        ("2009-12-31T23:59Z", "WMM2010", False),
        ("2010-01-01T00:00Z", "WMM2010", True),
        ("2014-12-31T23:59Z", "WMM2010", True),
        ("2015-01-01T00:00Z", "WMM2015", True),
        ("2020-01-01T00:00Z", "WMM2020", True),
        ("2024-11-01T16:00Z", "WMM2020", True),
        ("2024-12-31T23:59:59Z", "WMM2020", True),
        ("2025-01-01T00:00Z", "WMM2025", True),
        ("2030-01-01T00:00Z", "WMM2025", True),
        ("2030-01-02T00:00Z", "WMM2025", False),
    ],
)
def test_the_model_is_the_one_made_for_the_date(when, model, valid):
    found = declination_deg(_VIENNA, parse_iso(when))
    assert (found.model, found.valid) == (model, valid)
    assert ("outside" in found.note) == (not valid)


def test_consecutive_models_agree_where_one_follows_the_other():
    """Issues are fitted to different years of data: within the error stated, but not equal."""
    for year in (2015, 2020, 2025):
        before = declination_deg(_VIENNA, parse_iso(f"{year - 1}-12-31T23:00Z"))
        after = declination_deg(_VIENNA, parse_iso(f"{year}-01-01T01:00Z"))
        assert before.model != after.model
        assert 0.0 < abs(before.deg - after.deg) < before.sigma_deg


def test_note_outside_the_models_life_says_how_far():
    found = declination_deg(_VIENNA, parse_iso("2031-07-02T12:00Z"))
    assert "WMM2025 is made for 2025 to 2030; 1.5 years outside" in found.note


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "word", "valid"),
    [
        (85.8, 140.0, "unusable", False),
        (-64.0, 135.5, "unusable", False),
        (80.0, -80.0, "doubtful", True),
        (48.2, 16.4, "", True),
    ],
)
def test_near_a_magnetic_pole_the_compass_is_warned_of(latitude_deg, longitude_deg, word, valid):
    found = declination_deg(
        Site(latitude_deg=latitude_deg, longitude_deg=longitude_deg), parse_iso("2025-06-01")
    )
    assert word in found.note
    assert bool(found.note) == bool(word)
    assert found.valid == valid


@given(st.floats(-90.0, 90.0), st.floats(-180.0, 180.0), st.floats(0.0, 4e9))
def test_every_place_and_date_has_a_finite_answer(latitude_deg, longitude_deg, utc_s):
    found = declination_deg(Site(latitude_deg=latitude_deg, longitude_deg=longitude_deg), utc_s)
    assert -180.0 <= found.deg <= 180.0
    assert 0.23 < found.sigma_deg <= 180.0
    assert math.isfinite(found.deg + found.sigma_deg)


def test_compass_bearing_with_easterly_declination_is_smaller():
    assert magnetic_from_true(3.0, 5.0) == 358.0
    assert magnetic_from_true(355.0, -5.0) == 0.0


@given(st.floats(0.0, 360.0, exclude_max=True), st.floats(-180.0, 180.0))
def test_the_declination_added_to_a_compass_bearing_gives_the_true_one(true_deg, declination):
    magnetic_deg = magnetic_from_true(true_deg, declination)
    assert 0.0 <= magnetic_deg < 360.0
    apart_deg = (magnetic_deg + declination - true_deg + 180.0) % 360.0 - 180.0
    assert abs(apart_deg) < 1e-9
