"""One move from one way to another, for many seats and starts at once: the axes, and what is kept.

Until the start both axes are where the first way has them. Then each slews to where the second way's target
will be when it gets there, rest to rest as `core.mount.drive.slew` has it (an ideal axis runs straight at its
rate), and follows that way from then on. Moved one axis at a time, elevation sets off when azimuth is there.
A second's pointing counts while the satellite is inside the beam, in the move as well, but not in the
settling after it. A move of nothing needs no settling. Deadband and least nudge are for following and are
left out of a move of this size.

Seats, ways and starts are flat rows here: shapes are (R,), with a further axis where a moment in the move
is told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.curves import halve_brackets
from core.mount.drive.motion import Steered, on_fraction
from core.mount.drive.slew import Axis, slew_angle, slew_seconds
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, guarded_travel_deg
from core.mount.model.station import POSTURES, Mount, Posture

#: Rounds of the search for the moment an axis meets its moving target; each gains a digit or more.
_ROUNDS = 6
_HALVINGS = 20
#: A meeting that moves by less than this in a round is near enough where nearness will do.
_NEARLY_S = 1e-4
#: One that still moves by more than this after all rounds is found exactly.
_NEAR_ENOUGH_S = 0.1
_TINY_S = 1e-9


@dataclass(frozen=True, eq=False)
class PassTable:
    """A pass and how each posture follows it, ready to be looked up at any moment.

    Attributes:
        track: the pass.
        worked_s: (N,) seconds over the mask up to each sample.
        azimuth_deg, axis_deg, wanted_deg: per posture (2, N): azimuth the axes are told, the elevation axis
            inside its range, and where the satellite is on that axis.
        azimuth, elevation: the axes, without deadband and least nudge.
        guard_deg, top_deg: the guarded travel.
        together: both axes move at once.
        settle_s: after a move.
        limit_deg: half the beamwidth.
    """

    track: MountTrack
    worked_s: Floats
    azimuth_deg: Floats
    axis_deg: Floats
    wanted_deg: Floats
    azimuth: Axis
    elevation: Axis
    guard_deg: float
    top_deg: float
    together: bool
    settle_s: float
    limit_deg: float


def pass_table(track: MountTrack, steered: Steered, mount: Mount, limit_deg: float) -> PassTable:
    """The table of one pass; ``limit_deg`` is half the beamwidth."""
    in_postures = [steered.in_posture(posture) for posture in POSTURES]
    told = [axis_elevation_deg(s.elevation_deg, p) for s, p in zip(in_postures, POSTURES, strict=True)]
    guard, top = guarded_travel_deg(mount.azimuth)
    freely = {"deadband_deg": 0.0, "least_nudge_deg": 0.0}
    return PassTable(
        track=track,
        worked_s=np.concatenate([[0.0], np.cumsum(track.interval_s)]),
        azimuth_deg=np.stack([s.azimuth_deg for s in in_postures]),
        axis_deg=np.clip(np.stack(told), mount.elevation.minimum_deg, mount.elevation.maximum_deg),
        wanted_deg=np.stack([axis_elevation_deg(track.elevation_deg, p) for p in POSTURES]),
        azimuth=mount.azimuth.model_copy(update=freely),
        elevation=mount.elevation.model_copy(update=freely),
        guard_deg=guard,
        top_deg=top,
        together=mount.drive.both_axes_at_once,
        settle_s=mount.drive.settle_s,
        limit_deg=limit_deg,
    )


def place_of(posture: Posture) -> int:
    """Where a posture stands in the table's rows."""
    return POSTURES.index(posture)


@dataclass(frozen=True, eq=False)
class Lookup:
    """Moments found on the track: the sample before each, and how far on to the next one, 0..1."""

    index: Indices
    share: Floats

    def of(self, values: Floats) -> Floats:
        """A row of samples (N,) at the moments, between samples straight."""
        left = values[self.index]
        return np.asarray(left + self.share * (values[self.index + 1] - left))

    def of_rows(self, values: Floats, row: Indices) -> Floats:
        """The same of rows (..., N), each moment in its own row."""
        left = values[row, self.index]
        return np.asarray(left + self.share * (values[row, self.index + 1] - left))


def look_up(utc_s: Floats, moments: Floats) -> Lookup:
    """Moments (...) on the samples (N,), those outside taken to the ends."""
    index = np.searchsorted(utc_s, moments, side="right") - 1
    index = np.minimum(np.maximum(index, 0), utc_s.size - 2)
    left = utc_s[index]
    share = (moments - left) / (utc_s[index + 1] - left)
    return Lookup(index, np.minimum(np.maximum(share, 0.0), 1.0))


@dataclass(frozen=True, eq=False)
class Moves:
    """R moves, each from a way to another of its seat.

    Attributes:
        from_row, to_row: (R,) postures as `place_of` has them.
        from_offset_deg, to_offset_deg: (R,) what is added to azimuth to get m, before and after.
        start_s: (R,) when the satellite is left.
    """

    from_row: Indices
    to_row: Indices
    from_offset_deg: Floats
    to_offset_deg: Floats
    start_s: Floats

    def some(self, which: Indices) -> Moves:
        """Some of the moves."""
        return Moves(
            self.from_row[which],
            self.to_row[which],
            self.from_offset_deg[which],
            self.to_offset_deg[which],
            self.start_s[which],
        )


@dataclass(frozen=True, eq=False)
class Arrivals:
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


def m_at(table: PassTable, at: Lookup, row: Indices, offset_deg: Floats) -> Floats:
    """Mechanical azimuth of a way at looked-up moments, held inside the guards."""
    # np.clip costs three times as much on the small arrays of a search.
    turned = at.of_rows(table.azimuth_deg, row) + offset_deg
    return np.minimum(np.maximum(turned, table.guard_deg), table.top_deg)


def arrivals(table: PassTable, moves: Moves, exactly: bool = True) -> Arrivals:
    """When each move is there; ``exactly`` False is quicker, and near enough to look for the best start."""
    utc_s = table.track.utc_s
    start = look_up(utc_s, moves.start_s)
    m_deg = m_at(table, start, moves.from_row, moves.from_offset_deg)
    e_deg = start.of_rows(table.axis_deg, moves.from_row)

    def azimuth_target(at: Lookup) -> Floats:
        offset = moves.to_offset_deg.reshape(_shaped(at, moves.to_row).shape)
        return m_at(table, at, _shaped(at, moves.to_row), offset)

    def axis_target(at: Lookup) -> Floats:
        return at.of_rows(table.axis_deg, _shaped(at, moves.to_row))

    meet = _meeting_exactly if exactly else _meeting_nearly
    azimuth_s = meet(utc_s, moves.start_s, m_deg, azimuth_target, table.azimuth)
    sets_off = moves.start_s if table.together else np.minimum(azimuth_s, utc_s[-1])
    elevation_s = meet(utc_s, sets_off, e_deg, axis_target, table.elevation)
    there = np.maximum(azimuth_s, elevation_s)
    settled = there + np.where(there > moves.start_s + _TINY_S, table.settle_s, 0.0)
    found = Arrivals(m_deg, e_deg, azimuth_s, elevation_s, np.asarray(sets_off), settled)
    unsure = np.flatnonzero(np.isnan(there))
    return _mended(found, unsure, arrivals(table, moves.some(unsure))) if unsure.size else found


def _mended(found: Arrivals, where: Indices, better: Arrivals) -> Arrivals:
    """The arrivals with some of them replaced."""

    def with_better(name: str) -> Floats:
        values: Floats = getattr(found, name).copy()
        values[where] = getattr(better, name)
        return values

    return Arrivals(*(with_better(field.name) for field in fields(Arrivals)))


def _shaped(at: Lookup, row: Indices) -> Indices:
    """Rows (R,) with as many further axes as the looked-up moments (R, ...) have."""
    return row.reshape(row.shape + (1,) * (at.index.ndim - 1))


def _meeting_nearly(
    utc_s: Floats, start_s: Floats, place: Floats, target: Callable[[Lookup], Floats], axis: Axis
) -> Floats:
    """(R,) by rounds of: aim at where the target was when the last aim would have been reached.

    Nan where that does not come to a stand soon: the target is nearly as fast as the axis.
    """
    there = start_s
    for _ in range(_ROUNDS):
        before = there
        there = start_s + slew_seconds(place, target(look_up(utc_s, there)), axis)
        if np.abs(there - before).max(initial=0.0) < _NEARLY_S:
            break
    sure = np.abs(there - before) < _NEAR_ENOUGH_S
    return np.where(sure, np.where(there > utc_s[-1], np.inf, there), np.nan)


def _meeting_exactly(
    utc_s: Floats, start_s: Floats, place: Floats, target: Callable[[Lookup], Floats], axis: Axis
) -> Floats:
    """(R,) the first moment at which the axis can be on its target: found on the samples, then halved."""
    at_once = slew_seconds(place, target(look_up(utc_s, start_s)), axis) <= _TINY_S
    if at_once.all():
        return start_s
    everywhere = look_up(utc_s, np.broadcast_to(utc_s, (start_s.size, utc_s.size)))
    spare = utc_s - start_s[:, None] - slew_seconds(place[:, None], target(everywhere), axis)
    could = (spare >= -_TINY_S) & (utc_s > start_s[:, None])
    index = np.argmax(could, axis=1)
    high = utc_s[index]
    low = np.maximum(utc_s[np.maximum(index - 1, 0)], start_s)

    def on_target(moment_s: Floats) -> Flags:
        return moment_s - start_s - slew_seconds(place, target(look_up(utc_s, moment_s)), axis) >= -_TINY_S

    _, high = halve_brackets(low, high, on_target, _HALVINGS)
    return np.where(at_once, start_s, np.where(could.any(axis=1), high, np.inf))


def axes_at(
    table: PassTable, moves: Moves, there: Arrivals, moments: Floats, at: Lookup
) -> tuple[Floats, Floats]:
    """(R, K) m and e at moments (R, K) of each move, none before its start; ``at`` are they looked up."""
    utc_s = table.track.utc_s
    turned = look_up(utc_s, np.minimum(there.azimuth_s, utc_s[-1]))
    m_end = m_at(table, turned, moves.to_row, moves.to_offset_deg)
    m_passed = moments - moves.start_s[:, None]
    m_run = slew_angle(there.m_deg[:, None], m_end[:, None], m_passed, table.azimuth)
    m_target = m_at(table, at, moves.to_row[:, None], moves.to_offset_deg[:, None])
    tipped = look_up(utc_s, np.minimum(there.elevation_s, utc_s[-1]))
    e_end = tipped.of_rows(table.axis_deg, moves.to_row)
    e_passed = moments - there.elevation_start_s[:, None]
    e_run = slew_angle(there.e_deg[:, None], e_end[:, None], e_passed, table.elevation)
    e_target = at.of_rows(table.axis_deg, moves.to_row[:, None])
    return (
        np.where(moments >= there.azimuth_s[:, None], m_target, m_run),
        np.where(moments >= there.elevation_s[:, None], e_target, e_run),
    )


def chords(m_apart_deg: Floats, axis_deg: Floats, wanted_deg: Floats) -> Floats:
    """Half the chord between boresight and satellite, 0..1: sin(off / 2), by the haversine formula."""
    a, b = np.radians(axis_deg), np.radians(wanted_deg)
    half = np.sin((a - b) / 2) ** 2 + np.cos(a) * np.cos(b) * np.sin(np.radians(m_apart_deg) / 2) ** 2
    return np.asarray(np.sqrt(np.clip(half, 0.0, 1.0)))


def kept_in_move(table: PassTable, moves: Moves, there: Arrivals, samples: int) -> Floats:
    """(R,) seconds over the mask with the satellite in the beam from the start until both axes are there."""
    utc_s = table.track.utc_s
    end_s = np.minimum(there.there_s, utc_s[-1])
    moments = moves.start_s[:, None] + np.linspace(0.0, 1.0, samples + 1) * (end_s - moves.start_s)[:, None]
    at = look_up(utc_s, moments)
    m_deg, e_deg = axes_at(table, moves, there, moments, at)
    wanted = at.of_rows(table.wanted_deg, moves.from_row[:, None])
    apart = m_deg - at.of(table.track.azimuth_deg) - moves.from_offset_deg[:, None]
    inside = on_fraction(chords(apart, e_deg, wanted), float(np.sin(np.radians(table.limit_deg) / 2.0)))
    return np.asarray((inside * np.diff(at.of(table.worked_s), axis=1)).sum(axis=1))


@dataclass(frozen=True, eq=False)
class Kept:
    """Seconds on the beam of W rows, each a way at a seat.

    Attributes:
        so_far_s: (W, N) up to each sample.
        inside: (W, N-1) share of each interval inside the beam.
        begins_inside: (W, N-1) bool, inside at the interval's start.
    """

    so_far_s: Floats
    inside: Floats
    begins_inside: Flags

    def until(self, table: PassTable, row: Indices, at: Lookup) -> Floats:
        """(...) seconds on the beam until looked-up moments, each in its own row."""
        inside = self.inside[row, at.index]
        late = np.maximum(at.share - (1.0 - inside), 0.0)
        gone = np.where(self.begins_inside[row, at.index], np.minimum(at.share, inside), late)
        return np.asarray(self.so_far_s[row, at.index] + gone * table.track.interval_s[at.index])


def kept_along(table: PassTable, rows: Indices, offsets_deg: Floats) -> Kept:
    """Seconds on the beam along ways, given by posture rows (W,) and offsets (W,)."""
    azimuth = table.azimuth_deg[rows] + offsets_deg[:, None]
    m_deg = np.clip(azimuth, table.guard_deg, table.top_deg)
    apart = m_deg - table.track.azimuth_deg - offsets_deg[:, None]
    axis, wanted = np.radians(table.axis_deg), np.radians(table.wanted_deg)
    tipped, crossed = np.sin((axis - wanted) / 2.0) ** 2, np.cos(axis) * np.cos(wanted)
    chord = np.sqrt(np.clip(tipped[rows] + crossed[rows] * np.sin(np.radians(apart) / 2.0) ** 2, 0.0, 1.0))
    limit = float(np.sin(np.radians(table.limit_deg) / 2.0))
    inside = on_fraction(chord, limit)
    so_far = np.zeros(chord.shape)
    np.cumsum(inside * table.track.interval_s, axis=1, out=so_far[:, 1:])
    return Kept(so_far, inside, chord[:, :-1] <= limit + 1e-9)


def seconds_kept(table: PassTable, moves: Moves, samples: int) -> Floats:
    """(R,) seconds over the mask on the beam by each split: before its move, during it, and after."""
    utc_s = table.track.utc_s
    there = arrivals(table, moves)
    every = np.arange(moves.start_s.size)
    before = kept_along(table, moves.from_row, moves.from_offset_deg)
    after = kept_along(table, moves.to_row, moves.to_offset_deg)
    back = look_up(utc_s, np.minimum(there.back_on_s, utc_s[-1]))
    kept = before.until(table, every, look_up(utc_s, moves.start_s)) + after.so_far_s[:, -1]
    return kept - after.until(table, every, back) + kept_in_move(table, moves, there, samples)
