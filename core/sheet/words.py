"""Figures, moments and foreign text as the sheet prints them. No locale is asked: same input, same page."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from core.base.times import clock, to_datetime
from core.place.zones import local_time, offset_changes_s, utc_offset_text

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
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


def figure(value: float, decimals: int = 1) -> str:
    """Fixed decimals, never ``-0.0``."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def bearing(value_deg: float) -> str:
    """A bearing to a tenth, 0.0 to 359.9."""
    return figure(round(value_deg, 1) % 360.0)


def plain(value: float, decimals: int = 2) -> str:
    """As few decimals as it takes, at most ``decimals``: 3, 2.5, -30."""
    text = figure(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


def signed(value: float, decimals: int = 2) -> str:
    """With its sign, as few decimals as it takes: +3, -2.5, 0."""
    text = plain(value, decimals)
    return text if text == "0" or text.startswith("-") else f"+{text}"


def duration(seconds: float) -> str:
    """``45 s``, ``2 min 05 s`` or ``1 h 12 min``."""
    whole = round(abs(seconds))
    sign = "-" if seconds < 0 and whole else ""
    if whole < 60:
        return f"{sign}{whole} s"
    if whole < 3600:
        return f"{sign}{whole // 60} min {whole % 60:02d} s"
    return f"{sign}{whole // 3600} h {whole % 3600 // 60:02d} min"


def day(utc_s: float, zone: str | None = None) -> str:
    """``Fri 1 Nov 2024``, in UTC or in a zone."""
    moment = to_datetime(utc_s) if zone is None else local_time(utc_s, zone)
    return f"{_DAYS[moment.weekday()]} {moment.day} {_MONTHS[moment.month - 1]} {moment.year}"


def local_clock(utc_s: float, zone: str, seconds: bool = True) -> str:
    """``HH:MM:SS`` (or ``HH:MM``) on the zone's clock, rounded as `core.base.times.clock` rounds."""
    step = 1.0 if seconds else 60.0
    moment = local_time(step * ((utc_s + step / 2.0) // step), zone)
    return f"{moment.hour:02d}:{moment.minute:02d}" + (f":{moment.second:02d}" if seconds else "")


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


def listed(words: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return ", ".join(words[:-1]) + (" and " if len(words) > 1 else "") + words[-1] if words else ""
