"""The verdict of a pass: upright, over the top, split, part or out of reach.

Four means are weighed by the seconds of the pass that they lose. The least loss alone would lay the antennas
over the top for a second's gain, or turn the cable back while the satellite is up for two. So a split must
gain more than 5 s on staying in one way; else the verdict is the first of upright, over the top and part
whose loss is within 5 s of the least of them. Where a way that holds loses 5 s at most no split can gain
that much and no part is wanted: neither is looked for, and the least is that of the ways. Out of reach if by
any means less than a quarter of the pass is on the beam.
"""

from __future__ import annotations

import math

import numpy as np

from core.base.angles import Floats, Indices
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.mount.check.crossing import crossing_of
from core.mount.check.parts import part_details
from core.mount.check.split_details import split_details
from core.mount.check.split_search import best_splits
from core.mount.check.ways import (
    offset_deg,
    offset_in_turn,
    pointing_of_way,
    possible_postures,
    turns_in_travel,
    ways_of,
)
from core.mount.drive.aim import seconds_off
from core.mount.drive.motion import Steered, steer
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import zeta_deg
from core.mount.model.results import VERDICTS, Part, PassCheck, Pointing, Split, Verdict, VerdictCodes, Way
from core.mount.model.station import POSTURES, UPRIGHT, Mount, Posture, Station
from core.passes.track import Pass

#: A verdict earlier in the order is kept if it loses no more than this above the least.
NEAR_ENOUGH_S = 5.0
#: Less of the pass than this on the beam, by any means, is out of reach.
WORTH_WORKING = 0.25
#: The means that stay in one way, rows of the losses by means.
_STAYING = np.array([Verdict.UPRIGHT.code, Verdict.OVER_THE_TOP.code, Verdict.PART.code])


def decide(losses_s: Floats, seconds_in_all: Floats | float) -> tuple[VerdictCodes, Floats]:
    """(...,) codes of the verdicts and (...,) seconds lost.

    Where a posture loses 5 s at most the two are weighed against each other alone (their module says why);
    however short the pass, it is in reach.

    Args:
        losses_s: (4, ...) least seconds lost by each means (upright, over the top, split, part), infinite
            where it is not to be had.
        seconds_in_all: (...,) seconds over the mask.
    """
    held_s = losses_s[: len(POSTURES)]
    least_held_s = held_s.min(axis=0)
    held = least_held_s <= NEAR_ENOUGH_S
    first = np.argmax(held_s <= least_held_s + NEAR_ENOUGH_S, axis=0)
    code = np.where(held, first, _cheapest(losses_s))
    lost = np.take_along_axis(losses_s, code[None], axis=0)[0]
    on_beam = seconds_in_all - losses_s.min(axis=0)
    nothing = ~held & (on_beam < WORTH_WORKING * seconds_in_all)
    code = np.where(nothing, Verdict.OUT_OF_REACH.code, code)
    return code.astype(np.int8), np.where(nothing, seconds_in_all, lost)


def _cheapest(losses_s: Floats) -> Indices:
    """(...,) the row of the means to be taken, of losses (4, ...): a split only for more than 5 s."""
    staying_s = losses_s[_STAYING]
    least_s = staying_s.min(axis=0)
    first = _STAYING[np.argmax(staying_s <= least_s + NEAR_ENOUGH_S, axis=0)]
    return np.where(losses_s[Verdict.SPLIT.code] < least_s - NEAR_ENOUGH_S, Verdict.SPLIT.code, first)


def check_passes(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    progress: Progress = no_progress,
    steered: tuple[Steered, ...] | None = None,
) -> tuple[PassCheck, ...]:
    """The verdict of each pass; ``tracks`` are `mount_tracks` of the passes under the mount's tilt.

    ``steered`` is `steer_all` of them, where it is at hand.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    ready: tuple[Steered | None, ...] = (None,) * len(tracks) if steered is None else steered
    each = tuple(zip(passes, tracks, ready, strict=True))
    return tuple(
        check_pass(pass_, track, station, followed)
        for pass_, track, followed in reported(each, "finding ways", progress)
    )


def check_pass(
    pass_: Pass,
    track: MountTrack,
    station: Station,
    steered: Steered | None = None,
) -> PassCheck:
    """The verdict of one pass; ``steered`` where it is at hand."""
    mount, limit = station.mount, station.beam_limit_deg
    steered = steer(track, mount, station.steering) if steered is None else steered
    ways = ways_of(track, station, steered)
    least_s = min((way.seconds_lost for way in ways), default=math.inf)
    if least_s <= NEAR_ENOUGH_S:
        near = (way for way in _by_preference(ways) if way.seconds_lost <= least_s + NEAR_ENOUGH_S)
        return _held_check(pass_, track, steered, mount, ways, next(near), limit)
    part_lost_s, part_way = _least_part(track, steered, mount, limit)
    held_lost_s = [_least_lost(ways, posture) for posture in POSTURES]
    zetas = {posture: np.array([zeta_deg(mount, posture)]) for posture in POSTURES}
    to_beat_s = np.array([min(*held_lost_s, part_lost_s) - NEAR_ENOUGH_S])
    best_split = best_splits(track, steered, mount, zetas, limit, to_beat_s)
    losses_s = np.array([*held_lost_s, float(best_split.seconds_lost[0]), part_lost_s])
    code, lost_s = decide(losses_s, track.seconds_in_all)
    verdict = VERDICTS[int(code)]
    if verdict in POSTURES:
        best = next(way for way in _by_preference(ways) if way.posture == verdict)
        return _held_check(pass_, track, steered, mount, ways, best, limit)
    split: Split | None = None
    part: Part | None = None
    pointing: Pointing | None = None
    used = possible_postures(mount)
    if verdict is Verdict.SPLIT:
        split, pointing = split_details(track, steered, mount, best_split, limit)
        used = used if split.from_posture != split.to_posture else (split.from_posture,)
    elif verdict is Verdict.PART:
        part, pointing = part_details(track, steered, mount, part_way, limit)
        used = (part.posture,)
    return PassCheck(
        pass_=pass_,
        ways=ways,
        verdict=verdict,
        resting=False,
        seconds_lost=float(lost_s),
        seconds_in_all=track.seconds_in_all,
        chosen=None,
        pointing=pointing,
        split=split,
        part=part,
        crossing=None if ways else crossing_of(track, mount, split, used, limit),
    )


def _least_part(
    track: MountTrack, steered: Steered, mount: Mount, limit_deg: float
) -> tuple[float, tuple[Posture, int]]:
    """Seconds lost by staying in the best of all ways, and which: its posture and k; infinite without one."""
    least: tuple[float, tuple[Posture, int]] = math.inf, (UPRIGHT, 0)
    for posture in possible_postures(mount):
        for k in turns_in_travel(track, mount, np.array([zeta_deg(mount, posture)]), posture):
            pointing = pointing_of_way(track, steered, mount, posture, offset_deg(mount, posture, k))
            lost_s = float(seconds_off(track, pointing.off_deg, limit_deg))
            least = min(least, (lost_s, (posture, k)), key=lambda one: one[0])
    return least


def _by_preference(ways: tuple[Way, ...]) -> list[Way]:
    """Upright before over the top; in a posture least lost (to the tenth), then widest margin."""
    return sorted(
        ways,
        key=lambda way: (way.posture != UPRIGHT, round(way.seconds_lost, 1), not way.clear, -way.margin_deg),
    )


def _least_lost(ways: tuple[Way, ...], posture: Posture) -> float:
    return min((way.seconds_lost for way in ways if way.posture == posture), default=math.inf)


def _held_check(
    pass_: Pass,
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    ways: tuple[Way, ...],
    best: Way,
    limit: float,
) -> PassCheck:
    """A pass followed in one way throughout."""
    offset = offset_in_turn(track, mount, best.posture, best.turn)
    pointing = pointing_of_way(track, steered, mount, best.posture, offset)
    return PassCheck(
        pass_=pass_,
        ways=ways,
        verdict=Verdict(best.posture),
        resting=best.rests,
        seconds_lost=float(seconds_off(track, pointing.off_deg, limit)),
        seconds_in_all=track.seconds_in_all,
        chosen=best,
        pointing=pointing,
        crossing=None,
    )


def in_way(
    check: PassCheck,
    track: MountTrack,
    station: Station,
    posture_and_turn: tuple[Posture, int],
) -> PassCheck | None:
    """The check with another of its ways followed; None where the pass does not hold in that one."""
    way = next((way for way in check.ways if (way.posture, way.turn) == posture_and_turn), None)
    if way is None:
        return None
    mount = station.mount
    steered = steer(track, mount, station.steering)
    return _held_check(check.pass_, track, steered, mount, check.ways, way, station.beam_limit_deg)
