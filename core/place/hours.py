"""The evening's hours as the operator types them: a date and two local times, and the same in UTC."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from core.base.errors import ValueRangeError
from core.base.times import format_iso
from core.place.site import Site
from core.place.sun import sky_spans
from core.place.zones import local_time, utc_offset_text

_CLOCK = re.compile(
    r"(?P<hour>[0-9]{1,2})(?:\s?[:.h]?\s?(?P<minute>[0-9]{2}))?\s?h?(?P<half>\s?[ap]m)?", re.IGNORECASE
)


@dataclass(frozen=True)
class LocalHours:
    """An evening in local time.

    Attributes:
        day: date of its start, ISO 8601.
        start, end: HH:MM; where the evening ends on the stroke of midnight, ``end`` is "24:00".
        days: whole nights between the two dates: 0 on the same day or ending at midnight, 1 past midnight.
        offset: of the zone at the start, in words.
    """

    day: str
    start: str
    end: str
    days: int
    offset: str


def local_hours(start_utc_s: float, end_utc_s: float, zone: str) -> LocalHours:
    """The hours of an evening in a zone, to the minute.

    Raises:
        ValueRangeError: there is no such zone.
    """
    first, last = (local_time(round(s / 60.0) * 60.0, zone) for s in (start_utc_s, end_utc_s))
    days = (last.date() - first.date()).days
    end = f"{last:%H:%M}"
    if end == "00:00" and days == 1:
        days, end = 0, "24:00"
    return LocalHours(
        first.date().isoformat(), f"{first:%H:%M}", end, days, utc_offset_text(start_utc_s, zone)
    )


def parse_clock(text: str, field: str = "time") -> int:
    """Minutes after midnight of "18:30", "1830", "18", "18h", "6:30 pm" or "24:00".

    Raises:
        ValueRangeError: no time of day, naming ``field``.
    """
    match = _CLOCK.fullmatch(text.strip())
    hour, minute = (int(match["hour"]), int(match["minute"] or 0)) if match else (99, 0)
    if match and match["half"]:
        hour = hour % 12 + (12 if "p" in match["half"].lower() else 0) if 1 <= hour <= 12 else 99
    minutes = hour * 60 + minute
    if minute > 59 or not 0 <= minutes <= 24 * 60:
        raise ValueRangeError(field, repr(text), "a time of day, 0:00 to 24:00")
    return minutes


def parse_day(text: str) -> date:
    """A date written as 2024-11-01.

    Raises:
        ValueRangeError: no such date.
    """
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise ValueRangeError("date", repr(text), "a date such as 2024-11-01") from None


def hours_from_local(day: str, start: str, end: str, zone: str, days: int = 0) -> tuple[str, str]:
    """ISO 8601 UTC of start and end.

    Args:
        day: date of the start, ISO 8601.
        start, end: times of day; an end that is not later than the start is on the next day.
        zone: name of the time zone.
        days: whole days that lie between the two dates; 0 or 1 lets the times decide.

    Raises:
        ValueRangeError: no date, no time, or no such zone.
    """
    first_day = parse_day(day)
    first, last = parse_clock(start, "from"), parse_clock(end, "to")
    nights = days if days > 1 else (0 if last > first else 1)
    try:
        moments = (
            utc_of_local(first_day, first, zone),
            utc_of_local(first_day + timedelta(days=nights), last, zone),
        )
    except (OverflowError, ValueError):
        raise ValueRangeError("date", repr(day), "a date in the years 1957 to 2099") from None
    return format_iso(moments[0]), format_iso(moments[1])


def utc_of_local(day: date, minutes: int, zone: str) -> float:
    """POSIX seconds of a local time; one that the clocks skip or show twice counts with the offset before.

    Raises:
        ValueRangeError: there is no such zone.
    """
    local_time(0.0, zone)  # refuses a zone that does not exist
    midnight = datetime(day.year, day.month, day.day)
    wall = (midnight + timedelta(minutes=minutes)).replace(tzinfo=ZoneInfo(zone))
    return wall.timestamp()


def sunset_to_midnight(site: Site, day: str, zone: str) -> tuple[str, str]:
    """ISO 8601 UTC of the sunset of a local date, down to the minute, and of the midnight that ends it.

    Raises:
        ValueRangeError: no date, or the Sun does not set at the site that day.
    """
    date_ = parse_day(day)
    noon, midnight = utc_of_local(date_, 12 * 60, zone), utc_of_local(date_, 24 * 60, zone)
    spans = sky_spans(site, noon - 3 * 3600.0, midnight)
    ends = [span.end_utc_s for span in spans[:-1] if span.sky == "day"]
    if not ends:
        raise ValueRangeError("date", date_.isoformat(), "a day on which the Sun sets at this site")
    return format_iso(ends[-1] // 60.0 * 60.0), format_iso(midnight)
