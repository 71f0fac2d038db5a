"""Which lines the table of a pass card has: one for every event, and steps between them.

Lines are chosen by sky angle, not by time: between two events the boresight's path is divided into equal
pieces, so that the beam never has further to go from one line to the next than the step.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.base.angles import Floats
from core.base.times import first_second, last_second
from core.mount.evening.drawn import DrawnPass
from core.mount.model.results import PassCheck
from core.passes.track import Pass

_SAME_TOP_S = 3.0
_MOST_GAPS = 4


def _nearest(utc_s: float) -> int:
    return math.floor(utc_s + 0.5)


#: A moment that must not fall inside a move or behind the mask is rounded away from it.
_ROUNDED: dict[str, Callable[[float], int]] = {
    "LEAVE": math.floor,
    "rests": math.ceil,
    "rest ends": math.floor,
    "behind the mask": math.floor,
    "back on it": math.ceil,
    "clear again": math.ceil,
}


@dataclass(frozen=True)
class TableLine:
    """One line of the table: a whole second, what happens then (empty between events)."""

    utc_s: float
    note: str


def boresight_path_deg(m_deg: Floats, e_deg: Floats) -> Floats:
    """(N,) degrees the boresight has moved on the sky since the first sample."""
    m, e = np.radians(m_deg), np.radians(e_deg)
    looks = np.stack([np.cos(e) * np.sin(m), np.cos(e) * np.cos(m), np.sin(e)])
    chord = np.linalg.norm(np.diff(looks, axis=1), axis=0)
    steps = np.degrees(2.0 * np.arcsin(np.clip(chord / 2.0, 0.0, 1.0)))
    return np.concatenate([[0.0], np.cumsum(steps)])


def table_lines(
    drawn: DrawnPass, check: PassCheck, step_deg: float, most: int
) -> tuple[tuple[TableLine, ...], float]:
    """The lines of a pass card and the step they were chosen by, which grows until at most ``most`` remain.

    Args:
        drawn, check: the pass.
        step_deg: the furthest the boresight may have to go from one line to the next.
        most: lines at most; events alone may be more than that.
    """
    if check.pointing is None:
        return (), step_deg
    events = _events(drawn, check)
    path = boresight_path_deg(drawn.m_deg, drawn.e_deg)
    lines = _filled(drawn, check, events, path, step_deg)
    while len(lines) > most and len(lines) > len(events):
        step_deg *= 1.1
        lines = _filled(drawn, check, events, path, step_deg)
    return lines, step_deg


def _filled(
    drawn: DrawnPass, check: PassCheck, events: list[TableLine], path: Floats, step_deg: float
) -> tuple[TableLine, ...]:
    lines = [events[0]]
    for here, there in pairwise(events):
        if not _left_alone(check, here.utc_s, there.utc_s):
            lines += _between(drawn, path, here, there, step_deg)
        lines.append(there)
    return tuple(lines)


def _between(
    drawn: DrawnPass, path: Floats, here: TableLine, there: TableLine, step_deg: float
) -> list[TableLine]:
    start, end = (float(np.interp(t.utc_s, drawn.utc_s, path)) for t in (here, there))
    pieces = max(math.ceil((end - start) / step_deg - 1e-9), 1)
    marks = start + (end - start) * np.arange(1, pieces) / pieces
    seconds = np.unique(np.floor(np.interp(marks, path, drawn.utc_s) + 0.5))
    return [TableLine(float(s), "") for s in seconds if here.utc_s < s < there.utc_s]


def _left_alone(check: PassCheck, start_s: float, end_s: float) -> bool:
    """No lines between these moments: the mount moves without the satellite, or the mask hides it."""
    split = check.split
    moving = split is not None and split.start_utc_s - 1.0 <= start_s and end_s <= split.end_utc_s + 1.0
    return moving or any(
        gap_start - 1.0 <= start_s and end_s <= gap_end + 1.0 for gap_start, gap_end in _gaps(check.pass_)
    )


def _gaps(pass_: Pass) -> list[tuple[float, float]]:
    """Where the mask interrupts the pass."""
    return [(before[1], after[0]) for before, after in pairwise(pass_.stretches)]


def _told_gaps(pass_: Pass) -> list[tuple[float, float]]:
    """The longest few gaps: a jagged mask would fill the table with its teeth."""
    return sorted(sorted(_gaps(pass_), key=lambda gap: gap[0] - gap[1])[:_MOST_GAPS])


def hidden_at(check: PassCheck, utc_s: float) -> bool:
    """The mask hides the satellite at this moment."""
    return any(start < utc_s < end for start, end in _gaps(check.pass_))


def _events(drawn: DrawnPass, check: PassCheck) -> list[TableLine]:
    """What must have a line, at whole seconds inside what is worked; one second is one line."""
    first, last = _whole_seconds(drawn)
    named: dict[float, list[str]] = {}
    for utc_s, note in _moments(drawn, check):
        if drawn.start_utc_s - 1e-6 <= utc_s <= drawn.end_utc_s + 1e-6:
            second = min(max(_ROUNDED.get(note, _nearest)(utc_s), first), last)
            notes = named.setdefault(float(second), [])
            if note not in notes:
                notes.append(note)
    return [TableLine(second, ", ".join(named[second])) for second in sorted(named)]


def _whole_seconds(drawn: DrawnPass) -> tuple[float, float]:
    """The first and the last whole second of what is worked (the nearest one of a shorter pass)."""
    first, last = first_second(drawn.start_utc_s), last_second(drawn.end_utc_s)
    return (first, last) if first <= last else (last, last)


def _moments(drawn: DrawnPass, check: PassCheck) -> list[tuple[float, str]]:
    pass_ = check.pass_
    starts_late = drawn.start_utc_s > pass_.aos.utc_s + 1.0
    ends_early = drawn.end_utc_s < pass_.los.utc_s - 1.0
    start = "start here" if starts_late else ("already up" if pass_.cut in {"start", "both"} else "AOS")
    end = "stop here" if ends_early else ("evening ends" if pass_.cut in {"end", "both"} else "LOS")
    found = [(drawn.start_utc_s, start)]
    for gap_start, gap_end in _told_gaps(pass_):
        found += [(gap_start, "behind the mask"), (gap_end, "clear again")]
    if check.split is not None:
        found += [(check.split.start_utc_s, "LEAVE"), (check.split.back_utc_s, "back on it")]
        if check.split.back_utc_s > check.split.end_utc_s:
            found.append((check.split.end_utc_s, "wait here"))
    if check.chosen is not None and check.chosen.rest is not None:
        found += [(check.chosen.rest.start_utc_s, "rests"), (check.chosen.rest.end_utc_s, "rest ends")]
    for utc_s, note in _tops(pass_):
        if not _hidden_or_moving(check, utc_s):
            found.append((utc_s, note))
    return [*found, (drawn.end_utc_s, end)]


def _hidden_or_moving(check: PassCheck, utc_s: float) -> bool:
    split = check.split
    return hidden_at(check, utc_s) or (split is not None and split.start_utc_s < utc_s < split.end_utc_s)


def _tops(pass_: Pass) -> list[tuple[float, str]]:
    """Peak and TCA; on one line where they are so close that two would say the same."""
    peak_s, tca_s = pass_.peak.utc_s, pass_.tca.utc_s
    if abs(peak_s - tca_s) <= _SAME_TOP_S:
        return [(peak_s, "peak, TCA")]
    return [(peak_s, "peak"), (tca_s, "TCA")]
