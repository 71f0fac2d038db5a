"""The plan document."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from core.base.errors import ValueRangeError
from core.base.times import format_iso, parse_iso, parse_moment
from core.place.site import Site
from core.plan.document import Evening, Pick, Plan
from tests.plans import full_plan_data, plan_of, short_plan_data


def test_plans_are_frozen():
    plan = plan_of(short_plan_data())
    with pytest.raises(ValidationError, match="frozen"):
        plan.title = "another"  # type: ignore[misc]
    with pytest.raises(ValidationError, match="frozen"):
        plan.mount.azimuth.travel_deg = 1.0  # type: ignore[misc]


def test_plans_compare_by_value():
    assert plan_of(full_plan_data()) == plan_of(full_plan_data())
    assert plan_of(full_plan_data()) != plan_of(full_plan_data(), site__height_m=1300.5)
    left_out = Site(latitude_deg=1.0, longitude_deg=2.0)
    assert left_out == Site(latitude_deg=1.0, longitude_deg=2.0, minimum_elevation_deg=5.0)


def test_the_evening_in_seconds():
    evening = Evening(start="2024-11-01T17:00:00Z", end="2024-11-01T21:30:00.5+01:00")
    assert evening.start_utc_s == 1_730_480_400.0
    assert evening.end_utc_s - evening.start_utc_s == 3.5 * 3600.0 + 0.5


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ("2024-11-01T17:00:00Z", "2024-11-01T17:00:00Z"),
        ("2024-11-01T17:00:00.0001Z", "2024-11-01T17:00:00.0002Z"),  # the same millisecond
        ("2024-11-01T18:00:00Z", "2024-11-01T18:30:00+01:00"),
        ("2024-11-01T00:00:00Z", "2024-11-16T00:00:00.001Z"),
        ("1956-12-31T23:00:00Z", "1957-01-01T03:00:00Z"),
        ("2099-12-31T23:00:00Z", "2100-01-01T00:00:00Z"),
    ],
)
def test_evenings_that_cannot_be(start, end):
    with pytest.raises(ValidationError):
        Evening(start=start, end=end)


def test_the_longest_evening_is_fifteen_days():
    evening = Evening(start="2024-11-01T00:00:00Z", end="2024-11-16T00:00:00Z")
    assert evening.end_utc_s - evening.start_utc_s == 15 * 86_400.0


@given(st.floats(parse_iso("1957-01-01"), parse_iso("2099-12-31")))
def test_moments_read_back_to_the_millisecond(utc_s):
    text = format_iso(utc_s)
    assert abs(parse_moment(text) - utc_s) <= 0.0005 + 1e-6
    assert Pick(norad_id=1, near=text).near == text


@pytest.mark.parametrize("text", ["", "now", "2024-13-01", "0001-01-01", "9999-12-31T23:59:59.9999Z", "1900"])
def test_what_is_no_moment_names_its_field(text):
    with pytest.raises(ValueRangeError, match="--start"):
        parse_moment(text, "--start")


def test_a_catalogue_number_stands_once():
    data = short_plan_data()
    data["satellites"][1]["elements"]["NORAD_CAT_ID"] = 70001
    with pytest.raises(ValidationError, match="70001 is there twice"):
        Plan.model_validate(data)
