"""The set-up timetable, reckoned back from the first contact: when each stage must be begun at the latest.

A stage that needs light, and would fall into the dark, goes before it; all stages before it go with it, and
with them the moment to be there. What a stage takes is the plan's, defaults being common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from core.setup.daylight import Light, Span, light_about
from core.setup.methods import Field, Method, methods_at
from core.setup.model import SetupMinutes

Need = Literal["", "daylight", "sighting"]

#: (key of the minutes, what is done, what it needs), in order.
STAGES: tuple[tuple[str, str, Need], ...] = (
    ("look_up", "look up and around", "daylight"),
    ("tripod", "tripod, stakes and ballast", ""),
    ("level", "level the plate", "daylight"),
    ("keyway", "keyway to its bearing", ""),
    ("adapter", "adapter, index in its hole", ""),
    ("torque", "torque, witness mark", ""),
    ("rotator", "rotator; cables at mid travel", ""),
    ("antennas", "antennas and feeders", ""),
    ("travel_test", "travel test with a spotter", ""),
    ("sighting", "sighting of north", "sighting"),
    ("pull_test", "pull test", ""),
    ("receive_check", "receive check", ""),
    ("first_dials", "first start dials set", ""),
)

#: No stage is moved further than this to have light: then it is done in the dark, and told.
MOST_MOVED_S = 6 * 3600.0
#: Without the Sun a way to north does where twice its error is within this share of the narrowest beam: so
#: far off a beam loses 0.75 dB (12 times the share squared; common practice, no source).
_OF_BEAM = 0.25
_MINUTE_S = 60.0


@dataclass(frozen=True)
class Stage:
    """One line of the timetable.

    Attributes:
        key, what: of `STAGES`.
        minutes: as typed, without the spare.
        start_utc_s, end_utc_s: to be begun and ended at the latest; whole minutes.
        need: ``""``, ``"daylight"``, ``"Sun"``: what light it must have.
        moved: it is earlier than what comes after it would have it, for its own light.
        dark: it has no light in the hours before.
    """

    key: str
    what: str
    minutes: float
    start_utc_s: float
    end_utc_s: float
    need: Literal["", "daylight", "Sun"]
    moved: bool
    dark: bool


@dataclass(frozen=True)
class Timetable:
    """The whole of it.

    Attributes:
        ready_utc_s: the first contact's start.
        arrive_utc_s: be there.
        arrive_by_contact_utc_s: the same by the first contact alone, were there always light.
        stages: in order.
        spare_share: on top of every stage's minutes.
        light: about the first contact.
        north: by what north is sighted in time; None where nothing is good enough.
    """

    ready_utc_s: float
    arrive_utc_s: float
    arrive_by_contact_utc_s: float
    stages: tuple[Stage, ...]
    spare_share: float
    light: Light
    north: Method | None


def timetable(field: Field, ready_utc_s: float, minutes: SetupMinutes) -> Timetable:
    """When each stage must be done for the station to be ready at a moment.

    Args:
        field: with what north is to be found.
        ready_utc_s: the first contact's start, POSIX seconds.
        minutes: what each stage takes.
    """
    light = light_about(field.site, ready_utc_s)
    typed = [float(getattr(minutes, key)) for key, _what, _need in STAGES]
    lengths_s = [_MINUTE_S * each * (1.0 + minutes.spare_share) for each in typed]
    by_contact = latest(ready_utc_s, lengths_s, [None] * len(STAGES))
    at_sighting = next(one for one, stage in zip(by_contact, STAGES, strict=True) if stage[2] == "sighting")
    need_of = {"": "", "daylight": "daylight", "sighting": _light_of_sighting(field, at_sighting.start_utc_s)}
    needs = [need_of[need] for _key, _what, need in STAGES]
    spans = {"": None, "daylight": light.daylight, "Sun": light.sun}
    times = latest(ready_utc_s, lengths_s, [spans[need] for need in needs])
    stages = tuple(
        Stage(key, what, each, one.start_utc_s, one.end_utc_s, need, one.moved, one.dark)  # type: ignore[arg-type]
        for (key, what, _need), each, one, need in zip(STAGES, typed, times, needs, strict=True)
    )
    sighting = next(one for one in stages if one.key == "sighting")
    by_day = any(
        first <= sighting.start_utc_s and sighting.end_utc_s <= last for first, last in light.daylight
    )
    return Timetable(
        ready_utc_s=ready_utc_s,
        arrive_utc_s=stages[0].start_utc_s,
        arrive_by_contact_utc_s=by_contact[0].start_utc_s,
        stages=stages,
        spare_share=minutes.spare_share,
        light=light,
        north=_best(field, sighting.start_utc_s, by_day),
    )


@dataclass(frozen=True)
class Latest:
    """When something is begun and ended at the latest; ``moved`` and ``dark`` as in `Stage`."""

    start_utc_s: float
    end_utc_s: float
    moved: bool
    dark: bool


def latest(
    ready_utc_s: float, lengths_s: Sequence[float], windows: Sequence[Sequence[Span] | None]
) -> tuple[Latest, ...]:
    """When each of some things in a row must be begun, so that all are done in time.

    Args:
        ready_utc_s: when the last must be done.
        lengths_s: how long each takes.
        windows: for each the stretches of which one must hold all of it; None where any time will do. One
            that no stretch holds within `MOST_MOVED_S` is left where it is.
    """
    end, found = ready_utc_s, []
    for length_s, spans in zip(reversed(lengths_s), reversed(windows), strict=True):
        there = end if spans is None else _last_end(end, length_s, spans)
        dark = there is None
        ends = end if there is None else there
        start = math.floor((ends - length_s) / _MINUTE_S) * _MINUTE_S
        found.append(Latest(start, ends, ends < end, dark))
        end = start
    return tuple(reversed(found))


def _last_end(end_utc_s: float, length_s: float, spans: Sequence[Span]) -> float | None:
    """The last moment up to ``end_utc_s`` at which a stretch has held so long; None where none does."""
    for first, last in reversed(spans):
        end = min(end_utc_s, last)
        if end != end_utc_s:  # ends are told to the minute
            end = math.floor(end / _MINUTE_S) * _MINUTE_S
        start = math.floor((end - length_s) / _MINUTE_S) * _MINUTE_S
        if start >= first and start >= end_utc_s - length_s - MOST_MOVED_S:
            return end
    return None


def _light_of_sighting(field: Field, utc_s: float) -> Literal["", "daylight", "Sun"]:
    """What light north wants: none where Moon or Polaris will do, daylight for a landmark, else the Sun."""
    found = methods_at(field, utc_s)
    if _good_enough(field, [one for one in found if one.method in ("moon", "polaris")]) is not None:
        return ""
    marked = _good_enough(field, [one for one in found if one.method == "landmark"])
    return "Sun" if marked is None else "daylight"


def _best(field: Field, utc_s: float, by_day: bool) -> Method | None:
    """The best way at the moment when north is sighted; no landmark is seen in the dark."""
    wanted = ("sun", "moon", "polaris", "landmark") if by_day else ("sun", "moon", "polaris")
    return _good_enough(field, [one for one in methods_at(field, utc_s) if one.method in wanted])


def _good_enough(field: Field, methods: Sequence[Method]) -> Method | None:
    able = [one for one in methods if one.possible and one.sigma_deg is not None]
    best = min(able, key=lambda one: one.sigma_deg or 0.0, default=None)
    if best is None or 2.0 * (best.sigma_deg or 0.0) > _OF_BEAM * field.beamwidth_deg:
        return None
    return best
