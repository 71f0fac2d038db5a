"""An evening as the operator sees and types it: a date and two local times. Each edit changes itself alone.

A time that the clocks show twice is told with which of the two it is ("02:30 2nd"), an end that is not the
first such time after the start with its date ("2024-11-03 22:00"), and seconds where there are any.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from core.base.errors import ValueRangeError
from core.base.times import format_iso, parse_iso
from core.place.hours import parse_clock, parse_day
from core.place.zones import local_time, utc_of_local, utc_offset_text

_DAY_S = 86_400
_TYPED = re.compile(
    r"(?:(?P<day>[0-9]{4}-[0-9]{2}-[0-9]{2})\s+)?(?P<clock>.*?)(?:\s+(?P<which>1st|2nd))?", re.S
)
_WITH_SECONDS = re.compile(r"(?P<clock>[0-9]{1,2}:[0-9]{2}):(?P<seconds>[0-5][0-9])")
_YEARS = "a date in the years 1957 to 2099"


@dataclass(frozen=True)
class LocalHours:
    """An evening in local time.

    Attributes:
        day: date of its start, ISO 8601.
        start, end: as they would be typed; an end on the stroke of midnight is "24:00".
        end_day: date of its end; that of the evening where it ends on the stroke of midnight.
        offset, end_offset: of the zone at the start and at the end, in words.
    """

    day: str
    start: str
    end: str
    end_day: str
    offset: str
    end_offset: str


@dataclass(frozen=True)
class _Typed:
    """A time of day as typed: its date where one is told, seconds after midnight, and which of two, or 0."""

    day: date | None
    clock_s: int
    which: int


def local_hours(start_utc_s: float, end_utc_s: float, zone: str) -> LocalHours:
    """The hours of an evening in a zone.

    Raises:
        ValueRangeError: there is no such zone.
    """
    first, last = local_time(start_utc_s, zone), local_time(end_utc_s, zone)
    end_day, clock = last.date(), _clock_text(end_utc_s, zone)
    if clock == "00:00" and end_day > first.date():
        end_day, clock = end_day - timedelta(days=1), "24:00"
    typed = _read(clock, "to")
    is_first = abs(_end_of(typed, start_utc_s, zone) - end_utc_s) < 1.0
    return LocalHours(
        day=first.date().isoformat(),
        start=_clock_text(start_utc_s, zone),
        end=clock if is_first else f"{end_day.isoformat()} {clock}",
        end_day=end_day.isoformat(),
        offset=utc_offset_text(start_utc_s, zone),
        end_offset=utc_offset_text(end_utc_s, zone),
    )


def with_day(start_utc_s: float, end_utc_s: float, day: str, zone: str) -> tuple[str, str]:
    """Start and end (ISO 8601 UTC) with the start on another local date; both keep their times of day.

    Raises:
        ValueRangeError: no date, or no such zone.
    """
    first, last = local_time(start_utc_s, zone), local_time(end_utc_s, zone)
    try:
        days = parse_day(day) - first.date()
        start_s, end_s = (_moved(moment, days, zone) for moment in (first, last))
    except (OverflowError, ValueError):
        raise ValueRangeError("date", repr(day), _YEARS) from None
    if end_s <= start_s:  # the clocks are put on between the two
        end_s = start_s + (end_utc_s - start_utc_s)
    return format_iso(start_s), format_iso(end_s)


def repeated(start_utc_s: float, end_utc_s: float, days: int, zone: str) -> list[tuple[float, float]]:
    """The same local hours on so many days from the first on, start and end each (POSIX seconds).

    Raises:
        ValueRangeError: no such zone, or the days go beyond the years there are.
    """
    first = local_time(start_utc_s, zone).date()
    try:
        dates = [(first + timedelta(days=day)).isoformat() for day in range(days)]
    except OverflowError:
        raise ValueRangeError("date", repr(first.isoformat()), _YEARS) from None
    hours = [with_day(start_utc_s, end_utc_s, date_, zone) for date_ in dates]
    return [(parse_iso(start), parse_iso(end)) for start, end in hours]


def with_start(start_utc_s: float, end_utc_s: float, text: str, zone: str) -> tuple[str, str]:
    """The same with another start; the end stays, or where it would not be later comes as many days on.

    Raises:
        ValueRangeError: no time of day, naming "from", or no such zone.
    """
    typed = _read(text, "from")
    day = typed.day or local_time(start_utc_s, zone).date()
    start_s = _moment(day, typed, zone)
    end_s = end_utc_s
    if end_s <= start_s:
        last = local_time(end_utc_s, zone)
        nights = timedelta(days=int((start_s - end_s) // _DAY_S) + 1)
        end_s = _moved(last, nights, zone)
    return format_iso(start_s), format_iso(end_s)


def with_end(start_utc_s: float, text: str, zone: str) -> tuple[str, str]:
    """The same with another end: on the date that is typed, else the first such time after the start.

    Raises:
        ValueRangeError: no time of day, naming "to", one that is not after the start, or no such zone.
    """
    end_s = _end_of(_read(text, "to"), start_utc_s, zone)
    if end_s <= start_utc_s:
        raise ValueRangeError("to", repr(text), "later than the start")
    return format_iso(start_utc_s), format_iso(end_s)


def _moved(moment: datetime, days: timedelta, zone: str) -> float:
    """The same time of day some days on, to the microsecond; of two the same one."""
    clock = moment.replace(tzinfo=None) - datetime(moment.year, moment.month, moment.day)
    return utc_of_local(moment.date() + days, clock.total_seconds(), zone, moment.fold + 1)


def _read(text: str, field: str) -> _Typed:
    found = _TYPED.fullmatch(text.strip())
    assert found is not None  # any text has a clock part
    clock, seconds = found["clock"], 0
    exact = _WITH_SECONDS.fullmatch(clock)
    if exact:
        clock, seconds = exact["clock"], int(exact["seconds"])
    clock_s = 60 * parse_clock(clock, field) + seconds
    if clock_s > _DAY_S:
        raise ValueRangeError(field, repr(text), "a time of day, 0:00 to 24:00")
    which = int(found["which"][0]) if found["which"] else 0
    return _Typed(parse_day(found["day"]) if found["day"] else None, clock_s, which)


def _moment(day: date, typed: _Typed, zone: str) -> float:
    try:
        return utc_of_local(day, typed.clock_s, zone, typed.which)
    except (OverflowError, ValueError):
        raise ValueRangeError("date", repr(day.isoformat()), _YEARS) from None


def _end_of(typed: _Typed, start_utc_s: float, zone: str) -> float:
    """The first such moment after the start, or that of the date told."""
    if typed.day is not None:
        return _moment(typed.day, typed, zone)
    first = local_time(start_utc_s, zone).date()
    moments = [
        _moment(first + timedelta(days=days), _Typed(None, typed.clock_s, which), zone)
        for days in range(3)
        for which in ((typed.which,) if typed.which else (1, 2))
    ]
    return min(moment for moment in moments if moment > start_utc_s)


def _clock_text(utc_s: float, zone: str) -> str:
    """``18:30``; with its seconds where there are any, and which of two where the clocks show it twice."""
    moment = local_time(utc_s, zone)
    text = f"{moment:%H:%M:%S}" if moment.second else f"{moment:%H:%M}"
    first, second = (moment.replace(fold=fold).timestamp() for fold in (0, 1))
    return f"{text} {'2nd' if moment.fold else '1st'}" if second > first else text
