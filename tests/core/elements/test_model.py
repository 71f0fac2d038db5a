from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from core.elements.model import ElementSet, one_line
from tests.core.elements.samples import element_set, keywords


def test_the_epoch_is_brought_to_its_one_text():
    by_day = element_set(EPOCH="2024-306T06:30:15.1250Z")
    assert by_day.epoch == "2024-11-01T06:30:15.125"
    assert by_day == element_set(EPOCH="2024-11-01T06:30:15.125")


def test_epoch_in_three_scales():
    elements = element_set(EPOCH="2024-11-01T06:00:00")
    assert elements.epoch_jd == (2460615.5, 0.25)
    assert elements.epoch_utc_s == 1730440800.0


@pytest.mark.parametrize("theory", ["SGP4", "SGP/SGP4", "sgp4", "SGP"])
def test_names_of_the_one_theory(theory):
    assert element_set(MEAN_ELEMENT_THEORY=theory).theory == "SGP4"


def test_metadata_in_small_letters_is_taken():
    elements = element_set(CENTER_NAME="Earth", REF_FRAME="teme", TIME_SYSTEM="utc")
    assert (elements.center, elements.frame, elements.time_system) == ("EARTH", "TEME", "UTC")


@pytest.mark.parametrize(
    "changes",
    [
        {"MEAN_ELEMENT_THEORY": "SGP4-XP"},
        {"MEAN_ELEMENT_THEORY": "DSST"},
        {"EPHEMERIS_TYPE": 4},
        {"EPHEMERIS_TYPE": 3},
        {"EPHEMERIS_TYPE": 6},
        {"REF_FRAME": "GCRF"},
        {"CENTER_NAME": "MARS"},
        {"TIME_SYSTEM": "TAI"},
        {"EPOCH": "2024-13-01T00:00:00"},
        {"MEAN_MOTION": 0.0},
        {"MEAN_MOTION": 20.0},
        {"ECCENTRICITY": 1.0},
        {"ECCENTRICITY": -1e-9},
        {"INCLINATION": 180.1},
        {"RA_OF_ASC_NODE": 360.5},
        {"MEAN_ANOMALY": float("nan")},
        {"BSTAR": float("inf")},
        {"NORAD_CAT_ID": 0},
        {"NORAD_CAT_ID": 1_000_000_000},
        {"OBJECT_NAME": " \t\x00 "},
        {"FREQUENCY": 145.8},
    ],
)
def test_what_sgp4_cannot_use_is_refused(changes):
    with pytest.raises(ValidationError):
        ElementSet.model_validate(keywords(**changes))


def test_names_and_aliases_mean_the_same():
    by_alias = element_set()
    by_name = ElementSet(**by_alias.model_dump())
    assert by_name == by_alias
    assert hash(by_name) == hash(by_alias)


def test_minus_zero_is_zero():
    assert str(element_set(BSTAR=-0.0).bstar) == "0.0"


def test_an_unknown_designator_is_empty():
    assert element_set(OBJECT_ID="UNKNOWN").object_id == ""
    assert element_set(CLASSIFICATION_TYPE=" ").classification == "U"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (" HILL  TOP\n1 ", "HILL TOP 1"),
        ("a\x00b", "a b"),
        ("a\u2028b\x85c", "a b c"),
        ("\ufeffNAME\u200b", "NAME"),
        ("Żółw-1 [P]", "Żółw-1 [P]"),
    ],
)
def test_texts_are_brought_to_one_line(text, line):
    assert one_line(text) == line


@given(st.text())
def test_one_line_is_one_printable_line_and_stays(text):
    line = one_line(text)
    assert line.isprintable()
    assert line == line.strip()
    assert "  " not in line
    assert one_line(line) == line


def test_an_element_set_stays_as_it_was_read():
    with pytest.raises(ValidationError, match="frozen"):
        element_set().bstar = 1.0


def test_a_key_that_is_none_of_the_standard_s_is_refused():
    with pytest.raises(ValidationError, match="WIDTH"):
        element_set(WIDTH=1.0)
