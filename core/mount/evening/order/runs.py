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

from core.base.angles import Flags, Floats, Indices
from core.mount.evening.order.moves import ROUNDING_S, Mover
from core.mount.evening.order.rows import Rows
from core.mount.evening.order.worth import Units

#: Whole numbers are rounded at both ends of what is compared: by so many units at most.
_ROUNDED_UNITS = 2
_NO_FASTER_S = 1e-6


@dataclass(frozen=True, eq=False)
class Runs:
    """G runs of ends, by the moment of the last end of each.

    Attributes:
        row: (G,) the row each is of.
        first, beyond: (G,) where its ends lie in the columns below.
        first_s, last_s: (G,) moments of its first and last end.
        sample: (N,) flat indices of the ends.
        since_s, azimuth_s, elevation_s: (N,) the moment, and both axes in seconds at their faster rates.
        place_s, apart_s: (N,) the moments of row after row on one axis, rows that far apart.
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
    place_s: Floats
    apart_s: float


def runs_of_ends(rows: Rows, mover: Mover, units: Units) -> Runs:
    """The runs of all rows."""
    sample = np.flatnonzero(rows.may_end)
    azimuth_s, elevation_s = in_seconds(rows, sample, mover)
    row, since_s = rows.row_of[sample], rows.since_s[sample]
    begins = np.append(True, ~_goes_on(rows, sample, azimuth_s, elevation_s, mover, units))
    first = np.flatnonzero(begins[: sample.size])
    beyond = np.append(first[1:], sample.size)
    order = np.argsort(since_s[beyond - 1], kind="stable") if sample.size else first
    first, beyond = first[order], beyond[order]
    apart_s = float(since_s.max(initial=0.0)) + 10.0
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
        place_s=row * apart_s + since_s,
        apart_s=apart_s,
    )


def in_seconds(rows: Rows, sample: Indices, mover: Mover) -> tuple[Floats, Floats]:
    """Both axes at some samples, in seconds at the mount's faster rates."""
    azimuth, elevation = mover.rates_deg_s
    return rows.m_deg[sample] / azimuth, rows.e_deg[sample] / elevation


def _goes_on(
    rows: Rows, sample: Indices, azimuth_s: Floats, elevation_s: Floats, mover: Mover, units: Units
) -> Flags:
    """(N-1,) each end but the first is of the run of the one before."""
    here, there = sample[:-1], sample[1:]
    never_spare = rows.full_from[there] <= rows.offsets[rows.row_of[there]]
    won = rows.whole[there] - rows.whole[here]
    won = np.where(never_spare, won, np.minimum(won, rows.spare[there] - rows.spare[here]))
    dearer = units.turning(np.abs(rows.m_deg[there] - rows.m_deg[here]) + _detour_deg(mover))
    taken = np.maximum(np.abs(np.diff(azimuth_s)), np.abs(np.diff(elevation_s)))
    return np.asarray(
        (rows.row_of[here] == rows.row_of[there])
        & (rows.over[here] == rows.over[there])
        & (won >= dearer + _ROUNDED_UNITS * units.clear_room)
        & (taken <= np.diff(rows.since_s[sample]) + _NO_FASTER_S)
    )


def _detour_deg(mover: Mover) -> float:
    """A measured mount may have time for the idle place from one end and not from the one before."""
    return 0.0 if mover.ideal or mover.idle is None else 2.0 * mover.mount.azimuth.travel_deg


def places_upto(runs: Runs, which: Indices, since_s: Floats) -> Indices:
    """(T, X) the place of the last end of each of some runs (X,) up to each of some moments (T,).

    Returns:
        Places in the columns of ``runs``; one below the run's first where there is none.
    """
    found = np.searchsorted(runs.place_s, runs.row[which] * runs.apart_s + since_s[:, None], side="right")
    return np.clip(found, runs.first[which], runs.beyond[which]) - 1


def latest_in_time(
    runs: Runs, rows: Rows, mover: Mover, starts: Indices, known: Indices, last: Indices
) -> Indices:
    """(P,) of pairs of a run and a start the latest end that leaves time to move to the start.

    Args:
        runs, rows, mover: as they are.
        starts: (P,) flat indices of samples.
        known: (P,) place of an end that is in time, or one below the run's first.
        last: (P,) place of the run's last end that comes into question.

    Returns:
        Places in the columns of ``runs``; that known where no later one is in time.
    """
    azimuth_s, elevation_s = in_seconds(rows, starts, mover)
    spare_s = rows.since_s[starts] - (mover.margin_s - ROUNDING_S)
    low, high = known, last
    for _ in range(int((last - known).max(initial=0)).bit_length()):
        middle = (low + high + 1) >> 1
        taken = np.abs(runs.azimuth_s[middle] - azimuth_s)
        np.maximum(taken, np.abs(runs.elevation_s[middle] - elevation_s), out=taken)
        taken += runs.since_s[middle]
        fits = taken <= spare_s
        low, high = np.where(fits, middle, low), np.where(fits, high, middle - 1)
    return low if mover.ideal else _tried(runs, rows, mover, starts, known, low.copy())


def _tried(runs: Runs, rows: Rows, mover: Mover, starts: Indices, known: Indices, found: Indices) -> Indices:
    """The ends found, or where a measured mount takes longer the latest one before that is in time."""
    spare_s = rows.since_s[starts] - (mover.margin_s - ROUNDING_S)
    left = np.flatnonzero(found > known)
    while left.size:
        end, start = runs.sample[found[left]], starts[left]
        needed = mover.seconds(rows.m_deg[end], rows.m_deg[start], rows.e_deg[end], rows.e_deg[start])
        left = left[rows.since_s[end] + needed > spare_s[left]]
        found[left] -= 1
        left = left[found[left] > known[left]]
    return found
