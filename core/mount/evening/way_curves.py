"""Every way of a pass as a curve on the dial, and how fast the axes would have to turn along it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.check.ways import offset_in_turn
from core.mount.drive.aim import aim
from core.mount.drive.motion import steer
from core.mount.drive.tracks import MountTrack
from core.mount.model.results import PassCheck, Way
from core.mount.model.station import Mount, Steering


@dataclass(frozen=True, eq=False)
class WayCurve:
    """One way's axes along the pass, rates and stops counted: (N,) each."""

    way: Way
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats


def way_curves(
    check: PassCheck, track: MountTrack, mount: Mount, steering: Steering = "led"
) -> tuple[WayCurve, ...]:
    """Every way of a pass as a curve on the dial, in the check's order.

    Args:
        check, track: a pass and its track in the mount frame.
        mount, steering: as the check was made with.
    """
    if not check.ways:
        return ()
    steered = steer(track, mount, steering)
    curves = []
    for way in check.ways:
        offset = offset_in_turn(track, mount, way.posture, way.turn)
        aimed = aim(track, steered, way.posture, np.array([offset]), mount)
        curves.append(WayCurve(way, track.utc_s, aimed.m_deg[0], aimed.e_deg[0]))
    return tuple(curves)


def axis_rates_deg_s(track: MountTrack) -> tuple[Floats, Floats, Floats]:
    """Middles of the track's intervals, and how fast azimuth and elevation would have to turn there.

    Returns:
        (N-1,) POSIX seconds, (N-1,) azimuth rate and (N-1,) elevation rate, deg/s, unsigned, mount frame.
    """
    steps = np.diff(track.utc_s)
    middles: Floats = track.utc_s[1:] - steps / 2.0
    azimuth: Floats = np.abs(np.diff(track.azimuth_deg)) / steps
    elevation: Floats = np.abs(np.diff(track.elevation_deg)) / steps
    return middles, azimuth, elevation
