"""One thing that the hand does at one second of a contact."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.sheet.dials import PrintedDial

#: set: go to these dials. hold: hold the switch until these dials are reached; too fast to be set step by
#: step. move: leave the satellite and go there, in a split. word: nothing is set, only told.
LineKind = Literal["set", "hold", "move", "word"]

Turning = Literal["", "cw", "ccw"]


@dataclass(frozen=True)
class HandLine:
    """A line of a contact's card: at ``utc_s`` do this.

    Attributes:
        kind: what is done.
        utc_s: a whole second, POSIX; the first line is where the contact begins.
        utc: the same as it is printed, HH:MM:SS.
        until_s: whole second at which a hold ends or a move is back on the satellite; else None. Dials that
            stay long are told in the note.
        azimuth, elevation: the dials to go to; empty figures where nothing is set. In the middle of a hold
            azimuth alone is empty: it goes on, and elevation is set.
        turn: which way azimuth turns from the line before until the dial shows the figure; empty where it
            shows it already.
        note: what happens here, in a few words: ``AOS``, ``peak``, ``stay until 17:21:10``.
        strong: an event and not a step between.
    """

    kind: LineKind
    utc_s: float
    utc: str
    until_s: float | None
    azimuth: PrintedDial
    elevation: PrintedDial
    turn: Turning
    note: str
    strong: bool
