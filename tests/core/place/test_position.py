"""Positions as typed and as read back, and landmark bearings."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.place.position import describe_position, landmark_bearing, locator_distance_km, parse_site_text
from core.place.site import Site

_EARTH_RADIUS_KM = 6371.0

_LATITUDES = st.floats(-90.0, 90.0).map(lambda value: round(value, 4))
_LONGITUDES = st.floats(-180.0, 180.0).map(lambda value: round(value, 4))
_HEIGHTS = st.integers(-500, 9000)


def place(latitude_deg: float, longitude_deg: float, height_m: float = 0.0) -> Site:
    return Site(latitude_deg=latitude_deg, longitude_deg=longitude_deg, height_m=height_m)


@pytest.mark.parametrize(
    "text",
    [
        "-33.9,151.2",
        " -33.9 , +151.2 ",
        "-33.9 151.2",
        "-33.90, 151.2,0",
        "−33.9, 151.2",
        "-33,9;151,2",
        "-33.9; 151.2; 0",
        "33.9S 151.2E",
        "33.9 S, 151.2 E",
        "33.9s,151.2e,0 m",
        "33,9 S 151,2 E",
        "33.9° S 151.2° E",
        "151.2E 33.9S",
        "-33.9°,151.2°,0m",
    ],
)
def test_every_form_of_a_position(text):
    assert parse_site_text(text) == place(-33.9, 151.2)


@pytest.mark.parametrize(
    "text",
    [
        "-33.9,-151.2,40",
        "-33.9, -151.2,40",
        "-33.9 -151.2 40",
        "33.9S 151.2W 40",
        "33.9 S, 151.2 W, 40 m",
        "-33,9;-151,2;40 m",
    ],
)
def test_height_and_west(text):
    assert parse_site_text(text) == place(-33.9, -151.2, 40.0)


@pytest.mark.parametrize("text", ["JN58td", "jn58TD,500", "JN58td 500 m", "JN58td; 500"])
def test_a_locator_stands_for_its_cells_centre(text):
    site = parse_site_text(text)
    assert (site.latitude_deg, site.longitude_deg) == pytest.approx((48 + 3.5 / 24, 11 + 15 / 24))
    assert site.height_m == (500.0 if "500" in text else 0.0)


@pytest.mark.parametrize(
    "text",
    [
        "48,2 16",
        "48,2 16,4",
        "48,2,16,4",
        "-33.9S 151.2E",
        "33.9S 151.2",
        "33.9S 20N",
        "33.9",
        "",
        "here",
        "48.2,16.4,",
        "nan,0",
        "1e1,2",
        "1,2,3,4",
        "48.2;16.4,100",
    ],
)
def test_what_could_be_read_in_two_ways_or_none_is_refused(text):
    with pytest.raises(ValueRangeError, match="LAT,LON"):
        parse_site_text(text)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("151.2,-33.9", "latitude_deg is 151.2, it must be -90 to 90"),
        ("10,190", "longitude_deg is 190.0, it must be -180 to 180"),
        ("95 N 10 E", "latitude_deg is 95.0"),
        ("10,20,9001", "height_m is 9001.0, it must be -500 to 9000"),
        ("JN58t", "locator is 'JN58t'"),
        ("JS58", "locator is 'JS58'"),
    ],
)
def test_a_figure_out_of_range_is_named(text, message):
    with pytest.raises(ValueRangeError, match=message):
        parse_site_text(text)


@given(_LATITUDES, _LONGITUDES, _HEIGHTS)
def test_the_position_read_back_is_the_position_typed(latitude_deg, longitude_deg, height_m):
    site = parse_site_text(f"{latitude_deg:.4f},{longitude_deg:.4f},{height_m}")
    position, _, _ = describe_position(site).partition(" m, locator")
    assert parse_site_text(position) == site == place(latitude_deg, longitude_deg, height_m)


def test_signs_are_told_in_words():
    assert (
        describe_position(place(-33.9, 151.2, 40.0))
        == "33.9000 S 151.2000 E 40 m, locator QF56oc (its centre 0.9 km away)"
    )
    assert "33.9000 N 151.2000 W" in describe_position(place(33.9, -151.2))
    assert describe_position(place(0.0, 0.0)).startswith("0.0000 N 0.0000 E 0 m, locator JJ00aa")


@given(st.floats(-89.0, 89.0), st.floats(-180.0, 180.0))
def test_the_own_locators_centre_is_near(latitude_deg, longitude_deg):
    """No point of a 6 character cell is further from its centre than half its diagonal at the equator."""
    text = describe_position(place(latitude_deg, longitude_deg))
    assert float(text.rpartition("centre ")[2].removesuffix(" km away)")) <= 5.3


def test_west_taken_for_east_shows_in_the_distance_to_the_locator():
    assert locator_distance_km(place(48.2, 16.4), "JN88ee") < 5.0
    assert locator_distance_km(place(48.2, -16.4), "JN88ee") > 2000.0


@given(st.floats(-80.0, 80.0), st.floats(-180.0, 180.0), st.floats(0.0, 360.0), st.floats(0.05, 20.0))
def test_landmark_is_where_plane_trigonometry_puts_it(latitude_deg, longitude_deg, bearing_deg, distance_km):
    """A step east and north on a sphere; flattening and the turn of the meridians allow for the rest."""
    north_deg = math.degrees(distance_km * math.cos(math.radians(bearing_deg)) / _EARTH_RADIUS_KM)
    east_deg = math.degrees(distance_km * math.sin(math.radians(bearing_deg)) / _EARTH_RADIUS_KM)
    there_deg = latitude_deg + north_deg
    meridian_deg = longitude_deg + east_deg / math.cos(math.radians(latitude_deg + north_deg / 2))
    meridian_deg = (meridian_deg + 180.0) % 360.0 - 180.0
    found = landmark_bearing(place(latitude_deg, longitude_deg), there_deg, meridian_deg)
    assert 0.0 <= found.azimuth_deg < 360.0
    assert abs((found.azimuth_deg - bearing_deg + 180.0) % 360.0 - 180.0) < 0.8
    assert found.distance_m == pytest.approx(1000.0 * distance_km, rel=0.01)


@pytest.mark.parametrize(("distance_m", "error_deg"), [(100.0, 2.43), (500.0, 0.486), (2000.0, 0.1215)])
def test_error_of_three_metres_at_each_end(distance_m, error_deg):
    """sqrt(3^2 + 3^2) / D: common practice, no source."""
    north_deg = math.degrees(distance_m / 6_356_752.0)
    found = landmark_bearing(place(0.0, 0.0), north_deg, 0.0)
    assert found.azimuth_deg == pytest.approx(0.0, abs=1e-9)
    assert found.error_deg == pytest.approx(error_deg, rel=0.02)


def test_a_landmark_nearer_than_its_error_tells_no_direction():
    assert landmark_bearing(place(48.2, 16.4), 48.2, 16.40001).error_deg == 180.0


def test_the_site_itself_is_no_landmark():
    with pytest.raises(ValueRangeError, match="other than the site"):
        landmark_bearing(place(48.2, 16.4), 48.2, 16.4)
    with pytest.raises(ValueRangeError, match="latitude_deg"):
        landmark_bearing(place(48.2, 16.4), 98.2, 16.4)
