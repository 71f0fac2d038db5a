"""The verdict of a pass: upright, over the top, split, part or out of reach.

A split turns the cable back while the satellite is up, so it must gain more than 5 s on staying in one way;
else the verdict is the first of upright, over the top and part whose loss is within 5 s of the least of them.
Out of reach if by any means less than a quarter of the pass is on the beam.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats
from core.base.progress import reported
from core.base.units import INSIDE_DEG, Progress, no_progress
from core.mount.check.parts import part_details
from core.mount.check.split_details import split_details
from core.mount.check.splits import SplitBest, best_splits
from core.mount.check.ways import (
    offset_deg,
    offset_in_turn,
    possible_postures,
    reach_of,
    turn_of,
    turns_in_travel,
    ways_of,
)
from core.mount.drive.motion import Steered, aim, seconds_off, steer
from core.mount.drive.tracks import Indices, MountTrack
from core.mount.model.chain import (
    axis_elevation_deg,
    ground_bearing_deg,
    guarded_travel_deg,
    posture_shift_deg,
    zeta_deg,
)
from core.mount.model.results import Crossing, Part, PassCheck, Pointing, Split, VerdictWord, Way
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Mount, Posture, Station
from core.passes.track import Pass

#: A verdict earlier in the order is kept if it loses no more than this above the least.
NEAR_ENOUGH_S = 5.0
#: Less of the pass than this on the beam, by any means, is out of reach.
WORTH_WORKING = 0.25

WORDS: tuple[VerdictWord, ...] = ("upright", "over the top", "split", "part", "out of reach")
#: Indices into `WORDS`: those without a move in mid-pass, in order of trouble, and the one with it.
_STAYING, _SPLIT = np.array([0, 1, 3]), 2
#: The ends of the axes' travel.
_STOPS = ("counter-clockwise stop", "clockwise stop")
_LIMITS = ("elevation minimum", "elevation maximum")
_ENDS = _STOPS + _LIMITS


@dataclass(frozen=True, eq=False)
class Means:
    """The best that each means does for Z seats: seconds lost, (Z,), infinite where it is not to be had.

    ``best_split`` tells the split; ``part_index`` (Z,) which of ``parts`` it was, -1 for none.
    """

    upright: Floats
    over_the_top: Floats
    split: Floats
    part: Floats
    best_split: SplitBest
    part_index: Floats
    parts: tuple[tuple[Posture, int], ...]


def decide(means: Means, seconds_in_all: float) -> tuple[Floats, Floats]:
    """(Z,) index into `WORDS` and (Z,) seconds lost."""
    losses = np.stack([means.upright, means.over_the_top, means.split, means.part])
    least = losses.min(axis=0)
    word = word_of(losses)
    lost = np.take_along_axis(losses, word[None, :], axis=0)[0]
    nothing = seconds_in_all - least < WORTH_WORKING * seconds_in_all
    return np.where(nothing, 4, word), np.where(nothing, seconds_in_all, lost)


def word_of(losses_s: Floats) -> Indices:
    """(...,) index into `WORDS` of what is done; losses (4, ...) in that order."""
    staying_s = losses_s[_STAYING]
    least_s = staying_s.min(axis=0)
    first = _STAYING[np.argmax(staying_s <= least_s + NEAR_ENOUGH_S, axis=0)]
    return np.where(losses_s[_SPLIT] < least_s - NEAR_ENOUGH_S, _SPLIT, first)


def weigh(
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    zetas: dict[Posture, Floats],
    held_loss: dict[Posture, Floats],
    limit_deg: float,
) -> Means:
    """Splits and parts of a pass beside the ways that hold, for Z seats.

    Args:
        track, steered, mount: the pass, what the axes are told, the mount.
        zetas: per posture (Z,).
        held_loss: per posture (Z,) least seconds lost of the ways that hold, infinite where none does.
        limit_deg: half the beamwidth.
    """
    parts: list[tuple[Posture, int]] = []
    part_lost: list[Floats] = [np.full(zetas[UPRIGHT].size, np.inf)]
    for posture in possible_postures(mount):
        for k in turns_in_travel(track, mount, zetas[posture], posture):
            offsets = posture_shift_deg(posture) - zetas[posture] + 360.0 * k
            aimed = aim(track, steered, posture, offsets, mount)
            parts.append((posture, k))
            part_lost.append(seconds_off(track, aimed.off_deg, limit_deg))
    all_parts = np.stack(part_lost)
    part = all_parts.min(axis=0)
    staying = np.minimum(np.minimum(held_loss[UPRIGHT], held_loss[OVER_THE_TOP]), part)
    best = best_splits(track, steered, mount, zetas, limit_deg, staying - NEAR_ENOUGH_S)
    return Means(
        upright=held_loss[UPRIGHT],
        over_the_top=held_loss[OVER_THE_TOP],
        split=best.seconds_lost,
        part=part,
        best_split=best,
        part_index=np.argmin(all_parts, axis=0) - 1,
        parts=tuple(parts),
    )


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
    easy = next((way for way in _by_preference(ways) if way.seconds_lost <= NEAR_ENOUGH_S), None)
    if easy is not None:
        return _held_check(pass_, track, steered, mount, ways, easy, limit)
    zetas: dict[Posture, Floats] = {p: np.array([zeta_deg(mount, p)]) for p in (UPRIGHT, OVER_THE_TOP)}
    held: dict[Posture, Floats] = {p: np.array([_least_lost(ways, p)]) for p in (UPRIGHT, OVER_THE_TOP)}
    means = weigh(track, steered, mount, zetas, held, limit)
    word_index, lost = decide(means, track.seconds_in_all)
    word = WORDS[int(word_index[0])]
    if word in {UPRIGHT, OVER_THE_TOP}:
        best = next(way for way in _by_preference(ways) if way.posture == word)
        return _held_check(pass_, track, steered, mount, ways, best, limit)
    split: Split | None = None
    part: Part | None = None
    pointing: Pointing | None = None
    used = possible_postures(mount)
    if word == "split":
        split, pointing = split_details(track, steered, mount, means.best_split, limit)
        used = used if split.from_posture != split.to_posture else (split.from_posture,)
    elif word == "part":
        part, pointing = part_details(track, steered, mount, means.parts[int(means.part_index[0])], limit)
        used = (part.posture,)
    return PassCheck(
        pass_=pass_,
        ways=ways,
        verdict=word,
        resting=False,
        seconds_lost=float(lost[0]),
        seconds_in_all=track.seconds_in_all,
        chosen=None,
        pointing=pointing,
        split=split,
        part=part,
        crossing=None if ways else _left_for(track, mount, split, used, limit),
    )


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
    aimed = aim(track, steered, best.posture, np.array([offset]), mount)
    none_moving = np.zeros(track.utc_s.size, dtype=bool)
    pointing = Pointing(
        track.utc_s, aimed.m_deg[0], aimed.e_deg[0], aimed.off_deg[0], track.worked, none_moving
    )
    return PassCheck(
        pass_=pass_,
        ways=ways,
        verdict=best.posture,
        resting=best.rests,
        seconds_lost=float(seconds_off(track, aimed.off_deg, limit)[0]),
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


def _left_for(
    track: MountTrack, mount: Mount, split: Split | None, used: tuple[Posture, ...], limit: float
) -> Crossing | None:
    """What a pass without a way meets; a full turn is made for the stop of the way it begins in."""
    if split is not None and split.kind == "full turn":
        offset = offset_in_turn(track, mount, split.from_posture, split.from_turn)
        found = _crossing_at(track, mount, split.from_posture, offset, _STOPS)
        if found is not None:
            return found
    return nearest_crossing(track, mount, used, limit)


def nearest_crossing(
    track: MountTrack, mount: Mount, postures: tuple[Posture, ...], limit: float
) -> Crossing | None:
    """Where the turn that is least short in these postures meets a stop or limit; None where one is clear."""
    found = [
        _crossing_in(track, mount, posture, k, limit)
        for posture in postures
        for k in turns_in_travel(track, mount, np.array([zeta_deg(mount, posture)]), posture)
    ]
    real = [crossing for crossing in found if crossing is not None]
    return min(real, key=lambda crossing: crossing.short_deg) if len(real) == len(found) and real else None


def _crossing_in(track: MountTrack, mount: Mount, posture: Posture, k: int, limit: float) -> Crossing | None:
    """The worst overrun of one way: at any stop or limit, or at those that forbid resting."""
    rests = reach_of(track, posture, mount.elevation, limit).can_rest
    return _crossing_at(track, mount, posture, offset_deg(mount, posture, k), _ENDS if rests else _LIMITS)


def _crossing_at(
    track: MountTrack, mount: Mount, posture: Posture, offset: float, among: tuple[str, ...]
) -> Crossing | None:
    """Which stop or limit of those ``among`` is overrun most, how many degrees, and when it is met."""
    guard, top = guarded_travel_deg(mount.azimuth)
    m_deg = track.azimuth_deg + offset
    axis = axis_elevation_deg(track.elevation_deg, posture)
    over = {
        "counter-clockwise stop": guard - m_deg,
        "clockwise stop": m_deg - top,
        "elevation minimum": mount.elevation.minimum_deg - axis,
        "elevation maximum": axis - mount.elevation.maximum_deg,
    }
    stop = max(among, key=lambda name: float(over[name][track.worked].max(initial=-np.inf)))
    beyond = (over[stop] > INSIDE_DEG) & track.worked
    if not beyond.any():
        return None
    moment, coming_off = _meeting_s(track, over[stop], beyond)
    azimuth_then = float(np.interp(moment, track.utc_s, track.azimuth_deg))
    elevation_then = float(np.interp(moment, track.utc_s, track.elevation_deg))
    axis_then = 180.0 - elevation_then if posture == OVER_THE_TOP else elevation_then
    bearing, _elevation = ground_bearing_deg(azimuth_then, elevation_then, mount.tilt)
    return Crossing(
        utc_s=moment,
        stop=stop,
        bearing_deg=bearing,
        m_deg=min(max(azimuth_then + offset, guard), top),
        e_deg=min(max(axis_then, mount.elevation.minimum_deg), mount.elevation.maximum_deg),
        short_deg=float(over[stop][track.worked].max()),
        posture=posture,
        turn=turn_of(track, offset),
        coming_off=coming_off,
    )


def _meeting_s(track: MountTrack, over_deg: Floats, beyond: Flags) -> tuple[float, bool]:
    """When the guard is met: going past it, or (True) for a pass that starts past it, coming back inside."""
    index = int(np.argmax(beyond))
    starts_past = index == 0 or not bool(track.worked[index - 1])
    if starts_past:
        back = np.flatnonzero(~beyond[index:] & track.worked[index:])
        if not back.size:
            return float(track.utc_s[index]), False
        index += int(back[0])
    left, right = float(over_deg[index - 1]), float(over_deg[index])
    share = left / (left - right) if left != right else 1.0
    before, after = float(track.utc_s[index - 1]), float(track.utc_s[index])
    return before + min(max(share, 0.0), 1.0) * (after - before), starts_past
