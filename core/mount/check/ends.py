"""The four ends of the axes' travel: how far past them a pass wants to go, and how it rests there.

An axis that is wanted past its end is held at it. Whether the satellite is then still in the beam is a matter
of the sky, not of the axis: near the zenith an azimuth guard that is passed by 40 deg may cost 2 deg.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats
from core.base.units import INSIDE_DEG
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, guarded_travel_deg, pointing_loss_db
from core.mount.model.results import Rest
from core.mount.model.station import Mount, Posture, Station

#: The ends by name: those of azimuth, where the cable must turn back, and those of elevation.
STOPS = ("counter-clockwise stop", "clockwise stop")
LIMITS = ("elevation minimum", "elevation maximum")


def overruns_deg(track: MountTrack, posture: Posture, offset_deg: float, mount: Mount) -> dict[str, Floats]:
    """Per end of `STOPS` and `LIMITS` (N,) how far past it the satellite's angle is, negative before it.

    Args:
        track: the pass.
        posture, offset_deg: the way; the offset is what to add to azimuth to get m.
        mount: for travel, guard and elevation range.
    """
    guard, top = guarded_travel_deg(mount.azimuth)
    m_deg = track.azimuth_deg + offset_deg
    axis = axis_elevation_deg(track.elevation_deg, posture)
    low, high = mount.elevation.minimum_deg, mount.elevation.maximum_deg
    return dict(zip(STOPS + LIMITS, (guard - m_deg, m_deg - top, low - axis, axis - high), strict=True))


def rest_of(track: MountTrack, posture: Posture, offset_deg: float, station: Station) -> Rest | None:
    """Where a way rests: the guard or limit with the greatest cost on the sky; None where it never does."""
    mount = station.mount
    over = overruns_deg(track, posture, offset_deg, mount)
    m_deg = track.azimuth_deg + offset_deg
    axis = axis_elevation_deg(track.elevation_deg, posture)
    held_m = np.clip(m_deg, *guarded_travel_deg(mount.azimuth))
    held_e = np.clip(axis, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    off = off_boresight_deg(held_m - m_deg, held_e, axis)
    resting = {where: track.worked & (by > INSIDE_DEG) for where, by in over.items()}
    where = max(over, key=lambda name: float(off[resting[name]].max(initial=-1.0)))
    if not resting[where].any():
        return None
    here = np.flatnonzero(resting[where])
    whole = resting[where][:-1] & resting[where][1:]
    worst = float(off[here].max())
    return Rest(
        where=where,
        start_utc_s=float(track.utc_s[here[0]]),
        end_utc_s=float(track.utc_s[here[-1]]),
        seconds=float(track.interval_s[whole].sum()),
        overrun_deg=float(over[where][here].max()),
        off_deg=worst,
        loss_db=float(pointing_loss_db(min(worst, station.beam_limit_deg), station.narrowest_deg)),
    )
