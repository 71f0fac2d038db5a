"""The study of how a pass is steered in one way: what the axes are told, where they are, and what it costs.

Chased, led and held as `drive.motion` steers them, *through the zenith* (`zenith`), and the best path under
the two rate limits (`best_path`). Each is told to the rotator as it was measured, and the cost is of what the
axes then do: a path that is best for the rates alone may be worse than a plain one for a motor with a
deadband.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.drive.aim import aim, off_boresight_deg, seconds_off
from core.mount.drive.keyhole import keyhole_of
from core.mount.drive.motion import Steered, steer
from core.mount.drive.rotator import follow
from core.mount.drive.slew import is_ideal
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, guarded_travel_deg
from core.mount.model.station import OVER_THE_TOP, Antenna, Mount, Posture, Station, Steering
from core.mount.steering.best_path import BestPath, best_path
from core.mount.steering.zenith import Path, through_the_zenith, upright_offset_deg
from core.passes.track import Pass

#: Side lobes take over about here: no greater loss is told (common practice, no source).
WORST_LOSS_DB = 20.0
STRATEGIES: tuple[Steering, ...] = ("chased", "led", "held")
THROUGH_THE_ZENITH, BEST_PATH = "through the zenith", "best path"


@dataclass(frozen=True, eq=False)
class AntennaCost:
    """What a steering costs one antenna, its skew to the boom counted.

    Attributes:
        name: the antenna's.
        off_deg: (N,) angle between where it looks and the satellite.
        loss_db: (N,) 12 (off / beamwidth)^2, no more than `WORST_LOSS_DB`.
        worst_loss_db: the greatest over the mask.
        seconds_off: seconds over the mask further off than half its beamwidth.
    """

    name: str
    off_deg: Floats
    loss_db: Floats
    worst_loss_db: float
    seconds_off: float


@dataclass(frozen=True, eq=False)
class SteeringRun:
    """A pass steered one way.

    Attributes:
        name: "chased", "led", "held", "through the zenith" or "best path".
        utc_s: (N,) from AOS to LOS.
        told_m_deg, told_e_deg: (N,) commanded, inside guards and elevation range.
        m_deg, e_deg: (N,) achieved.
        off_deg: (N,) between boresight and satellite.
        worst_off_deg: the greatest of it over the mask.
        antennas: what it costs each.
    """

    name: str
    utc_s: Floats
    told_m_deg: Floats
    told_e_deg: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    worst_off_deg: float
    antennas: tuple[AntennaCost, ...]

    @property
    def azimuth_travel_deg(self) -> float:
        """How far the azimuth motor turns from AOS to LOS, both senses added."""
        return _travel_deg(self.m_deg)

    @property
    def elevation_travel_deg(self) -> float:
        """The same for the elevation motor."""
        return _travel_deg(self.e_deg)


def _travel_deg(axis_deg: Floats) -> float:
    return float(np.abs(np.diff(axis_deg)).sum())


@dataclass(frozen=True, eq=False)
class SteeringStudy:
    """All steerings of one pass in one way.

    Attributes:
        runs: chased, led, held, through the zenith where elevation allows it, best path where there is one.
        best: the best path as told under the rate limits alone; None where it cannot begin in this way.
        keyhole_deg: about how high such a pass may peak before azimuth turns too fast.
    """

    runs: tuple[SteeringRun, ...]
    best: BestPath | None
    keyhole_deg: float

    def run(self, name: str) -> SteeringRun | None:
        """The run of that name."""
        return next((run for run in self.runs if run.name == name), None)


def study_steering(
    pass_: Pass,
    track: MountTrack,
    station: Station,
    posture: Posture,
    offset_deg: float,
) -> SteeringStudy:
    """Every steering of a pass in the way that this posture and offset make.

    Args:
        pass_, track: the pass, and in the mount frame.
        station: motion, guards, beams.
        posture: at AOS.
        offset_deg: what to add to azimuth to get m there (`core.mount.check.ways.offset_deg`).
    """
    mount, antennas = station.mount, station.antennas
    upright_deg = upright_offset_deg(posture, offset_deg)
    paths: dict[str, Path] = {}
    runs: list[SteeringRun] = []
    for steering in STRATEGIES:
        steered = steer(track, mount, steering)
        done = aim(track, steered, posture, np.array([offset_deg]), mount)
        paths[steering] = _told(steered, posture, offset_deg, mount)
        achieved = done.m_deg[0], done.e_deg[0]
        runs.append(_run(steering, track, paths[steering], achieved, antennas, upright_deg))
    if mount.elevation.maximum_deg > 90.0:
        paths[THROUGH_THE_ZENITH] = through_the_zenith(track, mount, posture, offset_deg)
    best = best_path(track, mount, offset_deg, posture == OVER_THE_TOP, tuple(paths.values()))
    if best is not None:
        m_deg, e_deg = (np.interp(track.utc_s, best.utc_s, axis) for axis in (best.m_deg, best.e_deg))
        paths[BEST_PATH] = m_deg, e_deg
    for name in (THROUGH_THE_ZENITH, BEST_PATH):
        if name in paths:
            achieved = _achieved(track, paths[name], mount)
            runs.append(_run(name, track, paths[name], achieved, antennas, upright_deg))
    return SteeringStudy(tuple(runs), best, keyhole_of(pass_, mount))


def _told(steered: Steered, posture: Posture, offset_deg: float, mount: Mount) -> Path:
    """What the axes are told, inside guards and elevation range."""
    here = steered.in_posture(posture)
    azimuth = here.azimuth_deg if here.told_azimuth_deg is None else here.told_azimuth_deg
    elevation = here.elevation_deg if here.told_elevation_deg is None else here.told_elevation_deg
    guard, top = guarded_travel_deg(mount.azimuth)
    e_deg = axis_elevation_deg(elevation, posture)
    return (
        np.clip(azimuth + offset_deg, guard, top),
        np.clip(e_deg, mount.elevation.minimum_deg, mount.elevation.maximum_deg),
    )


def _achieved(track: MountTrack, told: Path, mount: Mount) -> Path:
    if is_ideal(mount):
        return told
    done = follow(track.utc_s, *told, mount)
    return done.m_deg, done.e_deg


def _run(
    name: str,
    track: MountTrack,
    told: Path,
    achieved: Path,
    antennas: tuple[Antenna, ...],
    upright_deg: float,
) -> SteeringRun:
    m_deg, e_deg = achieved
    off = off_boresight_deg(m_deg - (track.azimuth_deg + upright_deg), e_deg, track.elevation_deg)
    costs = tuple(_cost(antenna, track, m_deg, e_deg, upright_deg) for antenna in antennas)
    worst = float(off[track.worked].max(initial=0.0))
    return SteeringRun(name, track.utc_s, *told, m_deg, e_deg, off, worst, costs)


def _cost(
    antenna: Antenna, track: MountTrack, m_deg: Floats, e_deg: Floats, upright_deg: float
) -> AntennaCost:
    off = skewed_off_deg(
        antenna.skew_deg, m_deg - (track.azimuth_deg + upright_deg), e_deg, track.elevation_deg
    )
    loss = np.minimum(12.0 * (off / antenna.beamwidth_deg) ** 2, WORST_LOSS_DB)
    return AntennaCost(
        name=antenna.name,
        off_deg=off,
        loss_db=loss,
        worst_loss_db=float(loss[track.worked].max(initial=0.0)),
        seconds_off=float(seconds_off(track, off, antenna.beamwidth_deg / 2.0)),
    )


def skewed_off_deg(skew_deg: float, apart_deg: Floats, e_deg: Floats, elevation_deg: Floats) -> Floats:
    """(N,) angle between satellite and an antenna skewed to the boom's right seen from behind it upright.

    The antenna looks along cos s f + sin s r, f the boresight and r the elevation axis to its right; over the
    top that lies to the left as the satellite sees it, by itself.

    Args:
        skew_deg: s, clockwise seen from above upright.
        apart_deg: mechanical azimuth less the one that looks at the satellite upright.
        e_deg: elevation axis angle.
        elevation_deg: the satellite's.
    """
    skew, apart = np.radians(skew_deg), np.radians(apart_deg)
    e, elevation = np.radians(e_deg), np.radians(elevation_deg)
    # With the satellite to the north: boresight (sin d cos e, cos d cos e, sin e), right (cos d, -sin d, 0).
    antenna = np.stack(
        [
            np.cos(skew) * np.sin(apart) * np.cos(e) + np.sin(skew) * np.cos(apart),
            np.cos(skew) * np.cos(apart) * np.cos(e) - np.sin(skew) * np.sin(apart),
            np.cos(skew) * np.sin(e),
        ]
    )
    satellite = np.stack([np.zeros_like(elevation), np.cos(elevation), np.sin(elevation)])
    across = np.linalg.norm(np.cross(antenna, satellite, axis=0), axis=0)
    return np.asarray(np.degrees(np.arctan2(across, (antenna * satellite).sum(axis=0))))
