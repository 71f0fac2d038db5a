"""Time zones: look-up, local time, words, and changes of offset."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.base.times import parse_iso
from core.place.site import Site
from core.place.zones import (
    local_clock,
    local_time,
    offset_changes_s,
    resolve_time_zone,
    utc_offset_text,
    zone_at,
)

_ZONES = [
    "Europe/Vienna",
    "Australia/Lord_Howe",
    "America/St_Johns",
    "Asia/Kathmandu",
    "Etc/UTC",
    "Africa/Casablanca",
]


def at(latitude_deg: float, longitude_deg: float, time_zone: str | None = None) -> Site:
    return Site(latitude_deg=latitude_deg, longitude_deg=longitude_deg, time_zone=time_zone)


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "zone"),
    [(48.2, 16.4, "Europe/Vienna"), (-33.9, 151.2, "Australia/Sydney"), (40.7, -74.0, "America/New_York")],
)
def test_zone_of_a_place_on_land(latitude_deg, longitude_deg, zone):
    assert resolve_time_zone(at(latitude_deg, longitude_deg)) == zone


@pytest.mark.parametrize("longitude_deg", [-160.0, -30.0, 160.0])
def test_zone_at_sea_is_the_nautical_one(longitude_deg):
    zone = zone_at(0.0, longitude_deg)
    offset = ZoneInfo(zone).utcoffset(datetime(2024, 11, 1, tzinfo=UTC))
    assert zone.startswith("Etc/GMT")
    assert offset is not None
    assert offset.total_seconds() / 3600.0 == round(longitude_deg / 15.0)


@given(st.floats(-90.0, 90.0), st.floats(-180.0, 180.0))
def test_every_place_has_a_zone_that_exists_and_roughly_fits_the_sun(latitude_deg, longitude_deg):
    offset = ZoneInfo(zone_at(latitude_deg, longitude_deg)).utcoffset(datetime(2024, 11, 1, tzinfo=UTC))
    assert offset is not None
    if abs(latitude_deg) < 60.0:  # polar stations keep whatever time they like
        from_sun_h = (offset.total_seconds() / 3600.0 - longitude_deg / 15.0 + 12.0) % 24.0 - 12.0
        assert abs(from_sun_h) <= 4.0


@pytest.mark.parametrize("missing", ["", "Nowhere/Land"])
def test_a_place_that_the_look_up_misses_gets_the_nautical_zone(missing, monkeypatch):
    monkeypatch.setattr("tzfpy.get_tz", lambda _longitude, _latitude: missing)
    assert zone_at(0.0, 151.2) == "Etc/GMT-10"
    assert zone_at(0.0, -74.0) == "Etc/GMT+5"
    assert zone_at(0.0, 3.0) == "Etc/GMT"


def test_the_zone_that_is_set_is_taken():
    assert resolve_time_zone(at(48.2, 16.4, "Asia/Tokyo")) == "Asia/Tokyo"


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("Sydney", "Australia/Sydney"),
        ("Europe/Viena", "Europe/Vienna"),
        ("new york", "America/New_York"),
        ("europe/vienna", "Europe/Vienna"),
    ],
)
def test_an_unknown_zone_is_refused_with_names_near_to_it(name, near):
    with pytest.raises(ValueRangeError, match=rf"time_zone is '{name}'.*perhaps.*{near}"):
        resolve_time_zone(at(0.0, 0.0, name))


@pytest.mark.parametrize("name", ["", "../etc/passwd", "/etc/localtime", "Europe", "qqqqqq", "a\0b"])
def test_what_is_no_zone_name_is_refused(name):
    with pytest.raises(ValueRangeError, match="a time zone's name"):
        local_time(0.0, name)


@pytest.mark.parametrize(
    ("zone", "when", "text"),
    [
        ("Europe/Vienna", "2024-11-01T16:00Z", "UTC+1 (CET)"),
        ("Europe/Vienna", "2024-07-01T16:00Z", "UTC+2 (CEST)"),
        ("Etc/UTC", "2024-11-01T16:00Z", "UTC"),
        ("Europe/London", "2024-12-01T16:00Z", "UTC+0 (GMT)"),
        ("America/St_Johns", "2024-12-01T16:00Z", "UTC-3:30 (NST)"),
        ("Asia/Kathmandu", "2024-11-01T16:00Z", "UTC+5:45"),
        ("America/Sao_Paulo", "2024-11-01T16:00Z", "UTC-3"),
        ("Etc/GMT-10", "2024-11-01T16:00Z", "UTC+10"),
        ("Europe/Vienna", "1890-11-01T16:00Z", "UTC+1:05:21 (LMT)"),
    ],
)
def test_offset_in_words(zone, when, text):
    assert utc_offset_text(parse_iso(when), zone) == text


def test_local_time():
    assert (
        local_time(parse_iso("2024-11-01T16:00:00.250Z"), "Europe/Vienna").isoformat()
        == "2024-11-01T17:00:00.250000+01:00"
    )


@pytest.mark.parametrize(
    ("zone", "start", "end", "changes"),
    [
        ("Europe/Vienna", "2024-10-26T16:00Z", "2024-10-27T06:00Z", ["2024-10-27T01:00Z"]),
        ("Europe/Vienna", "2024-11-01T16:00Z", "2024-11-02T06:00Z", []),
        ("Europe/Vienna", "2024-10-27T01:00Z", "2024-10-27T06:00Z", []),
        ("Europe/Vienna", "2024-10-26T20:17:11.5Z", "2024-10-27T01:00Z", ["2024-10-27T01:00Z"]),
        ("Europe/Vienna", "2024-10-26T16:00Z", "2024-10-27T00:59:59Z", []),
        ("Europe/Vienna", "2024-01-01T00Z", "2025-01-01T00Z", ["2024-03-31T01:00Z", "2024-10-27T01:00Z"]),
        ("Asia/Tokyo", "2024-01-01T00:00Z", "2025-01-01T00:00Z", []),
    ],
)  # fmt: skip
def test_changes_of_the_offset(zone, start, end, changes):
    """Dates by the European Union's directive on summer time, 2000/84/EC: last Sundays, 01:00 UTC."""
    assert offset_changes_s(parse_iso(start), parse_iso(end), zone) == tuple(map(parse_iso, changes))


@given(st.sampled_from(_ZONES), st.integers(1_600_000_000, 1_900_000_000), st.integers(0, 40 * 86_400))
def test_changes_part_the_window_into_pieces_of_one_offset(zone, start, length):
    def offset(utc_s):
        return local_time(utc_s, zone).utcoffset()

    changes = offset_changes_s(start, start + length, zone)
    ends = [start, *changes, start + length + 1]
    for change in changes:
        assert offset(change - 1) != offset(change)
    for low, high in pairwise(ends):
        assert len({offset(low + (high - 1 - low) * share / 7) for share in range(8)}) == 1


def test_the_local_clock_is_rounded_to_the_nearest_second_or_minute():
    late = parse_iso("2024-11-01T23:30:00Z")
    assert local_clock(late, "Europe/Vienna") == "00:30:00"
    assert local_clock(late, "Asia/Kathmandu", seconds=False) == "05:15"
    assert local_clock(parse_iso("2024-11-01T23:59:59.6Z"), "UTC") == "00:00:00"
