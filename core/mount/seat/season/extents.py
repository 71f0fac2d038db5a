"""What passes need of both axes, all at once and without tracks: the least and the greatest of each angle.

Azimuth turns where the component of r x v along the mount's axis is zero, elevation where its sine's rate is.
Both are smooth along a path, at the axis too, so their zeros are told from looks at it, forty times a
revolution or more. Between those moments both angles run one way, and their extremes lie at the moments
themselves: they are good to some thousandths of a degree.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.base.angles import Floats, Indices, wrap_180
from core.mount.model.chain import tilt_matrix, to_mount_frame
from core.mount.model.station import Tilt
from core.passes.looks import Looks
from core.passes.paths import Paths
from core.passes.track import PassTable

#: Looks at a piece of path, both ends included.
_LOOKS = 9
#: Azimuth's steps are halved until none is larger, or until they are as short as this.
_LARGEST_STEP_DEG = 45.0
_FINEST_S = 1e-4
_NO_TILT = Tilt()


@dataclass(frozen=True, eq=False)
class Extents:
    """The least and the greatest angles of passes from AOS to LOS in the mount frame, (M,) each, degrees.

    Attributes:
        azimuth_low_deg, azimuth_high_deg: unwrapped, from any turn.
        elevation_low_deg, elevation_high_deg: over the mount's own horizontal.
    """

    azimuth_low_deg: Floats
    azimuth_high_deg: Floats
    elevation_low_deg: Floats
    elevation_high_deg: Floats


class Moments(NamedTuple):
    """Moments (N,) of passes, by pass and time; azimuth wrapped."""

    row: Indices
    piece: Indices
    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats


def extents_of(passes: PassTable, tilt: Tilt) -> Extents:
    """The extents of every pass of a table, in its order; it has to have one at least."""
    paths = leaned(passes.table.paths.of_owners(passes.stay, len(passes.table.satellites)), tilt)
    moments = with_small_steps(paths, _moments(paths, passes.aos[:, 0], passes.los[:, 0]))
    first = np.searchsorted(moments.row, np.arange(len(passes)))
    steps = np.diff(moments.azimuth_deg, prepend=0.0)
    steps[1:] = wrap_180(steps[1:])
    steps[first] = 0.0
    turned = np.cumsum(steps)
    # Each pass begins anew at its own azimuth; what was summed before it is taken away.
    unwrapped = turned + np.repeat(
        moments.azimuth_deg[first] - turned[first], np.diff(first, append=moments.row.size)
    )
    return Extents(
        np.minimum.reduceat(unwrapped, first),
        np.maximum.reduceat(unwrapped, first),
        np.minimum.reduceat(moments.elevation_deg, first),
        np.maximum.reduceat(moments.elevation_deg, first),
    )


def leaned(paths: Paths, tilt: Tilt) -> Paths:
    """The paths along the mount's own axes."""
    if not tilt.angle_deg:
        return paths
    turned = np.einsum("pkd,kj->pjd", paths.coefficients, tilt_matrix(tilt))
    return Paths(paths.owner, paths.middle_utc_s, paths.half_s, np.ascontiguousarray(turned))


def _moments(paths: Paths, aos_utc_s: Floats, los_utc_s: Floats) -> Moments:
    """Ends of the passes, looks between them, and where an angle turns."""
    looks = Looks.along(paths, _LOOKS)
    position, velocity, acceleration = looks.position_km, looks.velocity_km_s, looks.acceleration_km_s2
    (east, north, up), (east_rate, north_rate, up_rate), (east_bend, north_bend, up_bend) = (
        np.moveaxis(column, -1, 0) for column in (position, velocity, acceleration)
    )
    turning, turning_rate = north * east_rate - east * north_rate, north * east_bend - east * north_bend
    away = east * east + north * north + up * up
    along = np.einsum("...i,...i->...", position, velocity)
    along_rate = np.einsum("...i,...i->...", velocity, velocity)
    along_rate += np.einsum("...i,...i->...", position, acceleration)
    climb = up_rate * away - up * along
    climb_rate = up_bend * away + up_rate * along - up * along_rate
    value, slope = np.stack([turning, climb]), np.stack([turning_rate, climb_rate])
    turns = looks.roots((value[..., :-1] > 0.0) != (value[..., 1:] > 0.0), value, slope)
    every = np.arange(aos_utc_s.size)
    grid = np.repeat(np.arange(paths.owner.size), _LOOKS - 1), looks.utc_s[:, :-1].ravel()
    piece, utc_s = (np.concatenate(column) for column in zip(grid, turns, strict=True))
    row = paths.owner[piece]
    inside = (utc_s > aos_utc_s[row]) & (utc_s < los_utc_s[row])
    row = np.concatenate([every, row[inside], every])
    utc_s = np.concatenate([aos_utc_s, utc_s[inside], los_utc_s])
    ends = (paths.piece_at(every, moments) for moments in (aos_utc_s, los_utc_s))
    first, last = ends
    piece = np.concatenate([first, piece[inside], last])
    order = np.lexsort((utc_s, row))
    row, piece, utc_s = row[order], piece[order], utc_s[order]
    return Moments(row, piece, utc_s, *angles_along(paths, piece, utc_s))


def angles_along(paths: Paths, piece: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
    """(N,) azimuth and elevation at moments of pieces of paths."""
    return to_mount_frame(paths.position(piece, utc_s), _NO_TILT)


def with_small_steps(paths: Paths, moments: Moments, largest_deg: float = _LARGEST_STEP_DEG) -> Moments:
    """With more moments between until azimuth makes no large step, as it does close to the axis."""
    while True:
        row, _, utc_s, azimuth, _ = moments
        large = (np.abs(wrap_180(np.diff(azimuth))) > largest_deg) & (row[1:] == row[:-1])
        left = np.flatnonzero(large & (np.diff(utc_s) > _FINEST_S))
        if not left.size:
            return moments
        middle = (utc_s[left] + utc_s[left + 1]) / 2.0
        own = paths.piece_at(row[left], middle)
        more = row[left], own, middle, *angles_along(paths, own, middle)
        moments = Moments(*(np.insert(old, left + 1, new) for old, new in zip(moments, more, strict=True)))
