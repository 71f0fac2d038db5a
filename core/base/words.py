"""Figures, counts and lists in words. No locale is asked: the same input gives the same text everywhere."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def figure(value: float, decimals: int = 1) -> str:
    """Fixed decimals, never ``-0.0``."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def plain(value: float, decimals: int = 2) -> str:
    """As few decimals as it takes, at most ``decimals``: 3, 2.5, -30."""
    text = figure(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


def percent(share: float) -> str:
    """``30 %``."""
    return f"{plain(100.0 * share, 0)} %"


def signed(value: float, decimals: int = 2) -> str:
    """With its sign, as few decimals as it takes: +3, -2.5, 0."""
    text = plain(value, decimals)
    return text if text == "0" or text.startswith("-") else f"+{text}"


def bearing_text(bearing_deg: float) -> str:
    """A bearing to a tenth, ``0.0`` to ``359.9``; rounded first, so that 359.97 does not read 360.0."""
    return figure(round(bearing_deg, 1) % 360.0)


def duration(seconds: float) -> str:
    """``45 s``, ``2 min 05 s`` or ``1 h 12 min``."""
    whole = round(abs(seconds))
    sign = "-" if seconds < 0 and whole else ""
    if whole < 60:
        return f"{sign}{whole} s"
    if whole < 3600:
        return f"{sign}{whole // 60} min {whole % 60:02d} s"
    return f"{sign}{whole // 3600} h {whole % 3600 // 60:02d} min"


def day_and_month(moment: datetime) -> str:
    """``1 Nov``."""
    return f"{moment.day} {MONTHS[moment.month - 1]}"


def ordinal(number: int) -> str:
    """``first`` to ``fifth`` in words, ``6th`` and on in figures."""
    words = ("first", "second", "third", "fourth", "fifth")
    return words[number - 1] if 1 <= number <= len(words) else f"{number}th"


def counted(number: int, noun: str) -> str:
    """``1 pass``, ``2 passes``, ``0 moves``."""
    plural = f"{noun}es" if noun.endswith("s") else f"{noun}s"
    return f"{number} {noun if number == 1 else plural}"


def listed(words: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``; empty of none."""
    return ", ".join(words[:-1]) + (" and " if len(words) > 1 else "") + words[-1] if words else ""


def first_few(words: Sequence[str], most: int) -> str:
    """``a, b, c``, or where there are more than ``most``: ``a, b and 3 more``."""
    more = f" and {len(words) - most} more" if len(words) > most else ""
    return ", ".join(words[:most]) + more


def cut_words(cut: str | None) -> str:
    """Where the evening's hours cut a pass: ``cut at the end``; empty where they do not."""
    if cut is None:
        return ""
    return "cut at both ends" if cut == "both" else f"cut at the {cut}"
