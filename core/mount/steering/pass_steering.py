"""The steering study of a pass: in which way it is made, and whether the pass needs one."""

from __future__ import annotations

from dataclasses import dataclass

from core.mount.check.ways import offset_in_turn
from core.mount.drive.keyhole import keyhole_of, rate_in_sense
from core.mount.drive.tracks import MountTrack
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount, Posture, Station
from core.mount.steering.runs import SteeringStudy, study_steering


@dataclass(frozen=True, eq=False)
class PassSteering:
    """The steerings of one pass side by side.

    Attributes:
        posture, turn: the way they are made in, at AOS.
        peak_deg: the highest the pass comes over the mount's own horizon.
        keyhole_deg: about how high it may peak before azimuth turns too fast.
        clockwise: the pass turns so.
        leaves_out_move: the verdict is a split, and the runs know no move.
        study: every steering, the best path last.
    """

    posture: Posture
    turn: int
    peak_deg: float
    keyhole_deg: float
    clockwise: bool
    leaves_out_move: bool
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
        study=study,
    )


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
