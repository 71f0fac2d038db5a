import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.times import parse_iso
from core.sheet.words import (
    bearing,
    clean,
    day,
    duration,
    listed,
    local_clock,
    plain,
    signed,
    zone_line,
    zone_warning,
)


@given(st.text(), st.integers(2, 60))
def test_clean_text_is_one_line_of_what_can_be_seen(text, limit):
    shown = clean(text, limit).replace("\u200b", "")
    assert len(shown) <= limit
    assert "\n" not in shown
    assert "  " not in shown
    shown.encode("utf-8")
    assert not any(mark in shown for mark in "\u202e\u2066\u00ad\x00\x7f")


def test_clean_keeps_what_a_typesetter_might_take_for_markup():
    hostile = '#$*_@<[]>"\\`~^={}//--- ä ß'
    assert clean(hostile, 80).replace("\u200b", "") == hostile


def test_clean_marks_a_cut_and_lets_long_words_break():
    assert clean("abcdefghij", 8) == "abcdefg…"
    assert clean("W" * 40, 60).replace("\u200b", "") == "W" * 40
    assert max(len(piece) for piece in clean("W" * 40, 60).split("\u200b")) == 16


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0.0"), (-0.0, "0.0"), (359.94, "359.9"), (359.96, "0.0"), (360.0, "0.0"), (-3.0, "357.0")],
)
def test_bearings_stay_below_360(value, text):
    assert bearing(value) == text


def test_figures():
    assert [plain(v) for v in (3.0, 2.5, 2.25, -0.001, 120.0)] == ["3", "2.5", "2.25", "0", "120"]
    assert [signed(v) for v in (3.0, -2.5, 0.0, -0.001)] == ["+3", "-2.5", "0", "0"]
    assert [duration(v) for v in (0.2, 45.4, 125.0, 4320.0, -45.0)] == [
        "0 s",
        "45 s",
        "2 min 05 s",
        "1 h 12 min",
        "-45 s",
    ]
    assert [listed(v) for v in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]


def test_local_clock_and_day_follow_the_zone():
    late = parse_iso("2024-11-01T23:30:00Z")
    assert local_clock(late, "Europe/Vienna") == "00:30:00"
    assert (day(late), day(late, "Europe/Vienna")) == ("Fri 1 Nov 2024", "Sat 2 Nov 2024")
    assert local_clock(late, "Asia/Kathmandu", seconds=False) == "05:15"
    assert local_clock(parse_iso("2024-11-01T23:59:59.6Z"), "UTC") == "00:00:00"


def test_a_change_of_the_local_clock_is_told_with_its_moment():
    start, end = parse_iso("2024-10-26T22:00:00Z"), parse_iso("2024-10-27T03:00:00Z")
    assert zone_line(start, end, "Europe/Vienna") == "Europe/Vienna, UTC+2 (CEST), from 01:00 UTC UTC+1 (CET)"
    assert "changes at 01:00:00 UTC from UTC+2 (CEST) to UTC+1 (CET)" in zone_warning(
        start, end, "Europe/Vienna"
    )
    assert zone_warning(start, start + 3600.0, "Europe/Vienna") == ""
