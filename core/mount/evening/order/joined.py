"""Passes followed, one after the other in flat columns: what of the options does not depend on the seat."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.grid import Clock, GridLines, Stretches, grid_of
from core.mount.evening.order.rules import GRID_S
from core.mount.model.chain import axis_elevation_deg
from core.mount.model.station import OVER_THE_TOP, POSTURES, ElevationAxis, Posture

#: Angles that differ by less are one.
_ROUNDED_DEG = 1e-6


@dataclass(frozen=True, eq=False)
class JoinedTracks:
    """Passes followed, one after the other in flat columns of length N: all that the seat is not in.

    Attributes:
        clock: the moments of all samples.
        azimuth_deg: (N,) the satellite's azimuth then.
        interval_s: (N,) seconds over the mask until the next sample; 0 at the last of each pass.
        least_deg, most_deg: (P,) of azimuth.
        lag_deg: (P,) so far off in azimuth the satellite may still be on the beam.
        step_s: of the evening's grid.
        held: where the axes are, by posture.
        spread: from where they are seen.
    """

    clock: Clock
    azimuth_deg: Floats
    interval_s: Floats
    least_deg: Floats
    most_deg: Floats
    lag_deg: Floats
    step_s: float
    held: dict[Posture, HeldTracks]
    spread: Spread

    def within(self, passes: Indices, low_deg: Floats, high_deg: Floats) -> Stretches:
        """(L,) of some passes what may be on the beam of an axis that goes from one azimuth to the other.

        From the sample before the first to the one after the last, half open.
        """
        lag = self.lag_deg[passes] + _ROUNDED_DEG
        first, last = self.spread.between(passes, low_deg, high_deg)
        begins, ends = self.clock.samples_of(passes)
        # A whole turn further on the axis points there again.
        around = self.least_deg[passes] < low_deg + lag - 360.0
        around |= self.most_deg[passes] > high_deg - lag + 360.0
        first = np.where(around, begins, np.clip(first - 1, begins, ends - 1))
        return Stretches(first, np.where(around, ends, np.clip(last + 2, first + 1, ends)))


@dataclass(frozen=True, eq=False)
class Spread:
    """Which azimuths of the axis see passes, so far from the first sample on and from the last one back.

    Attributes:
        count: P.
        apart_deg: more than all azimuths are apart; so much is added for each pass before.
        most, least: (N,) the greatest azimuth up to each sample, and minus the least.
        most_back, least_back: (N,) the same with all samples, and passes, from the last to the first.
    """

    count: int
    apart_deg: float
    most: Floats
    least: Floats
    most_back: Floats
    least_back: Floats

    @classmethod
    def of(cls, offsets: Indices, low_deg: Floats, high_deg: Floats) -> Spread:
        """Of some passes, each sample being seen from one azimuth to another (N,)."""
        apart_deg = float(high_deg.max(initial=0.0) - low_deg.min(initial=0.0)) + 1.0
        before_deg = apart_deg * np.repeat(np.arange(offsets.size - 1), np.diff(offsets))
        back_deg = before_deg.max(initial=0.0) - before_deg[::-1]
        return cls(
            offsets.size - 1,
            apart_deg,
            *(np.maximum.accumulate(one + before_deg) for one in (high_deg, -low_deg)),
            *(np.maximum.accumulate(one[::-1] + back_deg) for one in (high_deg, -low_deg)),
        )

    def between(self, passes: Indices, low_deg: Floats, high_deg: Floats) -> tuple[Indices, Indices]:
        """(L,) samples of some passes before the first and after the last of which none is seen from between.

        They may lie outside the pass where none is.
        """
        before_deg = self.apart_deg * passes
        back_deg = self.apart_deg * (self.count - 1 - passes)
        first = np.maximum(
            np.searchsorted(self.most, low_deg + before_deg),
            np.searchsorted(self.least, before_deg - high_deg),
        )
        last = np.maximum(
            np.searchsorted(self.most_back, low_deg + back_deg),
            np.searchsorted(self.least_back, back_deg - high_deg),
        )
        return first, self.most.size - 1 - last


@dataclass(frozen=True, eq=False)
class HeldTracks:
    """All of a posture that is the same in every turn, (N,) each.

    Attributes:
        azimuth_deg, e_deg: what the axes do, elevation held inside its range.
        least_deg, most_deg: (P,) of that azimuth.
        lag_deg: by how much that azimuth is further on than the satellite.
        height, flat: sin^2 of half of what elevation is off, and the product of both elevations' cosines.
        reach_deg: so far off in azimuth the satellite is still on the beam; less than 0: it never is.
        outside: off the beam, where azimuth meets no stop.
        on_s: seconds on the beam over the mask until the next sample, where it meets none.
        lines: the passes on the evening's grid, where it meets none.
    """

    azimuth_deg: Floats
    e_deg: Floats
    least_deg: Floats
    most_deg: Floats
    lag_deg: Floats
    height: Floats
    flat: Floats
    reach_deg: Floats
    outside: Flags
    on_s: Floats
    lines: GridLines


def joined_tracks(
    tracks: tuple[MountTrack, ...],
    steered: tuple[Steered, ...],
    elevation: ElevationAxis,
    beam_limit_deg: float,
    step_s: float = GRID_S,
) -> JoinedTracks:
    """The tracks in columns, for a grid of that step; ``steered`` is `steer_all` of them."""
    sizes = [track.utc_s.size for track in tracks]
    offsets = np.concatenate([[0], np.cumsum(sizes, dtype=np.intp)])
    azimuth_deg = _flat(track.azimuth_deg for track in tracks)
    elevation_deg = _flat(track.elevation_deg for track in tracks)
    highest_deg = _by_pass(np.maximum, elevation_deg, offsets)
    own_lag_deg = _widest_lag_deg(elevation_deg, beam_limit_deg) + _ROUNDED_DEG
    found = JoinedTracks(
        clock=Clock.of(offsets, _flat(track.utc_s for track in tracks)),
        azimuth_deg=azimuth_deg,
        interval_s=_flat(np.append(track.interval_s, 0.0) for track in tracks),
        least_deg=_by_pass(np.minimum, azimuth_deg, offsets),
        most_deg=_by_pass(np.maximum, azimuth_deg, offsets),
        lag_deg=_widest_lag_deg(highest_deg, beam_limit_deg),
        step_s=step_s,
        held={},
        spread=Spread.of(offsets, azimuth_deg - own_lag_deg, azimuth_deg + own_lag_deg),
    )
    for posture in POSTURES:
        found.held[posture] = _held(found, steered, posture, elevation, elevation_deg, beam_limit_deg)
    return found


def _flat(columns: Iterable[Floats]) -> Floats:
    return np.concatenate([np.zeros(0), *columns])


def _by_pass(reduce: np.ufunc, values: Floats, offsets: Indices) -> Floats:
    return np.asarray(reduce.reduceat(values, offsets[:-1])) if offsets.size > 1 else np.zeros(0)


def _held(
    tracks: JoinedTracks,
    steered: tuple[Steered, ...],
    posture: Posture,
    elevation: ElevationAxis,
    elevation_deg: Floats,
    beam_limit_deg: float,
) -> HeldTracks:
    here = [one.in_posture(posture) for one in steered]
    told = axis_elevation_deg(_flat(one.elevation_deg for one in here), posture)
    e_deg = np.clip(told, elevation.minimum_deg, elevation.maximum_deg)
    a, b = np.radians(e_deg), np.radians(axis_elevation_deg(elevation_deg, posture))
    azimuth_deg = _flat(one.azimuth_deg for one in here)
    height, flat, lag_deg = (
        np.sin((a - b) / 2.0) ** 2,
        np.cos(a) * np.cos(b),
        azimuth_deg - tracks.azimuth_deg,
    )
    reach_deg = reach_deg_of(height, flat, beam_limit_deg)
    outside = is_outside(reach_deg, lag_deg)
    on_s = np.zeros(outside.size)
    on_s[:-1] = ~outside[1:]
    edge = np.flatnonzero(outside[1:] != outside[:-1])
    left, right = (chord_of(height[n], flat[n], lag_deg[n]) for n in (edge, edge + 1))
    on_s[edge] = share_at_edge(left, right, beam_limit_deg)
    on_s *= tracks.interval_s
    clock = tracks.clock
    every = np.arange(clock.offsets.size - 1)
    grid = grid_of(clock, every, clock.samples_of(every), on_s, tracks.step_s)
    over = np.full(grid.utc_s.size, posture == OVER_THE_TOP)
    return HeldTracks(
        azimuth_deg=azimuth_deg,
        e_deg=e_deg,
        least_deg=_by_pass(np.minimum, azimuth_deg, tracks.clock.offsets),
        most_deg=_by_pass(np.maximum, azimuth_deg, tracks.clock.offsets),
        lag_deg=lag_deg,
        height=height,
        flat=flat,
        reach_deg=reach_deg,
        outside=outside,
        on_s=on_s,
        lines=GridLines.of(grid, grid.of(azimuth_deg), grid.of(e_deg), over),
    )


def chord_of(height: Floats, flat: Floats, apart_deg: Floats) -> Floats:
    """(N,) sin^2 of half the angle off the satellite, from columns of `HeldTracks`.

    Args:
        height, flat: (N,) of `HeldTracks`.
        apart_deg: (N,) off in azimuth.
    """
    return np.asarray(height + flat * np.sin(np.radians(apart_deg) / 2.0) ** 2)


def reach_deg_of(height: Floats, flat: Floats, limit_deg: float) -> Floats:
    """(N,) ``reach_deg`` of `HeldTracks`; axis and satellite are on one side of straight up."""
    room = np.sin(np.radians(limit_deg) / 2.0) ** 2 - height
    ratio = np.sqrt(np.clip(room / np.maximum(flat, 1e-12), 0.0, 1.0))
    return np.where(room < 0.0, -1.0, np.degrees(2.0 * np.arcsin(ratio)))


def is_outside(reach_deg: Floats, apart_deg: Floats) -> Flags:
    """(N,) satellites so far off in azimuth, whole turns aside, are further than their reach."""
    apart_deg = np.abs(apart_deg)
    apart_deg -= 360.0 * np.rint(apart_deg / 360.0)
    return np.asarray(np.abs(apart_deg) > reach_deg)


def share_at_edge(left: Floats, right: Floats, limit_deg: float) -> Floats:
    """(N,) share on the beam, as `on_fraction`, of intervals in which it is left or met.

    Args:
        left, right: (N,) `chord_of` both ends of each interval.
        limit_deg: half the beamwidth.
    """
    off = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(np.stack([left, right]), 0.0, 1.0))))
    inner, outer = np.sort(off, axis=0)
    return np.asarray(np.clip((limit_deg - inner) / np.maximum(outer - inner, 1e-12), 0.0, 1.0))


def _widest_lag_deg(highest_deg: Floats, limit_deg: float) -> Floats:
    """So far off in azimuth a satellite no higher than that may still be on the beam; up to 180.

    The sine rule on the sky; the axis may be as much higher than the satellite as the beam is wide.
    """
    flat = np.cos(np.radians(np.minimum(highest_deg + limit_deg, 90.0)))
    ratio = np.sin(np.radians(limit_deg) / 2.0) / np.maximum(flat, 1e-9)
    return np.asarray(np.degrees(2.0 * np.arcsin(np.minimum(ratio, 1.0))))
