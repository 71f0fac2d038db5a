"""Text from outside: what cannot be seen is told by its number, and no cell is a formula."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.text import from_text_cell, lines_of_text, one_line, text_cell

MARKS = st.text(
    st.one_of(st.characters(), st.sampled_from("\u202e\u2066\u200f\x1b\x00\x7f\u00ad\u200d \t\n=+-@'"))
)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Alder", "Alder"),
        ("  Alder  1 ", "Alder 1"),
        ("Al\u202eder", "Al[U+202E]der"),
        ("\x1b[2J", "[U+001B][2J"),
        ("a\tb\r\nc", "a b c"),
        ("\ufeffAlder\x00", "Alder"),
        ("نا\u200cم", "نا\u200cم"),
    ],
)
def test_one_line(text: str, shown: str) -> None:
    assert one_line(text) == shown


@given(MARKS)
def test_what_is_shown_can_be_seen_and_stays_when_it_is_read_again(text: str) -> None:
    shown = one_line(text)
    assert one_line(shown) == shown
    assert not any(
        unicodedata.category(mark) in {"Cc", "Cf"} and mark not in "\u200c\u200d" for mark in shown
    )
    lines = lines_of_text(text)
    assert lines_of_text(lines) == lines
    assert all(one_line(line) == " ".join(line.split()) for line in lines.split("\n"))


def test_lines_keep_their_ends_and_their_blanks() -> None:
    assert lines_of_text("one  two\n\nthree\u202e\n") == "one  two\n\nthree[U+202E]"
    assert lines_of_text("one\n") == "one\n"


@given(MARKS)
def test_no_cell_is_a_formula_and_each_reads_back(text: str) -> None:
    cell = text_cell(text)
    assert not cell.startswith(("=", "+", "-", "@"))
    assert from_text_cell(cell) == text
