"""The course of one pass as the sheet tells it: how each moment is worked, and where the table has its lines.

Lines are chosen by sky angle, not by time: between two events the boresight's path is divided into equal
pieces, so that the beam never has further to go from one line to the next than the step.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

import numpy as np

from core.base.angles import Floats, unwrap_deg, wrap_360
from core.base.runs import runs_alike
from core.mount.model.results import PassCheck, Pointing
from core.mount.model.station import OVER_THE_TOP, Posture
from core.passes.track import Pass


class Mark(Enum):
    """How a moment of a pass is drawn."""

    FILLED = "filled"
    HATCHED = "hatched"
    OUTLINED = "outlined"
    GAP = "gap"
    HIDDEN = "hidden"


_SAME_TOP_S = 3.0
_MOST_GAPS = 4


def _nearest(utc_s: float) -> int:
    return math.floor(utc_s + 0.5)


#: A moment that must not fall inside a move or behind the mask is rounded away from it.
_ROUNDED: dict[str, Callable[[float], int]] = {
    "LEAVE": math.floor,
    "behind the mask": math.floor,
    "back on it": math.ceil,
    "clear again": math.ceil,
}


@dataclass(frozen=True, eq=False)
class Course:
    """A pass sampled for paper.

    Attributes:
        utc_s: (N,) rising.
        azimuth_deg: (N,) the satellite's true azimuth, unwrapped.
        elevation_deg: (N,).
        range_km: (N,).
        m_deg, e_deg, off_deg: (N,) the axes and the angle off the satellite; NaN when out of reach.
        marks: (N,) how each moment is drawn.
        start_utc_s, end_utc_s: what is worked.
    """

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    range_km: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    marks: tuple[Mark, ...]
    start_utc_s: float
    end_utc_s: float

    def at(self, values: Floats, utc_s: float) -> float:
        """One of the arrays at a moment, held at the ends."""
        return float(np.interp(utc_s, self.utc_s, values))

    def bearing_at(self, utc_s: float) -> float:
        """True azimuth of the satellite, 0 to 360."""
        return wrap_360(self.at(self.azimuth_deg, utc_s))


@dataclass(frozen=True)
class Line:
    """One line of the table: a whole second, what happens then (empty between events)."""

    utc_s: float
    note: str


def posture_at(check: PassCheck, utc_s: float) -> Posture:
    """The posture a pass is worked in at a moment; upright where it is not worked at all."""
    if check.split is not None:
        after = utc_s >= check.split.end_utc_s
        return check.split.to_posture if after else check.split.from_posture
    if check.part is not None:
        return check.part.posture
    return check.chosen.posture if check.chosen is not None else "upright"


def course_of(check: PassCheck) -> Course:
    """The pass and the axes on one time scale."""
    pass_, pointing = check.pass_, check.pointing
    utc_s = pass_.utc_s if pointing is None else np.union1d(pass_.utc_s, pointing.utc_s)
    utc_s = utc_s[(utc_s >= pass_.aos.utc_s - 1e-6) & (utc_s <= pass_.los.utc_s + 1e-6)]
    blank = np.full(utc_s.size, np.nan)

    def of(values: Floats) -> Floats:
        return np.interp(utc_s, pass_.utc_s, values)

    def axis(values: Floats) -> Floats:
        return np.interp(utc_s, pointing.utc_s, values) if pointing is not None else blank

    start_s, end_s = _worked_span(check)
    return Course(
        utc_s=utc_s,
        azimuth_deg=of(unwrap_deg(pass_.azimuth_deg)),
        elevation_deg=of(pass_.elevation_deg),
        range_km=of(pass_.range_km),
        m_deg=axis(pointing.m_deg) if pointing is not None else blank,
        e_deg=axis(pointing.e_deg) if pointing is not None else blank,
        off_deg=axis(pointing.off_deg) if pointing is not None else blank,
        marks=tuple(_mark_at(check, pointing, (start_s, end_s), float(t)) for t in utc_s),
        start_utc_s=start_s,
        end_utc_s=end_s,
    )


def _worked_span(check: PassCheck) -> tuple[float, float]:
    """From when to when a pass is worked: all of it, a part, or what the evening leaves of it."""
    pass_, pointing = check.pass_, check.pointing
    if pointing is None or not pointing.worked.any():
        return pass_.aos.utc_s, pass_.los.utc_s
    here = np.flatnonzero(pointing.worked)
    return float(pointing.utc_s[here[0]]), float(pointing.utc_s[here[-1]])


def _mark_at(check: PassCheck, pointing: Pointing | None, span: tuple[float, float], utc_s: float) -> Mark:
    if not any(start - 1e-6 <= utc_s <= end + 1e-6 for start, end in check.pass_.stretches):
        return Mark.HIDDEN
    if pointing is None:
        return Mark.OUTLINED
    if check.split is not None and check.split.start_utc_s < utc_s < check.split.end_utc_s:
        return Mark.GAP
    if not span[0] - 1e-6 <= utc_s <= span[1] + 1e-6:
        return Mark.OUTLINED
    return Mark.HATCHED if posture_at(check, utc_s) == OVER_THE_TOP else Mark.FILLED


def runs(course: Course) -> list[tuple[Mark, int, int]]:
    """Stretches drawn alike: (mark, first index, last index), each reaching to where the next begins."""
    last = len(course.marks) - 1
    return [(course.marks[a], a, min(b, last)) for a, b in runs_alike(np.array(course.marks)) if a < last]


def boresight_path_deg(m_deg: Floats, e_deg: Floats) -> Floats:
    """(N,) degrees the boresight has moved on the sky since the first sample."""
    m, e = np.radians(m_deg), np.radians(e_deg)
    looks = np.stack([np.cos(e) * np.sin(m), np.cos(e) * np.cos(m), np.sin(e)])
    chord = np.linalg.norm(np.diff(looks, axis=1), axis=0)
    steps = np.degrees(2.0 * np.arcsin(np.clip(chord / 2.0, 0.0, 1.0)))
    return np.concatenate([[0.0], np.cumsum(steps)])


def table_lines(
    course: Course, check: PassCheck, step_deg: float, most: int
) -> tuple[tuple[Line, ...], float]:
    """The lines of a pass card and the step they were chosen by, which grows until at most ``most`` remain.

    Args:
        course, check: the pass.
        step_deg: the furthest the boresight may have to go from one line to the next.
        most: lines at most; events alone may be more than that.
    """
    if check.pointing is None:
        return (), step_deg
    events = _events(course, check)
    path = boresight_path_deg(course.m_deg, course.e_deg)
    lines = _filled(course, check, events, path, step_deg)
    while len(lines) > most and len(lines) > len(events):
        step_deg *= 1.1
        lines = _filled(course, check, events, path, step_deg)
    return lines, step_deg


def _filled(
    course: Course, check: PassCheck, events: list[Line], path: Floats, step_deg: float
) -> tuple[Line, ...]:
    lines = [events[0]]
    for here, there in pairwise(events):
        if not _left_alone(check, here.utc_s, there.utc_s):
            lines += _between(course, path, here, there, step_deg)
        lines.append(there)
    return tuple(lines)


def _between(course: Course, path: Floats, here: Line, there: Line, step_deg: float) -> list[Line]:
    start, end = (float(np.interp(t.utc_s, course.utc_s, path)) for t in (here, there))
    pieces = max(math.ceil((end - start) / step_deg - 1e-9), 1)
    marks = start + (end - start) * np.arange(1, pieces) / pieces
    seconds = np.unique(np.floor(np.interp(marks, path, course.utc_s) + 0.5))
    return [Line(float(s), "") for s in seconds if here.utc_s < s < there.utc_s]


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


def _events(course: Course, check: PassCheck) -> list[Line]:
    """What must have a line, at whole seconds inside what is worked; one second is one line."""
    first, last = _whole_seconds(course)
    named: dict[float, list[str]] = {}
    for utc_s, note in _moments(course, check):
        if course.start_utc_s - 1e-6 <= utc_s <= course.end_utc_s + 1e-6:
            second = min(max(_ROUNDED.get(note, _nearest)(utc_s), first), last)
            notes = named.setdefault(float(second), [])
            if note not in notes:
                notes.append(note)
    return [Line(second, ", ".join(named[second])) for second in sorted(named)]


def _whole_seconds(course: Course) -> tuple[float, float]:
    """The first and the last whole second of what is worked (the nearest one of a shorter pass)."""
    first, last = math.ceil(course.start_utc_s - 1e-6), math.floor(course.end_utc_s + 1e-6)
    return (first, last) if first <= last else (last, last)


def _moments(course: Course, check: PassCheck) -> list[tuple[float, str]]:
    pass_ = check.pass_
    starts_late = course.start_utc_s > pass_.aos.utc_s + 1.0
    ends_early = course.end_utc_s < pass_.los.utc_s - 1.0
    start = "start here" if starts_late else ("already up" if pass_.cut in {"start", "both"} else "AOS")
    end = "stop here" if ends_early else ("evening ends" if pass_.cut in {"end", "both"} else "LOS")
    found = [(course.start_utc_s, start)]
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
    return [*found, (course.end_utc_s, end)]


def _hidden_or_moving(check: PassCheck, utc_s: float) -> bool:
    split = check.split
    return hidden_at(check, utc_s) or (split is not None and split.start_utc_s < utc_s < split.end_utc_s)


def _tops(pass_: Pass) -> list[tuple[float, str]]:
    """Peak and TCA; on one line where they are so close that two would say the same."""
    peak_s, tca_s = pass_.peak.utc_s, pass_.tca.utc_s
    if abs(peak_s - tca_s) <= _SAME_TOP_S:
        return [(peak_s, "peak, TCA")]
    return [(peak_s, "peak"), (tca_s, "TCA")]


def swings(course: Course, check: PassCheck, hysteresis_deg: float = 1.0) -> list[tuple[float, float]]:
    """The azimuth axis' swings while it follows: (degrees, clockwise positive; end in POSIX seconds).

    Reversals of less than ``hysteresis_deg`` are not told. A split's move is a swing of its own.
    """
    if check.pointing is None:
        return []
    inside = (course.utc_s >= course.start_utc_s - 1e-6) & (course.utc_s <= course.end_utc_s + 1e-6)
    utc_s, m_deg = course.utc_s[inside], course.m_deg[inside]
    if check.split is None:
        return _swings(utc_s, m_deg, hysteresis_deg)
    before, after = utc_s <= check.split.start_utc_s + 1e-6, utc_s >= check.split.end_utc_s - 1e-6
    first = _swings(utc_s[before], m_deg[before], hysteresis_deg)
    second = _swings(utc_s[after], m_deg[after], hysteresis_deg)
    move = (check.split.m_to_deg - check.split.m_from_deg, check.split.end_utc_s)
    return [*first, move, *second]


def _swings(utc_s: Floats, m_deg: Floats, hysteresis_deg: float) -> list[tuple[float, float]]:
    """Turning points that stand out by the hysteresis, one scan."""
    if m_deg.size < 2:
        return []
    turning = [0]
    far = 0
    for index in range(1, m_deg.size):
        out = m_deg[far] - m_deg[turning[-1]]
        if out * (m_deg[index] - m_deg[far]) >= 0.0:
            far = index
        elif abs(m_deg[index] - m_deg[far]) >= hysteresis_deg:
            if abs(out) >= hysteresis_deg:
                turning.append(far)
            far = index
    turning.append(far)
    return [
        (float(m_deg[b] - m_deg[a]), float(utc_s[b]))
        for a, b in pairwise(turning)
        if abs(m_deg[b] - m_deg[a]) >= hysteresis_deg / 2.0
    ]
