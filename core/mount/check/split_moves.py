"""One move from one way to another in mid-pass: the axes meanwhile, and what is kept.

Until the start both axes are where the first way has them. Then each slews to where the second way's target
will be when it gets there, rest to rest as `core.mount.drive.slew` has it (an ideal axis runs straight at its
rate), and follows that way from then on. The target moves meanwhile: aiming at where it is at the start would
be short by what the pass turns in a minute of slewing, tens of degrees near the zenith. Moved one axis at a
time, elevation sets off when azimuth is there. A second's pointing counts while the satellite is inside the
beam, in the move as well, but not in the settling after it. A move of nothing needs no settling. Deadband and
least nudge are for following and are left out of a move of this size.

Many seats, ways and starts at once are flat rows here: shapes are (R,), with a further axis where a moment in
the move is told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import TypeVar

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.curves import halve_brackets
from core.mount.drive.aim import half_chord, on_fraction
from core.mount.drive.motion import Steered
from core.mount.drive.slew import slew_angle, slew_seconds
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, guarded_travel_deg
from core.mount.model.station import POSTURES, Axis, Mount

#: Rounds of the search for the moment an axis meets its moving target; each gains a digit or more.
_ROUNDS = 6
_HALVINGS = 20
#: A meeting that moves by less than this in a round is near enough where nearness will do.
_NEARLY_S = 1e-4
#: One that still moves by more than this after all rounds is found exactly.
_NEAR_ENOUGH_S = 0.1
_TINY_S = 1e-9


IndicesOrFloats = TypeVar("IndicesOrFloats", Indices, Floats)


@dataclass(frozen=True, eq=False)
class Moments:
    """Moments found on a track: the sample before each, and how far on to the next one, 0..1."""

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


@dataclass(frozen=True, eq=False)
class Moves:
    """R moves, each from a way to another of its seat.

    Attributes:
        from_row, to_row: (R,) postures, as indices into `POSTURES`.
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
        return Moves(*(getattr(self, field.name)[which] for field in fields(Moves)))


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

    def mended(self, where: Indices, better: Arrivals) -> Arrivals:
        """These with the rows ``where`` (S,) taken from others (S,)."""
        mended = {field.name: getattr(self, field.name).copy() for field in fields(Arrivals)}
        for name, values in mended.items():
            values[where] = getattr(better, name)
        return Arrivals(**mended)


@dataclass(frozen=True, eq=False)
class Kept:
    """Seconds on the beam of W rows, each a way at a seat.

    Attributes:
        interval_s: (N-1,) seconds of each interval over the mask.
        so_far_s: (W, N) up to each sample.
        inside: (W, N-1) share of each interval inside the beam.
        begins_inside: (W, N-1) bool, inside at the interval's start.
    """

    interval_s: Floats
    so_far_s: Floats
    inside: Floats
    begins_inside: Flags

    @property
    def total_s(self) -> Floats:
        """(W,) from AOS to LOS."""
        return self.so_far_s[:, -1]

    def until(self, row: Indices, at: Moments) -> Floats:
        """(...) seconds on the beam until moments, each in its own row."""
        inside = self.inside[row, at.index]
        late = np.maximum(at.share - (1.0 - inside), 0.0)
        gone = np.where(self.begins_inside[row, at.index], np.minimum(at.share, inside), late)
        return np.asarray(self.so_far_s[row, at.index] + gone * self.interval_s[at.index])


class FollowedPass:
    """A pass and how each posture follows it, ready to be left in one way and taken up again in another.

    Args:
        track, steered: the pass, and what the axes do along it.
        mount: for its axes and drive; its seat is not looked at.
        limit_deg: half the beamwidth.

    Attributes:
        track: the pass.
        worked_s: (N,) seconds over the mask up to each sample.
        axis_deg: (2, N) per posture the elevation axis, held inside its range.
        wanted_deg: (2, N) per posture where the satellite is on that axis.
        mount: as given, its axes without deadband and least nudge.
    """

    def __init__(self, track: MountTrack, steered: Steered, mount: Mount, limit_deg: float) -> None:
        ways = [(steered.in_posture(posture), posture) for posture in POSTURES]
        low, high = mount.elevation.minimum_deg, mount.elevation.maximum_deg
        told = np.stack([axis_elevation_deg(way.elevation_deg, posture) for way, posture in ways])
        freely = {"deadband_deg": 0.0, "least_nudge_deg": 0.0}
        axes = {name: getattr(mount, name).model_copy(update=freely) for name in ("azimuth", "elevation")}
        self.track, self.mount = track, mount.model_copy(update=axes)
        self.worked_s = np.concatenate([[0.0], np.cumsum(track.interval_s)])
        self._azimuth_deg = np.stack([way.azimuth_deg for way, _posture in ways])
        self.axis_deg = np.clip(told, low, high)
        self.wanted_deg = np.stack([axis_elevation_deg(track.elevation_deg, p) for p in POSTURES])
        self._limit_chord = float(np.sin(np.radians(limit_deg) / 2.0))
        self._guard_deg, self._top_deg = guarded_travel_deg(mount.azimuth)

    def at(self, moments_s: Floats) -> Moments:
        """Moments (...) on the samples, those outside taken to the ends."""
        utc_s = self.track.utc_s
        index = np.searchsorted(utc_s, moments_s, side="right") - 1
        index = np.minimum(np.maximum(index, 0), utc_s.size - 2)
        left = utc_s[index]
        share = (moments_s - left) / (utc_s[index + 1] - left)
        return Moments(index, np.minimum(np.maximum(share, 0.0), 1.0))

    def until_los(self, moments_s: Floats) -> Moments:
        """The same, of moments that may be infinite."""
        return self.at(np.minimum(moments_s, self.track.utc_s[-1]))

    def m_deg(self, at: Moments, row: Indices, offset_deg: Floats) -> Floats:
        """Mechanical azimuth of ways at moments, held inside the guards."""
        # np.clip costs three times as much on the small arrays of a search.
        turned = at.of_rows(self._azimuth_deg, row) + offset_deg
        return np.minimum(np.maximum(turned, self._guard_deg), self._top_deg)

    def arrivals(self, moves: Moves, exactly: bool = True) -> Arrivals:
        """When each move is there; not ``exactly`` is quicker, and near enough to look for the best start."""
        start, mount = self.at(moves.start_s), self.mount
        m_deg = self.m_deg(start, moves.from_row, moves.from_offset_deg)
        e_deg = start.of_rows(self.axis_deg, moves.from_row)

        def azimuth_target(at: Moments) -> Floats:
            return self.m_deg(at, _as_wide(moves.to_row, at), _as_wide(moves.to_offset_deg, at))

        def elevation_target(at: Moments) -> Floats:
            return at.of_rows(self.axis_deg, _as_wide(moves.to_row, at))

        meet = self._meeting_exactly if exactly else self._meeting_nearly
        azimuth_s = meet(moves.start_s, m_deg, azimuth_target, mount.azimuth)
        last_s = self.track.utc_s[-1]
        sets_off = moves.start_s if mount.drive.both_axes_at_once else np.minimum(azimuth_s, last_s)
        elevation_s = meet(sets_off, e_deg, elevation_target, mount.elevation)
        there = np.maximum(azimuth_s, elevation_s)
        settled = there + np.where(there > moves.start_s + _TINY_S, mount.drive.settle_s, 0.0)
        found = Arrivals(m_deg, e_deg, azimuth_s, elevation_s, np.asarray(sets_off), settled)
        unsure = np.flatnonzero(np.isnan(there))
        return found.mended(unsure, self.arrivals(moves.some(unsure))) if unsure.size else found

    def _meeting_nearly(
        self, start_s: Floats, place_deg: Floats, target: Callable[[Moments], Floats], axis: Axis
    ) -> Floats:
        """(R,) by rounds of: aim at where the target was when the last aim would have been reached.

        Nan where that does not come to a stand soon: the target is nearly as fast as the axis.
        """
        there = start_s
        for _ in range(_ROUNDS):
            before = there
            there = start_s + slew_seconds(place_deg, target(self.at(there)), axis)
            if np.abs(there - before).max(initial=0.0) < _NEARLY_S:
                break
        sure = np.abs(there - before) < _NEAR_ENOUGH_S
        return np.where(sure, np.where(there > self.track.utc_s[-1], np.inf, there), np.nan)

    def _meeting_exactly(
        self, start_s: Floats, place_deg: Floats, target: Callable[[Moments], Floats], axis: Axis
    ) -> Floats:
        """(R,) the first moment at which the axis can be on its target: found on the samples, then halved."""
        utc_s = self.track.utc_s
        at_once = slew_seconds(place_deg, target(self.at(start_s)), axis) <= _TINY_S
        if at_once.all():
            return start_s
        everywhere = self.at(np.broadcast_to(utc_s, (start_s.size, utc_s.size)))
        spare = utc_s - start_s[:, None] - slew_seconds(place_deg[:, None], target(everywhere), axis)
        could = (spare >= -_TINY_S) & (utc_s > start_s[:, None])
        index = np.argmax(could, axis=1)
        low = np.maximum(utc_s[np.maximum(index - 1, 0)], start_s)

        def on_target(moment_s: Floats) -> Flags:
            return moment_s - start_s - slew_seconds(place_deg, target(self.at(moment_s)), axis) >= -_TINY_S

        _, high = halve_brackets(low, utc_s[index], on_target, _HALVINGS)
        return np.where(at_once, start_s, np.where(could.any(axis=1), high, np.inf))

    def axes_at(self, moves: Moves, there: Arrivals, moments_s: Floats, at: Moments) -> tuple[Floats, Floats]:
        """(R, K) m and e at moments (R, K) of each move, none before its start; ``at`` are they found."""
        m_end = self.m_deg(self.until_los(there.azimuth_s), moves.to_row, moves.to_offset_deg)
        m_passed = moments_s - moves.start_s[:, None]
        m_run = slew_angle(there.m_deg[:, None], m_end[:, None], m_passed, self.mount.azimuth)
        m_target = self.m_deg(at, moves.to_row[:, None], moves.to_offset_deg[:, None])
        e_end = self.until_los(there.elevation_s).of_rows(self.axis_deg, moves.to_row)
        e_passed = moments_s - there.elevation_start_s[:, None]
        e_run = slew_angle(there.e_deg[:, None], e_end[:, None], e_passed, self.mount.elevation)
        e_target = at.of_rows(self.axis_deg, moves.to_row[:, None])
        return (
            np.where(moments_s >= there.azimuth_s[:, None], m_target, m_run),
            np.where(moments_s >= there.elevation_s[:, None], e_target, e_run),
        )

    def kept_along(self, rows: Indices, offsets_deg: Floats) -> Kept:
        """Seconds on the beam along ways, given by posture rows (W,) and offsets (W,)."""
        azimuth = self._azimuth_deg[rows] + offsets_deg[:, None]
        m_deg = np.clip(azimuth, self._guard_deg, self._top_deg)
        apart = m_deg - self.track.azimuth_deg - offsets_deg[:, None]
        # As `half_chord`, but what the elevations make of it is the same in every row of a posture.
        axis, wanted = np.radians(self.axis_deg), np.radians(self.wanted_deg)
        tipped, crossed = np.sin((axis - wanted) / 2.0) ** 2, np.cos(axis) * np.cos(wanted)
        square = tipped[rows] + crossed[rows] * np.sin(np.radians(apart) / 2.0) ** 2
        chord = np.sqrt(np.clip(square, 0.0, 1.0))
        inside = on_fraction(chord, self._limit_chord)
        so_far = np.zeros(chord.shape)
        np.cumsum(inside * self.track.interval_s, axis=1, out=so_far[:, 1:])
        return Kept(self.track.interval_s, so_far, inside, chord[:, :-1] <= self._limit_chord + 1e-9)

    def kept_in_move(self, moves: Moves, there: Arrivals, samples: int) -> Floats:
        """(R,) seconds over the mask with the satellite in the beam, from start until both axes are there."""
        end_s = np.minimum(there.there_s, self.track.utc_s[-1])
        share = np.linspace(0.0, 1.0, samples + 1)
        moments_s = moves.start_s[:, None] + share * (end_s - moves.start_s)[:, None]
        at = self.at(moments_s)
        m_deg, e_deg = self.axes_at(moves, there, moments_s, at)
        wanted = at.of_rows(self.wanted_deg, moves.from_row[:, None])
        apart = m_deg - at.of(self.track.azimuth_deg) - moves.from_offset_deg[:, None]
        inside = on_fraction(half_chord(apart, e_deg, wanted), self._limit_chord)
        return np.asarray((inside * np.diff(at.of(self.worked_s), axis=1)).sum(axis=1))

    def seconds_kept(self, moves: Moves, samples: int) -> Floats:
        """(R,) seconds over the mask on the beam by each split: before its move, during it, and after."""
        there = self.arrivals(moves)
        every = np.arange(moves.start_s.size)
        before = self.kept_along(moves.from_row, moves.from_offset_deg)
        after = self.kept_along(moves.to_row, moves.to_offset_deg)
        kept = before.until(every, self.at(moves.start_s)) + after.total_s
        kept = kept - after.until(every, self.until_los(there.back_on_s))
        return kept + self.kept_in_move(moves, there, samples)


def _as_wide(column: IndicesOrFloats, at: Moments) -> IndicesOrFloats:
    """A column (R,) with as many further axes as the moments (R, ...) have."""
    return column.reshape(column.shape + (1,) * (at.index.ndim - 1))
