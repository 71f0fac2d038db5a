from __future__ import annotations

import pytest

from core.elements.reading import read_elements
from core.elements.writing import write_omm_kvn
from tests.core.elements.samples import MADE, element_set, five_sets, keywords


def test_kvn_comments_units_blanks_and_indents():
    lines = ["", "  COMMENT made by hand", "CCSDS_OMM_VERS=3.0", "COMMENT", "COMMENT = EPOCH = 1"]
    units = {
        "MEAN_MOTION": "rev/day",
        "INCLINATION": "deg",
        "RA_OF_ASC_NODE": "DEG",
        "BSTAR": "1/ER",
        "MEAN_MOTION_DOT": "rev/day**2",
        "MEAN_MOTION_DDOT": "rev/day**3",
    }
    for keyword, value in keywords(OBJECT_NAME="HILLTOP 1 [P]").items():
        lines += [f"\t {keyword}   =   {value}" + (f" [{units[keyword]}]" if keyword in units else ""), ""]
    reading = read_elements("\r\n".join(lines), "a.kvn")
    assert reading.sets == (element_set(OBJECT_NAME="HILLTOP 1 [P]"),)
    assert reading.refused == ()
    assert reading.notes == tuple(
        f"a.kvn: {keyword} missing, taken as {value} (line 3)"
        for keyword, value in (
            ("CENTER_NAME", "EARTH"),
            ("REF_FRAME", "TEME"),
            ("TIME_SYSTEM", "UTC"),
            ("MEAN_ELEMENT_THEORY", "SGP4"),
        )
    )


def test_kvn_keywords_in_small_letters_are_not_the_standards():
    reading = read_elements(write_omm_kvn([element_set()], **MADE).replace("EPOCH ", "epoch "), "a.kvn")
    assert reading.sets == ()
    assert reading.refused[0].field == "EPOCH"
    assert "epoch" in reading.notes[0]


@pytest.mark.parametrize(
    ("old", "new", "line", "field"),
    [
        ("INCLINATION         = 97.5", "INCLINATION = 1.7 [rad]", 13, "INCLINATION"),
        ("INCLINATION         = 97.5", "INCLINATION  97.5", 13, ""),
        ("EPOCH               =", "EPOCH = 2024-11-01T00:00:00\nEPOCH =", 11, "EPOCH"),
        ("EPOCH               = 2", "EPOCH = 20-", 10, "EPOCH"),
        ("MEAN_ANOMALY ", "MEAN_ANOMALX ", 1, "MEAN_ANOMALY"),
    ],
)
def test_kvn_faults_point_at_their_line(old, new, line, field):
    text = write_omm_kvn([element_set(), five_sets()[0]], **MADE).replace(old, new, 1)
    reading = read_elements(text, "a.kvn")
    assert reading.sets == (five_sets()[0],)
    assert [(refusal.place, refusal.field) for refusal in reading.refused] == [(f"line {line}", field)]


def test_kvn_text_around_and_between_messages_is_told_and_costs_nothing():
    messages = write_omm_kvn(five_sets(), **MADE).split("\nCCSDS")
    text = "Dear operator,\nthe sets:\n\n" + "\nForwarded again\nCCSDS".join(messages) + "Regards\n"
    reading = read_elements(text, "a.kvn")
    assert reading.sets == five_sets()
    assert [refusal.reason for refusal in reading.refused] == ["text that belongs to no message"] * 6


def test_kvn_message_without_its_first_line_is_read_and_told():
    text = write_omm_kvn(five_sets(), **MADE).replace("CCSDS_OMM_VERS      = 2.0\n", "", 3)
    reading = read_elements(text, "a.kvn")
    assert reading.sets == five_sets()
    assert "CCSDS_OMM_VERS missing" in reading.notes[0]
