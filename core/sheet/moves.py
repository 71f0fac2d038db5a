"""The way to a pass in words: the move before it, idling and stowing, and joining it from a dead start."""

from __future__ import annotations

import math

from core.base.times import clock, first_second
from core.base.words import duration
from core.mount.evening.cautions import joining_with_caution
from core.mount.evening.joining import AxisAngles, Joining, idle_place, place_at
from core.mount.evening.results import Contact, EveningOrder, Halt
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount
from core.plan.document import Plan
from core.sheet.dials import place_words, printed_azimuth
from core.sheet.pass_words import name_of
from core.sheet.words import clock_beside


def idle_before(order: EveningOrder, index: int) -> Halt | None:
    """Where the mount idles before a contact (its place in the order), or None."""
    return next((rest for rest in order.rests if rest.kind == "idle" and rest.after == index - 1), None)


def leave_by(rest: Halt, beside_utc_s: float | None = None) -> str:
    """When the idle place is left: ``17:13:14``, with its day where ``beside_utc_s`` is far from it."""
    if rest.end_utc_s is None:
        return ""
    return clock_beside(rest.end_utc_s, rest.end_utc_s if beside_utc_s is None else beside_utc_s)


def stow_words(order: EveningOrder, mount: Mount) -> str:
    """``Stow at azimuth 180, elevation 90``; empty where it is not stowed."""
    rest = next((rest for rest in order.rests if rest.kind == "stow"), None)
    return "" if rest is None else f"Stow at {place_words(rest.m_deg, rest.e_deg, mount)}"


def _start_by(contact: Contact) -> float | None:
    move = contact.move_before
    return None if move is None else contact.start_utc_s - move.seconds_needed


def start_moving_utc_s(contact: Contact) -> float | None:
    """The latest moment to start the move before a contact; None where there is none or it does not fit."""
    move = contact.move_before
    return _start_by(contact) if move is not None and move.feasible else None


def start_moving_by(contact: Contact) -> str:
    """The same on a clock; empty where there is none."""
    by = start_moving_utc_s(contact)
    return "" if by is None else clock(by)


def move_words(contact: Contact, index: int) -> str:
    """Whether the move before a contact fits; ``index`` from 0 is the printed number of the one before."""
    move = contact.move_before
    if move is None:
        return "Set it before AOS"
    if move.feasible:
        return f"The move takes {duration(move.seconds_needed)} of {duration(move.seconds_there)}"
    short = (
        f"there are {duration(move.seconds_there)}"
        if move.seconds_there >= 0.0
        else f"the passes overlap by {duration(-move.seconds_there)}"
    )
    by = clock(contact.start_utc_s - move.seconds_needed)
    if index == 0:
        return f"NOT IN TIME: the move from where it stands takes {duration(move.seconds_needed)}, {short}"
    return (
        f"NOT IN TIME: the move takes {duration(move.seconds_needed)}, {short}; "
        f"to have all of pass {index + 1} leave pass {index} by {by}"
    )


def before_words(order: EveningOrder, index: int, mount: Mount) -> str:
    """What to do before a contact (its place in the order), and by when."""
    contact, idle = order.contacts[index], idle_before(order, index)
    if idle is not None:
        return (
            f"From idle ({place_words(idle.m_deg, idle.e_deg, mount)}): start moving by {leave_by(idle)} UTC."
        )
    by = _start_by(contact)
    if by is None or contact.move_before is None:
        return (
            "First of the evening: be on the start dials before AOS."
            if index == 0
            else "Be there before AOS."
        )
    if contact.move_before.feasible:
        place = f"pass {index}" if index else "where it stands now"
        needed, there = (
            duration(contact.move_before.seconds_needed),
            duration(contact.move_before.seconds_there),
        )
        return f"From {place}: start moving by {clock(by)} UTC (it takes {needed} of {there})."
    return f"{move_words(contact, index)}."


def after_words(order: EveningOrder, index: int, mount: Mount) -> str:
    """What comes after the contact at this place in the order, and by when to be on the way there."""
    index += 1
    contacts, idle = order.contacts, idle_before(order, index)
    if index >= len(contacts):
        stow = stow_words(order, mount)
        return f"Last of the evening. {stow}." if stow else "Last of the evening."
    following, ends_s = contacts[index], contacts[index - 1].end_utc_s
    name = name_of(following.check.pass_)
    move = following.move_before
    if move is None:
        at_s = first_second(following.start_utc_s)
        return f"Next: pass {index + 1}, {name}, at {clock_beside(at_s, ends_s)} UTC."
    if idle is not None:
        return (
            f"Next: idle at {place_words(idle.m_deg, idle.e_deg, mount)}; "
            f"leave it by {leave_by(idle, ends_s)} UTC for pass {index + 1}, {name}."
        )
    sense = "clockwise" if move.m_to_deg >= move.m_from_deg else "counter-clockwise"
    degrees = abs(move.m_to_deg - move.m_from_deg)
    pointing = following.check.pointing
    there = AxisAngles(move.m_to_deg, move.e_to_deg)
    if pointing is not None:  # as the next card has it, at the first whole second
        there = place_at(pointing, first_second(following.start_utc_s))
    by = following.start_utc_s - move.seconds_needed
    told = f"leave by {clock_beside(by, ends_s)} UTC"
    when = told if move.feasible else f"NOT IN TIME unless you {told}"
    return (
        f"Next: pass {index + 1}, {name}: {when}, turn {sense} {degrees:.0f} deg to "
        f"{place_words(there.m_deg, there.e_deg, mount)}."
    )


def dead_start(plan: Plan, check: PassCheck) -> Joining | None:
    """How soon the pass is joined from a dead start, idle as the plan has it."""
    return joining_with_caution(check, plan.station, _idle(plan))


def _idle(plan: Plan) -> AxisAngles:
    return idle_place(plan.mount, plan.evening_rules.idle_m_deg)


def joining_sentences(plan: Plan, found: Joining | None) -> tuple[str, ...]:
    """How soon the pass is joined from a dead start, and when to leave to have all of it."""
    if found is None:
        return ()
    dial = printed_azimuth(_idle(plan).m_deg, plan.mount).text
    return (
        f"If late: at {clock(first_second(found.start_utc_s))} still at idle ({dial}), on it "
        f"{_on_it(found.from_idle_utc_s)}; from anywhere {_on_it(found.from_anywhere_utc_s)}. "
        f"For all of it leave idle by {clock(math.floor(found.leave_idle_utc_s))}, "
        f"anywhere by {clock(math.floor(found.leave_anywhere_utc_s))}.",
        *([found.caution] if found.caution else []),
    )


def _on_it(utc_s: float | None) -> str:
    """Upward to the second: not before it is true."""
    return "too late" if utc_s is None else f"by {clock(math.ceil(utc_s))}"
