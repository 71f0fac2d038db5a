"""The stretches of a contact that the hand follows, and what lies between them: the mask, a split's move."""

from __future__ import annotations

import math
from collections.abc import Sequence
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
#: The rest are counted, but for those that nobody would hear.
_SHORTEST_COUNTED_S = 1.0


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
    gaps = _told_gaps(_gaps_inside(drawn, check.pass_))
    found = [Break(float(math.floor(a)), float(math.ceil(b)), b, False) for a, b in gaps]
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


def untold_gaps_s(drawn: DrawnPass, check: PassCheck) -> tuple[float, ...]:
    """Seconds of each gap in the mask, inside the contact, that no break tells of; a second or longer."""
    told = breaks_of(drawn, check)
    return tuple(
        b - a
        for a, b in _gaps_inside(drawn, check.pass_)
        if b - a >= _SHORTEST_COUNTED_S and not any(one.start_s <= a and b <= one.end_s for one in told)
    )


def _told_gaps(gaps: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    longest = sorted(gaps, key=lambda gap: gap[0] - gap[1])[:_MOST_GAPS]
    return [gap for gap in longest if gap[1] - gap[0] >= _SHORTEST_GAP_S]


def _gaps_inside(drawn: DrawnPass, pass_: Pass) -> list[tuple[float, float]]:
    """Those that begin and end in the contact: one outside it must not take the place of one inside."""
    first, last = contact_seconds(drawn)
    return [gap for gap in gaps_of(pass_) if gap[0] > first and gap[1] < last]


def gaps_of(pass_: Pass) -> list[tuple[float, float]]:
    """Where the mask interrupts the pass: (from, to) in POSIX seconds."""
    return [(before[1], after[0]) for before, after in pairwise(pass_.stretches)]
