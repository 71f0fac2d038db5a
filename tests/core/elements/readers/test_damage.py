"""Damage of every kind: the sets it does not touch survive, and no exception leaves the readers."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import ElementsError
from core.elements.reading import read_elements
from core.elements.writing import write_omm_csv, write_omm_json, write_omm_kvn, write_omm_xml
from tests.core.elements.samples import MADE, five_sets, keywords, two_lines

SETS = five_sets()
TEXTS = {
    "two-line": "".join(two_lines(each) for each in SETS),
    "csv": write_omm_csv(SETS, **MADE),
    "kvn": write_omm_kvn(SETS, **MADE),
    "xml": write_omm_xml(SETS, **MADE),
    "json": write_omm_json(SETS, **MADE),
    "json on one line": json.dumps([keywords(NORAD_CAT_ID=e.norad_id, OBJECT_NAME=e.name) for e in SETS]),
}
forms = pytest.mark.parametrize("form", sorted(TEXTS))
MARKS = st.sampled_from("\"'<>&{}[]=,:;#-+.0123456789 \n\r\t\x00\x1a\\/eEAZé٣\u2028\ud800")


def _survivors(text: str) -> int:
    """How many of the five sets are read; the name is left out, since a lost line can cost it alone."""
    reading = read_elements(text, "damaged")
    assert all(isinstance(refusal, ElementsError) for refusal in reading.refused)
    assert len(reading.sets) == len(reading.origins)
    return sum(any(each.norad_id == good.norad_id for each in reading.sets) for good in SETS)


@forms
def test_the_undamaged_texts_are_good(form):
    reading = read_elements(TEXTS[form], form)
    assert [each.norad_id for each in reading.sets] == [each.norad_id for each in SETS]
    assert (reading.refused, reading.notes) == ((), ())


def _fewest(form: str, text: str, start: int, old: str, new: str) -> int:
    """The sets that must survive: all but the one hit. The header of a CSV file belongs to every row, and a
    broken or joined line of it or of a row can touch two.
    """
    if form == "csv" and start <= text.index("\n"):
        return 0
    return 3 if "\n" in old + new or "\r" in new else 4


@forms
@settings(max_examples=400, deadline=None)
@given(data=st.data())
def test_one_damaged_character_costs_one_set_at_most(form, data):
    text = TEXTS[form]
    at = data.draw(st.integers(0, len(text) - 1))
    width = data.draw(st.integers(0, 1))
    new = data.draw(st.one_of(st.just(""), MARKS))
    damaged = text[:at] + new + text[at + width :]
    assert _survivors(damaged) >= _fewest(form, text, at, text[at : at + width], new)


@forms
@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_one_damaged_line_costs_one_set_at_most(form, data):
    lines = TEXTS[form].split("\n")
    first = 1 if form == "csv" else 0
    if len(lines) <= first + 1:
        return
    at = data.draw(st.integers(first, len(lines) - 1))
    new = data.draw(
        st.one_of(
            st.just([]),
            st.just([lines[at], lines[at]]),
            st.just([lines[at][: len(lines[at]) // 2]]),
            st.just(["", "Some words from a page.", "And more, in between", lines[at]]),
            st.lists(st.text(st.characters(exclude_characters="\n\r"), max_size=90), max_size=3),
        )
    )
    assert _survivors("\n".join([*lines[:at], *new, *lines[at + 1 :]])) >= 4


@forms
@settings(max_examples=100, deadline=None)
@given(data=st.data())
def test_a_file_cut_short_keeps_its_whole_records(form, data):
    text = TEXTS[form]
    at = data.draw(st.integers(0, len(text)))
    reading = read_elements(text[:at], "cut")
    ends = [text.index(str(good.norad_id)) for good in SETS[1:]]
    whole = sum(end < at for end in ends)
    assert len(reading.sets) >= whole
    assert {each.norad_id for each in reading.sets} <= {good.norad_id for good in SETS} | {
        int(str(good.norad_id)[:digits]) for good in SETS for digits in range(1, 6)
    }


@forms
def test_a_cut_record_is_told_with_its_place(form):
    text = TEXTS[form]
    cut = text[: text.rindex(str(SETS[-1].norad_id)) + 2]
    reading = read_elements(cut, "cut")
    assert [each.norad_id for each in reading.sets] == [each.norad_id for each in SETS[:4]]
    assert len(reading.refused) == 1
    assert reading.refused[0].place.startswith("line")


@settings(max_examples=500, deadline=None)
@given(st.text())
def test_any_text_is_answered(text):
    reading = read_elements(text, "any")
    assert reading.sets or reading.refused


@forms
@settings(max_examples=100, deadline=None)
@given(st.data())
def test_any_two_pieces_of_files_are_answered(form, data):
    other = TEXTS[data.draw(st.sampled_from(sorted(TEXTS)))]
    left = TEXTS[form][: data.draw(st.integers(0, len(TEXTS[form])))]
    right = other[data.draw(st.integers(0, len(other))) :]
    reading = read_elements(left + right, "pieces")
    assert reading.sets or reading.refused


LAUGHS = """<?xml version="1.0"?>
<!DOCTYPE ndm [<!ENTITY a "haha"><!ENTITY b "&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;">]>
<ndm><omm><OBJECT_NAME>&c;</OBJECT_NAME></omm></ndm>"""
OUTSIDE = '<!DOCTYPE omm SYSTEM "file:///etc/hostname"><omm><OBJECT_NAME>x</OBJECT_NAME></omm>'


@pytest.mark.parametrize("text", [LAUGHS, OUTSIDE, LAUGHS + "<", TEXTS["xml"] + LAUGHS])
def test_document_types_and_entities_are_refused(text):
    reading = read_elements(text, "a.xml")
    assert reading.sets == ()
    assert len(reading.refused) == 1
    assert "document type" in reading.refused[0].reason


def test_an_undeclared_entity_costs_its_own_message():
    reading = read_elements(TEXTS["xml"].replace("HILLTOP 3", "&bomb;"), "a.xml")
    assert len(reading.sets) == 4
    assert len(reading.refused) == 1


DEEP = 100_000
HOSTILE = {
    "nested lists": "[" * DEEP,
    "nested objects": '{"EPOCH":' * DEEP,
    "closed nested lists": "[" * DEEP + "]" * DEEP,
    "a deep value": '[{"EPOCH": ' + "[" * DEEP + "]" * DEEP + "}]",
    "deep XML": "<omm>" + "<a>" * DEEP,
    "closed deep XML": "<omm>" + "<a>" * DEEP + "</a>" * DEEP + "</omm>",
    "many omm": "<omm>" * DEEP,
    "comment openings": "<omm></omm>" + "<!--" * DEEP,
    "instruction openings": "<omm></omm>" + "<?" * DEEP,
    "quotes": '"' * DEEP,
    "braces": "{" * DEEP,
    "braces and quotes": '{"' * DEEP,
    "CSV of quotes": "OBJECT_NAME,EPOCH,NORAD_CAT_ID\n" + '"\n' * DEEP,
    "wide CSV header": "OBJECT_NAME,EPOCH,NORAD_CAT_ID," + "X," * DEEP,
    "huge CSV cell": TEXTS["csv"] + '"' + "x" * 300_000 + '",,\n',
    "one long line": "1 " + "9" * DEEP,
    "many first lines": TEXTS["two-line"].split("\n")[1].join(["", "\n"]) * 10_000,
    "long number": TEXTS["kvn"].replace("97.5", "9" * DEEP),
    "long number with an end": TEXTS["kvn"].replace("97.5", "9" * DEEP + "x"),
    "long exponent": TEXTS["kvn"].replace("97.5", "1e" + "9" * DEEP),
    "long catalogue number": TEXTS["json"].replace("11022", "1" * DEEP),
    "NUL bytes": "\x00" * DEEP,
    "NUL between": "\x00".join(TEXTS["two-line"]),
    "blanks": " " * DEEP + "\n" * DEEP,
    "equals signs": "EPOCH=" * DEEP,
    "many keywords": "CCSDS_OMM_VERS = 2.0\n" + "".join(f"K{at} = 1\n" for at in range(DEEP)),
    "surrogates": "\ud800" * 1000 + "<omm>\ud800</omm>",
}


@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_hostile_texts_are_answered_in_few_words(name):
    reading = read_elements(HOSTILE[name], name)
    assert reading.sets or reading.refused
    assert all(len(str(refusal)) < 600 for refusal in reading.refused)
    assert all(len(note) < 2000 for note in reading.notes)


@pytest.mark.parametrize("mark", ["\x00", "\x1a", "٣", "\u2028", "é"])
@pytest.mark.parametrize("form", ["two-line", "csv", "kvn", "xml", "json"])
def test_a_strange_character_in_a_number_costs_its_set(form, mark):
    number = " 21.0000" if form == "two-line" else "21.0"
    reading = read_elements(TEXTS[form].replace(number, number.replace("1", mark), 1), "strange")
    assert [each.norad_id for each in reading.sets] == [each.norad_id for each in SETS if each is not SETS[1]]
    assert len(reading.refused) == 1


def test_quoted_line_breaks_in_csv():
    rows = TEXTS["csv"].splitlines()
    rows[2] = rows[2].replace("HILLTOP 2", '"HILL\nTOP, 2"')
    reading = read_elements("\n".join(rows), "a.csv")
    assert reading.refused == ()
    assert reading.sets[1] == SETS[1].model_copy(update={"name": "HILL TOP, 2"})
    assert reading.sets[2:] == SETS[2:]


def test_an_open_quote_in_csv_costs_its_own_row():
    rows = TEXTS["csv"].splitlines()
    rows[2] = '"' + rows[2]
    reading = read_elements("\n".join(rows), "a.csv")
    assert reading.sets == (SETS[0], *SETS[2:])
    assert reading.refused[0].place == "line 3"


@pytest.mark.parametrize("value", ["NaN", "Infinity", "-Infinity", "1e999", "true", '"nan"', "[]", "{}"])
def test_json_values_that_are_no_finite_numbers(value):
    reading = read_elements(
        TEXTS["json"].replace('"INCLINATION": 97.5', f'"INCLINATION": {value}', 1), "a.json"
    )
    assert reading.sets == SETS[1:]
    assert [refusal.field for refusal in reading.refused] == ["INCLINATION"]
