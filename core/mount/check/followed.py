"""Passes and how each posture follows them, in columns: what is on the beam along many ways at once.

All passes' samples lie one after the other, on one clock that runs on from pass to pass, so that moments of
any number of passes are found by one search. Rows (ways, moves) say which pass they are of; what is told
along rows of different passes is flat as well, row by row.

Whether a sample is in the beam is told in single precision first, at a fifth of the cost; only the few
stretches in which the beam's edge may lie are worked out in full, so that nothing is lost by it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal, NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.check.path_points import PathPoints
from core.mount.check.strikes import Barring
from core.mount.drive.aim import on_fraction
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, guarded_travel_deg
from core.mount.model.station import POSTURES, Mount

#: Seconds on the clock between two passes.
_BETWEEN_PASSES_S = 1.0
#: Moments are looked for from so many places on the clock a second on.
_TICKS_A_SECOND = 4.0
#: Samples worked on at a time: as many as stay in the processor's cache.
CHUNK = 32_768
#: Single precision tells the square of half a chord to much better than this, and to this share of it.
_ROUGH, _ROUGH_SHARE = 1e-5, 1e-3
#: A beam held by azimuth as far off as this is wide.
_WIDE_DEG = 60.0
_HALF_DEG = float(np.radians(0.5))
_ANGLES = ("azimuth_deg", "elevation_deg")
#: In double precision, or single where that will do.
Reals = np.ndarray[Any, np.dtype[np.floating[Any]]]
#: What may be taken as straight between two points.
Straight = Literal["angle", "chord"]


class Ragged(NamedTuple):
    """Rows of unlike length laid flat (E,): of each entry the row, and the number in the columns."""

    row: Indices
    entry: Indices


def ragged(first: Indices, count: Indices) -> Ragged:
    """Rows (R,) of ``count`` entries each, which begin at entry ``first`` of some columns."""
    return Ragged(np.repeat(np.arange(count.size), count), entries(first, count))


def entries(first: Indices, count: Indices) -> Indices:
    """(E,) the numbers in the columns alone."""
    ends = np.cumsum(count)
    numbers = np.repeat(first - (ends - count), count)
    numbers += np.arange(numbers.size)
    return numbers


def chunks_of(sizes: Indices, most: int = CHUNK) -> list[slice]:
    """Rows (R,) of these sizes in runs of about ``most`` in all."""
    number = np.cumsum(sizes) // most
    ends = [*(np.flatnonzero(np.diff(number)) + 1).tolist(), sizes.size]
    return [slice(a, b) for a, b in zip([0, *ends], ends, strict=False) if b > a]


class Curve:
    """Samples (S,) of an angle or a count of seconds over the clock, straight between them."""

    def __init__(self, values: Floats, steps_s: Floats) -> None:
        self.values = values
        rise = np.append(np.diff(values), 0.0)
        self.slope = np.divide(rise, steps_s, out=np.zeros(rise.size), where=steps_s > 0.0)

    def at(self, index: Indices, past_s: Floats) -> Floats:
        """At moments (...): so long past the samples of that index."""
        values = self.slope.take(index)
        values *= past_s
        values += self.values.take(index)
        return np.asarray(values)


@dataclass(frozen=True, eq=False)
class Moments:
    """Moments (...) found on the clock: the sample before each, and how long it is past."""

    index: Indices
    past_s: Floats

    def of(self, curve: Curve, shift: Indices | int = 0) -> Floats:
        """A curve at the moments; ``shift`` says where in its columns a posture's samples begin."""
        return curve.at(self.index + shift, self.past_s)


@dataclass(frozen=True, eq=False)
class Kept:
    """Seconds on the beam along W rows, each a way of a pass; samples lie row after row, (E,).

    Attributes:
        total_s: (W,) from AOS to LOS.
        shift: (W,) what to add to a sample's index to find it in the row.
        so_far_s: (E,) up to each sample.
        inside: (E,) share of the interval after each sample inside the beam.
        begins_inside: (E,) bool, inside at the sample.
    """

    total_s: Floats
    shift: Indices
    so_far_s: Floats
    inside: Floats
    begins_inside: Flags


class FollowedPasses:
    """P passes of S samples in all, ready to be left in one way and taken up again in another.

    Args:
        tracks, steered: the passes, and what the axes do along them.
        mount: for its axes and drive; its seat is not looked at.
        limit_deg: half the beamwidth.
        barring: what the axes must keep out of; None: nothing.

    Attributes:
        first, count: (P,) the first sample of each pass, and how many it has.
        clock_s: (S,) rising; from each pass' AOS in ``begin_s`` (P,) to its LOS in ``end_s`` (P,).
        low_deg, high_deg: (P,) least and greatest azimuth.
        worked_s: over the samples, seconds over the mask up to each.
        azimuth_deg: the satellite's, over the samples.
        turned_deg, axis_deg, wanted_deg: over 2 S samples, upright and then over the top: steered azimuth,
            the elevation axis held inside its range, and where the satellite is on that axis.
        mount: as given, its axes without deadband and least nudge.
    """

    def __init__(
        self,
        tracks: tuple[MountTrack, ...],
        steered: tuple[Steered, ...],
        mount: Mount,
        limit_deg: float,
        barring: Barring | None = None,
    ) -> None:
        freely = {"deadband_deg": 0.0, "least_nudge_deg": 0.0}
        axes = {name: getattr(mount, name).model_copy(update=freely) for name in ("azimuth", "elevation")}
        self.tracks, self.mount, self.limit_deg = tracks, mount.model_copy(update=axes), limit_deg
        self.barring = barring
        self.guards_deg = guarded_travel_deg(mount.azimuth)
        self.count = np.array([track.utc_s.size for track in tracks], dtype=np.intp)
        self.first = np.cumsum(self.count) - self.count
        spans_s = np.array([float(track.utc_s[-1] - track.utc_s[0]) for track in tracks])
        apart_s = spans_s + _BETWEEN_PASSES_S
        self.begin_s = np.cumsum(apart_s) - apart_s
        self.end_s = self.begin_s + spans_s
        begins = zip(tracks, self.begin_s, strict=True)
        self.clock_s = _joined([track.utc_s - track.utc_s[0] + begin for track, begin in begins])
        self.interval_s = _joined([np.append(track.interval_s, 0.0) for track in tracks])
        self.steps_s = np.append(np.diff(self.clock_s), 0.0)
        self.steps_s[self.first + self.count - 1] = 0.0
        self._curves(tracks, steered)

    def _curves(self, tracks: tuple[MountTrack, ...], steered: tuple[Steered, ...]) -> None:
        mount, twice = self.mount, np.tile(self.steps_s, 2)
        azimuth, elevation = (_joined([getattr(t, name) for t in tracks]) for name in _ANGLES)
        told = [[one.in_posture(p) for one in steered] for p in POSTURES]
        turned = _joined([one.azimuth_deg for ones in told for one in ones])
        told_axis = [
            axis_elevation_deg(_joined([one.elevation_deg for one in ones]), posture)
            for ones, posture in zip(told, POSTURES, strict=True)
        ]
        axis = np.clip(_joined(told_axis), mount.elevation.minimum_deg, mount.elevation.maximum_deg)
        wanted = _joined([axis_elevation_deg(elevation, posture) for posture in POSTURES])
        worked = _joined([np.concatenate([[0.0], np.cumsum(track.interval_s)]) for track in tracks])
        self.azimuth_deg, self.worked_s = Curve(azimuth, self.steps_s), Curve(worked, self.steps_s)
        self.turned_deg, self.axis_deg, self.wanted_deg = (Curve(c, twice) for c in (turned, axis, wanted))
        self.low_deg, self.high_deg = np.zeros(len(tracks)), np.zeros(len(tracks))
        if len(tracks):
            self.low_deg = np.minimum.reduceat(azimuth, self.first)
            self.high_deg = np.maximum.reduceat(azimuth, self.first)
        # What the elevations make of the angle off boresight: see `half_square`.
        self._tipped = np.sin((axis - wanted) * _HALF_DEG) ** 2
        self._crossed = 1.0 - self._tipped - np.sin((axis + wanted) * _HALF_DEG) ** 2
        self._roughly = self._tipped.astype(np.float32), self._crossed.astype(np.float32)

    @cached_property
    def _ticks(self) -> Indices:
        """(S,) the first tick of the clock that finds each sample begun."""
        return np.asarray(np.ceil(self.clock_s * _TICKS_A_SECOND).astype(np.intp))

    @cached_property
    def _begun(self) -> Indices:
        """The last sample that each tick of the clock finds begun: where to look for moments after it."""
        ticks = int(self.clock_s[-1] * _TICKS_A_SECOND) + 2
        return np.repeat(np.arange(self.samples), np.diff(self._ticks, append=ticks))

    @cached_property
    def _crowded(self) -> bool:
        """Some tick finds two samples begun since the one before."""
        return bool((np.diff(self._ticks) == 0).any())

    @cached_property
    def _next_s(self) -> Floats:
        """(S,) when the next sample is."""
        return np.append(self.clock_s[1:], np.inf)

    @cached_property
    def lag_deg(self) -> Curve:
        """Over 2 S samples, how far off azimuth may be with the satellite in the beam."""
        spare = float(np.sin(self.limit_deg * _HALF_DEG)) ** 2 - self._tipped
        ratio = np.where(spare >= self._crossed, 1.0, spare / np.maximum(self._crossed, 1e-300))
        lag = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(ratio, 0.0, 1.0))))
        return Curve(lag, np.tile(self.steps_s, 2))

    @cached_property
    def unsteady(self) -> Indices:
        """(2 S + 1,) of how many samples before each the beam is wide, or it or the satellite turns fast.

        Fast is from half the rate of the slower way round.
        """
        fast = np.tile(np.abs(self.azimuth_deg.slope), 2) + np.abs(self.lag_deg.slope)
        fast = fast > min(self.mount.azimuth.rates_deg_s) / 2.0
        return np.concatenate([[0], np.cumsum(fast | (self.lag_deg.values > _WIDE_DEG))])

    @property
    def longest_hold_s(self) -> float:
        """How long the beam holds a satellite that azimuth turns away from, where nothing is unsteady."""
        rate, gain = min(self.mount.azimuth.rates_deg_s), self.mount.azimuth.acceleration_deg_s2
        return 2.0 * _WIDE_DEG / rate + (rate / gain if gain else 0.0)

    @cached_property
    def samples(self) -> int:
        """S."""
        return int(self.clock_s.size)

    def at(self, moments_s: Floats) -> Moments:
        """Moments (...) on the clock, each within its own pass."""
        index = self._begun.take((moments_s * _TICKS_A_SECOND).astype(np.intp))
        index += self._next_s.take(index) <= moments_s
        if self._crowded:
            behind = np.flatnonzero(self._next_s.take(index) <= moments_s)
            index.ravel()[behind] = np.searchsorted(self.clock_s, moments_s.ravel()[behind], side="right") - 1
        return Moments(index, moments_s - self.clock_s.take(index))

    def until_los(self, moments_s: Floats, of_pass: Indices) -> Moments:
        """The same, of moments (R,) of passes (R,) that may be later than LOS, or infinite."""
        return self.at(np.minimum(moments_s, self.end_s[of_pass]))

    def m_deg(self, at: Moments, posture_row: Indices, offset_deg: Floats) -> Floats:
        """Mechanical azimuth of ways at moments, held inside the guards."""
        turned = at.of(self.turned_deg, posture_row * self.samples)
        turned += offset_deg
        return np.clip(turned, *self.guards_deg, out=turned)

    def _along(self, of_pass: Indices, posture_row: Indices, offset_deg: Floats) -> tuple[_Squares, Floats]:
        """Half a chord squared at the samples of ways, and seconds over the mask from each to the next."""
        count = self.count[of_pass]
        sample, offset = entries(self.first[of_pass], count), offset_deg.repeat(count)
        interval_s, azimuth_deg = self.interval_s.take(sample), self.azimuth_deg.values.take(sample)
        if posture_row.any():
            sample += (posture_row * self.samples).repeat(count)
        apart = self.turned_deg.values.take(sample)
        apart += offset
        np.clip(apart, *self.guards_deg, out=apart)
        apart -= azimuth_deg
        apart -= offset
        apart *= _HALF_DEG
        tipped, crossed = (side.take(sample) for side in self._roughly)

        def exactly(which: Indices) -> Floats:
            here = sample[which]
            return np.asarray(self._tipped[here] + self._crossed[here] * np.sin(apart[which]) ** 2)

        return _Squares(tipped + crossed * np.sin(apart.astype(np.float32)) ** 2, exactly), interval_s

    def kept_along(self, of_pass: Indices, posture_row: Indices, offset_deg: Floats) -> Kept:
        """Seconds on the beam along ways: passes, postures and offsets (W,)."""
        count = self.count[of_pass]
        ends = np.cumsum(count)
        begins, entries = ends - count, int(count.sum())
        so_far, inside, begins_inside = np.zeros(entries), np.zeros(entries), np.zeros(entries, dtype=bool)
        for some in chunks_of(count):
            here = slice(int(begins[some.start]), int(ends[some.stop - 1]))
            square, on_s = self._along(of_pass[some], posture_row[some], offset_deg[some])
            inside[here], begins_inside[here] = shares_inside(square, self.limit_deg, "chord")
            on_s *= inside[here]
            gone_s = np.cumsum(on_s)
            gone_s -= on_s
            np.subtract(gone_s, gone_s[begins[some] - here.start].repeat(count[some]), out=so_far[here])
        return Kept(so_far[ends - 1], begins - self.first[of_pass], so_far, inside, begins_inside)

    @cached_property
    def points(self) -> PathPoints:
        """The passes in points, to be asked whether they strike."""
        assert self.barring is not None
        axes = self.turned_deg.values, self.axis_deg.values
        return PathPoints(self.barring, self.first, self.count, self.clock_s, *axes, self.guards_deg)

    def until(self, kept: Kept, row: Indices, at: Moments) -> Floats:
        """(...) seconds on the beam until moments, each along its own row."""
        here, step = at.index + kept.shift.take(row), self.steps_s.take(at.index)
        share = np.divide(at.past_s, step, out=np.zeros(step.shape), where=step > 0.0)
        inside = kept.inside.take(here)
        late = np.maximum(share - (1.0 - inside), 0.0)
        gone = np.where(kept.begins_inside.take(here), np.minimum(share, inside), late)
        return np.asarray(kept.so_far_s.take(here) + gone * self.interval_s.take(at.index))

    def seconds_off(self, of_pass: Indices, posture_row: Indices, offset_deg: Floats) -> Floats:
        """(W,) seconds over the mask off the beam along ways, the angle taken as straight between samples."""
        lost = np.zeros(of_pass.size)
        for some in chunks_of(self.count[of_pass]):
            count = self.count[of_pass[some]]
            square, seconds = self._along(of_pass[some], posture_row[some], offset_deg[some])
            inside, _begins = shares_inside(square, self.limit_deg, "angle")
            off_s = (1.0 - inside) * seconds
            lost[some] = np.add.reduceat(off_s, np.cumsum(count) - count)
        return lost


def _joined(parts: list[Floats]) -> Floats:
    return np.concatenate([np.zeros(0), *parts])


class _Squares(NamedTuple):
    """Half a chord squared at points (E,): in single precision, and exactly at any of them."""

    roughly: Reals
    exactly: Callable[[Indices], Reals]


def half_square(apart_deg: Floats, axis_deg: Floats, wanted_deg: Floats) -> _Squares:
    """Half the chord between two pointings, squared, as `aim.half_chord`; of points (E,).

    cos a cos b is 1 - sin^2((a - b) / 2) - sin^2((a + b) / 2): a cosine less.
    """

    def of(axis: Reals, wanted: Reals, apart: Reals) -> Reals:
        tipped, across = np.sin((axis - wanted) * _HALF_DEG) ** 2, np.sin((axis + wanted) * _HALF_DEG) ** 2
        return np.asarray(tipped + (1.0 - tipped - across) * np.sin(apart * _HALF_DEG) ** 2)

    angles = axis_deg, wanted_deg, apart_deg
    roughly = of(*(angle.astype(np.float32) for angle in angles))
    return _Squares(roughly, lambda which: of(*(angle[which] for angle in angles)))


def shares_inside(square: _Squares, limit_deg: float, straight: Straight) -> tuple[Floats, Flags]:
    """(E,) share of the stretch from each point to the next inside the beam; (E,) bool, the point is inside.

    Args:
        square: of each point. The last of a row is followed by another row's first: its share means nothing.
        limit_deg: half the beamwidth.
        straight: what is taken as straight from point to point, the angle off boresight or half its chord.
    """
    limit = float(np.sin(limit_deg * _HALF_DEG))
    margin = _ROUGH + _ROUGH_SHARE * limit**2
    inside, near = square.roughly < limit**2 - margin, square.roughly < limit**2 + margin
    whole = inside[:-1] & inside[1:]
    open_ = np.flatnonzero((near[:-1] | near[1:]) & ~whole)
    share = np.append(whole, False).astype(np.float64)
    off = np.sqrt(np.clip(square.exactly(np.stack([open_, open_ + 1], axis=1)), 0.0, 1.0))
    if straight == "angle":
        off, limit = np.degrees(2.0 * np.arcsin(off)), limit_deg
    share[open_] = on_fraction(off, limit)[:, 0]
    inside[open_] = off[:, 0] <= limit + 1e-9
    return share, inside
