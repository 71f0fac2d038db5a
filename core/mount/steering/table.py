"""The steering study of a pass as a table, and in which way it is made. Pure."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.check.ways import offset_in_turn
from core.mount.drive.keyhole import keyhole_of, rate_in_sense
from core.mount.drive.tracks import MountTrack
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount, Posture, Station
from core.mount.steering.runs import Run, SteeringStudy, study_steering

#: What the study's runs are called where they are read.
NAMES = {"best": "best path"}


@dataclass(frozen=True)
class AntennaFigures:
    """What a steering costs one antenna: seconds off its beam over the mask, and the worst loss."""

    name: str
    seconds_off: float
    worst_loss_db: float


@dataclass(frozen=True)
class SteeringRow:
    """One steering of a pass in figures.

    Attributes:
        name: "chased", "led", "held", "through the zenith" or "best path".
        worst_off_deg: greatest angle between boresight and satellite over the mask.
        azimuth_travel_deg, elevation_travel_deg: how far each motor turns from AOS to LOS, both senses added.
        antennas: what it costs each.
    """

    name: str
    worst_off_deg: float
    azimuth_travel_deg: float
    elevation_travel_deg: float
    antennas: tuple[AntennaFigures, ...]


@dataclass(frozen=True, eq=False)
class PassSteering:
    """The steerings of one pass side by side.

    Attributes:
        posture, turn: the way they are made in, at AOS.
        peak_deg: the highest the pass comes over the mount's own horizon.
        keyhole_deg: about how high it may peak before azimuth turns too fast.
        clockwise: the pass turns so.
        leaves_out_move: the verdict is a split, and the rows know no move.
        rows: in the study's order, the best path last.
        study: with the curves.
    """

    posture: Posture
    turn: int
    peak_deg: float
    keyhole_deg: float
    clockwise: bool
    leaves_out_move: bool
    rows: tuple[SteeringRow, ...]
    study: SteeringStudy

    @property
    def over_keyhole(self) -> bool:
        """It peaks higher than azimuth can follow."""
        return self.peak_deg > self.keyhole_deg


def steered_way(check: PassCheck) -> tuple[Posture, int] | None:
    """The way a pass is steered in: the one followed, or the one it begins in; None out of reach."""
    if check.chosen is not None:
        return check.chosen.posture, check.chosen.turn
    if check.split is not None:
        return check.split.from_posture, check.split.from_turn
    return None if check.part is None else (check.part.posture, check.part.turn)


def peaks_over_keyhole(check: PassCheck, track: MountTrack, mount: Mount) -> bool:
    """Whether a pass peaks, in the mount's frame, higher than azimuth can follow."""
    return float(track.elevation_deg.max()) > keyhole_of(check.pass_, mount)


def pass_steering(check: PassCheck, track: MountTrack, station: Station) -> PassSteering | None:
    """Every steering of a pass in the way its verdict begins in; None out of reach.

    Args:
        check, track: a pass and its track in the mount frame.
        station: motion, guards, beams.
    """
    way = steered_way(check)
    if way is None:
        return None
    posture, turn = way
    offset = offset_in_turn(track, station.mount, posture, turn)
    study = study_steering(check.pass_, track, station, posture, offset)
    return PassSteering(
        posture=posture,
        turn=turn,
        peak_deg=float(track.elevation_deg.max()),
        keyhole_deg=study.keyhole_deg,
        clockwise=bool(track.azimuth_deg[-1] >= track.azimuth_deg[0]),
        leaves_out_move=check.split is not None,
        rows=tuple(_row(run) for run in study.runs),
        study=study,
    )


def _row(run: Run) -> SteeringRow:
    return SteeringRow(
        name=NAMES.get(run.name, run.name),
        worst_off_deg=run.worst_deg,
        azimuth_travel_deg=_travel_deg(run.m_deg),
        elevation_travel_deg=_travel_deg(run.e_deg),
        antennas=tuple(
            AntennaFigures(cost.name, cost.seconds_off, cost.worst_loss_db) for cost in run.antennas
        ),
    )


def _travel_deg(axis_deg: Floats) -> float:
    return float(np.abs(np.diff(axis_deg)).sum())


def keyhole_sentence(told: PassSteering, mount: Mount) -> str:
    """Whether azimuth can follow, in one sentence."""
    rate = rate_in_sense(mount, told.clockwise)
    without = " The split's move is left out here: each row stays in one way." if told.leaves_out_move else ""
    if told.over_keyhole:
        return (
            f"It peaks at {told.peak_deg:.1f} deg, over the keyhole: above {told.keyhole_deg:.1f} deg it "
            f"turns faster than the {rate:g} deg/s of azimuth.{without}"
        )
    return (
        f"It peaks at {told.peak_deg:.1f} deg, below the keyhole at {told.keyhole_deg:.1f} deg: "
        f"{rate:g} deg/s of azimuth follow it.{without}"
    )
