"""Where the boresight goes when a hand follows the lines, and how far off the satellite that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Floats
from core.mount.dial.readings import azimuth_curve, elevation_curve, round_to_half_division
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.slew import slew_angle, slew_seconds
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.model.calibration import DialCurve
from core.mount.model.chain import to_mount_frame, zeta_deg
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Axis, Mount

#: A hand does what a line says about so much after the second that it says. Common practice, no source.
LATE_S = 1.0
#: Seconds between the moments looked at.
_EVERY_S = 0.5
#: Before everything: what was told then has been reached.
_BEFORE_S = -1e12


@dataclass(frozen=True)
class Setting:
    """At ``utc_s`` the hand goes for these axes."""

    utc_s: float
    m_deg: float
    e_deg: float


def as_printed(setting: Setting, mount: Mount) -> Setting:
    """Where the axes are with both dials on the printed figures: to half a division, inside the travel."""
    azimuth, elevation = mount.azimuth, mount.elevation
    m_deg = _on_figure(setting.m_deg, azimuth_curve(azimuth), azimuth.dial_division_deg)
    e_deg = _on_figure(setting.e_deg, elevation_curve(elevation), elevation.dial_division_deg)
    return Setting(
        setting.utc_s,
        min(max(m_deg, 0.0), azimuth.travel_deg),
        min(max(e_deg, elevation.minimum_deg), elevation.maximum_deg),
    )


def _on_figure(axis_deg: float, curve: DialCurve, division_deg: float) -> float:
    return curve.axis_at(round_to_half_division(curve.dial_at(axis_deg), division_deg))


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
    """(N,) mechanical azimuth and (N,) elevation axis under the hand.

    An axis that is told again where it goes already goes on: it does not stop in the middle of a hold.
    """
    m_deg, e_deg = np.full(utc_s.size, settings[0].m_deg), np.full(utc_s.size, settings[0].e_deg)
    azimuth = _Going(mount.azimuth, settings[0].m_deg, settings[0].m_deg, _BEFORE_S)
    elevation = _Going(mount.elevation, settings[0].e_deg, settings[0].e_deg, _BEFORE_S)
    for place, setting in enumerate(settings):
        start = setting.utc_s + late_s
        end = settings[place + 1].utc_s + late_s if place + 1 < len(settings) else np.inf
        here = slice(*np.searchsorted(utc_s, [start, end]))
        turned = azimuth.to_deg != setting.m_deg
        azimuth = azimuth.told(setting.m_deg, start) if turned else azimuth
        if mount.drive.both_axes_at_once:
            elevation = elevation.told(setting.e_deg, start)
        elif turned or elevation.to_deg != setting.e_deg:  # azimuth first
            elevation = replace(elevation.stopped(setting.e_deg, start), start_s=max(start, azimuth.end_s))
        m_deg[here], e_deg[here] = azimuth.at(utc_s[here]), elevation.at(utc_s[here])
    return m_deg, e_deg


@dataclass(frozen=True)
class _Going:
    """One move of an axis, from ``start_s`` on."""

    axis: Axis
    from_deg: float
    to_deg: float
    start_s: float

    @property
    def end_s(self) -> float:
        """When it is there."""
        return self.start_s + float(slew_seconds(self.from_deg, self.to_deg, self.axis))

    def at(self, utc_s: Floats | float) -> Floats:
        """Where it is."""
        return slew_angle(self.from_deg, self.to_deg, np.asarray(utc_s) - self.start_s, self.axis)

    def told(self, to_deg: float, utc_s: float) -> _Going:
        """The move that is made once the hand tells it where to go."""
        return self if to_deg == self.to_deg else self.stopped(to_deg, utc_s)

    def stopped(self, to_deg: float, utc_s: float) -> _Going:
        """A new move from where it is then."""
        return _Going(self.axis, float(self.at(utc_s)), to_deg, utc_s)


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
