from __future__ import annotations

import pytest

from core.elements.model import ElementSet
from core.elements.reading import ElementReading, Origin, merge_readings, read_elements
from core.elements.writing import write_omm_csv, write_omm_json, write_omm_kvn, write_omm_xml
from tests.core.elements.samples import MADE, element_set, five_sets, two_lines

NEWER = {"EPOCH": "2024-11-02T06:28:48.432"}


def _texts(sets: tuple[ElementSet, ...]) -> list[str]:
    omm = [write(sets, **MADE) for write in (write_omm_csv, write_omm_json, write_omm_kvn, write_omm_xml)]
    return ["".join(two_lines(each) for each in sets), *omm]


@pytest.mark.parametrize("name", ["a.tle", "a.csv", "a.json", "a.xml", "a.kvn", "a", "(text)", ""])
def test_the_form_is_told_from_the_content_whatever_the_name(name):
    for text in _texts(five_sets()):
        assert read_elements(text, name).sets == five_sets()


@pytest.mark.parametrize("lead", ["\ufeff", "\n\n", "   ", "\r\n"])
def test_marks_and_blanks_before_the_content(lead):
    for text in _texts(five_sets())[1:]:
        assert read_elements(lead + text, "a").sets == five_sets()
        assert read_elements(lead + text.replace("\n", "\r\n"), "a").sets == five_sets()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "is empty"),
        (" \n\t\r\n", "is empty"),
        ("\ufeff", "is empty"),
        ("Dear operator,\nplease find enclosed.", "known form"),
        ("name,latitude\nhill,50", "known form"),
        ("<html><body>no</body></html>", "without an orbit mean-elements message"),
        ("[]", "no element sets"),
        ("[1, 2]", "not an object"),
        ("42", "known form"),
        ("null", "known form"),
        ('{"a": 1}', "is missing"),
        ("OBJECT_NAME,EPOCH,NORAD_CAT_ID,MEAN_MOTION", "missing in the header"),
    ],
)
def test_a_text_without_element_sets_is_refused(text, told):
    reading = read_elements(text, "a.txt")
    assert reading.sets == ()
    assert told in reading.refused[0].reason
    assert reading.refused[0].file == "a.txt"


def test_an_unknown_form_is_told_what_is_read():
    assert str(read_elements("x", "a.txt").refused[0]) == (
        "a.txt: holds no element sets in a known form; read are two-line element sets, and orbit "
        "mean-elements messages (OMM) as KVN, XML, JSON or CSV"
    )


@pytest.mark.parametrize("form", range(5))
def test_the_same_set_twice_is_refused_naming_the_first(form):
    elements = element_set()
    text = _texts((elements, five_sets()[0], elements.model_copy(update={"name": "ANOTHER NAME"})))[form]
    reading = read_elements(text, "a.txt")
    assert reading.sets == (elements, five_sets()[0])
    (refusal,) = reading.refused
    assert refusal.field == "NORAD_CAT_ID"
    assert refusal.reason.startswith("duplicate")
    assert str(reading.origins[0]) in refusal.reason
    assert refusal.place != reading.origins[0].place


def test_the_newest_set_of_an_object_is_kept_in_its_place():
    old, other, new = element_set(), five_sets()[0], element_set(**NEWER)
    reading = read_elements(write_omm_csv((old, other, new), **MADE), "a.csv")
    assert reading.sets == (other, new)
    assert reading.origins == (Origin("a.csv", "line 3"), Origin("a.csv", "line 4"))
    (refusal,) = reading.refused
    assert (refusal.place, refusal.field) == ("line 2", "EPOCH")
    assert "older set of the same object" in refusal.reason
    assert "a.csv, line 4" in refusal.reason
    again = read_elements(write_omm_csv((new, other, old), **MADE), "a.csv")
    assert again.sets == (new, other)
    assert again.refused[0].place == "line 4"


def test_epochs_that_differ_in_a_fraction_only():
    old, new = element_set(EPOCH="2024-11-01T06:28:48"), element_set(EPOCH="2024-11-01T06:28:48.000001")
    assert read_elements(write_omm_csv((old, new), **MADE), "a.csv").sets == (new,)


def test_one_epoch_with_other_elements_keeps_the_first():
    first, second = element_set(), element_set(MEAN_ANOMALY="1")
    reading = read_elements(write_omm_csv((first, second), **MADE), "a.csv")
    assert reading.sets == (first,)
    assert "another set with the same epoch" in reading.refused[0].reason


def test_merged_files_tell_both_names():
    first = read_elements(write_omm_csv((element_set(), five_sets()[0]), **MADE), "one.csv")
    second = read_elements(write_omm_json((element_set(**NEWER), five_sets()[0]), **MADE), "two.json")
    merged = merge_readings([first, second])
    assert merged.sets == (five_sets()[0], element_set(**NEWER))
    assert merged.origins == (Origin("one.csv", "line 3"), Origin("two.json", "record 1"))
    older, duplicate = merged.refused
    assert older.file == "one.csv"
    assert "two.json, record 1" in older.reason
    assert duplicate.file == "two.json"
    assert "one.csv, line 3" in duplicate.reason


def test_merging_keeps_refusals_and_notes_in_order():
    one = read_elements("", "one")
    two = read_elements(write_omm_csv((element_set(),), **MADE).replace("ORIGINATOR", "MADE_BY"), "two")
    merged = merge_readings([one, two])
    assert [refusal.file for refusal in merged.refused] == ["one"]
    assert merged.notes == ("two: dropped keywords MADE_BY (not in the standard)",)
    assert merge_readings([]) == ElementReading()
    assert merge_readings([two]) == two
