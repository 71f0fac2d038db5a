"""Whether a pass would be held on a changed mount: asked scores of times for one cure, so asked cheaply.

The verdict itself asks every way for all its figures and looks for the best split among all samples of the
track, which for a pass of an hour takes a third of a second. Here only what decides is asked, in the order of
what it costs: no way holds it; a way loses 5 s at most; staying in part of it is better; and only then
whether a split is, on those samples alone that tell the pass and how it is followed (`thinned`).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.mount.check.parts import staying
from core.mount.check.split_passes import CAREFUL, QUICK, Effort
from core.mount.check.split_search import best_splits
from core.mount.check.strikes import barring_of
from core.mount.check.verdict import NEAR_ENOUGH_S, decide
from core.mount.check.ways import (
    holding_turns,
    offset_deg,
    pointing_of_way,
    possible_postures,
    reach_of,
    turns_in_travel,
)
from core.mount.drive.aim import seconds_off
from core.mount.drive.motion import Steered, steer
from core.mount.drive.thinned import thinned
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import zeta_deg
from core.mount.model.results import VERDICTS, Pointing, Verdict
from core.mount.model.station import POSTURES, Mount, Posture, Station

#: Less than a study looks with: most splits are found at the first glance.
_LIGHT = Effort(starts=24, simulated=12, closed_in=3, samples=20, finely=24, exactly=False)


class Trial:
    """One pass, tried on mounts that differ in the seat, the ends of their axes' travel or their rates."""

    def __init__(self, track: MountTrack, station: Station) -> None:
        self._track, self._station = track, station
        self._steered: tuple[Mount, Steered] | None = None
        self._thinned: tuple[Steered, MountTrack, Steered] | None = None
        self._told: dict[tuple[object, ...], bool] = {}

    def holds(self, mount: Mount, carefully: bool = False) -> bool:
        """Whether the verdict is upright or over the top there; ``carefully`` looks harder for a split."""
        efforts = (_LIGHT, QUICK, CAREFUL) if carefully else (_LIGHT, QUICK)
        return all(self._asked(mount, effort) for effort in efforts)  # a split found lightly is a split

    def _asked(self, mount: Mount, effort: Effort) -> bool:
        """The same seat is met from both ends of an arc, in its middle, and again for the proof."""
        zetas = tuple(round(zeta_deg(mount, posture), 9) for posture in POSTURES)
        key = (zetas, mount.azimuth, mount.elevation, effort)
        if key not in self._told:
            self._told[key] = self._holds(mount, effort)
        return self._told[key]

    def _holds(self, mount: Mount, effort: Effort) -> bool:
        track, limit = self._track, self._station.beam_limit_deg
        steered = self._steered_on(mount)
        held_s = [self._least_held_s(mount, steered, posture) for posture in POSTURES]
        if min(held_s) <= NEAR_ENOUGH_S:
            return True
        if min(held_s) == np.inf:
            return False
        losses = np.array([*held_s, np.inf, self._least_part_s(mount, steered)])
        staying_s = float(losses.min())
        if VERDICTS[int(decide(losses, np.inf)[0])] is Verdict.PART:
            return False
        thin_track, thin_steered = self._thin(steered)
        zetas = {posture: np.array([zeta_deg(mount, posture)]) for posture in POSTURES}
        beat_s = np.array([staying_s - NEAR_ENOUGH_S])
        barring = barring_of(self._station, mount)
        split = best_splits(thin_track, thin_steered, mount, zetas, limit, beat_s, effort, barring)
        losses[Verdict.SPLIT.code] = float(split.seconds_lost[0])
        return VERDICTS[int(decide(losses, track.seconds_in_all)[0])] in POSTURES

    def _least_held_s(self, mount: Mount, steered: Steered, posture: Posture) -> float:
        reach = reach_of(self._track, posture, mount.elevation, self._station.beam_limit_deg)
        turns = holding_turns(reach, zeta_deg(mount, posture), mount)
        return min((self._held_s(mount, steered, posture, k) for k, _clear in turns), default=np.inf)

    def _least_part_s(self, mount: Mount, steered: Steered) -> float:
        return min(
            (
                self._part_s(mount, steered, posture, k)
                for posture in possible_postures(mount)
                for k in turns_in_travel(self._track, mount, np.array([zeta_deg(mount, posture)]), posture)
            ),
            default=np.inf,
        )

    def _held_s(self, mount: Mount, steered: Steered, posture: Posture, k: int) -> float:
        """Seconds lost in a way that holds, unless it strikes."""
        pointing = pointing_of_way(self._track, steered, mount, posture, offset_deg(mount, posture, k))
        barring = barring_of(self._station, mount)
        return np.inf if barring is not None and barring.strikes(pointing) else self._lost_s(pointing)

    def _part_s(self, mount: Mount, steered: Steered, posture: Posture, k: int) -> float:
        """Seconds lost by staying in a way, held off what it would strike."""
        pointing = staying(self._track, steered, replace(self._station, mount=mount), (posture, k))
        return np.inf if pointing is None else self._lost_s(pointing)

    def _lost_s(self, pointing: Pointing) -> float:
        return float(seconds_off(self._track, pointing.off_deg, self._station.beam_limit_deg))

    def _steered_on(self, mount: Mount) -> Steered:
        """Wherever it is seated and its axes end, a mount of the same rates and drive follows alike."""
        if self._steered is not None:
            before = self._steered[0]
            alike = [(one.drive, _moves(one)) for one in (before, mount)]
            if alike[0] == alike[1]:
                return self._steered[1]
        made = steer(self._track, mount, self._station.steering)
        self._steered = mount, made
        return made

    def _thin(self, steered: Steered) -> tuple[MountTrack, Steered]:
        if self._thinned is None or self._thinned[0] is not steered:
            (track,), (followed,) = thinned((self._track,), (steered,))
            self._thinned = steered, track, followed
        return self._thinned[1:]


def _moves(mount: Mount) -> tuple[object, ...]:
    """What of the axes bears on how a pass is followed: all but where they end, and whether over the top."""
    azimuth = mount.azimuth.model_copy(update={"travel_deg": 360.0, "guard_deg": 0.0})
    elevation = mount.elevation.model_copy(update={"minimum_deg": 0.0, "maximum_deg": 90.0})
    return azimuth, elevation, mount.elevation.maximum_deg > 90.0
