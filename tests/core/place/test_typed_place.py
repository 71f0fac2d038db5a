"""A coordinate, or a whole position, typed into the field of one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.place.typed_place import read_coordinate

LATITUDES = st.floats(-90.0, 90.0).map(lambda value: round(value, 6) + 0.0)
LONGITUDES = st.floats(-180.0, 180.0).map(lambda value: round(value, 6) + 0.0)


@given(
    LATITUDES,
    LONGITUDES,
    st.sampled_from(["{:f}, {:f}", "{:f},{:f}", "{:f} {:f}", "{:f};{:f}", "{:f}, {:f}, 1300 m"]),
)
def test_both_are_read_from_either_field(latitude, longitude, form):
    for coordinate in ("latitude", "longitude"):
        place = read_coordinate(form.format(latitude, longitude), coordinate)
        assert place[:2] == pytest.approx((latitude, longitude), abs=1e-6)
        assert place.height_m == (1300.0 if "m" in form else None)


@given(st.integers(0, 89), st.integers(0, 59), st.integers(0, 59), st.sampled_from("NS"), st.booleans())
def test_minutes_seconds_and_letters(degrees, minutes, seconds, letter, before):
    angle = f"{degrees}°{minutes:02d}'{seconds:02d}\""
    text = f"{letter} {angle}" if before else f"{angle} {letter}"
    size = degrees + minutes / 60.0 + seconds / 3600.0
    place = read_coordinate(text, "latitude")
    assert place.latitude_deg == pytest.approx(size if letter == "N" else -size, abs=1e-8)
    assert place.longitude_deg is None
    with pytest.raises(ValueRangeError, match=f"{letter} is of a latitude"):
        read_coordinate(text, "longitude")


@given(
    st.text(alphabet="0123456789°'\"NSEWnsew.,;- +m", max_size=16), st.sampled_from(["latitude", "longitude"])
)
def test_any_text_is_a_place_on_the_globe_or_refused(text, coordinate):
    try:
        place = read_coordinate(text, coordinate)
    except ValueRangeError:
        return
    assert place.latitude_deg is None or abs(place.latitude_deg) <= 90.0
    assert place.longitude_deg is None or abs(place.longitude_deg) <= 180.0
    assert place[:2] != (None, None)


@pytest.mark.parametrize(
    ("text", "coordinate", "place"),
    [
        ("47°15'", "latitude", (47.25, None, None)),
        ("47.25 N", "latitude", (47.25, None, None)),
        ("9.1W", "longitude", (None, -9.1, None)),
        ("47,25", "latitude", (47.25, None, None)),
        ("47.2, 9.1", "latitude", (47.2, 9.1, None)),
        ("47,2, 9,1", "longitude", (47.2, 9.1, None)),
        ("47°15'N 9°6'E", "latitude", (47.25, 9.1, None)),
        ("N47°15' W9°6', 700", "latitude", (47.25, -9.1, 700.0)),
        ("47°15' -9°6'", "longitude", (47.25, -9.1, None)),
    ],
)
def test_forms_that_people_write(text, coordinate, place):
    assert tuple(read_coordinate(text, coordinate)) == place


@pytest.mark.parametrize("text", ["", "north", "91", "47°75'", "-47 S", "1 2 3 4", "47°15'N 9°66'E", "95, 9"])
def test_what_is_no_latitude_is_refused(text):
    with pytest.raises(ValueRangeError):
        read_coordinate(text, "latitude")
