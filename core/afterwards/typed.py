"""What is typed into the log from the paper: a dial as it is written there, a time of the pass."""

from __future__ import annotations

import re

from core.base.errors import ValueRangeError
from core.base.times import clock, format_iso, parse_iso
from core.base.typed import LONGEST_TYPED, read_quantity
from core.log.model import LogEntry
from core.passes.track import Pass
from core.plan.document import Evening
from core.plan.quantities import AZIMUTH_READ, ELEVATION_READ
from core.plan.typed_moment import read_moment

#: What is typed of a row, from left to right.
CELLS = ("azimuth", "elevation", "time", "last_heard", "note")
#: ``212 (2nd)``, as the sheet prints it, and what hands make of it: ``212 2nd``, ``212, second time round``.
_ROUND = re.compile(
    r"(?P<figure>.*?)[\s,]*\(?\s*"
    r"(?:(?P<number>\d{1,2})\s*(?:st|nd|rd|th)|(?P<word>first|second|third|fourth|fifth))"
    r"(?:\s+(?:time|round|time\s+round))?\s*\)?\s*",
    re.IGNORECASE | re.ASCII,
)
_WORDS = ("first", "second", "third", "fourth", "fifth")
_A_TIME = "a time of day in UTC such as 18:42 or 18:42:30"


def read_azimuth(text: str) -> tuple[float | None, int | None]:
    """The figure of ``212``, ``212.5`` or ``212 (2nd)``, and which time round; both None of nothing.

    Raises:
        ValueRangeError: it is no such figure.
    """
    typed = text.strip()
    if not typed:
        return None, None
    match = _ROUND.fullmatch(typed) if len(typed) <= LONGEST_TYPED else None
    if match is None:
        return read_quantity(typed, AZIMUTH_READ), None
    number = int(match["number"]) if match["number"] else _WORDS.index(match["word"].casefold()) + 1
    if number < 1:
        raise ValueRangeError(AZIMUTH_READ.words, repr(typed), "a figure such as 212, or 212 (2nd)")
    return read_quantity(match["figure"], AZIMUTH_READ), number


def read_elevation(text: str) -> float | None:
    """The figure; None of nothing.

    Raises:
        ValueRangeError: it is none.
    """
    return read_quantity(text, ELEVATION_READ) if text.strip() else None


def read_time(text: str, evening: Evening, pass_: Pass) -> str | None:
    """ISO 8601 UTC of "18:42", "1842" or "18:42:30", the one nearest to the pass; None of nothing.

    Raises:
        ValueRangeError: it is no time of day.
    """
    typed = text.strip()
    if not typed:
        return None
    if typed.casefold() == "now":
        raise ValueRangeError("time", repr(typed), _A_TIME)
    try:
        return format_iso(read_moment(typed, evening, pass_.peak.utc_s))
    except ValueRangeError as error:
        raise ValueRangeError("time", error.value, _A_TIME) from None


def azimuth_text(dial_deg: float | None, time_round: int | None) -> str:
    """As it is read in again: ``212.5 (2nd)``."""
    if dial_deg is None:
        return ""
    figure = f"{dial_deg:.4f}".rstrip("0").rstrip(".")
    if time_round is None:
        return figure
    return f"{figure} ({time_round}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(time_round, 'th') })"


def time_text(time: str | None) -> str:
    """``18:42``, or ``18:42:30`` where it is not a whole minute; empty of none."""
    if time is None:
        return ""
    utc_s = parse_iso(time)
    return clock(utc_s, seconds=utc_s % 60.0 != 0.0)


def read_cell(cell: str, text: str, evening: Evening, pass_: Pass) -> dict[str, object]:
    """The keys of an entry that the text of one of the `CELLS` stands for.

    Raises:
        ValueRangeError: it cannot be read.
    """
    if cell == "azimuth":
        dial_deg, time_round = read_azimuth(text)
        return {"azimuth_dial_deg": dial_deg, "time_round": time_round}
    if cell == "elevation":
        return {"elevation_dial_deg": read_elevation(text)}
    return {"note": text} if cell == "note" else {cell: read_time(text, evening, pass_)}


def cell_texts(entry: LogEntry | None) -> tuple[str, ...]:
    """What the `CELLS` of a row show."""
    if entry is None:
        return ("",) * len(CELLS)
    return (
        azimuth_text(entry.azimuth_dial_deg, entry.time_round),
        azimuth_text(entry.elevation_dial_deg, None),
        time_text(entry.time),
        time_text(entry.last_heard),
        entry.note,
    )
