"""Epochs as CCSDS 502.0-B allows them (section 7.5.10): calendar and day-of-year forms, in UTC.

The canonical text, the one that element sets carry, is the calendar form ``YYYY-MM-DDThh:mm:ss[.f...]``
without a suffix and without trailing zeros in the fraction: equal moments are equal texts, and texts sort
as the moments do.
"""

from __future__ import annotations

import re
from calendar import isleap, monthrange
from datetime import date, timedelta
from functools import lru_cache

from core.base.errors import ValueRangeError
from core.base.units import DAY_S, UNIX_EPOCH_JD

_FORM = re.compile(
    r"([0-9]{4})-(?:([0-9]{2})-([0-9]{2})|([0-9]{3}))T([0-9]{2}):([0-9]{2}):([0-9]{2})(?:\.([0-9]+))?Z?"
)
_UNIX_ORDINAL = date(1970, 1, 1).toordinal()
#: Seconds beyond 30 decimals change no float; a file may bring a million of them.
_DIGITS_THAT_COUNT = 33
#: Epochs whose moments are kept: every search asks for those of its satellites.
_KEPT = 4096
_FORMS_READ = "a UTC date and time such as 2024-11-01T16:00:00.5 or 2024-306T16:00:00.5"


def canonical_epoch(text: str, field: str = "EPOCH") -> str:
    """The canonical text of an epoch in any form the standard allows.

    Read are calendar and day-of-year dates, any number of decimals, and one optional ``Z``. A leap second
    (``23:59:60`` at the end of a month) becomes ``00:00:00`` of the next day with its fraction kept: that
    is the same number of POSIX seconds, which this project and SGP4's Julian dates count in, and at most
    one second from the moment meant.

    Raises:
        ValueRangeError: any other form, or a date or time that does not exist, naming ``field``.
    """
    try:
        return _canonical(text.strip())
    except _NoSuchTime as refusal:
        shown = text if len(text) <= 60 else text[:57] + "..."
        raise ValueRangeError(field, repr(shown), refusal.allowed) from None


class _NoSuchTime(Exception):
    """A text that is no epoch; carries what would be one."""

    def __init__(self, allowed: str) -> None:
        self.allowed = allowed
        super().__init__(allowed)


def _canonical(text: str) -> str:
    match = _FORM.fullmatch(text)
    if match is None:
        raise _NoSuchTime(_FORMS_READ)
    year, month, day, day_of_year, hours, minutes, seconds, fraction = match.groups()
    if day_of_year is not None:
        moment = _from_day_of_year(int(year), int(day_of_year))
    else:
        moment = _from_calendar(int(year), int(month), int(day))
    if hours > "23":
        raise _NoSuchTime("a time with hours from 00 to 23")
    if minutes > "59":
        raise _NoSuchTime("a time with minutes from 00 to 59")
    clock = f"{hours}:{minutes}:{seconds}"
    if seconds > "59":
        moment, clock = _after_leap_second(moment, clock), "00:00:00"
    return _text(moment, clock, fraction or "")


def _text(day: date, clock: str, fraction: str) -> str:
    """The canonical text; ``fraction`` are decimals of the second, perhaps none."""
    decimals = fraction.rstrip("0")
    return f"{day.isoformat()}T{clock}" + (f".{decimals}" if decimals else "")


def _from_calendar(year: int, month: int, day: int) -> date:
    if year < 1:
        raise _NoSuchTime("a date from the year 0001 on")
    if not 1 <= month <= 12:
        raise _NoSuchTime("a date with a month from 01 to 12")
    if not 1 <= day <= monthrange(year, month)[1]:
        raise _NoSuchTime(f"a date that exists ({year}-{month:02d} has {monthrange(year, month)[1]} days)")
    return date(year, month, day)


def _from_day_of_year(year: int, day_of_year: int) -> date:
    if year < 1:
        raise _NoSuchTime("a date from the year 0001 on")
    days = 366 if isleap(year) else 365
    if not 1 <= day_of_year <= days:
        raise _NoSuchTime(f"a date that exists ({year} has {days} days)")
    return date(year, 1, 1) + timedelta(days=day_of_year - 1)


def _after_leap_second(moment: date, clock: str) -> date:
    """The day after a leap second, which UTC inserts at the end of a month only (ITU-R TF.460-6, 2.1)."""
    if clock != "23:59:60" or moment.day != monthrange(moment.year, moment.month)[1] or moment == date.max:
        raise _NoSuchTime("a time with seconds 00 to 59 (60 at 23:59 on the last day of a month only)")
    return moment + timedelta(days=1)


@lru_cache(_KEPT)
def split_jd(epoch: str) -> tuple[float, float]:
    """Julian date of a canonical epoch text as (whole day at 0h, fraction of the day).

    Two floats, since one would keep only 40 microseconds.
    """
    day_text, clock_text = epoch.split("T")
    days = date.fromisoformat(day_text).toordinal() - _UNIX_ORDINAL
    hours, minutes, seconds = clock_text.split(":")
    seconds_of_minute = float(seconds[:_DIGITS_THAT_COUNT])
    return UNIX_EPOCH_JD + days, (int(hours) * 3600 + int(minutes) * 60 + seconds_of_minute) / DAY_S


@lru_cache(_KEPT)
def epoch_utc_s(epoch: str) -> float:
    """POSIX seconds of a canonical epoch text."""
    whole, fraction = split_jd(epoch)
    return (whole - UNIX_EPOCH_JD) * DAY_S + fraction * DAY_S


def two_line_epoch(two_digit_year: int, day_of_year: int, day_fraction_e8: int) -> str:
    """Canonical text of a two-line epoch; exact, as 1e-8 day is 864 microseconds.

    Years 57 to 99 are 1957 to 1999, 00 to 56 are 2000 to 2056.

    Raises:
        ValueRangeError: a day that the year does not have.
    """
    year = two_digit_year + (1900 if two_digit_year >= 57 else 2000)
    try:
        day = _from_day_of_year(year, day_of_year)
    except _NoSuchTime as refusal:
        shown = f"{two_digit_year:02d}{day_of_year:03d}.{day_fraction_e8:08d}"
        raise ValueRangeError("EPOCH", shown, refusal.allowed) from None
    seconds, microseconds = divmod(day_fraction_e8 * 864, 1_000_000)
    minutes, second = divmod(seconds, 60)
    clock = f"{minutes // 60:02d}:{minutes % 60:02d}:{second:02d}"
    return _text(day, clock, f"{microseconds:06d}")
