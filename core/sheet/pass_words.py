"""A pass in words, as the evening's table and the card of the pass both tell it."""

from __future__ import annotations

from core.base.angles import wrap_360
from core.base.times import clock
from core.base.words import cut_words
from core.mount.evening.drawn import DrawnPass, postures_of
from core.mount.model.results import PassCheck
from core.passes.track import Pass
from core.sheet.swings import swings
from core.sheet.words import clean

_NAME = 48


def name_of(pass_: Pass) -> str:
    """The satellite's name, as long as there is room for."""
    return clean(pass_.satellite, _NAME)


def peak_words(pass_: Pass) -> str:
    """``36 at 110 true``, and what of the pass the evening's hours leave out."""
    cut = f", {cut_words(pass_.cut)} of the hours" if pass_.cut else ""
    return f"{pass_.peak.elevation_deg:.0f} at {wrap_360(pass_.peak.azimuth_deg):.0f} true{cut}"


def posture_words(check: PassCheck) -> str:
    """The posture, or both with a split's change; empty out of reach."""
    if check.pointing is None:
        return ""
    first, last = postures_of(check)
    return first if first == last else f"{first}, then {last}"


def turn_words(drawn: DrawnPass, check: PassCheck, with_times: bool) -> str:
    """Which way the azimuth axis goes: ``cw 143 deg``, swing by swing."""
    told = []
    found = swings(drawn, check)
    for index, (degrees, end_s) in enumerate(found):
        sense = "cw" if degrees > 0.0 else "ccw"
        moved = check.split is not None and end_s == check.split.end_utc_s
        until = f" to {clock(end_s)}" if with_times and index < len(found) - 1 else ""
        told.append(f"{'MOVE ' if moved else ''}{sense} {abs(degrees):.0f} deg{until}")
    return ", then ".join(told) or ("stands still" if check.pointing is not None else "")
