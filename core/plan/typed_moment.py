"""A moment of the evening as somebody with a watch types it."""

from __future__ import annotations

import re

from core.base.errors import ValueRangeError
from core.base.times import parse_moment
from core.base.units import DAY_S
from core.place.hours import parse_clock
from core.plan.document import Evening

_WITH_SECONDS = re.compile(r"(?P<minutes>\d{1,2}[:.]?\d{2})[:.]?(?P<seconds>\d{2})", re.ASCII)
_WITH_A_DATE = re.compile(r"\d{4}-")
_NO_TIME = "now, or a time of day such as 18:42 or 18:42:30"


def read_moment(text: str, evening: Evening, now_utc_s: float) -> float:
    """POSIX seconds of "now", "18:42", "1842", "18:42:30" or an ISO 8601 time, all UTC; of nothing, now.

    A time of day is the one within the evening; in an evening of several days the one nearest to now, and
    outside the evening the one nearest to it.

    Raises:
        ValueRangeError: no such time, naming "now".
    """
    typed = text.strip()
    if not typed or typed.casefold() == "now":
        return now_utc_s
    if _WITH_A_DATE.match(typed):
        return parse_moment(typed, "now")
    return _nearest(_seconds_of_day(typed), evening, now_utc_s)


def _seconds_of_day(typed: str) -> int:
    plain = typed.removesuffix("UTC").removesuffix("Z").strip()
    match = _WITH_SECONDS.fullmatch(plain)
    seconds = int(match["seconds"]) if match else 0
    try:
        minutes = parse_clock(match["minutes"] if match else plain, "now")
    except ValueRangeError:
        raise ValueRangeError("now", repr(typed), _NO_TIME) from None
    if seconds > 59:
        raise ValueRangeError("now", repr(typed), _NO_TIME)
    return minutes * 60 + seconds


def _nearest(seconds: int, evening: Evening, now_utc_s: float) -> float:
    start, end = evening.start_utc_s, evening.end_utc_s
    midnight = start // DAY_S * DAY_S
    moments = [midnight + day * DAY_S + seconds for day in range(-1, int((end - midnight) // DAY_S) + 2)]
    within = [moment for moment in moments if start <= moment < end]
    if within:
        return min(within, key=lambda moment: abs(moment - now_utc_s))
    return min(moments, key=lambda moment: max(start - moment, moment - end))
