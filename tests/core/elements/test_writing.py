from __future__ import annotations

import csv
import io
import json
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.elements.reading import read_elements
from core.elements.writing import write_omm_csv, write_omm_json, write_omm_kvn, write_omm_xml
from tests.core.elements.samples import MADE, element_set, element_sets, five_sets

WRITERS = [write_omm_json, write_omm_csv, write_omm_kvn, write_omm_xml]
writers = pytest.mark.parametrize("write", WRITERS)


@writers
@settings(max_examples=150, deadline=None)
@given(st.lists(element_sets, min_size=1, max_size=4, unique_by=lambda elements: elements.norad_id))
def test_every_set_reads_back_equal(write, sets):
    reading = read_elements(write(sets, **MADE), "a.omm")
    assert reading.refused == ()
    assert reading.notes == ()
    assert reading.sets == tuple(sets)


@writers
@pytest.mark.parametrize(
    "name",
    [
        "A, B",
        'THE "KITE"',
        '"',
        "A = B",
        "KITE [P]",
        "<omm id='x'>",
        '"EPOCH": 1',
        "EPOCH = 2024-11-01T00:00:00",
        "]]> & &amp;",
        "Żółw 1",
        "衛星 🛰",
        "{[",
        "COMMENT x",
        "#1",
        "=1+1",
    ],
)
def test_names_that_look_like_the_form_itself(write, name):
    sets = (element_set(OBJECT_NAME=name), *five_sets()[:2])
    reading = read_elements(write(sets, **MADE), "a.omm")
    assert reading.sets == sets
    assert (reading.refused, reading.notes) == ((), ())


@writers
def test_the_same_sets_give_the_same_text(write):
    assert write(five_sets(), **MADE) == write(list(five_sets()), **MADE)


@writers
@pytest.mark.parametrize(
    ("date", "maker", "field"),
    [("today", "X", "CREATION_DATE"), ("2024-11-01T00:00:00", " ", "ORIGINATOR")],
)
def test_date_and_maker_are_checked(write, date, maker, field):
    with pytest.raises(ValueRangeError, match=field):
        write(five_sets(), creation_date=date, originator=maker)


@writers
def test_no_sets_give_a_text_that_is_refused_not_a_crash(write):
    reading = read_elements(write([], **MADE), "a.omm")
    assert reading.sets == ()
    assert len(reading.refused) == 1


def test_json_is_read_by_any_reader():
    text = write_omm_json([element_set(OBJECT_ID="")], **MADE)
    assert text.splitlines()[1] == " {"
    record = json.loads(text)[0]
    assert record["CCSDS_OMM_VERS"] == "2.0"
    assert record["CREATION_DATE"] == "2024-11-01T12:00:00"
    assert record["ORIGINATOR"] == "NORTHKEY TEST"
    assert record["OBJECT_ID"] == "UNKNOWN"
    assert record["MEAN_MOTION"] == 14.81234567
    assert record["NORAD_CAT_ID"] == 55466


def test_csv_has_the_customary_columns_first():
    header, row = csv.reader(io.StringIO(write_omm_csv([element_set()], **MADE)))
    assert header[:4] == ["OBJECT_NAME", "OBJECT_ID", "EPOCH", "MEAN_MOTION"]
    assert header[-3:] == ["MEAN_MOTION_DDOT", "CREATION_DATE", "ORIGINATOR"]
    assert len(header) == len(row) == 19


def test_kvn_follows_the_order_of_the_standard():
    keys = [line.partition("=")[0].strip() for line in write_omm_kvn([element_set()], **MADE).splitlines()]
    in_order = """
        CCSDS_OMM_VERS CREATION_DATE ORIGINATOR OBJECT_NAME OBJECT_ID CENTER_NAME REF_FRAME TIME_SYSTEM
        MEAN_ELEMENT_THEORY EPOCH MEAN_MOTION ECCENTRICITY INCLINATION RA_OF_ASC_NODE ARG_OF_PERICENTER
        MEAN_ANOMALY EPHEMERIS_TYPE CLASSIFICATION_TYPE NORAD_CAT_ID ELEMENT_SET_NO REV_AT_EPOCH BSTAR
        MEAN_MOTION_DOT MEAN_MOTION_DDOT
    """
    assert keys == in_order.split()


def test_kvn_numbers_have_a_point_before_their_exponent():
    text = write_omm_kvn([element_set(BSTAR=1e-5, MEAN_MOTION_DOT=1.25e-7)], **MADE)
    assert "BSTAR               = 1.0E-05\n" in text
    assert "MEAN_MOTION_DOT     = 1.25E-07\n" in text


def test_xml_is_well_formed_and_nested_as_the_standard_has_it():
    root = ET.fromstring(write_omm_xml(five_sets(), **MADE))
    assert root.tag == "ndm"
    assert len(root.findall("omm/body/segment/data/meanElements/MEAN_MOTION")) == 5
    assert len(root.findall("omm/body/segment/data/tleParameters/BSTAR")) == 5
    assert len(root.findall("omm/body/segment/metadata/REF_FRAME")) == 5
    assert root.find("omm/header/ORIGINATOR").text == "NORTHKEY TEST"
