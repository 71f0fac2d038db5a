"""Ends of contacts in runs: of a run, the latest end in time for a move is the best one to move on from.

Signal won by staying a step longer mostly outweighs what moving on from there costs more. Where it does not
(no signal in a gap of the mask, seconds that count a tenth while azimuth turns fast, the move of a split),
the run ends, and a new one begins. So for any later start only one end of each run need be looked at.

A mount follows no faster than it moves, so an end a step later is in time whenever the earlier one is not,
and the latest in time is found by halving. A measured mount needs longer than that (settling, gaining speed);
from the end found so the ends before are tried one by one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats, Indices
from core.mount.evening.order.moves import ROUNDING_S, Mover
from core.mount.evening.order.rows import Rows
from core.mount.evening.order.worth import Ints, Units

#: Whole numbers are rounded at both ends of what is compared: by so many units at most.
_ROUNDED_UNITS = 2
_NO_FASTER_S = 1e-6
#: Longer than any evening.
_FAR_S = 1e9
#: So many ends are tried at once.
_FEW = np.arange(3)[:, None]


@dataclass(frozen=True, eq=False)
class Runs:
    """G runs of ends, by the moment of the last end of each.

    Attributes:
        row: (G,) the row each is of.
        first, beyond: (G,) where its ends lie in the columns below.
        first_s, last_s: (G,) moments of its first and last end.
        sample: (N,) flat indices of the ends.
        since_s, azimuth_s, elevation_s: (N,) the moment, and both axes in seconds at their faster rates.
        start_azimuth_s, start_elevation_s: (F,) both axes of all samples alike.
        azimuth_single, elevation_single: (N,) those of the ends in single precision.
        speed: (G,) no axis moves more seconds than that in a second between two ends of the run; up to 1.
        growth: (N,) by how much more in whole numbers each second from the end before in the run is worth at
            least; infinite for the first of a run.
        slower_s: (G,) so much later a move is over at most that begins at the end after one of the run.
    """

    row: Indices
    first: Indices
    beyond: Indices
    first_s: Floats
    last_s: Floats
    sample: Indices
    since_s: Floats
    azimuth_s: Floats
    elevation_s: Floats
    start_azimuth_s: Floats
    start_elevation_s: Floats
    azimuth_single: NDArray[np.float32]
    elevation_single: NDArray[np.float32]
    speed: Floats
    growth: Floats
    slower_s: Floats


def runs_of_ends(rows: Rows, mover: Mover, units: Units) -> Runs:
    """The runs of all rows."""
    sample = np.flatnonzero(rows.may_end)
    rates_deg_s = mover.rates_deg_s
    start_azimuth_s, start_elevation_s = rows.m_deg / rates_deg_s[0], rows.e_deg / rates_deg_s[1]
    azimuth_s, elevation_s = start_azimuth_s[sample], start_elevation_s[sample]
    row, since_s, over = rows.row_of[sample], rows.since_s[sample], rows.over[sample]
    step_s, taken_s = np.diff(since_s), _taken_s(azimuth_s, elevation_s)
    won = _won(rows, sample)
    goes_on = (row[1:] == row[:-1]) & (over[1:] == over[:-1]) & (taken_s <= step_s + _NO_FASTER_S)
    goes_on &= won >= _dearer(rows.m_deg[sample], mover, units)
    begins = np.append(True, ~goes_on)[: sample.size]
    first = np.flatnonzero(begins)
    beyond = np.append(first[1:], sample.size)
    speed, longest_s = _steps(step_s, taken_s, begins, first)
    order = np.argsort(since_s[beyond - 1], kind="stable") if sample.size else first
    first, beyond = first[order], beyond[order]
    return Runs(
        row=row[first],
        first=first,
        beyond=beyond,
        first_s=since_s[first],
        last_s=since_s[beyond - 1],
        sample=sample,
        since_s=since_s,
        azimuth_s=azimuth_s,
        elevation_s=elevation_s,
        start_azimuth_s=start_azimuth_s,
        start_elevation_s=start_elevation_s,
        azimuth_single=azimuth_s.astype(np.float32),
        elevation_single=elevation_s.astype(np.float32),
        speed=speed[order],
        growth=np.where(
            begins, np.inf, np.append(np.inf, won / np.where(begins[1:], 1.0, step_s))[: sample.size]
        ),
        slower_s=((1.0 + speed) * longest_s)[order],
    )


def _taken_s(azimuth_s: Floats, elevation_s: Floats) -> Floats:
    """(N-1,) what a move from each end to the next takes at the faster rates."""
    return np.maximum(np.abs(np.diff(azimuth_s)), np.abs(np.diff(elevation_s)))


def _steps(step_s: Floats, taken_s: Floats, begins: Flags, first: Indices) -> tuple[Floats, Floats]:
    """``speed`` and ``longest_step_s`` of each run, by its first end."""
    if not first.size:
        return np.zeros(0), np.zeros(0)
    step_s = np.where(begins, 0.0, np.append(0.0, step_s))
    taken_s = np.where(begins, 0.0, np.append(0.0, taken_s))
    speed = np.maximum.reduceat(taken_s / np.where(begins, 1.0, step_s), first)
    longest_s = np.maximum.reduceat(step_s, first)
    return speed, np.where(longest_s > 0.0, longest_s, _FAR_S)


def _won(rows: Rows, sample: Indices) -> Ints:
    """(N-1,) by how much each end but the first is worth more than the one before, of one row, at least."""
    there = sample[1:]
    never_spare = rows.full_from[there] <= rows.offsets[rows.row_of[there]]
    whole, spare = np.diff(rows.whole[sample]), np.diff(rows.spare[sample])
    return np.where(never_spare, whole, np.minimum(whole, spare))


def _dearer(m_deg: Floats, mover: Mover, units: Units) -> Ints:
    """(N-1,) by how much more moving on from each end but the first may cost than from the one before."""
    turning = units.turning(np.abs(np.diff(m_deg)) + _detour_deg(mover))
    return np.asarray(turning + _ROUNDED_UNITS * units.clear_room)


def _detour_deg(mover: Mover) -> float:
    """A measured mount may have time for the idle place from one end and not from the one before."""
    return 0.0 if mover.ideal or mover.idle is None else 2.0 * mover.mount.azimuth.travel_deg


def latest_in_time(
    runs: Runs,
    rows: Rows,
    mover: Mover,
    which: Indices,
    starts: Indices,
    last: Indices,
    late_s: Floats | NDArray[np.float32] | float = 0.0,
) -> Indices:
    """(P,) of pairs of a run and a start the latest end that leaves time to move to the start.

    Where the move from an end is D seconds late, all ends less than D / (1 + w) before it are late as well,
    w being the run's speed: the move from those takes w times as long less at best.

    Args:
        runs, rows, mover: as they are.
        which: (P,) the runs.
        starts: (P,) flat indices of samples.
        last: (P,) place of the run's last end that comes into question, or one below its first.
        late_s: (P,) a move from there is late by so much at least; 0 where it may be in time.

    Returns:
        Places in the columns of ``runs``; one below the run's first where none is in time.
    """
    none = runs.first[which] - 1
    begin_s, azimuth_s, elevation_s = (
        rows.since_s[starts],
        runs.start_azimuth_s[starts],
        runs.start_elevation_s[starts],
    )
    begin_s -= mover.margin_s - ROUNDING_S
    found = last - np.ceil(late_s / runs.slower_s[which]).astype(np.intp)
    tried = _late(runs, found, begin_s, azimuth_s, elevation_s)
    found -= tried
    left = np.flatnonzero((tried == _FEW.size) & (found > none))
    while left.size:
        tried = _late(runs, found[left], begin_s[left], azimuth_s[left], elevation_s[left])
        found[left] -= tried
        left = left[(tried == _FEW.size) & (found[left] > none[left])]
    np.maximum(found, none, out=found)
    return found if mover.ideal else _tried(runs, rows, mover, starts, none, found)


def _late(runs: Runs, ends: Indices, begin_s: Floats, azimuth_s: Floats, elevation_s: Floats) -> Indices:
    """(P,) after how many of a few ends, backward, a move is in time at the faster rates; all if after none.

    A few at once: mostly the latest in time is among them.
    """
    few = ends - _FEW
    over_s = np.abs(runs.azimuth_s[few] - azimuth_s)
    np.maximum(over_s, np.abs(runs.elevation_s[few] - elevation_s), out=over_s)
    over_s += runs.since_s[few]
    late = over_s > begin_s
    count: Indices = late[0].astype(np.intp)
    for more in range(1, _FEW.size):
        late[more] &= late[more - 1]
        count += late[more]
    return count


def _tried(runs: Runs, rows: Rows, mover: Mover, starts: Indices, none: Indices, found: Indices) -> Indices:
    """The ends found, or where a measured mount takes longer the latest one before that is in time."""
    spare_s = rows.since_s[starts] - (mover.margin_s - ROUNDING_S)
    left = np.flatnonzero(found > none)
    while left.size:
        end, start = runs.sample[found[left]], starts[left]
        needed = mover.seconds(rows.m_deg[end], rows.m_deg[start], rows.e_deg[end], rows.e_deg[start])
        left = left[rows.since_s[end] + needed > spare_s[left]]
        found[left] -= 1
        left = left[found[left] > none[left]]
    return found
