"""The set-up timetable in words: when to be there, why so early, and what the light does. Number first."""

from __future__ import annotations

from core.base.times import clock, to_datetime
from core.base.words import day_and_month, listed, percent, plain
from core.place.zones import local_clock, local_time
from core.setup.methods import Method
from core.setup.timetable import MOST_MOVED_S, Stage, Timetable
from core.setup.words import method_name

NO_CONTACT = "No contact is worked this evening: there is nothing to be ready for."


def moment_words(utc_s: float, zone: str, beside_utc_s: float | None = None) -> str:
    """``15:12 UTC (16:12 local)``, down to the minute; dates where they are not those of ``beside_utc_s``."""
    utc_s = utc_s // 60.0 * 60.0
    utc, local = clock(utc_s, seconds=False), local_clock(utc_s, zone, seconds=False)
    if beside_utc_s is not None:
        here, there = local_time(utc_s, zone), local_time(beside_utc_s, zone)
        if to_datetime(utc_s).date() != to_datetime(beside_utc_s).date():
            utc = f"{day_and_month(to_datetime(utc_s))} {utc}"
        if here.date() != there.date():
            local = f"{day_and_month(here)} {local}"
    return f"{utc} UTC ({local} local)"


def arrive_words(found: Timetable, zone: str) -> tuple[str, str]:
    """When to be there, and what for: two parts of one sentence."""
    minutes = sum(one.minutes for one in found.stages)
    spare = f", {percent(found.spare_share)} spare" if found.spare_share else ""
    return (
        f"Be there by {moment_words(found.arrive_utc_s, zone, found.ready_utc_s)}",
        f": {plain(minutes, 0)} min of work{spare}; first AOS {moment_words(found.ready_utc_s, zone)}.",
    )


def arrive_sentence(found: Timetable, zone: str) -> str:
    """The same in one."""
    return "".join(arrive_words(found, zone))


def light_sentence(found: Timetable, zone: str) -> str:
    """Until when the Sun can be sighted, sunset and the end of twilight."""
    light, beside = found.light, found.ready_utc_s
    told = []
    if light.sun_last_utc_s is not None:
        last = moment_words(light.sun_last_utc_s, zone, beside)
        told.append(f"the Sun clears the mask for a sighting until {last}")
    elif light.sun_begun:
        told.append("the Sun stays over the mask")
    else:
        told.append("the Sun never clears the mask for a sighting before the first contact")
    if light.sunset_utc_s is not None:
        told.append(f"it sets at {moment_words(light.sunset_utc_s, zone, beside)}")
    else:
        told.append("it does not set" if light.sun_up else "it does not rise")
    if light.dusk_utc_s is not None:
        told.append(f"dusk (end of civil twilight) is at {moment_words(light.dusk_utc_s, zone, beside)}")
    elif not light.daylight:
        told.append("there is no twilight either")
    words = listed(told)
    return words[:1].upper() + words[1:] + "."


def moved_sentences(found: Timetable, zone: str) -> tuple[str, ...]:
    """What its light has moved, and what has none."""
    told = [_moved(one, found, zone) for one in found.stages if one.moved]
    if told and found.arrive_utc_s < found.arrive_by_contact_utc_s:
        by_contact = moment_words(found.arrive_by_contact_utc_s, zone, found.ready_utc_s)
        told.append(f"By the first contact alone {by_contact} would do.")
    told += [_dark(one) for one in found.stages if one.dark]
    return tuple(told)


def _dark(one: Stage) -> str:
    """What is done without the light it wants, and how."""
    hours = f"in the {plain(MOST_MOVED_S / 3600.0, 0)} hours before"
    if one.need == "Sun":
        return (
            f"No Sun to sight by {hours}, and no other way is good enough: north is the compass' or a "
            "satellite's signal's. Take a landmark's position with you."
        )
    if one.key == "sighting":
        return f"No daylight for the landmark {hours}: one that is lit, or the compass."
    if one.key == "look_up":
        return (
            f"{_capital(one.what)} falls into the dark, with no daylight {hours}: "
            "take a strong lamp, and go no nearer to anything that you cannot see."
        )
    return f"{_capital(one.what)} falls into the dark: by a lamp."


def _moved(one: Stage, found: Timetable, zone: str) -> str:
    by = moment_words(one.end_utc_s, zone, found.ready_utc_s)
    if one.need == "Sun":
        return f"{_capital(one.what)} must be done by {by}, while the Sun is to be seen; all before it, too."
    return f"{_capital(one.what)} must be done by {by}, in daylight; all before it, too."


def stage_note(one: Stage) -> str:
    """The few words beside a line of the timetable."""
    if one.dark:
        return "in the dark" if one.need == "daylight" else "no Sun"
    if one.moved:
        return "before dark" if one.need == "daylight" else "by the Sun"
    return ""


def north_words(north: Method | None) -> str:
    """By what north is sighted, without a landmark's name."""
    if north is None:
        return ""
    return "by the landmark" if north.method == "landmark" else f"by {method_name(north)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
