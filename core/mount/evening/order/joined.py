"""Passes followed, one after the other in flat columns: what of the options does not depend on the seat."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.grid import Clock, GridLines, grid_of
from core.mount.evening.order.rules import GRID_S
from core.mount.model.chain import axis_elevation_deg
from core.mount.model.station import OVER_THE_TOP, POSTURES, ElevationAxis, Posture


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
    """

    clock: Clock
    azimuth_deg: Floats
    interval_s: Floats
    least_deg: Floats
    most_deg: Floats
    lag_deg: Floats
    step_s: float
    held: dict[Posture, HeldTracks]


@dataclass(frozen=True, eq=False)
class HeldTracks:
    """All of a posture that is the same in every turn, (N,) each.

    Attributes:
        azimuth_deg, e_deg: what the axes do, elevation held inside its range.
        least_deg, most_deg: (P,) of that azimuth.
        lag_deg: by how much that azimuth is further on than the satellite.
        height, flat: sin^2 of half of what elevation is off, and the product of both elevations' cosines.
        chord: sin^2 of half the angle off the satellite, where azimuth meets no stop.
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
    chord: Floats
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
    found = JoinedTracks(
        clock=Clock.of(offsets, _flat(track.utc_s for track in tracks)),
        azimuth_deg=azimuth_deg,
        interval_s=_flat(np.append(track.interval_s, 0.0) for track in tracks),
        least_deg=_by_pass(np.minimum, azimuth_deg, offsets),
        most_deg=_by_pass(np.maximum, azimuth_deg, offsets),
        lag_deg=_widest_lag_deg(highest_deg, beam_limit_deg),
        step_s=step_s,
        held={},
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
    chord = chord_of(height, flat, lag_deg)
    on_s = np.append(share_on(chord[:-1], chord[1:], beam_limit_deg), 0.0) * tracks.interval_s
    clock = tracks.clock
    grid = grid_of(clock, np.arange(clock.offsets.size - 1), on_s, tracks.step_s)
    over = np.full(grid.utc_s.size, posture == OVER_THE_TOP)
    return HeldTracks(
        azimuth_deg=azimuth_deg,
        e_deg=e_deg,
        least_deg=_by_pass(np.minimum, azimuth_deg, tracks.clock.offsets),
        most_deg=_by_pass(np.maximum, azimuth_deg, tracks.clock.offsets),
        lag_deg=lag_deg,
        height=height,
        flat=flat,
        chord=chord,
        on_s=on_s,
        lines=GridLines.of(grid, grid.of(azimuth_deg), grid.of(e_deg), over),
    )


def chord_of(height: Floats, flat: Floats, apart_deg: Floats) -> Floats:
    """(N,) ``chord`` of `HeldTracks` from ``height`` and ``flat``; ``apart_deg`` is off in azimuth."""
    chord, away = height.copy(), np.flatnonzero(apart_deg)
    chord[away] += flat[away] * np.sin(np.radians(apart_deg[away]) / 2.0) ** 2
    return chord


def share_on(left: Floats, right: Floats, limit_deg: float) -> Floats:
    """(N,) share of each interval on the beam, as `on_fraction`; angles are told at its edge alone.

    Args:
        left, right: (N,) `chord_of` both ends of each interval.
        limit_deg: half the beamwidth.
    """
    edge_chord = np.sin(np.radians(limit_deg) / 2.0) ** 2
    outside = right > edge_chord
    edge = np.flatnonzero(outside != (left > edge_chord))
    share = np.where(outside, 0.0, 1.0)
    off = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(np.stack([left[edge], right[edge]]), 0.0, 1.0))))
    inner, outer = np.sort(off, axis=0)
    share[edge] = np.clip((limit_deg - inner) / np.maximum(outer - inner, 1e-12), 0.0, 1.0)
    return share


def _widest_lag_deg(highest_deg: Floats, limit_deg: float) -> Floats:
    """So far off in azimuth the satellite may still be on the beam, at the elevations of a pass; up to 180.

    The sine rule on the sky; the axis may be as much higher than the satellite as the beam is wide.
    """
    flat = np.cos(np.radians(np.minimum(highest_deg + limit_deg, 90.0)))
    ratio = np.sin(np.radians(limit_deg) / 2.0) / np.maximum(flat, 1e-9)
    return np.asarray(np.degrees(2.0 * np.arcsin(np.minimum(ratio, 1.0))))
