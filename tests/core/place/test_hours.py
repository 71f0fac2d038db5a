"""The evening's hours between local time and UTC, and sunset against an ephemeris."""

from __future__ import annotations

import importlib.resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.base.times import parse_iso
from core.place.hours import hours_from_local, local_hours, parse_clock, parse_day, sunset_to_midnight
from core.place.site import Site


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("18:30", 1110),
        ("1830", 1110),
        ("18", 1080),
        (" 7:05 ", 425),
        ("18.30", 1110),
        ("24:00", 1440),
        ("0", 0),
        ("17", 1020),
        ("1700", 1020),
        ("17h", 1020),
        ("17h30", 1050),
        ("5 pm", 1020),
        ("12:30 am", 30),
    ],
)
def test_times_of_day_as_they_are_typed(text, minutes):
    assert parse_clock(text) == minutes


@pytest.mark.parametrize("text", ["", "25", "24:01", "18:60", "six", "-1", "18:3", "13 pm", "0 am", "1760"])
def test_what_is_no_time_of_day_is_refused(text):
    with pytest.raises(ValueRangeError, match="time of day"):
        parse_clock(text)


@pytest.mark.parametrize("text", ["", "2024-02-30", "1.11.2024", "tonight"])
def test_what_is_no_date_is_refused(text):
    with pytest.raises(ValueRangeError, match="a date"):
        parse_day(text)


def test_local_hours_become_utc():
    assert hours_from_local("2024-11-01", "18:00", "21:00", "Europe/Zurich") == (
        "2024-11-01T17:00:00.000Z",
        "2024-11-01T20:00:00.000Z",
    )


def test_an_end_that_is_not_later_is_on_the_next_day():
    assert hours_from_local("2024-11-01", "22:00", "1:30", "UTC")[1] == "2024-11-02T01:30:00.000Z"
    assert hours_from_local("2024-11-01", "22:00", "22:00", "UTC")[1] == "2024-11-02T22:00:00.000Z"
    assert hours_from_local("2024-11-01", "22:00", "24:00", "UTC")[1] == "2024-11-02T00:00:00.000Z"


def test_an_end_days_later_stays_days_later():
    hours = local_hours(parse_iso("2024-11-01T18:00Z"), parse_iso("2024-11-04T03:00Z"), "UTC")
    assert (hours.day, hours.start, hours.end, hours.days) == ("2024-11-01", "18:00", "03:00", 3)
    start, end = hours_from_local(hours.day, "19:00", hours.end, "UTC", hours.days)
    assert (start, end) == ("2024-11-01T19:00:00.000Z", "2024-11-04T03:00:00.000Z")


def test_an_evening_over_the_change_of_clocks_has_its_true_length():
    # Summer time in Switzerland ended on 27 October 2024 at 03:00 local.
    start, end = hours_from_local("2024-10-26", "22:00", "4:00", "Europe/Zurich")
    assert parse_iso(end) - parse_iso(start) == 7 * 3600


@given(
    start_min=st.integers(28_000_000, 30_000_000),
    length_min=st.integers(1, 2000),
    zone=st.sampled_from(["UTC", "Asia/Kathmandu", "America/Bogota", "Pacific/Kiritimati"]),
)
def test_there_and_back(start_min, length_min, zone):
    """Zones without summer time: every evening comes back as it was."""
    first, last = start_min * 60.0, (start_min + length_min) * 60.0
    hours = local_hours(first, last, zone)
    start, end = hours_from_local(hours.day, hours.start, hours.end, zone, hours.days)
    assert parse_iso(start) == first
    # One day on and a later time of day cannot be told from the same day: the shorter evening is taken.
    assert parse_iso(end) in (last, last - 86_400.0)


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "zone", "day"),
    [
        (47.2, 9.1, "Europe/Zurich", "2024-11-01"),
        (-33.9, 151.2, "Australia/Sydney", "2024-12-24"),
        (64.1, -21.9, "Atlantic/Reykjavik", "2024-06-01"),
        (4.7, -74.1, "America/Bogota", "2025-03-20"),
    ],
)
def test_sunset_against_an_ephemeris(latitude_deg, longitude_deg, zone, day):
    """Oracle: skyfield's sunset with the DE421 ephemeris."""
    from skyfield import almanac, api

    file = importlib.resources.files("skyfield_data").joinpath("data", "de421.bsp")
    start, end = sunset_to_midnight(Site(latitude_deg=latitude_deg, longitude_deg=longitude_deg), day, zone)
    scale = api.load.timescale(builtin=True)
    ephemeris = api.load_file(str(file))
    place = api.wgs84.latlon(latitude_deg, longitude_deg)
    midnight = parse_iso(end)
    span = [scale.from_datetime(_moment(second)) for second in (midnight - 12 * 3600, midnight + 3600)]
    times, rises = almanac.find_discrete(*span, almanac.sunrise_sunset(ephemeris, place))
    ephemeris.close()
    sunset = next(t.utc_datetime().timestamp() for t, rise in zip(times, rises, strict=True) if not rise)
    assert parse_iso(start) <= sunset + 15.0
    assert sunset - parse_iso(start) < 75.0  # down to the minute


def _moment(utc_s: float):
    from core.base.times import to_datetime

    return to_datetime(utc_s)


def test_a_day_without_sunset_is_refused():
    with pytest.raises(ValueRangeError, match="Sun sets"):
        sunset_to_midnight(Site(latitude_deg=80, longitude_deg=15), "2024-06-20", "UTC")
    with pytest.raises(ValueRangeError, match="Sun sets"):
        sunset_to_midnight(Site(latitude_deg=80, longitude_deg=15), "2024-12-20", "UTC")
