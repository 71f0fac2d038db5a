"""Why a verdict is what it is: sentences with time (UTC), bearing, dial, degrees, stop and cure.

A pass with a way is told how to begin, and what resting and slow axes cost. One without is told what it meets
and when, what is done instead, and the least change of the mount that would let it through. "Too far west"
would be shorter, but nobody could act on it: a reason is there to be checked against the dial and the sky.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from core.base.progress import reported
from core.base.times import clock, first_second, last_second, span_words
from core.base.units import Progress, no_progress
from core.mount.check.crossing import least_short_at, nearest_crossing
from core.mount.check.cure import apply_cure, least_cure
from core.mount.check.ends import LIMITS, STOPS
from core.mount.check.parts import but_for, part_words, rest_in_part
from core.mount.check.strike_words import strike_words
from core.mount.check.ways import struck_ways, ways_of
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.drive.motion import fastest
from core.mount.drive.slew import is_ideal
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import correction_state
from core.mount.model.results import (
    Change,
    Crossing,
    Cure,
    Part,
    PassCheck,
    Reason,
    Rest,
    Sentence,
    Split,
    Strike,
    Topic,
    Way,
)
from core.mount.model.station import OVER_THE_TOP, POSTURES, UPRIGHT, Mount, Station

#: The ends of the axes that a cure moves.
_MOVED_BY: dict[Change, tuple[str, ...]] = {
    "elevation.maximum_deg": LIMITS[1:],
    "elevation.minimum_deg": LIMITS[:1],
    "azimuth.travel_deg": STOPS,
}
#: What waiting for the stop would lose more is told from this many seconds on.
_TELLING_S = 1.0
#: A part held at an end of the travel is told from this far off the satellite on.
_TELLING_DEG = 0.5


def reasons_for(
    checks: tuple[PassCheck, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    progress: Progress = no_progress,
) -> tuple[Reason, ...]:
    """One reason per check, in the same order; ``tracks`` are those the checks were made from.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    pairs = tuple(zip(checks, tracks, strict=True))
    return tuple(
        reason_for(check, track, station) for check, track in reported(pairs, "giving reasons", progress, 1)
    )


def reason_for(
    check: PassCheck,
    track: MountTrack,
    station: Station,
) -> Reason:
    """The reason of one verdict; a pass without a way also gets its least cure."""
    mount = station.mount
    strikes = tuple(strike for _way, strike in struck_ways(track, station))
    if check.verdict in POSTURES and check.chosen is not None:
        refused = _strike_sentences(strikes, mount) if check.chosen.posture == OVER_THE_TOP else []
        held = _held_sentences(check, check.chosen, track, station)
        return Reason((*refused, *held), strikes=strikes)
    cure = least_cure(check.pass_, track, station)
    if check.crossing is not None:
        first = [crossing_sentence(check.crossing, mount)]
    else:
        first = _too_fast(check, track, station)
    first = [*_strike_sentences(strikes, mount), *first]
    first += _also_met(check.crossing, cure, track, station)
    last = _cure_words(cure, mount) if cure else "No single change of the mount would cure it."
    return Reason((*first, *_what_is_done(check, track, station), Sentence(Topic.CURE, last)), cure, strikes)


def _strike_sentences(strikes: tuple[Strike, ...], mount: Mount) -> list[Sentence]:
    """One sentence for each posture in which the pass would be held, but for what it strikes."""
    first = {strike.posture: strike for strike in reversed(strikes)}
    return [
        Sentence(Topic.STRIKE, strike_words(first[posture], mount))
        for posture in POSTURES
        if posture in first
    ]


def _also_met(
    crossing: Crossing | None, cure: Cure | None, track: MountTrack, station: Station
) -> list[Sentence]:
    """The limit or stop that a cure moves, where another one is told: in the posture that the cure opens."""
    among = _MOVED_BY.get(cure.change) if cure is not None else None
    if cure is None or among is None or (crossing is not None and crossing.stop in among):
        return []
    ways = ways_of(track, replace(station, mount=apply_cure(station.mount, cure)))
    for posture in dict.fromkeys(way.posture for way in ways):
        met = least_short_at(track, station.mount, posture, among)
        if met is not None:
            return [Sentence(Topic.CROSSING, _also_words(met, station.mount))]
    return []


def _also_words(met: Crossing, mount: Mount) -> str:
    if met.posture == UPRIGHT or met.stop in STOPS or mount.elevation.maximum_deg > 90.0:
        return _crossing_words(met, mount)
    # Past the limit from beginning to end: there is no moment to tell.
    level = elevation_dial(met.e_deg, mount.elevation)
    return f"Over the top it stays {met.short_deg:.1f} deg or more beyond the {met.stop} (dial {level.text})."


def _held_sentences(
    check: PassCheck,
    way: Way,
    track: MountTrack,
    station: Station,
) -> tuple[Sentence, ...]:
    mount, sentences = station.mount, []
    if way.posture == OVER_THE_TOP and not any(w.posture == UPRIGHT for w in check.ways):
        crossing = nearest_crossing(track, mount, (UPRIGHT,), station.beam_limit_deg)
        if crossing is not None:
            words = _crossing_words(crossing, mount, first=False)
            sentences.append(Sentence(Topic.CROSSING, f"Not upright: {words}"))
    sense = "clockwise" if way.m_los_deg >= way.m_aos_deg else "counter-clockwise"
    (m_aos, e_aos), (m_los, _e_los) = _at_whole_seconds(check, way)
    start, end = azimuth_dial(m_aos, mount.azimuth), azimuth_dial(m_los, mount.azimuth)
    level = elevation_dial(e_aos, mount.elevation)
    followed = (
        f"{way.posture.capitalize()}: start at dial {start.text}, elevation dial {level.text}, "
        f"and follow {sense} to dial {end.text}."
    )
    sentences += [Sentence(Topic.WAY, followed), rest_sentence(way)]
    return (*sentences, *_too_fast(check, track, station))


def _at_whole_seconds(check: PassCheck, way: Way) -> tuple[tuple[float, float], tuple[float, float]]:
    """Both axes (m, e) at the first and the last whole second of a pass, as the sheet has them."""
    pointing, pass_ = check.pointing, check.pass_
    if pointing is None:
        return (way.m_aos_deg, way.e_aos_deg), (way.m_los_deg, way.e_los_deg)
    seconds = [first_second(pass_.aos.utc_s), last_second(pass_.los.utc_s)]
    m_deg, e_deg = (np.interp(seconds, pointing.utc_s, axis) for axis in (pointing.m_deg, pointing.e_deg))
    return (float(m_deg[0]), float(e_deg[0])), (float(m_deg[1]), float(e_deg[1]))


def rest_sentence(way: Way) -> Sentence:
    """Where a way rests, or how far off the guards it keeps."""
    kept = f"It keeps {max(way.margin_deg, 0.0):.1f} deg off the guards."
    return Sentence(Topic.REST, kept if way.rest is None else _rest_words(way.rest))


def part_sentences(part: Part, seconds_lost: float, rest: Rest | None) -> tuple[Sentence, ...]:
    """What is done of a part and what that lets go, and where it is held off the satellite meanwhile."""
    done = Sentence(Topic.DONE, part_words(part, seconds_lost))
    if rest is None or rest.off_deg < _TELLING_DEG:
        return (done,)
    return done, Sentence(Topic.REST, _held_words(part, rest))


def _held_words(part: Part, rest: Rest) -> str:
    """Where a part is held at an end of the travel, when, and how far off the satellite that is."""
    starts = rest.start_utc_s <= part.start_utc_s + _TELLING_S
    ends = rest.end_utc_s >= part.end_utc_s - _TELLING_S
    off = f"at most {rest.off_deg:.1f} deg off"
    if starts and ends:
        return f"Starts and ends held at the {rest.where}, {off}."
    if starts:
        return f"Starts held at the {rest.where}, until {clock(last_second(rest.end_utc_s))}, {off}."
    if ends:
        return f"Ends held at the {rest.where}, from {clock(first_second(rest.start_utc_s))}, {off}."
    return f"Held at the {rest.where} {span_words(rest.start_utc_s, rest.end_utc_s)}, {off}."


def crossing_sentence(crossing: Crossing, mount: Mount) -> Sentence:
    """Where a stop or limit is met."""
    return Sentence(Topic.CROSSING, _crossing_words(crossing, mount))


def _too_fast(check: PassCheck, track: MountTrack, station: Station) -> list[Sentence]:
    peak, rate = fastest(track, station.mount.azimuth)
    if not check.ways or peak <= rate:
        if is_ideal(station.mount) or check.seconds_lost < 0.5 or check.verdict not in POSTURES:
            return []
        words = f"With the drive as measured, {check.seconds_lost:.0f} s are off the beam."
    else:
        words = (
            f"Azimuth turns at up to {peak:.1f} deg/s, the mount at {rate:g}: "
            f"{station.steering}, {check.seconds_lost:.0f} s off the beam."
        )
    return [Sentence(Topic.RATE, words)]


def _rest_words(rest: Rest) -> str:
    when = span_words(rest.start_utc_s, rest.end_utc_s)
    if rest.comes_off:
        when = f"for {rest.seconds:.0f} s between {when.replace(' to ', ' and ')}"
    return (
        f"Rests at the {rest.where} {when}, "
        f"{rest.overrun_deg:.1f} deg past it, at most {rest.off_deg:.1f} deg off the satellite, "
        f"{rest.loss_db:.1f} dB."
    )


def _crossing_words(crossing: Crossing, mount: Mount, first: bool = True) -> str:
    """How far beyond which stop or limit it runs, and the moment it is met: time, true bearing, dial."""
    verb, until = _meeting_words(crossing, first)
    if crossing.stop.startswith("elevation"):
        dial = f"elevation dial {elevation_dial(crossing.e_deg, mount.elevation).text}"
    else:
        dial = f"dial {azimuth_dial(crossing.m_deg, mount.azimuth).text}"
    return (
        f"{verb} {crossing.short_deg:.1f} deg beyond the {crossing.stop}, {until} {clock(crossing.utc_s)} "
        f"(bearing {crossing.bearing_deg:.1f} deg true, {dial})."
    )


def _meeting_words(crossing: Crossing, first: bool) -> tuple[str, str]:
    """``("Runs", "from")``, ``("Over the top it lies", "until")``; ``first``: it opens the sentence."""
    verb, until = ("lies", "until") if crossing.coming_off else ("runs", "from")
    if not first:
        return f"it {verb}", until
    if crossing.posture == OVER_THE_TOP:
        return f"Over the top it {verb}", until
    return verb[0].upper() + verb[1:], until


def _what_is_done(check: PassCheck, track: MountTrack, station: Station) -> tuple[Sentence, ...]:
    if check.split is not None:
        return _split_sentences(check.split, check.seconds_lost, station.mount)
    if check.part is not None and check.pointing is not None:
        rest = rest_in_part(track, check.pointing, check.part, station)
        return part_sentences(check.part, check.seconds_lost, rest)
    return (Sentence(Topic.DONE, "Less than a quarter of it could be on the beam."),)


def _split_sentences(split: Split, seconds_lost: float, mount: Mount) -> tuple[Sentence, ...]:
    """When to leave, which way to turn and to what dial, when it is back on, and what that loses."""
    there = azimuth_dial(split.m_to_deg, mount.azimuth)
    sense = "clockwise" if split.m_to_deg >= split.m_from_deg else "counter-clockwise"
    posture = f", {split.to_posture}" if split.kind == "change of posture" else ""
    back_s = split.back_utc_s
    by = f" by {clock(split.end_utc_s)}" if back_s > split.end_utc_s else ""
    others = tuple(one for one in split.absences if one[1] != back_s)
    done = (
        f"Split by a {split.kind}: leave it at {clock(split.start_utc_s)}, turn {sense} to dial "
        f"{there.text}{posture}{by}, back on at {clock(back_s)}{but_for(others)}: "
        f"{seconds_lost:.0f} s off the beam."
    )
    met_s, waiting_s = split.stop_met_utc_s, split.lost_waiting_s
    if met_s is None or waiting_s is None or waiting_s < seconds_lost + _TELLING_S:
        return (Sentence(Topic.DONE, done),)
    waiting = f"Waiting for the {split.stop_met} at {clock(met_s)} would lose {waiting_s:.0f} s."
    return Sentence(Topic.DONE, done), Sentence(Topic.WAITING, waiting)


def _cure_words(cure: Cure, mount: Mount) -> str:
    """The cure rounded up to a tenth, so that doing what is printed cures."""
    by = math.ceil(abs(cure.by_deg) * 10.0 - 1e-9) / 10.0
    if cure.change == "keyway_bearing_deg":
        sense = 1.0 if cure.by_deg >= 0.0 else -1.0
        to_value = (cure.to_value - cure.by_deg + sense * by) % 360.0
        word = "clockwise" if sense > 0.0 else "counter-clockwise"
        anew = " Then measure the correction again." if correction_state(mount) == "holds" else ""
        rests = ", where it rests inside the beam" if cure.rests else ""
        return f"Least cure: turn the keyway {by:.1f} deg {word}, to {to_value:.1f} deg true{rests}.{anew}"
    what = {
        "azimuth.travel_deg": f"{by:.1f} deg more azimuth travel",
        "azimuth.rate_deg_s": f"an azimuth rate {by:.1f} deg/s higher",
        "elevation.maximum_deg": f"an elevation maximum {by:.1f} deg higher",
        "elevation.minimum_deg": f"an elevation minimum {by:.1f} deg lower",
    }[cure.change]
    return f"No keyway bearing cures it. Least cure: {what}."
