from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.elements.model import ElementSet
from core.elements.readers.harvest import Fault, Harvest
from core.elements.readers.omm import add_message, set_from_keywords, sort_keywords, without_unit
from tests.core.elements.samples import element_set, keywords


def test_texts_and_numbers_give_the_same_set():
    as_numbers = keywords(MEAN_MOTION=14.81234567, NORAD_CAT_ID=55466, ELEMENT_SET_NO=999.0, BSTAR=0.00012345)
    assert set_from_keywords(as_numbers) == set_from_keywords(keywords())


def test_catalogue_numbers_up_to_nine_digits():
    assert set_from_keywords(keywords(NORAD_CAT_ID="999999999")).norad_id == 999_999_999
    assert set_from_keywords(keywords(NORAD_CAT_ID="000025544")).norad_id == 25544


@pytest.mark.parametrize("form", ["-0.1e-3", "-1E-4", "-.0001", "-0.0001", "-1.e-04", " -1e-4 "])
def test_forms_of_a_number(form):
    assert set_from_keywords(keywords(BSTAR=form)).bstar == -1e-4


@pytest.mark.parametrize(
    "missing",
    [
        "EPOCH",
        "MEAN_MOTION",
        "ECCENTRICITY",
        "INCLINATION",
        "RA_OF_ASC_NODE",
        "ARG_OF_PERICENTER",
        "MEAN_ANOMALY",
        "NORAD_CAT_ID",
    ],
)
@pytest.mark.parametrize("absent", [None, "", "  "])
def test_mandatory_keywords(missing, absent):
    fields = keywords()
    fields[missing] = absent
    with pytest.raises(Fault, match="is missing") as fault:
        set_from_keywords(fields)
    assert fault.value.field == missing


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"MEAN_MOTION": "fast"}, "'fast', which is not a number"),
        ({"MEAN_MOTION": "nan"}, "finite"),
        ({"MEAN_MOTION": "-Infinity"}, "finite"),
        ({"MEAN_MOTION": float("nan")}, "finite"),
        ({"BSTAR": "1e999"}, "finite"),
        ({"BSTAR": 10**400}, "finite"),
        ({"BSTAR": True}, "not a number"),
        ({"BSTAR": [1]}, "not a number"),
        ({"BSTAR": "1_000"}, "not a number"),
        ({"BSTAR": "0x10"}, "not a number"),
        ({"BSTAR": "1,5"}, "not a number"),
        ({"BSTAR": "1 2"}, "not a number"),
        ({"INCLINATION": "٩٧"}, "not a number"),
        ({"INCLINATION": "１２"}, "not a number"),
        ({"INCLINATION": "1" * 5000}, "not a number"),
        ({"INCLINATION": "200"}, "from 0 to 180"),
        ({"ECCENTRICITY": "1"}, "below 1"),
        ({"ECCENTRICITY": "-0.1"}, "from 0"),
        ({"MEAN_MOTION": "0"}, "above 0"),
        ({"MEAN_MOTION": "25"}, "below 20"),
        ({"MEAN_ANOMALY": "400"}, "360"),
        ({"NORAD_CAT_ID": "0"}, "from 1"),
        ({"NORAD_CAT_ID": "1000000000"}, "999999999"),
        ({"NORAD_CAT_ID": "25544.5"}, "whole number"),
        ({"NORAD_CAT_ID": "-5"}, "whole number"),
        ({"NORAD_CAT_ID": "T0001"}, "whole number"),
        ({"NORAD_CAT_ID": "٢٥"}, "whole number"),
        ({"NORAD_CAT_ID": True}, "whole number"),
        ({"NORAD_CAT_ID": "9" * 5000}, "whole number"),
        ({"EPOCH": "2024-13-01T00:00:00"}, "month"),
        ({"EPOCH": {"a": 1}}, "not a text"),
        ({"EPOCH": 24306.5}, "UTC date and time"),
        ({"REF_FRAME": "ICRF"}, "only TEME"),
        ({"CENTER_NAME": "MARS BARYCENTER"}, "only EARTH"),
        ({"TIME_SYSTEM": "TAI"}, "only UTC"),
        ({"MEAN_ELEMENT_THEORY": "SGP4-XP"}, "another propagator"),
        ({"MEAN_ELEMENT_THEORY": "DSST"}, "another propagator"),
        ({"EPHEMERIS_TYPE": "4"}, "SGP4-XP"),
        ({"EPHEMERIS_TYPE": "6"}, "another propagator"),
        ({"BTERM": "0.02", "BSTAR": None}, "SGP4-XP"),
    ],
)
def test_values_that_are_refused(changes, told):
    with pytest.raises(Fault) as fault:
        set_from_keywords(keywords(**changes))
    assert told in fault.value.reason
    assert fault.value.field == next(iter(changes))
    assert len(fault.value.reason) < 200


def test_semi_major_axis_stands_in_for_mean_motion():
    motion_rad_s = math.sqrt(398_600.8 / 7000.0**3)
    fields = keywords(MEAN_MOTION=None, SEMI_MAJOR_AXIS="7000")
    assert set_from_keywords(fields).mean_motion_rev_day == pytest.approx(
        motion_rad_s * 86400 / math.tau, rel=1e-15
    )
    wider = set_from_keywords({**fields, "GM": "398600.4418"}).mean_motion_rev_day
    assert wider == pytest.approx(math.sqrt(398_600.4418 / 7000.0**3) * 86400 / math.tau, rel=1e-15)


def test_mean_motion_goes_before_an_axis():
    assert set_from_keywords(keywords(SEMI_MAJOR_AXIS="1")).mean_motion_rev_day == 14.81234567


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"SEMI_MAJOR_AXIS": "7000", "GM": "3.986e14"}, "GM"),
        ({"SEMI_MAJOR_AXIS": "7000", "GM": "x"}, "GM"),
        ({"SEMI_MAJOR_AXIS": "-7000"}, "SEMI_MAJOR_AXIS"),
        ({"SEMI_MAJOR_AXIS": "700"}, "SEMI_MAJOR_AXIS"),
        ({"SEMI_MAJOR_AXIS": "1e300"}, "SEMI_MAJOR_AXIS"),
    ],
)
def test_an_axis_of_another_planet_or_unit_is_refused(changes, field):
    with pytest.raises(Fault) as fault:
        set_from_keywords(keywords(MEAN_MOTION=None, **changes))
    assert fault.value.field == field


def test_a_nameless_object_is_called_by_its_number():
    assert set_from_keywords(keywords(OBJECT_NAME=None)).name == "object 55466"
    assert set_from_keywords(keywords(OBJECT_NAME=" ")).name == "object 55466"
    assert set_from_keywords(keywords(OBJECT_NAME="\x00")).name == "object 55466"


def test_units_are_the_standards_or_refused():
    assert without_unit("INCLINATION", "97.5 [deg]") == "97.5"
    assert without_unit("MEAN_MOTION_DOT", "1e-5 [REV/DAY**2]") == "1e-5"
    assert without_unit("OBJECT_NAME", "HILLTOP 1 [P]") == "HILLTOP 1 [P]"
    assert without_unit("INCLINATION", "]") == "]"
    with pytest.raises(Fault, match="must be in deg"):
        without_unit("INCLINATION", "1.7 [rad]")


def test_what_is_dropped_left_aside_and_assumed_is_told_once():
    harvest = Harvest("a.json")
    for at in (1, 2, 3):
        fields = keywords(NORAD_CAT_ID=at, BSTAR=None, CX_X="1", MASS="4", USER_DEFINED_X="1", PERIOD="95")
        sort_keywords(list(fields), harvest)
        add_message(fields, f"record {at}", harvest)
    assert harvest.notes() == (
        "a.json: dropped keywords PERIOD (not in the standard)",
        "a.json: left aside covariance, spacecraft parameters, user-defined parameters "
        "(SGP4 has no use for them)",
        "a.json: BSTAR missing, taken as 0 (record 1 and 2 more)",
    )
    assert [elements.bstar for elements in harvest.found.sets] == [0.0, 0.0, 0.0]


def test_a_refusal_points_at_the_line_of_its_keyword():
    harvest = Harvest("a.kvn")
    add_message(keywords(INCLINATION="x"), "line 1", harvest, lines={"INCLINATION": 9})
    assert str(harvest.refused.kept[0]) == "a.kvn, line 9, INCLINATION: is 'x', which is not a number"
    assert len(harvest.found) == 0


def test_metadata_left_out_is_told_where_the_form_demands_it():
    harvest = Harvest("a.kvn")
    add_message(keywords(), "line 1", harvest, metadata_expected=True)
    assert harvest.found.sets == (element_set(),)
    assert "a.kvn: REF_FRAME missing, taken as TEME (line 1)" in harvest.notes()


_VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=20),
    st.text(alphabet="0123456789+-.eETZ:_ ", max_size=24),
    st.lists(st.integers(), max_size=2),
    st.dictionaries(st.text(max_size=3), st.integers(), max_size=2),
)


@settings(max_examples=500, deadline=None)
@given(st.dictionaries(st.sampled_from([*sorted(keywords()), "GM", "SEMI_MAJOR_AXIS", "REF_FRAME"]), _VALUES))
def test_any_values_give_a_set_or_a_fault(changes):
    with contextlib.suppress(Fault):  # anything else would leave the readers
        assert isinstance(set_from_keywords({**keywords(), **changes}), ElementSet)
