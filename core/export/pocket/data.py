"""What the page's clock walks through, as JSON that can end no element and start none."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

from core.base.times import format_iso
from core.sheet.content import SheetContent
from core.sheet.dials import PrintedDial
from core.sheet.evening_table import EveningLine
from core.sheet.hand.line import HandLine
from core.sheet.pass_card import PassCard

_ESCAPED = {ord(mark): f"\\u{ord(mark):04x}" for mark in "<>&\u2028\u2029"}

#: Where one of these is noted both dials stay; where azimuth rests elevation goes on.
_STAYS = ("stay at ", "behind the mask until ")

#: How far before the evening and after it the page still counts down, or says that it is over, and no more.
NEAR_S = 12 * 3600.0


def page_json(content: SheetContent) -> str:
    """The one document the page's script reads."""
    return json.dumps(page_data(content), ensure_ascii=False, separators=(",", ":")).translate(_ESCAPED)


def page_data(content: SheetContent) -> dict[str, Any]:
    """Moments are whole seconds of POSIX time; figures, words and marks are the sheet's."""
    return {
        "identity": content.identity,
        "title": content.title,
        "hours": content.hours,
        "start": content.start_utc_s,
        "end": content.end_utc_s,
        "near_s": NEAR_S,
        "local_offsets": content.local_offsets,
        "contacts": [
            _contact(content, card, line)
            for card, line in zip(content.cards, content.evening.lines, strict=True)
        ],
    }


def _contact(content: SheetContent, card: PassCard, line: EveningLine) -> dict[str, Any]:
    before = content.cards[card.number - 2].after if card.number > 1 else card.before
    return {
        "number": card.number,
        "of": card.of,
        "satellite": card.satellite,
        "norad_id": int(card.norad_id),
        "near": format_iso(card.peak_utc_s),
        "verdict": card.verdict,
        "start": int(card.start_utc_s),
        "end": int(card.end_utc_s),
        "move_by": _whole(line.start_moving_utc_s),
        "azimuth": _dial(card.start_azimuth),
        "elevation": _dial(card.start_elevation),
        "posture": card.posture,
        "turn": card.turn,
        "before": before,
        "late": card.late,
        "told": [text for text in (card.light, *card.radio) if text],
        "lines": [
            _line(one, dials, card.start_utc_s)
            for one, dials in zip(card.lines, dials_of(card.lines), strict=True)
        ],
    }


def _whole(utc_s: float | None) -> int | None:
    """To the second that the sheet prints."""
    return None if utc_s is None else math.floor(utc_s + 0.5)


def _dial(dial: PrintedDial) -> list[str]:
    return [dial.figure, dial.time_round]


def _line(line: HandLine, dials: HandLine, start_s: float) -> list[Any]:
    """In the order of `LINE` in moment.js; where nothing is set, with the dials that were set last."""
    until = None if line.until_s is None else int(line.until_s - start_s)
    return [
        _kind(line),
        int(line.utc_s - start_s),
        until,
        *_dial(dials.azimuth),
        *_dial(dials.elevation),
        dials.turn if line.kind == "hold" else line.turn,
        line.note or (dials.note if line.kind == "hold" else ""),
    ]


def _kind(line: HandLine) -> str:
    """What is done; dials that are set to stay are a kind of their own."""
    stays = any(words in line.note for words in _STAYS)
    return "stay" if line.kind == "set" and stays else line.kind


def dials_of(lines: tuple[HandLine, ...]) -> list[HandLine]:
    """For each line the one whose dials stand then: itself, or the last before that set any."""
    found: list[HandLine] = []
    for line in lines:
        if line.azimuth.figure or not found:
            found.append(line)
        elif line.elevation.figure:  # in the middle of a hold
            found.append(replace(found[-1], elevation=line.elevation))
        else:
            found.append(found[-1])
    return found
