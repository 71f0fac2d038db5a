"""One move from one way to another in mid-pass: the axes meanwhile, and what is kept.

Until the start both axes are where the first way has them. Then each slews to where the second way's target
will be when it gets there, rest to rest as `core.mount.drive.slew` has it (an ideal axis runs straight at its
rate), and follows that way from then on. The target moves meanwhile: aiming at where it is at the start would
be short by what the pass turns in a minute of slewing, tens of degrees near the zenith. Moved one axis at a
time, elevation sets off when azimuth is there. A second's pointing counts while the satellite is inside the
beam, in the move as well, but not in the settling after it. A move of nothing needs no settling. Deadband and
least nudge are for following and are left out of a move of this size.

Many passes, seats, ways and starts at once are flat rows here: shapes are (R,), with a further axis where a
moment in the move is told. Moments are on the clock of the `FollowedPasses`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, Indices
from core.base.curves import find_roots
from core.mount.check.followed import (
    CHUNK,
    FollowedPasses,
    Moments,
    chunks_of,
    half_square,
    ragged,
    shares_inside,
)
from core.mount.check.split_columns import Columns
from core.mount.check.split_turn import kept_in_turn
from core.mount.drive.slew import slew_angle, slew_seconds
from core.mount.model.station import Axis

#: Rounds of the search for the moment an axis meets its moving target; each gains a digit or more.
_ROUNDS = 6
#: An exact meeting is told to this, seconds.
_MET_S = 1e-6
#: A meeting that is less late than this is near enough where nearness will do.
_NEARLY_S = 1e-4
#: Seconds on for every second late: beyond these the target is too fast to go straight on.
_EVENLY = 2.0 / 3.0, 2.0
#: One that is still as late as this after all rounds is found exactly.
_NEAR_ENOUGH_S = 0.1
_TINY_S = 1e-9

#: (R,) where the target of some of the moves (their indices) is at moments (R,).
Target = Callable[[Indices | slice, Floats], Floats]


@dataclass(frozen=True, eq=False)
class Moves(Columns):
    """R moves, each from a way to another of its seat.

    Attributes:
        of_pass: (R,) which pass.
        from_row, to_row: (R,) postures, as indices into `POSTURES`.
        from_offset_deg, to_offset_deg: (R,) what is added to azimuth to get m, before and after.
        start_s: (R,) when the satellite is left.
    """

    of_pass: Indices
    from_row: Indices
    to_row: Indices
    from_offset_deg: Floats
    to_offset_deg: Floats
    start_s: Floats


@dataclass(frozen=True, eq=False)
class Arrivals(Columns):
    """Where R moves start and when they are there; infinite where an axis never meets its target.

    Attributes:
        m_deg, e_deg: (R,) the axes at the start.
        azimuth_s, elevation_s: (R,) when each axis is on the second way.
        elevation_start_s: (R,) when the elevation axis sets off.
        back_on_s: (R,) both there and settled: from here the pointing counts.
    """

    m_deg: Floats
    e_deg: Floats
    azimuth_s: Floats
    elevation_s: Floats
    elevation_start_s: Floats
    back_on_s: Floats

    @property
    def there_s(self) -> Floats:
        """(R,) when both axes are on the second way, not yet settled."""
        return np.maximum(self.azimuth_s, self.elevation_s)


def arrivals(passes: FollowedPasses, moves: Moves, exactly: bool = True) -> Arrivals:
    """When each move is there; not ``exactly`` is quicker, and near enough to look for the best start."""
    start, mount = passes.at(moves.start_s), passes.mount
    m_deg = passes.m_deg(start, moves.from_row, moves.from_offset_deg)
    e_deg = start.of(passes.axis_deg, moves.from_row * passes.samples)

    def azimuth_target(which: Indices | slice, moment_s: Floats) -> Floats:
        return passes.m_deg(passes.at(moment_s), moves.to_row[which], moves.to_offset_deg[which])

    meet = _meeting_exactly if exactly else _meeting_nearly
    azimuth_s = meet(passes, moves, moves.start_s, m_deg, azimuth_target, mount.azimuth)
    sets_off = moves.start_s
    if not mount.drive.both_axes_at_once:
        sets_off = np.minimum(azimuth_s, passes.end_s[moves.of_pass])
    # Where azimuth is not found yet, neither is when elevation sets off: both are found exactly below.
    sets_off = np.where(np.isnan(sets_off), moves.start_s, sets_off)
    # In the same posture elevation is where it is wanted, unless it waits for azimuth meanwhile.
    waits = np.full(moves.start_s.size, not mount.drive.both_axes_at_once)
    away = np.flatnonzero(waits | (moves.from_row != moves.to_row))

    def elevation_target(which: Indices | slice, moment_s: Floats) -> Floats:
        return passes.at(moment_s).of(passes.axis_deg, moves.to_row[away[which]] * passes.samples)

    elevation_s = moves.start_s.copy()
    if away.size:
        places = sets_off[away], e_deg[away]
        elevation_s[away] = meet(passes, moves.some(away), *places, elevation_target, mount.elevation)
    there = np.maximum(azimuth_s, elevation_s)
    settled = there + np.where(there > moves.start_s + _TINY_S, mount.drive.settle_s, 0.0)
    found = Arrivals(m_deg, e_deg, azimuth_s, elevation_s, sets_off, settled)
    unsure = np.flatnonzero(np.isnan(there))
    return found.mended(unsure, arrivals(passes, moves.some(unsure))) if unsure.size else found


def _meeting_nearly(
    passes: FollowedPasses, moves: Moves, start_s: Floats, place_deg: Floats, target: Target, axis: Axis
) -> Floats:
    """(R,) by rounds of: aim at where the target was when the last aim would have been reached.

    How late an aim is falls nearly evenly with it, so from the second round on straight to where it is not.
    Nan where that does not come to a stand soon: the target is nearly as fast as the axis.
    """
    last_s, every = passes.end_s[moves.of_pass], np.arange(start_s.size)
    there, moved, late = start_s.copy(), np.zeros(start_s.size), np.zeros(start_s.size)
    left: Indices | slice = slice(None)
    for _ in range(_ROUNDS):
        aimed_s = there[left]
        aimed_deg = target(left, np.minimum(aimed_s, last_s[left]))
        late_s = start_s[left] + slew_seconds(place_deg[left], aimed_deg, axis) - aimed_s
        fell_s = late[left] - late_s
        steps = np.divide(moved[left], fell_s, out=np.ones(late_s.size), where=fell_s != 0.0)
        steps[(steps < _EVENLY[0]) | (steps > _EVENLY[1])] = 1.0
        moved[left], late[left] = steps * late_s, late_s
        there[left] = aimed_s + moved[left]
        more = np.flatnonzero(np.abs(late_s) >= _NEARLY_S)
        if not more.size:
            break
        if more.size < late_s.size:
            left = every[left][more]
    return np.where(np.abs(late) < _NEAR_ENOUGH_S, np.where(there > last_s, np.inf, there), np.nan)


def _meeting_exactly(
    passes: FollowedPasses, moves: Moves, start_s: Floats, place_deg: Floats, target: Target, axis: Axis
) -> Floats:
    """(R,) the first moment at which the axis can be on its target: among samples, then between two."""
    every = np.arange(start_s.size)
    meets_s = np.where(slew_seconds(place_deg, target(every, start_s), axis) <= _TINY_S, start_s, np.inf)
    left, of_pass = np.flatnonzero(meets_s > start_s), moves.of_pass
    # Only what comes after the start.
    next_sample = passes.at(start_s).index + 1
    for some in chunks_of((passes.first + passes.count)[of_pass[left]] - next_sample[left]):
        which = left[some]
        first = next_sample[which]
        row, sample = ragged(first, (passes.first + passes.count)[of_pass[which]] - first)
        row = which[row]
        spare_s = passes.clock_s[sample] - start_s[row]
        spare_s -= slew_seconds(place_deg[row], target(row, passes.clock_s[sample]), axis)
        hits = np.flatnonzero(spare_s >= -_TINY_S)
        hits = hits[np.diff(row[hits], prepend=-1) != 0]
        found, sample = row[hits], sample[hits]
        low = np.maximum(passes.clock_s[sample - 1], start_s[found])

        def early_s(moment_s: Floats, found: Indices = found) -> Floats:
            spare = moment_s - start_s[found] + _TINY_S
            return np.asarray(spare - slew_seconds(place_deg[found], target(found, moment_s), axis))

        meets_s[found] = find_roots(early_s, low, passes.clock_s[sample], _MET_S)
    return meets_s


def axes_at(
    passes: FollowedPasses, moves: Moves, there: Arrivals, moments_s: Floats, at: Moments
) -> tuple[Floats, Floats]:
    """(R, K) m and e at moments (R, K) of each move, none before its start; ``at`` are they found."""
    m_end = passes.m_deg(passes.until_los(there.azimuth_s, moves.of_pass), moves.to_row, moves.to_offset_deg)
    m_passed = moments_s - moves.start_s[:, None]
    m_at = slew_angle(there.m_deg[:, None], m_end[:, None], m_passed, passes.mount.azimuth)
    late = np.flatnonzero(moments_s >= there.azimuth_s[:, None])
    move, on_it = late // max(moments_s.shape[1], 1), Moments(at.index.take(late), at.past_s.take(late))
    m_at.put(late, passes.m_deg(on_it, moves.to_row[move], moves.to_offset_deg[move]))
    shift = moves.to_row * passes.samples
    e_target = at.of(passes.axis_deg, shift[:, None])
    if (there.elevation_s <= moves.start_s).all():
        return m_at, e_target
    e_end = passes.until_los(there.elevation_s, moves.of_pass).of(passes.axis_deg, shift)
    e_passed = moments_s - there.elevation_start_s[:, None]
    e_run = slew_angle(there.e_deg[:, None], e_end[:, None], e_passed, passes.mount.elevation)
    return m_at, np.where(moments_s >= there.elevation_s[:, None], e_target, e_run)


def kept_in_move(passes: FollowedPasses, moves: Moves, there: Arrivals, samples: int) -> Floats:
    """(R,) seconds over the mask with the satellite in the beam, from start until both axes are there."""
    kept, told = kept_in_turn(passes, moves, there)
    which = np.flatnonzero(~told)
    for begin in range(0, which.size, CHUNK // samples):
        some = which[begin : begin + CHUNK // samples]
        kept[some] = _kept_in_moves(passes, moves.some(some), there.some(some), samples)
    return kept


def _kept_in_moves(passes: FollowedPasses, moves: Moves, there: Arrivals, samples: int) -> Floats:
    """The same, of so many stretches of each move."""
    end_s = np.minimum(there.there_s, passes.end_s[moves.of_pass])
    share = np.arange(samples + 1) / samples
    moments_s = moves.start_s[:, None] + share * (end_s - moves.start_s)[:, None]
    at = passes.at(moments_s)
    apart, e_deg = axes_at(passes, moves, there, moments_s, at)
    apart -= at.of(passes.azimuth_deg)
    apart -= moves.from_offset_deg[:, None]
    wanted = at.of(passes.wanted_deg, (moves.from_row * passes.samples)[:, None])
    square = half_square(apart.ravel(), e_deg.ravel(), wanted.ravel())
    inside = shares_inside(square, passes.limit_deg, "chord")[0].reshape(apart.shape)
    return np.asarray((inside[:, :-1] * np.diff(at.of(passes.worked_s), axis=1)).sum(axis=1))


def seconds_kept(passes: FollowedPasses, moves: Moves, samples: int) -> Floats:
    """(R,) seconds over the mask on the beam by each split: before its move, during it, and after."""
    there, every = arrivals(passes, moves), np.arange(moves.start_s.size)
    before = passes.kept_along(moves.of_pass, moves.from_row, moves.from_offset_deg)
    after = passes.kept_along(moves.of_pass, moves.to_row, moves.to_offset_deg)
    kept = passes.until(before, every, passes.at(moves.start_s)) + after.total_s
    kept = kept - passes.until(after, every, passes.until_los(there.back_on_s, moves.of_pass))
    return kept + kept_in_move(passes, moves, there, samples)
