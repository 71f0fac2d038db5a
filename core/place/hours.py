"""Dates and times of day as they are typed, and the evening from sunset to midnight."""

from __future__ import annotations

import re
from datetime import date

from core.base.errors import ValueRangeError
from core.base.times import format_iso
from core.place.site import Site
from core.place.sun import sky_spans
from core.place.zones import utc_of_local

_CLOCK = re.compile(
    r"(?P<hour>[0-9]{1,2})(?:\s?[:.h]?\s?(?P<minute>[0-9]{2}))?\s?h?(?P<half>\s?[ap]m)?", re.IGNORECASE
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


def sunset_to_midnight(site: Site, day: str, zone: str) -> tuple[str, str]:
    """ISO 8601 UTC of the sunset of a local date, down to the minute, and of the midnight that ends it.

    Raises:
        ValueRangeError: no date, or the Sun does not set at the site that day.
    """
    date_ = parse_day(day)
    noon, midnight = utc_of_local(date_, 43_200.0, zone), utc_of_local(date_, 86_400.0, zone)
    spans = sky_spans(site, noon - 3 * 3600.0, midnight)
    ends = [span.end_utc_s for span in spans[:-1] if span.sky == "day"]
    if not ends:
        raise ValueRangeError("date", date_.isoformat(), "a day on which the Sun sets at this site")
    return format_iso(ends[-1] // 60.0 * 60.0), format_iso(midnight)
