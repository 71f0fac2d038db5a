"""Numbers and angles as they are typed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.edits import changed
from core.base.errors import FileProblem, ValueRangeError
from core.base.typed import Quantity, numbers_in, page_words, read_quantity, sexagesimal, without_keys
from tests.core.base.test_edits import PLAN

ANY, HEIGHT = Quantity("number"), Quantity("height", "m", -500.0, 9000.0)
ANGLE, GUARD = Quantity("angle", "deg", -1e6, 1e6), Quantity("guard", "deg", 0.0, 90.0)
OPEN, CLOSED = Quantity("bearing", "deg", bearing=True), Quantity("bearing", "deg", bearing=True, closed=True)
FIGURES = st.floats(-1e6, 1e6).map(lambda value: round(value, 4) + 0.0)


@given(FIGURES)
def test_a_number_as_python_writes_it_is_itself(value):
    assert read_quantity(f" {value!r} ", ANY) == value


@given(FIGURES.filter(lambda value: value != int(value)))
def test_a_comma_is_a_point_where_it_parts_no_thousands(value):
    text = f"{value:f}"  # six decimals
    assert read_quantity(text.replace(".", ","), ANY) == pytest.approx(value, abs=1e-6)


@given(
    st.integers(1000, 999_999_999),
    st.sampled_from([" ", "'", "\N{NARROW NO-BREAK SPACE}", ","]),
    st.booleans(),
)
def test_thousands_are_read_however_they_are_parted(value, mark, decimals):
    text = f"{value:,}".replace(",", mark) + (".5" if decimals else "")
    found = numbers_in(text)
    assert value + 0.5 * decimals in found
    assert len(found) == (2 if mark == "," and value < 1_000_000 and not decimals else 1)


@given(st.integers(1, 999), st.integers(0, 999))
def test_what_can_mean_two_numbers_is_asked_back_unless_the_range_tells(thousands, rest):
    text = f"{thousands},{rest:03d}"
    large, small = thousands * 1000.0 + rest, float(f"{thousands}.{rest:03d}")
    inside = [value for value in (large, small) if -500.0 <= value <= 9000.0]
    if len(inside) == 1:
        assert read_quantity(text, HEIGHT) == inside[0]
    else:
        with pytest.raises(ValueRangeError, match="leave the comma out"):
            read_quantity(text, HEIGHT)


@given(st.integers(-359, 359), st.integers(0, 59), st.integers(0, 59), st.booleans())
def test_minutes_and_seconds(degrees, minutes, seconds, spaced):
    gap = " " if spaced else ""
    text = f"{degrees}°{gap}{minutes}'{gap}{seconds}\""
    if degrees:
        size = abs(degrees) + minutes / 60.0 + seconds / 3600.0
        assert read_quantity(text, ANGLE) == pytest.approx(size if degrees > 0 else -size, abs=1e-8)
    assert sexagesimal(f"{degrees}°{minutes + 60}'") is None


@given(st.floats(-360.0, 720.0), st.sampled_from([OPEN, CLOSED]))
def test_a_bearing_is_taken_round(value, quantity):
    turned = read_quantity(repr(value), quantity)
    assert 0.0 <= turned <= 360.0
    assert turned < 360.0 or quantity is CLOSED
    assert abs((turned - value + 180.0) % 360.0 - 180.0) < 1e-9


@given(st.text(max_size=12))
def test_any_text_is_a_finite_number_in_range_or_refused(text):
    for quantity in (ANY, GUARD, OPEN):
        try:
            value = read_quantity(text, quantity)
        except ValueRangeError:
            continue
        assert quantity.low <= value <= quantity.high
        assert abs(value) < float("inf")


@pytest.mark.parametrize(
    ("text", "quantity", "value"),
    [
        ("47°15'", ANGLE, 47.25),
        ("47° 15.5′", ANGLE, 47.25833333),
        ("-0°30'", ANGLE, -0.5),
        ("450 deg", ANGLE, 450.0),
        ("5°", GUARD, 5.0),
        ("1300 m", HEIGHT, 1300.0),
        ("1,300", GUARD, 1.3),
        ("0,300", HEIGHT, 0.3),
        ("1.300,5", HEIGHT, 1300.5),
        ("\N{MINUS SIGN}5", HEIGHT, -5.0),
        ("360", OPEN, 0.0),
        ("360", CLOSED, 360.0),
        ("-0", GUARD, 0.0),
    ],
)
def test_forms_that_people_write(text, quantity, value):
    assert read_quantity(text, quantity) == value


@pytest.mark.parametrize(
    "text", ["", " ", "x", "nan", "inf", "1_0", "1,2,3", "1.2.3", "12,34,5", "٣", "--1", "1e999"]
)
def test_what_is_no_number(text):
    with pytest.raises(ValueRangeError, match="a number"):
        read_quantity(text, ANY)


@pytest.mark.parametrize(
    ("quantity", "words"),
    [
        (GUARD, "0 to 90 deg"),
        (Quantity("x", "s", 0.0), "at least 0 s"),
        (Quantity("x", high=4.0), "at most 4"),
        (ANY, "a number"),
    ],
)
def test_the_range_in_words(quantity, words):
    assert quantity.range_words == words


def test_reasons_are_told_in_the_words_of_the_page():
    def reason(path, value):
        with pytest.raises(ValueRangeError) as caught:
            changed(PLAN, path, value)
        return page_words(caught.value)

    assert reason("mount.azimuth.guard_deg", 91.0) == "Must be 0 to 90"
    assert reason("mount.azimuth.guard_deg", -1.0) == "Must be 0 to 90"
    assert reason("mount.azimuth.travel_deg", 5.0) == (
        "Guard leaves no travel: twice the guard must be less than travel"
    )
    assert page_words(FileProblem("a.csv", "line 2", "rate_deg_s is odd")) == "A.csv, line 2: rate is odd"


def test_a_long_row_of_digits_is_no_number_and_is_shown_short():
    for text in ("1" * 199 + "x", "1" * 100_000 + "x", "1" * 100_000):
        with pytest.raises(ValueRangeError) as caught:
            read_quantity(text, Quantity("height", "m", 0.0, 10.0))
        assert len(str(caught.value)) < 150


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [("12 mm", "mm", 12.0), ("3.5kg", "kg", 3.5), ("8 m/s", "m/s", 8.0), ("9 Nm", "Nm", 9.0)],
)
def test_units_of_the_shop_may_stand_behind_the_number(text, unit, value):
    assert read_quantity(text, Quantity("length", unit, 0.0, 100.0)) == value


def test_a_page_tells_no_keys_of_the_plan_file():
    told = "The lee is not wished: say where the wind comes from (wind_from_deg)."
    assert without_keys(told) == "The lee is not wished: say where the wind comes from."
    assert without_keys("where it leaves (clearance.cable) is not typed.") == "where it leaves is not typed."
    assert without_keys("a guy (old) stays.") == "a guy (old) stays."
