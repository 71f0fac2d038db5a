"""The evening's hours between local time and UTC, and sunset against an ephemeris."""

from __future__ import annotations

import importlib.resources

import pytest

from core.base.errors import ValueRangeError
from core.base.times import parse_iso
from core.place.hours import parse_clock, parse_day, sunset_to_midnight
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
