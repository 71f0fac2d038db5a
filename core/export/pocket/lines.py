"""The lines of a card as the hand has them, from rows."""

from __future__ import annotations

import re
from typing import cast

from core.sheet.content import SheetContent
from core.sheet.hand.line import HandLine, LineKind, Turning
from core.sheet.pass_card import PassCard


def _at(text: str, near: float) -> float:
    h, m, s = (int(x) for x in text.split(":"))
    day = near - 43_200.0
    return day + ((h * 3600 + m * 60 + s) - day) % 86_400.0


def lines_of(card: PassCard, near: float) -> tuple[HandLine, ...]:
    """The rows as lines, the ones of a split's move told as such."""
    made = []
    for i, row in enumerate(card.rows):
        kind: LineKind = "set"
        azimuth, elevation, until = row.azimuth, row.elevation, None
        if "LEAVE" in row.note:
            following = card.rows[i + 1]
            azimuth, elevation, kind = following.azimuth, following.elevation, "move"
            until = _at(following.utc, near)
        turn = cast(Turning, card.rows[i - 1].turn if i else "")
        made.append(HandLine(kind, _at(row.utc, near), until, azimuth, elevation, turn, row.note, row.strong))
    return tuple(made)


def peak_of(card: PassCard, near: float) -> float:
    """When the pass is highest."""
    found = re.search(r"true, (\d\d:\d\d:\d\d)", card.peak)
    assert found is not None
    return _at(found.group(1), near)


def middle(content: SheetContent) -> float:
    """Of the evening's hours."""
    return (content.start_utc_s + content.end_utc_s) / 2.0


def start_of(content: SheetContent, card: PassCard) -> float:
    """When the contact begins."""
    lines = lines_of(card, middle(content))
    text = content.evening.lines[card.number - 1].utc
    return lines[0].utc_s if lines else _at(text[:8], middle(content))


def end_of(content: SheetContent, card: PassCard) -> float:
    """When the contact ends."""
    return _at(content.evening.lines[card.number - 1].utc[-8:], middle(content))
