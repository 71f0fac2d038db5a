"""Timetable, checklist, kit and the sky's dials as printed; all from `core.ready`."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.times import clock
from core.base.words import bearing_text, plain
from core.mount.dial.readings import DialReading
from core.place.zones import local_clock
from core.ready import Ready
from core.setup.methods import Method
from core.setup.sky_dials import SkyLine
from core.setup.timetable import Stage
from core.setup.timetable_words import (
    NO_CONTACT,
    arrive_words,
    light_sentence,
    moved_sentences,
    north_words,
    stage_note,
)
from core.setup.words import SUN_CAUTION
from core.sheet.dials import NO_DIAL, PrintedDial, printed_dial
from core.sheet.words import clean

#: So many landmarks have a line of their own.
_MARKS = 6


@dataclass(frozen=True)
class PrintedStage:
    """A line of the timetable: to be begun by ``utc`` or ``local``."""

    utc: str
    local: str
    what: str
    minutes: str
    note: str


@dataclass(frozen=True)
class PrintedStep:
    """A step of the checklist.

    ``done`` when this was printed; ``alarm`` where what the plan says of it does not hold.
    """

    words: str
    done: bool
    alarm: bool


@dataclass(frozen=True)
class PrintedSky:
    """A moment: the dials on the Sun and the Moon, empty out of sight, and where a shadow falls, true."""

    utc: str
    sun_azimuth: PrintedDial
    sun_elevation: PrintedDial
    shadow_deg: str
    moon_azimuth: PrintedDial
    moon_elevation: PrintedDial


@dataclass(frozen=True)
class PrintedMark:
    """A landmark with the dials on it, empty where the boom does not reach it."""

    name: str
    true_deg: str
    azimuth: PrintedDial
    elevation: PrintedDial


@dataclass(frozen=True)
class ReadyCard:
    """What gets the operator ready.

    Attributes:
        arrive, work: when to be there, first of all, and what for; or that there is nothing to be ready for.
        told: what light has moved, and the light.
        stages: the timetable; empty without a contact.
        steps, progress: the checklist.
        kit: (what, why).
        sky: lines as long as Sun or Moon are in sight.
        sky_after: what is said of the time without a line.
        marks: landmarks.
        caution: of the Sun.
    """

    arrive: str
    work: str
    told: tuple[str, ...]
    stages: tuple[PrintedStage, ...]
    steps: tuple[PrintedStep, ...]
    kit: tuple[tuple[str, str], ...]
    sky: tuple[PrintedSky, ...]
    sky_after: str
    marks: tuple[PrintedMark, ...]
    caution: str = SUN_CAUTION


def ready_card(ready: Ready, zone: str) -> ReadyCard:
    """Everything of it in words."""
    found = ready.timetable
    lines = [line for line in ready.sky if line.sun is not None or line.moon is not None]
    arrive, work = (NO_CONTACT, "") if found is None else arrive_words(found, zone)
    return ReadyCard(
        arrive=arrive,
        work=work,
        told=() if found is None else (*moved_sentences(found, zone), light_sentence(found, zone)),
        stages=()
        if found is None
        else tuple(_stage(one, zone, north_words(found.north)) for one in found.stages),
        steps=tuple(PrintedStep(clean(one.words, 420), one.done, one.holds is False) for one in ready.steps),
        kit=tuple((clean(one.what, 80), clean(one.why, 120)) for one in ready.kit),
        sky=tuple(_sky(line) for line in lines),
        sky_after=_out_of_sight(ready.sky),
        marks=tuple(_mark(one) for one in ready.landmarks[:_MARKS]),
    )


def _stage(one: Stage, zone: str, north: str) -> PrintedStage:
    note = stage_note(one)
    if one.key == "sighting" and not note:
        note = clean(north, 40)
    return PrintedStage(
        clock(one.start_utc_s, seconds=False),
        local_clock(one.start_utc_s, zone, seconds=False),
        one.what,
        plain(one.minutes),
        note,
    )


def _sky(line: SkyLine) -> PrintedSky:
    sun, moon = line.sun, line.moon
    return PrintedSky(
        clock(line.utc_s, seconds=False),
        _dial(None if sun is None else sun.azimuth),
        _dial(None if sun is None else sun.elevation),
        "" if line.shadow_bearing_deg is None else bearing_text(line.shadow_bearing_deg),
        _dial(None if moon is None else moon.azimuth),
        _dial(None if moon is None else moon.elevation),
    )


def _out_of_sight(lines: tuple[SkyLine, ...]) -> str:
    """What the lines leave out: moments with neither in sight, and which of the two never is."""
    if not lines:
        return ""
    span = f"from {clock(lines[0].utc_s, seconds=False)} to {clock(lines[-1].utc_s, seconds=False)} UTC"
    sun = [line for line in lines if line.sun is not None]
    moon = [line for line in lines if line.moon is not None]
    if not sun and not moon:
        return f"Neither Sun nor Moon is in sight {span}."
    told = [f"Every ten minutes {span}" + ("" if _all_lines(lines) else ", where either is in sight") + "."]
    told += ["The Sun is not in sight."] if not sun else []
    told += ["The Moon is not in sight."] if not moon else []
    return " ".join(told)


def _all_lines(lines: tuple[SkyLine, ...]) -> bool:
    return all(line.sun is not None or line.moon is not None for line in lines)


def _mark(one: Method) -> PrintedMark:
    dials = one.dials
    return PrintedMark(
        clean(one.target, 30),
        "" if one.bearing_deg is None else bearing_text(one.bearing_deg),
        _dial(None if dials is None else dials.azimuth),
        _dial(None if dials is None else dials.elevation),
    )


def _dial(reading: DialReading | None) -> PrintedDial:
    return NO_DIAL if reading is None else printed_dial(reading)
