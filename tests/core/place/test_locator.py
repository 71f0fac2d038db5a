"""Grid locators against an oracle that counts cells by taking them away one at a time, in exact fractions."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.place.locator import check_position, from_locator, locator_of

_LATITUDES = st.decimals("-90", "90", places=6, allow_nan=False)
_LONGITUDES = st.decimals("-180", "180", places=6, allow_nan=False)
_LENGTHS = st.sampled_from([4, 6, 8, 10])
_SYMBOLS = (
    "ABCDEFGHIJKLMNOPQR",
    "0123456789",
    "abcdefghijklmnopqrstuvwx",
    "0123456789",
    "abcdefghijklmnopqrstuvwx",
)
_LOCATORS = st.tuples(_LENGTHS, *(st.tuples(st.sampled_from(s), st.sampled_from(s)) for s in _SYMBOLS)).map(
    lambda drawn: "".join(a + b for a, b in drawn[1:])[: drawn[0]]
)


def symbols_of(offset: Fraction, span: int) -> list[str]:
    """One symbol of each pair for an offset from the south (span 180) or west (span 360)."""
    found, size = [], Fraction(span)
    for symbols in _SYMBOLS:
        size /= len(symbols)
        count = 0
        while offset >= size and count < len(symbols) - 1:
            offset -= size
            count += 1
        found.append(symbols[count])
    return found


def oracle(latitude: Fraction, longitude: Fraction) -> str:
    east = symbols_of((longitude + 180) % 360, 360)
    north = symbols_of(latitude + 90, 180)
    return "".join(a + b for a, b in zip(east, north, strict=True))


@given(_LATITUDES, _LONGITUDES, _LENGTHS)
@example("37.1", "-80.1", 8)
@example("90", "180", 10)
@example("-90", "-180", 10)
def test_locator_is_the_oracles(latitude, longitude, characters):
    expected = oracle(Fraction(latitude), Fraction(longitude))[:characters]
    assert locator_of(float(latitude), float(longitude), characters) == expected


@given(st.integers(0, 180 * 240), st.integers(0, 360 * 120 - 1))
def test_edges_written_as_decimals_belong_to_the_cell_north_and_east(row, column):
    """Every edge of the 8 character cells that six decimals can write."""
    latitude, longitude = Fraction(row, 240) - 90, Fraction(column, 120) - 180
    if any((value * 10**6).denominator != 1 for value in (latitude, longitude)):
        latitude, longitude = Fraction(row // 240) - 90, Fraction(column // 120) - 180
    assert locator_of(float(latitude), float(longitude), 8) == oracle(latitude, longitude)[:8]


@given(_LOCATORS)
def test_a_cells_centre_has_the_cells_locator(locator):
    cell = from_locator(locator)
    assert cell.locator == locator
    assert locator_of(cell.latitude_deg, cell.longitude_deg, len(locator)) == locator


@given(_LATITUDES, _LONGITUDES, _LENGTHS)
def test_a_position_lies_in_its_cell(latitude, longitude, characters):
    latitude_deg, longitude_deg = float(latitude), float(longitude)
    cell = from_locator(locator_of(latitude_deg, longitude_deg, characters))
    east_deg = (longitude_deg - cell.longitude_deg + 180.0) % 360.0 - 180.0
    assert abs(latitude_deg - cell.latitude_deg) <= cell.half_height_deg + 1e-9
    assert abs(east_deg) <= cell.half_width_deg + 1e-9


@given(_LOCATORS, st.randoms())
def test_letter_case_is_free_on_reading(locator, random):
    mixed = "".join(random.choice([symbol.upper(), symbol.lower()]) for symbol in locator)
    assert from_locator(f" {mixed} ") == from_locator(locator)


def test_cell_sizes():
    """The figures of each level: 2 by 1 deg, 5 by 2.5 minutes, 30 by 15 and 1.25 by 0.625 seconds."""
    sizes_deg = {
        4: (2.0, 1.0),
        6: (5 / 60, 2.5 / 60),
        8: (30 / 3600, 15 / 3600),
        10: (1.25 / 3600, 0.625 / 3600),
    }
    for characters, (width_deg, height_deg) in sizes_deg.items():
        cell = from_locator("JN58td25xe"[:characters])
        assert 2 * cell.half_width_deg == pytest.approx(width_deg, rel=1e-15)
        assert 2 * cell.half_height_deg == pytest.approx(height_deg, rel=1e-15)


def test_antimeridian_and_poles():
    assert locator_of(0.0, 180.0) == locator_of(0.0, -180.0) == "AJ00aa"
    assert locator_of(0.0, 179.999999) == "RJ90xa"
    assert locator_of(90.0, 0.0, 10) == "JR09ax09ax"
    assert locator_of(-90.0, 0.0) == "JA00aa"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "JN",
        "JN5",
        "JN58t",
        "JN58td2",
        "JN58td25xe1",
        "SN58",
        "JS58",
        "J158",
        "JNA8",
        "JN58ty",
        "JN58td2x",
        "JN58td25xy",
        "ÄN58",
    ],
)
def test_what_is_no_locator_is_refused(text):
    with pytest.raises(ValueRangeError, match="4, 6, 8 or 10 characters"):
        from_locator(text)


def test_positions_off_the_globe_are_refused_by_name():
    with pytest.raises(ValueRangeError, match=r"latitude_deg is 151\.2"):
        locator_of(151.2, -33.9)
    with pytest.raises(ValueRangeError, match=r"longitude_deg is 180\.5"):
        locator_of(0.0, 180.5)
    with pytest.raises(ValueRangeError, match="latitude_deg is nan"):
        check_position(float("nan"), 0.0)
    with pytest.raises(ValueRangeError, match="characters is 5"):
        locator_of(0.0, 0.0, 5)
