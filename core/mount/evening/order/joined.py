"""Passes followed, one after the other in flat columns: what of the options does not depend on the seat."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg
from core.mount.model.station import POSTURES, ElevationAxis, Posture


@dataclass(frozen=True, eq=False)
class JoinedTracks:
    """Passes followed, one after the other in flat columns of length N: all that the seat is not in.

    Attributes:
        offsets: (P + 1,) where the samples of each pass begin, and where the last ends.
        utc_s, azimuth_deg: (N,) moments, and the satellite's azimuth then.
        interval_s: (N,) seconds over the mask until the next sample; 0 at the last of each pass.
        least_deg, most_deg: (P,) of azimuth.
        lag_deg: (P,) so far off in azimuth the satellite may still be on the beam.
        held: where the axes are, by posture.
    """

    offsets: Indices
    utc_s: Floats
    azimuth_deg: Floats
    interval_s: Floats
    least_deg: Floats
    most_deg: Floats
    lag_deg: Floats
    held: dict[Posture, HeldTracks]


@dataclass(frozen=True, eq=False)
class HeldTracks:
    """All of a posture that is the same in every turn, (N,) each.

    Attributes:
        azimuth_deg, e_deg: what the axes do, elevation held inside its range.
        least_deg, most_deg: (P,) of that azimuth.
        lag_deg: by how much that azimuth is further on than the satellite.
        height, flat: sin^2 of half of what elevation is off, and the product of both elevations' cosines.
        on_s: seconds on the beam over the mask until the next sample, where azimuth meets no stop.
    """

    azimuth_deg: Floats
    e_deg: Floats
    least_deg: Floats
    most_deg: Floats
    lag_deg: Floats
    height: Floats
    flat: Floats
    on_s: Floats


def joined_tracks(
    tracks: tuple[MountTrack, ...],
    steered: tuple[Steered, ...],
    elevation: ElevationAxis,
    beam_limit_deg: float,
) -> JoinedTracks:
    """The tracks in columns; ``steered`` is `steer_all` of them."""
    sizes = [track.utc_s.size for track in tracks]
    offsets = np.concatenate([[0], np.cumsum(sizes, dtype=np.intp)])
    azimuth_deg = _flat(track.azimuth_deg for track in tracks)
    elevation_deg = _flat(track.elevation_deg for track in tracks)
    highest_deg = _by_pass(np.maximum, elevation_deg, offsets)
    found = JoinedTracks(
        offsets=offsets,
        utc_s=_flat(track.utc_s for track in tracks),
        azimuth_deg=azimuth_deg,
        interval_s=_flat(np.append(track.interval_s, 0.0) for track in tracks),
        least_deg=_by_pass(np.minimum, azimuth_deg, offsets),
        most_deg=_by_pass(np.maximum, azimuth_deg, offsets),
        lag_deg=_widest_lag_deg(highest_deg, beam_limit_deg),
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
    return HeldTracks(
        azimuth_deg=azimuth_deg,
        e_deg=e_deg,
        least_deg=_by_pass(np.minimum, azimuth_deg, tracks.offsets),
        most_deg=_by_pass(np.maximum, azimuth_deg, tracks.offsets),
        lag_deg=lag_deg,
        height=height,
        flat=flat,
        on_s=on_seconds(height, flat, lag_deg, tracks.interval_s, beam_limit_deg),
    )


def on_seconds(
    height: Floats, flat: Floats, apart_deg: Floats, interval_s: Floats, limit_deg: float
) -> Floats:
    """(N,) seconds on the beam until the next sample, as `on_fraction`; angles are told at its edge alone.

    Args:
        height, flat: (N,) as in `HeldTracks`.
        apart_deg: (N,) of azimuth.
        interval_s: (N,) seconds over the mask until the next sample.
        limit_deg: half the beamwidth.
    """
    chord, away = height.copy(), np.flatnonzero(apart_deg)
    chord[away] += flat[away] * np.sin(np.radians(apart_deg[away]) / 2.0) ** 2
    outside = chord > np.sin(np.radians(limit_deg) / 2.0) ** 2
    edge = np.flatnonzero(outside[1:] != outside[:-1])
    share = np.where(outside[1:], 0.0, 1.0)
    off = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(chord[np.concatenate([edge, edge + 1])], 0.0, 1.0))))
    inner, outer = np.sort(off.reshape(2, -1), axis=0)
    share[edge] = np.clip((limit_deg - inner) / np.maximum(outer - inner, 1e-12), 0.0, 1.0)
    return np.append(share, 0.0) * interval_s


def _widest_lag_deg(highest_deg: Floats, limit_deg: float) -> Floats:
    """So far off in azimuth the satellite may still be on the beam, at the elevations of a pass; up to 180.

    The sine rule on the sky; the axis may be as much higher than the satellite as the beam is wide.
    """
    flat = np.cos(np.radians(np.minimum(highest_deg + limit_deg, 90.0)))
    ratio = np.sin(np.radians(limit_deg) / 2.0) / np.maximum(flat, 1e-9)
    return np.asarray(np.degrees(2.0 * np.arcsin(np.minimum(ratio, 1.0))))
