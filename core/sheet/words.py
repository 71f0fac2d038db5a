"""Days, zones and foreign text as the sheet prints them. No locale is asked: same input, same page."""

from __future__ import annotations

import unicodedata

from core.base.times import clock, to_datetime
from core.base.units import DAY_S
from core.base.words import day_and_month
from core.place.zones import local_time, offset_changes_s, utc_offset_text

#: Further from what it stands beside a time of day alone may be taken for another day's.
_SAME_NIGHT_S = DAY_S / 2.0
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_UNBROKEN = 16
#: Invisible: lets a line end here.
_BREAK = "\u200b"


def clean(text: str, limit: int) -> str:
    """One line of what can be seen of a text, at most ``limit`` characters, the cut marked by an ellipsis.

    Control characters and odd spaces become plain spaces; marks that turn the writing direction, lone
    surrogates and unassigned codes go. Words of more than 16 characters get invisible places to break at,
    which do not count.
    """
    seen = []
    for character in text:
        category = unicodedata.category(character)
        if category in {"Cc", "Zs", "Zl", "Zp"}:
            seen.append(" ")
        elif category not in {"Cf", "Cs", "Co", "Cn"}:
            seen.append(character)
    line = " ".join("".join(seen).split())
    if len(line) > limit:
        line = line[: limit - 1].rstrip() + "…"
    return " ".join(_breakable(word) for word in line.split(" "))


def _breakable(word: str) -> str:
    return _BREAK.join(word[i : i + _UNBROKEN] for i in range(0, len(word), _UNBROKEN))


def day(utc_s: float, zone: str | None = None) -> str:
    """``Fri 1 Nov 2024``, in UTC or in a zone."""
    moment = to_datetime(utc_s) if zone is None else local_time(utc_s, zone)
    return f"{_DAYS[moment.weekday()]} {day_and_month(moment)} {moment.year}"


def clock_beside(utc_s: float, beside_utc_s: float) -> str:
    """``06:26:58``; ``2 Nov 06:26:58`` where it is half a day or more from the moment it stands beside."""
    far = abs(utc_s - beside_utc_s) >= _SAME_NIGHT_S
    return f"{_date(utc_s)} {clock(utc_s)}" if far else clock(utc_s)


def worked_words(start_utc_s: float, end_utc_s: float, hours_s: float) -> str:
    """``18:47:22 to 19:01:34``; the days too where the evening's hours are more than a day's: `hours_s`."""
    start, end = clock(start_utc_s), clock(end_utc_s)
    if hours_s <= DAY_S:
        return f"{start} to {end}"
    first, last = _date(start_utc_s), _date(end_utc_s)
    return f"{first} {start} to {end if last == first else f'{last} {end}'}"


def _date(utc_s: float) -> str:
    return day_and_month(to_datetime(utc_s))


def zone_line(start_s: float, end_s: float, zone: str) -> str:
    """``Europe/Vienna, UTC+1 (CET)``, and each change of the offset within the hours given."""
    text = f"{zone}, {utc_offset_text(start_s, zone)}"
    for change_s in offset_changes_s(start_s, end_s, zone):
        text += f", from {clock(change_s, seconds=False)} UTC {utc_offset_text(change_s, zone)}"
    return text


def zone_warning(start_s: float, end_s: float, zone: str) -> str:
    """A sentence where the local clock is put forward or back within the hours given, else empty."""
    sentences = [
        f"The local clock changes at {clock(change_s)} UTC from {utc_offset_text(change_s - 1.0, zone)} "
        f"to {utc_offset_text(change_s, zone)}: go by UTC."
        for change_s in offset_changes_s(start_s, end_s, zone)
    ]
    return " ".join(sentences)
