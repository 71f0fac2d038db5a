"""What happens in a contact that its lines must tell: how it begins and ends, resting, being off the beam."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.runs import runs_of
from core.base.times import clock
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.model.results import PassCheck, Rest
from core.mount.model.station import Station
from core.sheet.dials import printed_axes
from core.sheet.hand.stretches import contact_seconds
from core.sheet.words import clock_beside

#: A moment with a name of its own (a start on the beam's edge) is off the beam from this much on, degrees.
_OFF_EDGE_DEG = 0.2
#: What is shorter, or more than so many, is not told.
_SHORTEST_OFF_S, _MOST_OFF = 2.0, 4


@dataclass(frozen=True)
class Happening:
    """At a whole second, in a few words."""

    second: float
    words: str


def happenings(drawn: DrawnPass, check: PassCheck, station: Station) -> list[Happening]:
    """All of a contact but its breaks and its end, one a second at most, in order."""
    first, last = contact_seconds(drawn)
    found = [Happening(first, first_note(drawn, check))]
    found += _off_the_beam(drawn, station)
    if check.chosen is not None and check.chosen.rest is not None:
        found.append(_resting(drawn, check.chosen.rest, station))
    joined: dict[float, Happening] = {}
    for one in found:
        if first <= one.second < last:
            there = joined.get(one.second)
            joined[one.second] = one if there is None else _both(there, one)
    return [joined[second] for second in sorted(joined)]


def _both(one: Happening, other: Happening) -> Happening:
    return Happening(one.second, f"{one.words}, {other.words}")


def first_note(drawn: DrawnPass, check: PassCheck) -> str:
    """How the contact begins."""
    if drawn.start_utc_s > check.pass_.aos.utc_s + 1.0:
        return "start"
    return "already up" if check.pass_.cut in {"start", "both"} else "AOS"


def last_note(drawn: DrawnPass, check: PassCheck) -> str:
    """How it ends."""
    if drawn.end_utc_s < check.pass_.los.utc_s - 1.0:
        return "stop here"
    return "evening ends" if check.pass_.cut in {"end", "both"} else "LOS"


def _off_the_beam(drawn: DrawnPass, station: Station) -> list[Happening]:
    """The longest few stretches inside the contact with the satellite outside the beam, by the plan."""
    seen = drawn.kind != Kind.HIDDEN
    off = (drawn.off_deg > station.beam_limit_deg + _OFF_EDGE_DEG) & seen & (drawn.kind != Kind.MOVING)
    first, last = contact_seconds(drawn)
    spans = [
        (max(float(drawn.utc_s[a]), first), min(float(drawn.utc_s[min(b, off.size - 1)]), last))
        for a, b in runs_of(off)
    ]
    spans = [(a, b) for a, b in spans if b - a >= _SHORTEST_OFF_S]
    longest = sorted(sorted(spans, key=lambda span: span[0] - span[1])[:_MOST_OFF])
    return [
        Happening(float(math.floor(a)), f"off the beam {clock(math.floor(a))} to {clock(math.ceil(b))}")
        for a, b in longest
    ]


def _resting(drawn: DrawnPass, rest: Rest, station: Station) -> Happening:
    start, end = float(math.ceil(rest.start_utc_s)), float(math.floor(rest.end_utc_s))
    at = drawn.at(drawn.m_deg, start), drawn.at(drawn.e_deg, start)
    azimuth, elevation = printed_axes(*at, station.mount)
    axis, dial = ("elevation", elevation) if rest.where.startswith("elevation") else ("azimuth", azimuth)
    how = "on and off" if rest.comes_off else "rests"
    return Happening(start, f"{axis} {how} at {dial.text} until {clock_beside(end, start)}")
