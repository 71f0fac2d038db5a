"""A pass as it is drawn: its sky and its axes on one time scale, each moment with how it is worked.

Thinned to what a screen shows, so that an evening of 150 passes is drawn at once.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats, unwrap_deg
from core.base.runs import runs_alike, runs_of
from core.base.units import INSIDE_DEG
from core.mount.check.ways import offset_in_turn
from core.mount.drive.motion import aim, steer
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import PassCheck, Way
from core.mount.model.station import OVER_THE_TOP, Mount, Steering
from core.passes.track import Pass

Kinds = NDArray[np.int8]

#: Kept samples are at most about this far apart, in time, in mechanical azimuth and in elevation.
_STEP_S = 10.0
_STEP_DEG = 1.0


class Kind(IntEnum):
    """How a moment of a pass is worked."""

    UPRIGHT = 0
    OVER_THE_TOP = 1
    MOVING = 2  # off the satellite in a split's move
    LET_GO = 3  # over the mask, and nobody points at it
    HIDDEN = 4  # behind the mask


@dataclass(frozen=True, eq=False)
class PassPath:
    """A pass sampled for drawing.

    Attributes:
        utc_s: (N,) from AOS to LOS, rising.
        azimuth_deg: (N,) true azimuth of the satellite, unwrapped.
        elevation_deg: (N,) of the satellite.
        range_km: (N,).
        m_deg, e_deg, off_deg: (N,) the axes and the angle off the satellite; NaN where out of reach.
        kind: (N,) a `Kind` each.
        resting: (N,) bool, azimuth held at a guard while the satellite goes past it.
    """

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    range_km: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    kind: Kinds
    resting: Flags

    @property
    def in_reach(self) -> bool:
        """There is a pointing."""
        return not bool(np.isnan(self.m_deg[0]))

    def runs(self) -> list[tuple[Kind, int, int]]:
        """Stretches worked alike: (kind, first index, last index), each reaching to where the next begins."""
        last = self.kind.size - 1
        runs = [(Kind(int(self.kind[a])), a, min(b, last)) for a, b in runs_alike(self.kind)]
        return [(kind, a, b) for kind, a, b in runs if b > a]

    def resting_runs(self) -> list[tuple[int, int]]:
        """Stretches of resting at a guard: (first index, last index)."""
        last = self.resting.size - 1
        return [(a, min(b, last)) for a, b in runs_of(self.resting) if a < last]


def pass_path(check: PassCheck, mount: Mount) -> PassPath:
    """The path of a pass as its verdict works it."""
    pass_, pointing = check.pass_, check.pointing
    utc_s = pass_.utc_s if pointing is None else pointing.utc_s
    over = _inside(utc_s, pass_.stretches)
    kind = np.where(over, Kind.LET_GO, Kind.HIDDEN).astype(np.int8)
    resting = np.zeros(utc_s.size, dtype=bool)
    m_deg = e_deg = off_deg = np.full(utc_s.size, np.nan)
    if pointing is not None:
        m_deg, e_deg, off_deg = pointing.m_deg, pointing.e_deg, pointing.off_deg
        on_top = _over_the_top(check, utc_s)
        worked = over & pointing.worked
        kind[worked] = np.where(on_top[worked], Kind.OVER_THE_TOP, Kind.UPRIGHT)
        kind[over & pointing.moving] = Kind.MOVING
        guard, top = guarded_travel_deg(mount.azimuth)
        held = (m_deg <= guard + INSIDE_DEG) | (m_deg >= top - INSIDE_DEG)
        resting = worked & held & (off_deg > 1e-3) & check.resting
    elevation = np.interp(utc_s, pass_.utc_s, pass_.elevation_deg)
    keep = _kept(utc_s, np.nan_to_num(m_deg), elevation, kind, resting)
    return PassPath(
        utc_s=utc_s[keep],
        azimuth_deg=np.interp(utc_s[keep], pass_.utc_s, unwrap_deg(pass_.azimuth_deg)),
        elevation_deg=elevation[keep],
        range_km=np.interp(utc_s[keep], pass_.utc_s, pass_.range_km),
        m_deg=m_deg[keep],
        e_deg=e_deg[keep],
        off_deg=off_deg[keep],
        kind=kind[keep],
        resting=resting[keep],
    )


def _inside(utc_s: Floats, stretches: tuple[tuple[float, float], ...]) -> Flags:
    inside = np.zeros(utc_s.size, dtype=bool)
    for start, end in stretches:
        inside |= (utc_s >= start - 1e-6) & (utc_s <= end + 1e-6)
    return inside


def _over_the_top(check: PassCheck, utc_s: Floats) -> Flags:
    """(N,) whether each moment is worked over the top."""
    if check.split is not None:
        before, after = check.split.from_posture, check.split.to_posture
        late = utc_s >= check.split.end_utc_s - 1e-6
        return np.where(late, after == OVER_THE_TOP, before == OVER_THE_TOP)
    posture = check.part.posture if check.part is not None else check.chosen.posture if check.chosen else ""
    return np.full(utc_s.size, posture == OVER_THE_TOP)


def _kept(utc_s: Floats, m_deg: Floats, elevation_deg: Floats, kind: Kinds, resting: Flags) -> Flags:
    """Samples worth keeping: about one per step along the path, both sides of every change, the extremes."""
    steps = np.hypot(np.diff(m_deg), np.diff(elevation_deg)) / _STEP_DEG + np.diff(utc_s) / _STEP_S
    along = np.floor(np.concatenate([[0.0], np.cumsum(steps)]))
    keep = np.concatenate([[True], np.diff(along) > 0.0])
    keep[-1] = True
    turns = np.flatnonzero((kind[1:] != kind[:-1]) | (resting[1:] != resting[:-1]))
    keep[turns] = keep[turns + 1] = True
    keep[[int(np.argmax(elevation_deg)), int(np.argmax(m_deg)), int(np.argmin(m_deg))]] = True
    return keep


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


def whole_minutes(pass_: Pass) -> Floats:
    """(N,) the whole minutes of UTC from AOS to LOS."""
    first, last = math.ceil(pass_.aos.utc_s / 60.0), math.floor(pass_.los.utc_s / 60.0)
    return np.asarray(60.0 * np.arange(first, last + 1), dtype=np.float64)
