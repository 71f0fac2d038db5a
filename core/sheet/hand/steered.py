"""Where the boresight goes when a hand follows the lines, and how far off the satellite that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.slew import move_angles
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.model.chain import to_mount_frame, zeta_deg
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Mount

#: A hand does what a line says about so much after the second that it says. Common practice, no source.
LATE_S = 1.0
#: Seconds between the moments looked at.
_EVERY_S = 0.5


@dataclass(frozen=True)
class Setting:
    """At ``utc_s`` the hand goes for these axes."""

    utc_s: float
    m_deg: float
    e_deg: float


def hand_off_deg(
    drawn: DrawnPass, mount: Mount, settings: Sequence[Setting], utc_s: Floats, late_s: float = LATE_S
) -> Floats:
    """(N,) angle between satellite and boresight when the hand follows the settings, so late on each.

    Args:
        drawn: the pass.
        mount: moves as its axes do.
        settings: in order of time; the mount stands at the first one's axes before it.
        utc_s: (N,) rising moments.
        late_s: how late on every setting.
    """
    m_deg, e_deg = steered_axes(mount, settings, utc_s, late_s)
    azimuth, elevation = _satellite(drawn, mount, utc_s)
    zeta = np.where(e_deg > 90.0, zeta_deg(mount, OVER_THE_TOP), zeta_deg(mount, UPRIGHT))
    return off_boresight_deg(zeta + m_deg - azimuth, e_deg, elevation)


def steered_axes(
    mount: Mount, settings: Sequence[Setting], utc_s: Floats, late_s: float
) -> tuple[Floats, Floats]:
    """(N,) mechanical azimuth and (N,) elevation axis under the hand."""
    m_deg, e_deg = np.full(utc_s.size, settings[0].m_deg), np.full(utc_s.size, settings[0].e_deg)
    m, e = settings[0].m_deg, settings[0].e_deg
    for place, setting in enumerate(settings):
        start = setting.utc_s + late_s
        end = settings[place + 1].utc_s + late_s if place + 1 < len(settings) else np.inf
        here = slice(*np.searchsorted(utc_s, [start, end]))
        moments = np.append(utc_s[here], min(end, float(utc_s[-1])))
        told = move_angles(mount, m, setting.m_deg, e, setting.e_deg, moments - start)
        m_deg[here], e_deg[here] = told[0][:-1], told[1][:-1]
        m, e = float(told[0][-1]), float(told[1][-1])
    return m_deg, e_deg


def _satellite(drawn: DrawnPass, mount: Mount, utc_s: Floats) -> tuple[Floats, Floats]:
    """Its azimuth and elevation in the mount frame."""
    azimuth, elevation = (
        np.radians(np.interp(utc_s, drawn.utc_s, values))
        for values in (drawn.azimuth_deg, drawn.elevation_deg)
    )
    flat = np.cos(elevation)
    looks = np.stack([flat * np.sin(azimuth), flat * np.cos(azimuth), np.sin(elevation)], axis=1)
    return to_mount_frame(looks, mount.tilt)


def moments_between(start_s: float, end_s: float) -> Floats:
    """(N,) the moments looked at, both ends among them."""
    count = max(round((end_s - start_s) / _EVERY_S), 1)
    return np.linspace(start_s, end_s, count + 1)


def lost_by_hand_s(drawn: DrawnPass, mount: Mount, settings: Sequence[Setting], limit_deg: float) -> float:
    """Seconds that the hand loses beyond what is lost anyway: outside the beam where the plan is inside."""
    moments = moments_between(drawn.start_utc_s, drawn.end_utc_s)
    if moments.size < 3 or not settings:
        return 0.0
    off = hand_off_deg(drawn, mount, settings, moments)
    planned = np.interp(moments, drawn.utc_s, drawn.off_deg) <= limit_deg
    kinds = drawn.kind[np.searchsorted(drawn.utc_s, moments, side="right").clip(1, drawn.kind.size) - 1]
    worked = (kinds == Kind.UPRIGHT) | (kinds == Kind.OVER_THE_TOP)
    return float(np.mean((off > limit_deg) & planned & worked) * (moments[-1] - moments[0]))
