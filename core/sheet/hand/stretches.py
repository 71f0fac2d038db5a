"""The stretches of a contact that the hand follows, and what lies between them: the mask, a split's move."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from core.base.times import first_second, last_second
from core.mount.evening.drawn import DrawnPass
from core.mount.model.results import PassCheck
from core.passes.track import Pass

#: Behind the mask for less is not worth a word; of a jagged mask only the longest few gaps are told, else it
#: would fill the card with its teeth.
_SHORTEST_GAP_S = 10.0
_MOST_GAPS = 4


@dataclass(frozen=True)
class Break:
    """Between two stretches: from the second it begins to the second the satellite is followed again.

    Attributes:
        start_s, end_s: whole seconds, POSIX.
        there_s: the moment of the pass whose dials are to be set at the start.
        moves: it is a split's move; else the mask hides the satellite.
    """

    start_s: float
    end_s: float
    there_s: float
    moves: bool


def contact_seconds(drawn: DrawnPass) -> tuple[float, float]:
    """The first and the last whole second of what is worked (the nearest one of a shorter pass)."""
    first, last = first_second(drawn.start_utc_s), last_second(drawn.end_utc_s)
    return (first, last) if first <= last else (last, last)


def breaks_of(drawn: DrawnPass, check: PassCheck) -> tuple[Break, ...]:
    """What interrupts following, in order; those that overlap are one."""
    first, last = contact_seconds(drawn)
    found = [Break(float(math.floor(a)), float(math.ceil(b)), b, False) for a, b in _told_gaps(check.pass_)]
    split = check.split
    if split is not None:
        back = float(math.ceil(split.back_utc_s))
        found.append(Break(float(math.floor(split.start_utc_s)), back, max(split.end_utc_s, back), True))
    inside = [one for one in found if one.start_s > first and one.end_s < last]
    joined: list[Break] = []
    for one in sorted(inside, key=lambda one: one.start_s):
        if joined and one.start_s <= joined[-1].end_s + 1.0:
            joined[-1] = _together(joined[-1], one)
        else:
            joined.append(one)
    return tuple(joined)


def _together(early: Break, late: Break) -> Break:
    last = late if late.end_s >= early.end_s else early
    return Break(early.start_s, last.end_s, last.there_s, early.moves or late.moves)


def _told_gaps(pass_: Pass) -> list[tuple[float, float]]:
    longest = sorted(gaps_of(pass_), key=lambda gap: gap[0] - gap[1])[:_MOST_GAPS]
    return [gap for gap in longest if gap[1] - gap[0] >= _SHORTEST_GAP_S]


def gaps_of(pass_: Pass) -> list[tuple[float, float]]:
    """Where the mask interrupts the pass: (from, to) in POSIX seconds."""
    return [(before[1], after[0]) for before, after in pairwise(pass_.stretches)]


def hidden_at(check: PassCheck, utc_s: float) -> bool:
    """The mask hides the satellite at this moment."""
    return any(start < utc_s < end for start, end in gaps_of(check.pass_))
