"""UTC as POSIX seconds, and ISO 8601 in and out.

Inside the core a moment is ``utc_s``: seconds since 1970-01-01T00:00Z counted without leap seconds,
as one float64. Its step is 2.4e-7 s in this century, 2 mm of a low satellite's path.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from functools import lru_cache

from core.base.errors import ValueRangeError

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
#: Spaceflight began in 1957; no element set says anything of the times beyond this.
_FIRST_YEAR, _LAST_YEAR = 1957, 2099
#: Closer to a whole second than this is on it.
_ON_SECOND_S = 1e-6


def parse_iso(text: str, field: str = "time") -> float:
    """POSIX seconds of an ISO 8601 date-time; a missing offset means UTC, another is converted.

    Raises:
        ValueRangeError: the text is no ISO 8601 date-time, naming ``field``.
    """
    try:
        moment = datetime.fromisoformat(text.strip())
    except ValueError:
        raise ValueRangeError(
            field, repr(text), "an ISO 8601 time in UTC such as 2024-11-01T16:00:00Z"
        ) from None
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=UTC)
    return (moment - _EPOCH) / timedelta(seconds=1)


def parse_moment(text: str, field: str = "time") -> float:
    """POSIX seconds of an ISO 8601 date-time in the years that can be planned.

    Raises:
        ValueRangeError: no such date-time, or outside 1957 to 2099, naming ``field``.
    """
    moment = parse_iso(text, field)
    if not parse_iso(f"{_FIRST_YEAR}-01-01") <= moment < parse_iso(f"{_LAST_YEAR + 1}-01-01"):
        raise ValueRangeError(field, repr(text), f"a time in the years {_FIRST_YEAR} to {_LAST_YEAR}")
    return moment


def canonical_time(text: str) -> str:
    """A plan's date-time as it is stored: as `format_iso` gives it.

    Raises:
        ValueError: no date-time in the years that can be planned; a model's validator words it by its field.
    """
    try:
        return format_iso(parse_moment(text))
    except ValueRangeError as error:
        raise ValueError(f"must be {error.allowed}, not {error.value}") from None


def format_iso(utc_s: float) -> str:
    """ISO 8601 UTC with milliseconds and Z, e.g. ``2024-11-01T16:00:00.000Z``; rounds half to even."""
    seconds, milliseconds = divmod(round(utc_s * 1000.0), 1000)
    day, seconds = divmod(seconds, 86_400)
    minutes, seconds = divmod(seconds, 60)
    return f"{_date(day)}T{minutes // 60:02d}:{minutes % 60:02d}:{seconds:02d}.{milliseconds:03d}Z"


@lru_cache(maxsize=64)
def _date(day: int) -> str:
    """The date of a day counted from 1970-01-01."""
    return (_EPOCH + timedelta(days=day)).strftime("%Y-%m-%d")


def to_datetime(utc_s: float) -> datetime:
    """Aware UTC datetime, rounded to the microsecond."""
    return _EPOCH + timedelta(microseconds=round(utc_s * 1e6))


def clock(utc_s: float, seconds: bool = True) -> str:
    """``HH:MM:SS`` (or ``HH:MM``) in UTC, rounded to the nearest second (minute)."""
    step = 1 if seconds else 60
    minutes, second = divmod(math.floor(utc_s / step + 0.5) * step % 86_400, 60)
    text = f"{minutes // 60:02d}:{minutes % 60:02d}"
    return f"{text}:{second:02d}" if seconds else text


def first_second(utc_s: float) -> float:
    """The first whole second of what begins then: what a clock shows that is read to the second."""
    return float(math.ceil(utc_s - _ON_SECOND_S))


def last_second(utc_s: float) -> float:
    """The last whole second of what ends then."""
    return float(math.floor(utc_s + _ON_SECOND_S))


def span_words(start_utc_s: float, end_utc_s: float) -> str:
    """``16:57:54 to 17:05:53``: its first and its last whole second, wherever it is told."""
    return f"{clock(first_second(start_utc_s))} to {clock(last_second(end_utc_s))}"
