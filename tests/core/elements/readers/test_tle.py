from __future__ import annotations

import contextlib
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.elements.model import ElementSet
from core.elements.readers.harvest import Fault
from core.elements.readers.tle import checksum, from_alpha5, parse_pair
from core.elements.reading import read_elements
from tests.core.elements.samples import element_set, five_sets, two_lines

NAME, LINE_1, LINE_2 = two_lines(element_set()).splitlines()


def _summed(line: str) -> str:
    body = line[:68]
    return body + str(sum(int(m) if m in "0123456789" else m == "-" for m in body) % 10)


def _changed(line: str, first: int, text: str) -> str:
    """The line with ``text`` from column ``first`` on and its checksum made right again."""
    return _summed(line[: first - 1] + text + line[first - 1 + len(text) :])


def test_the_sample_is_two_lines_of_69_columns():
    assert (len(LINE_1), len(LINE_2)) == (69, 69)
    assert parse_pair(LINE_1, LINE_2, NAME) == element_set()


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("start", ["", "\ufeff", "\n\n", "# made by hand\n", "\ufeff# made by hand\r\n\r\n"])
@pytest.mark.parametrize("prefix", ["", "0 "])
@pytest.mark.parametrize("trail", ["", "   "])
def test_layouts_of_a_file(end, start, prefix, trail):
    sets = five_sets()
    text = start + end.join(
        (prefix if at % 3 == 0 else "") + line + trail
        for at, line in enumerate("".join(two_lines(each) for each in sets).splitlines())
    )
    reading = read_elements(text, "a.txt")
    assert reading.sets == sets
    assert reading.refused == ()


def test_without_name_lines_an_object_is_called_by_its_number():
    text = "".join(two_lines(each).partition("\n")[2] for each in five_sets())
    reading = read_elements(text, "a.txt")
    assert reading.refused == ()
    assert [each.name for each in reading.sets] == [f"object {each.norad_id}" for each in five_sets()]


def test_names_that_look_like_something_else():
    for name in ("1 KITE", "2 FAST", "0", "ISLAND [OMM]", "<BUOY>", "A=B"):
        text = two_lines(element_set(OBJECT_NAME=name)) + two_lines(five_sets()[0])
        reading = read_elements(text, "a.txt")
        assert reading.refused == (), name
        assert reading.sets[0].name == name


@given(st.integers(0, 339_999))
def test_alpha5_is_read_as_a_leading_letter_and_four_digits(norad_id):
    leading = "0123456789ABCDEFGHJKLMNPQRSTUVWXYZ"[norad_id // 10_000]
    assert from_alpha5(f"{leading}{norad_id % 10_000:04d}") == norad_id


@pytest.mark.parametrize(
    "text",
    ["I0001", "O9999", "#1234", "A12X3", "a0000", "A000", "A00000", "-1234", "٠٠٠٠١", "", "1 234", "     "],
)
def test_alpha5_refuses(text):
    with pytest.raises(ValueRangeError):
        from_alpha5(text)


def test_leading_blanks_of_a_catalogue_number():
    assert from_alpha5("    5") == 5


def test_lettered_catalogue_numbers_are_read():
    reading = read_elements(two_lines(element_set(), number="E8493"), "a.txt")
    assert reading.sets[0].norad_id == 148_493
    assert reading.refused == ()


@given(st.text(alphabet="0123456789-+. ABC", min_size=68, max_size=69))
def test_checksum_against_a_second_counting(line):
    digits = sum(line[:68].count(str(digit)) * digit for digit in range(10))
    assert checksum(line) == (digits + line[:68].count("-")) % 10


@pytest.mark.parametrize(
    ("line", "first", "text", "field"),
    [
        (1, 2, "X", "NORAD_CAT_ID"),
        (1, 3, "I0001", "NORAD_CAT_ID"),
        (1, 3, "12 45", "NORAD_CAT_ID"),
        (1, 8, "u", "CLASSIFICATION_TYPE"),
        (1, 9, "X", "OBJECT_ID"),
        (1, 10, "21X07B  ", "OBJECT_ID"),
        (1, 19, "24X06", "EPOCH"),
        (1, 19, "24000", "EPOCH"),
        (1, 19, "24367", "EPOCH"),
        (1, 19, "23366", "EPOCH"),
        (1, 24, ",", "EPOCH"),
        (1, 34, "0", "MEAN_MOTION_DOT"),
        (1, 35, "1", "MEAN_MOTION_DOT"),
        (1, 45, "X", "MEAN_MOTION_DDOT"),
        (1, 51, " ", "MEAN_MOTION_DDOT"),
        (1, 54, "1", "BSTAR"),
        (1, 60, "E", "BSTAR"),
        (1, 63, "4", "EPHEMERIS_TYPE"),
        (1, 63, "X", "EPHEMERIS_TYPE"),
        (1, 65, "9 99", "ELEMENT_SET_NO"),
        (1, 19, "243 6", "EPOCH"),
        (2, 18, "1 0.2500", "RA_OF_ASC_NODE"),
        (2, 53, "1 .81234567", "MEAN_MOTION"),
        (2, 9, "180.0001", "INCLINATION"),
        (2, 9, " 97.50 0", "INCLINATION"),
        (2, 17, "0", "RA_OF_ASC_NODE"),
        (2, 18, "400.0000", "RA_OF_ASC_NODE"),
        (2, 27, " 012345", "ECCENTRICITY"),
        (2, 27, "0.12345", "ECCENTRICITY"),
        (2, 35, "-45.1250", "ARG_OF_PERICENTER"),
        (2, 44, "361.0000", "MEAN_ANOMALY"),
        (2, 53, " 0.00000000", "MEAN_MOTION"),
        (2, 53, "99.00000000", "MEAN_MOTION"),
        (2, 64, "1 345", "REV_AT_EPOCH"),
        (2, 44, "٣15.0625", "MEAN_ANOMALY"),
    ],
)
def test_a_field_out_of_form_or_range_is_named(line, first, text, field):
    lines = [LINE_1, LINE_2]
    lines[line - 1] = _changed(lines[line - 1], first, text)
    with pytest.raises(Fault) as fault:
        parse_pair(*lines)
    assert fault.value.field == field
    assert "\n" not in fault.value.reason


@pytest.mark.parametrize("number", ["12 45", "1 234", "I0001", "     ", "1234 ", "A 234"])
def test_catalogue_numbers_wrong_in_both_lines(number):
    with pytest.raises(Fault) as fault:
        parse_pair(_changed(LINE_1, 3, number), _changed(LINE_2, 3, number))
    assert fault.value.field == "NORAD_CAT_ID"


@given(st.data())
def test_any_characters_with_right_checksums_give_a_set_or_a_fault(data):
    lines = [LINE_1, LINE_2]
    for _ in range(data.draw(st.integers(1, 4))):
        line, column = data.draw(st.integers(0, 1)), data.draw(st.integers(2, 68))
        lines[line] = _changed(lines[line], column, data.draw(st.sampled_from(" 0123456789+-.AEIOZaé٣\x00")))
    with contextlib.suppress(Fault):  # anything else would leave the readers
        assert isinstance(parse_pair(*lines), ElementSet)


@pytest.mark.parametrize(("text", "object_id"), [("70025   ", "1970-025"), ("24001ABC", "2024-001ABC")])
def test_designators_without_and_with_pieces(text, object_id):
    assert parse_pair(_changed(LINE_1, 10, text), LINE_2).object_id == object_id


def test_every_wrong_checksum_is_refused():
    for line in (1, 2):
        for digit in range(10):
            lines = [LINE_1, LINE_2]
            right = int(lines[line - 1][68])
            lines[line - 1] = lines[line - 1][:68] + str(digit)
            if digit == right:
                continue
            with pytest.raises(Fault, match="add up to") as fault:
                parse_pair(*lines)
            assert fault.value.field == "checksum"


def test_lines_of_two_objects():
    other = two_lines(five_sets()[0]).splitlines()[2]
    with pytest.raises(Fault, match="in line 1 but") as fault:
        parse_pair(LINE_1, other)
    assert fault.value.field == "NORAD_CAT_ID"


@pytest.mark.parametrize(("line_1", "line_2"), [(LINE_1[:68], LINE_2), (LINE_1, LINE_2 + "  0.0")])
def test_length_is_exact(line_1, line_2):
    with pytest.raises(Fault, match="69"):
        parse_pair(line_1, line_2)


@pytest.mark.parametrize(
    ("field", "printed", "value"),
    [
        ("BSTAR", " 12345-3", 0.12345e-3),
        ("BSTAR", "-12345-3", -0.12345e-3),
        ("BSTAR", "+12345+1", 1.2345),
        ("BSTAR", " 00000-0", 0.0),
        ("BSTAR", " 13519-0", 0.13519),
    ],
)
def test_exponent_fields(field, printed, value):
    assert parse_pair(_changed(LINE_1, 54, printed), LINE_2).bstar == value


def test_blank_designator_type_and_numbers():
    line_1 = _changed(_changed(_changed(LINE_1, 10, " " * 8), 63, " "), 65, "   7")
    elements = parse_pair(line_1, _changed(LINE_2, 64, "    3"))
    assert (elements.object_id, elements.ephemeris_type) == ("", 0)
    assert (elements.element_set_no, elements.rev_at_epoch) == (7, 3)


@pytest.mark.parametrize(("two_digits", "year"), [("57", 1957), ("99", 1999), ("00", 2000), ("56", 2056)])
def test_years_of_two_digits(two_digits, year):
    elements = parse_pair(_changed(_changed(LINE_1, 19, two_digits), 10, two_digits), LINE_2)
    assert elements.epoch.startswith(str(year))
    assert elements.object_id == f"{year}-007B"


def _lines(*parts: str) -> str:
    return "\n".join(parts) + "\n"


GOOD = two_lines(five_sets()[0]).rstrip("\n")


@pytest.mark.parametrize(
    ("text", "place", "reason"),
    [
        (_lines(NAME, LINE_1, GOOD), "line 2", "without a line 2"),
        (_lines(GOOD, NAME, LINE_1), "line 5", "without a line 2"),
        (_lines(LINE_1, GOOD), "line 1", "without a line 2"),
        (_lines(NAME, LINE_2, GOOD), "line 2", "without its line 1"),
        (_lines(NAME, "X" + LINE_1[1:], LINE_2, GOOD), "lines 1 to 2", "no two-line set"),
        (_lines(NAME, LINE_1, "X" + LINE_2[1:], GOOD), "line 2", "due at line 3"),
        (_lines("some", "text", "here", GOOD), "lines 1 to 3", "no two-line set"),
        (_lines(GOOD, "trailing words"), "line 4", "no two-line set"),
        (_lines(NAME, LINE_1[:40], LINE_2, GOOD), "line 2", "cut short at 40"),
        (_lines(NAME, LINE_1, LINE_2[:10], GOOD), "line 2", "cut short"),
        (_lines("x" * 100, GOOD), "line 1", "no two-line set"),
    ],
)
def test_each_damage_is_one_refusal_and_costs_one_set(text, place, reason):
    reading = read_elements(text, "a.txt")
    assert [each.norad_id for each in reading.sets] == [five_sets()[0].norad_id]
    assert len(reading.refused) == 1
    assert reading.refused[0].place == place
    assert reason in reading.refused[0].reason


@given(
    st.builds(
        element_set,
        NORAD_CAT_ID=st.integers(1, 99_999),
        MEAN_MOTION=st.integers(1, 1_999_999_999).map(lambda n: n / 1e8),
        ECCENTRICITY=st.integers(0, 9_999_999).map(lambda n: n / 1e7),
        INCLINATION=st.integers(0, 1_800_000).map(lambda n: n / 1e4),
        RA_OF_ASC_NODE=st.integers(0, 3_599_999).map(lambda n: n / 1e4),
        BSTAR=st.tuples(st.integers(-99_999, 99_999), st.integers(-4, 2)).map(
            lambda pair: float(f"{pair[0]}e{pair[1] - 5}")
        ),
        MEAN_MOTION_DOT=st.integers(-99_999_999, 99_999_999).map(lambda n: n / 1e8),
        REV_AT_EPOCH=st.integers(0, 99_999),
        ELEMENT_SET_NO=st.integers(0, 9999),
    )
)
def test_what_is_written_in_columns_reads_back(elements: ElementSet):
    name, line_1, line_2 = two_lines(elements).splitlines()
    assert re.fullmatch(r"1 .{67}", line_1)
    read = parse_pair(line_1, line_2, name)
    assert read.bstar == pytest.approx(elements.bstar, rel=1e-4)
    assert read.model_copy(update={"bstar": elements.bstar}) == elements


@pytest.mark.parametrize(
    ("column", "text", "told"),
    [(63, "x", "line 1, column 63 holds 'x'"), (54, " 1x345-3", "line 1, columns 54 to 61 hold '1x345-3")],
)
def test_a_field_of_one_column_is_told_as_one(column, text, told):
    with pytest.raises(Fault) as refused:
        parse_pair(_changed(LINE_1, column, text), LINE_2, NAME)
    assert told in str(refused.value)
