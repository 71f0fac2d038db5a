"""What the dials must read for the boom to point at something on the ground or in the sky."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.base.units import INSIDE_DEG
from core.mount.dial.readings import DialReading, azimuth_dial, elevation_dial, turns_within
from core.mount.model.chain import guarded_travel_deg, to_mount_frame, zeta_deg
from core.mount.model.station import UPRIGHT, Axis, Mount


@dataclass(frozen=True)
class BoomDials:
    """Both dials with the boom, upright, on something. ``m_deg`` is where the azimuth axis stands."""

    m_deg: float
    azimuth: DialReading
    elevation: DialReading


def boom_dials(mount: Mount, bearing_deg: Floats, elevation_deg: Floats) -> tuple[BoomDials | None, ...]:
    """The dials for directions (N,), upright; None where guards or elevation range keep the boom away.

    Where two places of the travel point there, the one nearer to mid travel.

    Args:
        mount: seated and tilted as it is known to be.
        bearing_deg, elevation_deg: true bearing and elevation of what is sighted.
    """
    az, el = np.radians(bearing_deg), np.radians(elevation_deg)
    sight = np.stack([np.sin(az) * np.cos(el), np.cos(az) * np.cos(el), np.sin(el)], axis=-1)
    azimuth, elevation = to_mount_frame(sight, mount.tilt)
    return tuple(_dials(mount, *pair) for pair in zip(azimuth.tolist(), elevation.tolist(), strict=True))


def _dials(mount: Mount, azimuth_deg: float, elevation_deg: float) -> BoomDials | None:
    first, last = guarded_travel_deg(mount.azimuth)
    axis = mount.elevation
    if not axis.minimum_deg - INSIDE_DEG <= elevation_deg <= axis.maximum_deg + INSIDE_DEG:
        return None
    turns = turns_within(azimuth_deg - zeta_deg(mount, UPRIGHT), mount.azimuth.travel_deg)
    places = [m for m in turns if first - INSIDE_DEG <= m <= last + INSIDE_DEG]
    if not places:
        return None
    m_deg = min(places, key=lambda m: abs(m - mount.azimuth.travel_deg / 2.0))
    return BoomDials(m_deg, azimuth_dial(m_deg, mount.azimuth), elevation_dial(elevation_deg, axis))


def readout_sigma_deg(axis: Axis, backlash_deg: float = 0.0) -> float:
    """One standard deviation of where an axis stands when its dial is read to half a division.

    A step s that is rounded to is s / sqrt(12). A gear stands at one flank of its play or at the other: half
    the play off the middle, as the sightings' fit and the pointing budget have it.
    """
    return math.hypot(axis.dial_division_deg / 2.0 / math.sqrt(12.0), backlash_deg / 2.0)
