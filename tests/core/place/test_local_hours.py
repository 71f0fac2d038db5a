"""The evening in local time: each edit changes what it says alone, over changes of the clocks too."""

from __future__ import annotations

import itertools
from datetime import UTC, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.base.times import format_iso, parse_iso
from core.place.local_hours import LocalHours, local_hours, repeated, with_day, with_end, with_start
from core.place.zones import local_time

ZURICH = "Europe/Zurich"
#: Among them one that moves by half an hour, and one without summer time.
ZONES = (ZURICH, "Australia/Lord_Howe", "Pacific/Kiritimati", "Asia/Kathmandu", "America/Santiago")
EVENINGS = {
    "start_s": st.one_of(
        st.integers(1_680_000_000, 1_760_000_000),
        # About the ends of summer time of 2024 in Switzerland and on Lord Howe.
        st.integers(1_729_983_600, 1_729_998_000),
        st.integers(1_712_415_600, 1_712_426_400),
    ),
    "length_s": st.one_of(st.integers(1, 7_200), st.integers(1, 4 * 86_400)),
    "zone": st.sampled_from(ZONES),
}


def utc(text: str) -> float:
    return parse_iso(text)


def hours_of(start: str, end: str, zone: str = ZURICH) -> LocalHours:
    return local_hours(utc(start), utc(end), zone)


@pytest.mark.parametrize(
    ("start", "end", "shown"),
    [
        ("2024-11-01T17:00Z", "2024-11-01T20:00Z", ("2024-11-01", "18:00", "21:00", "2024-11-01")),
        ("2024-11-01T21:00Z", "2024-11-02T00:30Z", ("2024-11-01", "22:00", "01:30", "2024-11-02")),
        ("2024-11-01T17:00Z", "2024-11-01T23:00Z", ("2024-11-01", "18:00", "24:00", "2024-11-01")),
        ("2024-11-01T17:00Z", "2024-11-02T21:00Z", ("2024-11-01", "18:00", "2024-11-02 22:00", "2024-11-02")),
        ("2024-11-01T17:00Z", "2024-11-02T23:00Z", ("2024-11-01", "18:00", "2024-11-02 24:00", "2024-11-02")),
        (
            "2024-11-01T17:00:10Z",
            "2024-11-01T17:00:50Z",
            ("2024-11-01", "18:00:10", "18:00:50", "2024-11-01"),
        ),
        # Summer time ended on 27 October 2024 at 03:00 local.
        ("2024-10-27T00:30Z", "2024-10-27T01:30Z", ("2024-10-27", "02:30 1st", "02:30 2nd", "2024-10-27")),
    ],
)
def test_what_is_shown(start, end, shown):
    hours = hours_of(start, end)
    assert (hours.day, hours.start, hours.end, hours.end_day) == shown


def test_the_offset_is_told_for_both_ends():
    hours = hours_of("2024-10-26T20:00Z", "2024-10-27T03:00Z")
    assert (hours.offset, hours.end_offset) == ("UTC+2 (CEST)", "UTC+1 (CET)")


@given(**EVENINGS)
def test_typing_what_is_shown_changes_nothing(start_s, length_s, zone):
    first, last = float(start_s), float(start_s + length_s)
    hours, whole = local_hours(first, last, zone), (format_iso(first), format_iso(last))
    assert with_day(first, last, hours.day, zone) == whole
    assert with_start(first, last, hours.start, zone) == whole
    assert with_end(first, hours.end, zone) == whole


@given(**EVENINGS, days=st.integers(-400, 400))
def test_another_date_keeps_the_times_of_day(start_s, length_s, zone, days):
    first, last = float(start_s), float(start_s + length_s)
    day = (local_time(first, zone).date() + timedelta(days=days)).isoformat()
    start, end = (parse_iso(text) for text in with_day(first, last, day, zone))
    assert start < end
    for moment, moved in ((first, start), (last, end)):
        wall = local_time(moment, zone).replace(tzinfo=None) + timedelta(days=days)
        exists = wall.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC).astimezone(ZoneInfo(zone))
        if exists.replace(tzinfo=None) == wall:
            assert local_time(moved, zone).replace(tzinfo=None) == wall or moved == start + (last - first)
    assert abs((end - start) - (last - first)) <= 2 * 3600.0


@given(**EVENINGS, minutes=st.integers(0, 1439))
def test_another_start_leaves_the_end_or_takes_it_days_on(start_s, length_s, zone, minutes):
    first, last = float(start_s), float(start_s + length_s)
    typed = f"{minutes // 60:02d}:{minutes % 60:02d}"
    start, end = (parse_iso(text) for text in with_start(first, last, typed, zone))
    assert local_time(start, zone).date() == local_time(first, zone).date()
    assert start < end
    if start < last:
        assert end == last
    else:
        assert end - start <= 86_400.0 + 2 * 3600.0


@given(**EVENINGS, minutes=st.integers(0, 1439))
def test_another_end_leaves_the_start_and_comes_first_after_it(start_s, length_s, zone, minutes):
    first = float(start_s)
    typed = f"{minutes // 60:02d}:{minutes % 60:02d}"
    start, end = (parse_iso(text) for text in with_end(first, typed, zone))
    assert (start, local_hours(first, end, zone).end.split()[0]) == (
        first,
        local_hours(first, end, zone).end[:5],
    )
    assert 0.0 < end - first <= 86_400.0 + 2 * 3600.0


def test_an_evening_of_more_than_a_day_stays_one_whatever_else_is_edited():
    first, last = utc("2024-11-01T17:00Z"), utc("2024-11-02T21:00Z")
    assert with_start(first, last, "19:30", ZURICH) == (format_iso(first + 5400.0), format_iso(last))
    moved = with_day(first, last, "2024-11-08", ZURICH)
    assert moved == ("2024-11-08T17:00:00.000Z", "2024-11-09T21:00:00.000Z")
    assert with_end(first, "22:00", ZURICH)[1] == "2024-11-01T21:00:00.000Z"
    assert with_end(first, "2024-11-03 1:00", ZURICH)[1] == "2024-11-03T00:00:00.000Z"


def test_an_end_under_a_minute_after_the_start_stays():
    first, last = utc("2024-11-01T17:00:10Z"), utc("2024-11-01T17:00:50Z")
    assert with_day(first, last, "2024-11-01", ZURICH)[1] == "2024-11-01T17:00:50.000Z"


def test_of_two_times_the_one_that_is_meant():
    first = utc("2024-10-26T20:00Z")
    assert with_end(first, "2:30", ZURICH)[1] == "2024-10-27T00:30:00.000Z"
    assert with_end(first, "2:30 2nd", ZURICH)[1] == "2024-10-27T01:30:00.000Z"
    twice, last = utc("2024-10-27T01:30Z"), utc("2024-10-27T04:00Z")
    assert with_start(twice, last, "2:45 2nd", ZURICH)[0] == "2024-10-27T01:45:00.000Z"
    assert with_day(twice, last, "2024-10-27", ZURICH)[0] == format_iso(twice)
    assert with_end(utc("2024-10-27T00:40Z"), "2:30", ZURICH)[1] == "2024-10-27T01:30:00.000Z"


def test_a_time_that_the_clocks_skip_counts_with_the_offset_before():
    first = utc("2024-03-30T20:00Z")
    assert with_end(first, "2:30", ZURICH)[1] == "2024-03-31T01:30:00.000Z"


@pytest.mark.parametrize(
    ("text", "reason"),
    [("25", "time of day"), ("24:00:30", "time of day"), ("2024-02-30 20:00", "a date"), ("", "time of day")],
)
def test_what_is_no_time_is_refused(text, reason):
    first, last = utc("2024-11-01T17:00Z"), utc("2024-11-01T20:00Z")
    with pytest.raises(ValueRangeError, match=reason):
        with_end(first, text, ZURICH)
    with pytest.raises(ValueRangeError, match=reason):
        with_start(first, last, text, ZURICH)


def test_an_end_on_an_earlier_date_and_years_out_of_reach_are_refused():
    first = utc("2024-11-01T17:00Z")
    with pytest.raises(ValueRangeError, match="later than the start"):
        with_end(first, "2024-10-31 22:00", ZURICH)
    with pytest.raises(ValueRangeError, match="a date in the years"):
        with_day(first, utc("2024-11-02T01:00Z"), "9999-12-31", ZURICH)


def test_hours_repeated_day_after_day_stay_on_the_clocks_over_a_change():
    first, last = utc("2024-10-25T16:00Z"), utc("2024-10-25T23:30Z")
    told = [(format_iso(start)[:16], format_iso(end)[:16]) for start, end in repeated(first, last, 4, ZURICH)]
    assert told == [
        ("2024-10-25T16:00", "2024-10-25T23:30"),
        ("2024-10-26T16:00", "2024-10-26T23:30"),
        ("2024-10-27T17:00", "2024-10-28T00:30"),
        ("2024-10-28T17:00", "2024-10-29T00:30"),
    ]


@given(**EVENINGS)
def test_repeated_hours_begin_with_the_evening_itself_and_follow_each_other(start_s, length_s, zone):
    first = float(start_s)
    windows = repeated(first, first + length_s, 5, zone)
    assert windows[0] == (first, first + length_s)
    assert all(end > start for start, end in windows)
    assert all(20.0 <= (b[0] - a[0]) / 3600.0 <= 28.0 for a, b in itertools.pairwise(windows))


def test_days_beyond_the_calendar_are_refused():
    late = utc("9999-12-30T17:00Z")
    with pytest.raises(ValueRangeError, match="a date in the years"):
        repeated(late, late + 3600.0, 5, ZURICH)
