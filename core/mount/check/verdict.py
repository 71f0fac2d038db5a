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
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Floats, Indices
from core.base.errors import Cancelled
from core.base.units import Progress, no_progress
from core.mount.check.crossing import crossing_of
from core.mount.check.parts import part_details, staying
from core.mount.check.split_details import split_details
from core.mount.check.split_search import SplitBest, best_split_each
from core.mount.check.strikes import barring_of
from core.mount.check.ways import (
    Reach,
    offset_in_turn,
    pointed_ways,
    pointing_of_way,
    possible_postures,
    turns_in_travel,
)
from core.mount.drive.aim import seconds_off
from core.mount.drive.motion import Steered, steer
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import zeta_deg
from core.mount.model.results import VERDICTS, Part, PassCheck, Pointing, Split, Verdict, VerdictCodes, Way
from core.mount.model.station import POSTURES, UPRIGHT, Posture, Station
from core.passes.track import Pass

#: A verdict earlier in the order is kept if it loses no more than this above the least.
NEAR_ENOUGH_S = 5.0
#: Passes judged together, between two calls of progress.
_TOGETHER = 48
#: Less of the pass than this on the beam, by any means, is out of reach.
WORTH_WORKING = 0.25
#: The means that hold, and those that stay in one way: rows of the losses by means.
_HOLDING = [Verdict.UPRIGHT.code, Verdict.OVER_THE_TOP.code]
_STAYING = [*_HOLDING, Verdict.PART.code]


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
    code = np.where(held, _first_near(losses_s, _HOLDING, least_held_s), _cheapest(losses_s))
    lost = np.choose(code, losses_s)
    on_beam = seconds_in_all - losses_s.min(axis=0)
    nothing = ~held & (on_beam < WORTH_WORKING * seconds_in_all)
    code = np.where(nothing, Verdict.OUT_OF_REACH.code, code)
    return code.astype(np.int8), np.where(nothing, seconds_in_all, lost)


def _cheapest(losses_s: Floats) -> Indices:
    """(...,) the row of the means to be taken, of losses (4, ...): a split only for more than 5 s."""
    least_s = losses_s[_STAYING].min(axis=0)
    first = _first_near(losses_s, _STAYING, least_s)
    return np.where(losses_s[Verdict.SPLIT.code] < least_s - NEAR_ENOUGH_S, Verdict.SPLIT.code, first)


def _first_near(losses_s: Floats, rows: Sequence[int], least_s: Floats) -> Indices:
    """(...,) the first of these rows of losses (4, ...) that is near enough to the least (...,) of them."""
    first = np.full(least_s.shape, rows[-1])
    for row in reversed(rows[:-1]):
        first = np.where(losses_s[row] <= least_s + NEAR_ENOUGH_S, row, first)
    return first


def check_passes(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    progress: Progress = no_progress,
    steered: tuple[Steered, ...] | None = None,
    reaches: tuple[Mapping[Posture, Reach], ...] | None = None,
) -> tuple[PassCheck, ...]:
    """The verdict of each pass; ``tracks`` are `mount_tracks` of the passes under the mount's tilt.

    ``steered`` is `steer_all` of them, and ``reaches`` their `reach_of` by posture, where they are at hand.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    none = (None,) * len(tracks)
    each = tuple(zip(passes, tracks, steered or none, reaches or none, strict=True))
    checks: list[PassCheck] = []
    for first in range(0, len(each), _TOGETHER):
        if not progress(first, len(each), "finding ways"):
            raise Cancelled
        checks += _checks([_followed(*one, station) for one in each[first : first + _TOGETHER]], station)
    if not progress(len(each), len(each), "finding ways"):
        raise Cancelled
    return tuple(checks)


@dataclass(frozen=True, eq=False)
class _Followed:
    """A pass to be judged, with the ways in which it holds and where the axes are in each."""

    pass_: Pass
    track: MountTrack
    steered: Steered
    ways: tuple[Way, ...]
    pointings: tuple[Pointing, ...]

    @property
    def easy(self) -> Way | None:
        """The first way, by preference, within 5 s of the least, where that is 5 s at most."""
        least_s = min((way.seconds_lost for way in self.ways), default=math.inf)
        if least_s > NEAR_ENOUGH_S:
            return None
        return next(w for w in _by_preference(self.ways) if w.seconds_lost <= least_s + NEAR_ENOUGH_S)

    def held(self, best: Way) -> PassCheck:
        """The pass followed in one of its ways throughout."""
        return PassCheck(
            pass_=self.pass_,
            ways=self.ways,
            verdict=Verdict(best.posture),
            resting=best.rests,
            seconds_lost=best.seconds_lost,
            seconds_in_all=self.track.seconds_in_all,
            chosen=best,
            pointing=self.pointings[self.ways.index(best)],
            crossing=None,
        )


def _followed(
    pass_: Pass,
    track: MountTrack,
    steered: Steered | None,
    reaches: Mapping[Posture, Reach] | None,
    station: Station,
    postures: tuple[Posture, ...] = POSTURES,
) -> _Followed:
    steered = steer(track, station.mount, station.steering) if steered is None else steered
    found = pointed_ways(track, station, steered, reaches, postures)
    ways, pointings = tuple(way for way, _ in found), tuple(pointing for _, pointing in found)
    return _Followed(pass_, track, steered, ways, pointings)


def held_easily(
    pass_: Pass,
    track: MountTrack,
    station: Station,
    steered: Steered,
    reaches: Mapping[Posture, Reach] | None = None,
) -> PassCheck | None:
    """The verdict of a pass that some way holds with 5 s lost at most; None for all others.

    Of its ways those over the top are told only where it is not worked upright.
    """
    for postures in (POSTURES[:1], POSTURES):
        here = _followed(pass_, track, steered, reaches, station, postures)
        # Upright comes first, whatever is lost over the top.
        if here.easy is not None and (postures == POSTURES or here.easy.seconds_lost <= NEAR_ENOUGH_S):
            return here.held(here.easy)
    return None


def check_pass(pass_: Pass, track: MountTrack, station: Station, steered: Steered | None = None) -> PassCheck:
    """The verdict of one pass; ``steered`` where it is at hand."""
    return _checks([_followed(pass_, track, steered, None, station)], station)[0]


def _checks(each: list[_Followed], station: Station) -> list[PassCheck]:
    """The verdicts; a split is looked for at once for all that no way holds easily."""
    easy = [here.easy for here in each]
    hard = [here for here, way in zip(each, easy, strict=True) if way is None]
    compared = iter(_compared_checks(hard, station) if hard else ())
    return [next(compared) if way is None else here.held(way) for here, way in zip(each, easy, strict=True)]


def _compared_checks(hard: list[_Followed], station: Station) -> list[PassCheck]:
    """The verdicts of passes that no way holds easily, by what each means loses."""
    parts = [_least_part(here, station) for here in hard]
    held_s = np.array([[_least_lost(here.ways, posture) for posture in POSTURES] for here in hard])
    part_s = np.array([lost_s for lost_s, _way in parts])
    splits = best_split_each(
        tuple(here.track for here in hard),
        tuple(here.steered for here in hard),
        station.mount,
        station.beam_limit_deg,
        np.minimum(held_s.min(axis=1), part_s) - NEAR_ENOUGH_S,
        barring_of(station),
    )
    return [
        _compared(here, station, held_s[k], splits.some(slice(k, k + 1)), parts[k])
        for k, here in enumerate(hard)
    ]


def _compared(
    here: _Followed,
    station: Station,
    held_lost_s: Floats,
    best_split: SplitBest,
    least_part: tuple[float, tuple[Posture, int]],
) -> PassCheck:
    """The verdict of one of them; ``held_lost_s`` (2,) by posture, the split and the part are its best."""
    track, steered, ways = here.track, here.steered, here.ways
    mount, limit = station.mount, station.beam_limit_deg
    part_lost_s, part_way = least_part
    losses_s = np.array([*held_lost_s, float(best_split.seconds_lost[0]), part_lost_s])
    code, lost_s = decide(losses_s, track.seconds_in_all)
    verdict = VERDICTS[int(code)]
    if verdict in POSTURES:
        best = next(way for way in _by_preference(ways) if way.posture == verdict)
        return here.held(best)
    split: Split | None = None
    part: Part | None = None
    pointing: Pointing | None = None
    used = possible_postures(mount)
    if verdict is Verdict.SPLIT:
        split, pointing = split_details(track, steered, mount, best_split, limit, barring_of(station))
        used = used if split.from_posture != split.to_posture else (split.from_posture,)
    elif verdict is Verdict.PART:
        part, pointing = part_details(track, steered, station, part_way)
        used = (part.posture,)
    return PassCheck(
        pass_=here.pass_,
        ways=ways,
        verdict=verdict,
        resting=False,
        seconds_lost=float(lost_s),
        seconds_in_all=track.seconds_in_all,
        chosen=None,
        pointing=pointing,
        split=split,
        part=part,
        crossing=None if ways else crossing_of(track, mount, split, part, used, limit),
    )


def _least_part(here: _Followed, station: Station) -> tuple[float, tuple[Posture, int]]:
    """Seconds lost by staying in the best of all ways, and which: its posture and k; infinite without one."""
    track, mount = here.track, station.mount
    least: tuple[float, tuple[Posture, int]] = math.inf, (UPRIGHT, 0)
    for posture in possible_postures(mount):
        for k in turns_in_travel(track, mount, np.array([zeta_deg(mount, posture)]), posture):
            pointing = staying(track, here.steered, station, (posture, k))
            if pointing is None:
                continue
            lost_s = float(seconds_off(track, pointing.off_deg, station.beam_limit_deg))
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


def in_way(
    check: PassCheck,
    track: MountTrack,
    station: Station,
    posture_and_turn: tuple[Posture, int],
    steered: Steered | None = None,
) -> PassCheck | None:
    """The check with another of its ways followed; None where the pass does not hold in that one.

    ``steered`` is `steer` of the pass, where it is at hand.
    """
    way = next((way for way in check.ways if (way.posture, way.turn) == posture_and_turn), None)
    if way is None:
        return None
    steered = steer(track, station.mount, station.steering) if steered is None else steered
    offset = offset_in_turn(track, station.mount, way.posture, way.turn)
    pointing = pointing_of_way(track, steered, station.mount, way.posture, offset)
    alone = _Followed(check.pass_, track, steered, (way,), (pointing,)).held(way)
    return replace(alone, ways=check.ways)
