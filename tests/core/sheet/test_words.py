from hypothesis import given
from hypothesis import strategies as st

from core.base.times import parse_iso
from core.sheet.words import clean, clock_beside, day, worked_words, zone_line, zone_warning


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


def test_the_day_follows_the_zone():
    late = parse_iso("2024-11-01T23:30:00Z")
    assert (day(late), day(late, "Europe/Vienna")) == ("Fri 1 Nov 2024", "Sat 2 Nov 2024")


def test_a_change_of_the_local_clock_is_told_with_its_moment():
    start, end = parse_iso("2024-10-26T22:00:00Z"), parse_iso("2024-10-27T03:00:00Z")
    assert zone_line(start, end, "Europe/Vienna") == "Europe/Vienna, UTC+2 (CEST), from 01:00 UTC UTC+1 (CET)"
    assert "changes at 01:00:00 UTC from UTC+2 (CEST) to UTC+1 (CET)" in zone_warning(
        start, end, "Europe/Vienna"
    )
    assert zone_warning(start, start + 3600.0, "Europe/Vienna") == ""


def test_a_time_of_day_has_its_day_where_it_may_be_taken_for_another_days():
    start = parse_iso("2024-11-01T18:00:00Z")
    assert clock_beside(start + 11 * 3600, start) == "05:00:00"
    assert clock_beside(start + 12 * 3600, start) == "2 Nov 06:00:00"
    assert clock_beside(start - 13 * 3600, start) == "1 Nov 05:00:00"


def test_an_evening_of_days_tells_the_day_of_each_contact():
    """The same time of day comes once in an evening of up to a day, and more than once in a longer one."""
    start, day_s = parse_iso("2024-11-01T23:50:00Z"), 86_400.0
    assert worked_words(start, start + 1200.0, day_s) == "23:50:00 to 00:10:00"
    assert worked_words(start, start + 300.0, day_s + 1.0) == "1 Nov 23:50:00 to 23:55:00"
    assert worked_words(start, start + 1200.0, 3.0 * day_s) == "1 Nov 23:50:00 to 2 Nov 00:10:00"
