"""Where the station stands: the site and its horizon mask."""

from collections.abc import Sequence

import numpy as np
from pydantic import Field

from core.base.angles import Floats, wrap_360
from core.base.model import Many, Model, Real
from core.base.ragged import distinct
from core.base.text import Name

#: A mask of every degree with room to spare; more points are a mistake, and cost the evening's time.
MOST_POINTS = 2000


class HorizonPoint(Model):
    """One point of the horizon mask, joined to its neighbours by straight lines in azimuth."""

    azimuth_deg: Real = Field(ge=0.0, le=360.0)
    elevation_deg: Real = Field(ge=-10.0, le=90.0)


class Site(Model):
    """The station's place: latitude north and longitude east positive, height over the WGS-84 ellipsoid."""

    name: Name = ""
    latitude_deg: Real = Field(ge=-90.0, le=90.0)
    longitude_deg: Real = Field(ge=-180.0, le=180.0)
    height_m: Real = Field(default=0.0, ge=-500.0, le=9000.0)
    time_zone: str | None = None
    minimum_elevation_deg: Real = Field(default=5.0, ge=-10.0, lt=90.0)
    horizon: Many[HorizonPoint] = Field(default=(), max_length=MOST_POINTS)


def mask_elevation_deg(horizon: Sequence[HorizonPoint], azimuth_deg: Floats) -> Floats:
    """The mask's elevation over each bearing: straight lines between the points, round the circle.

    Args:
        horizon: points in any order; 0 and 360 are the same bearing. Points that share a bearing are a
            vertical step: counter-clockwise of it the first one given holds, clockwise of it the last one,
            and on the bearing itself the highest. Of points at 0 and 360 those written as 360 come first.
        azimuth_deg: true bearings (N,), or any other shape; not necessarily wrapped.

    Returns:
        Degrees above the horizontal, in the shape of ``azimuth_deg``; one point is a mask of one height, and
        without points it is -90, which hides nothing.
    """
    bearing_deg = np.asarray(azimuth_deg, dtype=float)
    if not horizon:
        return np.full(np.shape(bearing_deg), -90.0)
    if bearing_deg.size and not (bearing_deg.min() >= 0.0 and bearing_deg.max() < 360.0):
        bearing_deg = wrap_360(bearing_deg)
    azimuths, elevations = mask_corners(horizon)
    ring_az = np.concatenate([[azimuths[-1] - 360.0], azimuths, [azimuths[0] + 360.0]])
    ring_el = np.concatenate([elevations[-1:], elevations, elevations[:1]])
    # The last of equal bearings starts an interval, so no interval used here has the width zero.
    left = np.clip(np.searchsorted(ring_az, bearing_deg, side="right") - 1, 0, len(ring_az) - 2)
    share = (bearing_deg - ring_az[left]) / (ring_az[left + 1] - ring_az[left])
    mask = np.asarray(ring_el[left] + share * (ring_el[left + 1] - ring_el[left]))
    steps, counts = np.unique(azimuths, return_counts=True)
    for step in steps[counts > 1]:
        mask[bearing_deg == step] = elevations[azimuths == step].max()
    return mask


def mask_floor_deg(horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> float:
    """The search floor: the lowest that mask and minimum elevation leave open, and never above 0 deg.

    A satellite below it is hidden in every direction, so a search over it misses nothing.
    """
    lowest = min((point.elevation_deg for point in horizon), default=-90.0)
    return min(max(lowest, minimum_elevation_deg), 0.0)


def mask_vertices_deg(horizon: Sequence[HorizonPoint]) -> Floats:
    """The bearings (K,) in [0, 360), rising and each once, at which the mask has a corner or a step."""
    return distinct(np.array([point.azimuth_deg % 360.0 for point in horizon], dtype=float))


def mask_corners(horizon: Sequence[HorizonPoint]) -> tuple[Floats, Floats]:
    """Bearings (K,) in [0, 360), rising, and elevations (K,); equal bearings as given, 360 ahead of 0."""
    ordered = sorted(horizon, key=lambda point: (point.azimuth_deg % 360.0, point.azimuth_deg < 360.0))
    azimuths = np.array([point.azimuth_deg % 360.0 for point in ordered])
    return azimuths, np.array([point.elevation_deg for point in ordered])
