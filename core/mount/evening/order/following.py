"""What a start is worth after every end that leaves time to move to it.

What a start is worth after a run of ends is at most what the run's last end before it is worth. The run that
promises most is tried first, and then only those that promise more than it has brought.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.base.angles import Indices
from core.base.ragged import first_least
from core.mount.evening.order.moves import ROUNDING_S, Mover
from core.mount.evening.order.rows import HOPELESS, NOTHING, Rows
from core.mount.evening.order.rules import MountStart
from core.mount.evening.order.runs import Runs, latest_in_time, places_upto
from core.mount.evening.order.worth import Ints, Units

#: `came_from` of a contact that begins the evening.
_FIRST = -1


@dataclass(frozen=True, eq=False)
class Following:
    """What may follow what.

    Attributes:
        rows, runs: the samples, and the ends among them in runs.
        mover, units, mount_start: as in `ChoiceProblem`.
        longest_s: a gap that long has room for any move.
    """

    rows: Rows
    runs: Runs
    mover: Mover
    units: Units
    mount_start: MountStart | None
    longest_s: float


@dataclass(frozen=True, eq=False)
class Starts:
    """Samples with which contacts may start, by row.

    Attributes:
        sample: (Y,) flat indices.
        row: (A,) some rows.
        place: (Y,) which of these each sample is of.
        begin_s: no sample is earlier.
    """

    sample: Indices
    row: Indices
    place: Indices
    begin_s: float


def fill_starts(following: Following, starts: Starts, which: Indices, past: Indices) -> None:
    """V of some starts: as the evening's first, after the best end of those long over, or of any run.

    Args:
        following: rows of which all earlier ends and starts are filled in.
        starts: the starts.
        which: (X,) the runs with ends near them.
        past: flat indices of ends so long over that any of the starts is in time.
    """
    rows, samples = following.rows, starts.sample
    after = rows.end_value[past] + _changes(following, starts, past)
    after -= _turning(following, samples[:, None], past)
    value = np.column_stack([_begun(following, samples), after])
    best = value.argmax(axis=1)
    rows.start_value[samples] = value[np.arange(samples.size), best]
    rows.came_from[samples] = np.append(_FIRST, past)[best]
    if which.size:
        _follow_runs(following, starts, which)


def _follow_runs(following: Following, starts: Starts, which: Indices) -> None:
    """Better V by what can follow the ends of runs."""
    rows, runs = following.rows, following.runs
    moments, at = rows.moments_of(starts.sample)
    known = places_upto(runs, which, moments - following.longest_s)
    last = places_upto(runs, which, moments - following.mover.margin_s + ROUNDING_S)
    most = np.where(last >= runs.first[which], rows.end_value[runs.sample[last]], NOTHING)
    promised = most[at] + _changes(following, starts, runs.sample[runs.first[which]])
    every = np.arange(starts.sample.size)
    best = promised.argmax(axis=1)
    hopeful = np.flatnonzero(promised[every, best] > rows.start_value[starts.sample])
    for first_try in (True, False):
        start, run = (hopeful, best[hopeful]) if first_try else _still_promising(following, starts, promised)
        value, ends = _after(
            following,
            starts.sample[start],
            _Ends(known[at[start], run], last[at[start], run], runs.first[which[run]]),
            promised[start, run],
        )
        most_of = np.arange(start.size) if first_try else first_least(start, -value)
        _take(rows, starts.sample[start[most_of]], value[most_of], ends[most_of])
        promised[start, run] = NOTHING


def _still_promising(following: Following, starts: Starts, promised: Ints) -> tuple[Indices, Indices]:
    """Pairs of a start and a run that promise more than the start is worth already, by start."""
    worth = np.maximum(following.rows.start_value[starts.sample], HOPELESS)
    start, run = np.nonzero(promised > worth[:, None])
    return start, run


class _Ends(NamedTuple):
    """Of some pairs of a start and a run: places in the columns of the runs, (P,) each.

    An end that is in time for sure (one below the run's first where none is), the last that may be, the
    first.
    """

    known: Indices
    last: Indices
    first: Indices


def _after(following: Following, starts: Indices, ends: _Ends, promised: Ints) -> tuple[Ints, Indices]:
    """(P,) what starts are worth after a run each, hopeless where no end is in time, and the end.

    Args:
        following: as in `fill_starts`.
        starts: flat indices.
        ends: of the run.
        promised: V after the run's last end, if there were nothing to turn.
    """
    rows, runs = following.rows, following.runs
    places = latest_in_time(runs, rows, following.mover, starts, ends.known, ends.last)
    real, end, last = places >= ends.first, runs.sample[places], runs.sample[ends.last]
    less = rows.end_value[last] - rows.end_value[end] + _turning(following, starts, end)
    return np.where(real, promised - less, NOTHING), end


def _take(rows: Rows, starts: Indices, value: Ints, ends: Indices) -> None:
    """V of starts where it is better than what they are worth."""
    better = value > np.maximum(rows.start_value[starts], HOPELESS)
    rows.start_value[starts[better]], rows.came_from[starts[better]] = value[better], ends[better]


def _changes(following: Following, starts: Starts, ends: Indices) -> Ints:
    """(Y, X) minus what changes of satellite and posture cost, `NOTHING` where a start may not follow an end.

    Worked out by row and posture: all samples of a row are alike but for that.
    """
    rows, units = following.rows, following.units
    before, row = rows.row_of[ends], starts.row[:, None]
    allowed = rows.pass_index[before] != rows.pass_index[row]
    for one in np.flatnonzero(rows.remembered_until_s >= starts.begin_s):
        allowed &= ~rows.leaves[before, one] | rows.layer[row, one]
    satellites = rows.satellite[before] != rows.satellite[row]
    both = np.array([[[False]], [[True]]])
    cost = units.changing(satellites, rows.over[ends] != both)
    value = np.where(allowed, -cost, NOTHING)
    return np.asarray(value[rows.over[starts.sample].astype(np.intp), starts.place])


def _turning(following: Following, starts: Indices, ends: Indices) -> Ints:
    """(...) what turning from each end to each start costs."""
    rows = following.rows
    gap_s = rows.since_s[starts] - rows.since_s[ends]
    away = rows.m_deg[ends], rows.m_deg[starts], rows.e_deg[ends], rows.e_deg[starts]
    return following.units.turning(following.mover.turn_deg(*away, gap_s))


def _begun(following: Following, starts: Indices) -> Ints:
    """(Y,) what each start is worth as the evening's first."""
    if following.mount_start is None:
        return np.zeros(starts.size, dtype=np.int64)
    rows, mover, (m_deg, e_deg) = following.rows, following.mover, following.mount_start.axes
    gap_s = rows.since_s[starts] - (following.mount_start.utc_s - rows.begin_utc_s)
    away = m_deg, rows.m_deg[starts], e_deg, rows.e_deg[starts]
    fits = mover.seconds(*away) + mover.margin_s <= gap_s + ROUNDING_S
    return np.where(fits, -following.units.turning(mover.turn_deg(*away, gap_s)), NOTHING)
