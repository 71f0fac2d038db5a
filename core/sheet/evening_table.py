"""The evening in order: a line for each contact, what is left out and why, and the evening on the dial."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.drawing import Drawing
from core.base.words import counted
from core.evaluate import Result
from core.mount.evening.drawn import DrawnPass
from core.mount.evening.lost import lost_of
from core.mount.evening.results import EveningReasons
from core.mount.model.results import PassCheck
from core.place.zones import local_clock
from core.plan.document import Plan
from core.sheet.dials import PrintedDial, dials_at, place_words
from core.sheet.drawing.marks import mark_of_check
from core.sheet.drawing.strip import ALONE_MM, IN_THE_LIST_MM, evening_strip
from core.sheet.hand.stretches import contact_seconds
from core.sheet.moves import (
    idle_before,
    leave_by,
    move_words,
    start_moving_by,
    start_moving_utc_s,
    stow_words,
)
from core.sheet.pass_words import name_of, peak_words, posture_words, turn_words
from core.sheet.wishes import PLAIN_WISHES, SheetWishes
from core.sheet.words import clean, worked_words


@dataclass(frozen=True)
class EveningLine:
    """One contact in the evening's order.

    Attributes:
        number: 1 for the first.
        satellite: name.
        verdict: word, with "resting" where it rests.
        mark: the verdict's mark.
        utc, local: first to last moment of what is worked.
        peak: elevation and bearing of the highest point.
        start_azimuth, start_elevation: dials to set before AOS; empty figures when out of reach.
        posture: how the elevation axis serves.
        turn: which way, how far.
        move: the move before it, in words.
        in_time: the move before it is feasible.
        start_moving_by, start_moving_utc_s: latest moment to start a move that fits; empty and None without.
        lost: seconds lost and why, in words.
    """

    number: int
    satellite: str
    verdict: str
    mark: Drawing
    utc: str
    local: str
    peak: str
    start_azimuth: PrintedDial
    start_elevation: PrintedDial
    posture: str
    turn: str
    move: str
    in_time: bool
    start_moving_by: str
    start_moving_utc_s: float | None
    lost: str


@dataclass(frozen=True)
class LeftOut:
    """A pass that is not worked: which, when, how high, its verdict alone, and why it is left out."""

    satellite: str
    mark: Drawing
    when: str
    peak: str
    verdict: str
    why: str


@dataclass(frozen=True)
class EveningTable:
    """The contacts in order, what is left out, and the evening on the dial (None for more than a day)."""

    lines: tuple[EveningLine, ...]
    strip: Drawing | None
    left_out: tuple[LeftOut, ...]
    told: tuple[str, ...]


def evening_table(
    plan: Plan,
    result: Result,
    passes: list[DrawnPass],
    wishes: SheetWishes = PLAIN_WISHES,
    reasons: EveningReasons | None = None,
) -> EveningTable:
    """The evening's table.

    Args:
        plan, result: what it is of.
        passes: each contact as it is drawn.
        wishes: the sheet's: a line on a page of its own is large, what is left out is listed where asked.
        reasons: of the evening, if they are known.
    """
    order = result.order
    whys = [why for _, why in order.left_out] if reasons is None else reasons.why_left
    contacts = order.contacts
    lines = tuple(_evening_line(plan, result, i, drawn) for i, drawn in enumerate(passes))
    told = [clean(text, 300) for text in order.unmatched]
    told += [f"{order.worth.short_words}."] if order.worth.short_words else []
    if order.left_out and not wishes.left_out:
        told.append(f"{counted(len(order.left_out), 'pass')} left out; the list is printed where asked for.")
    told += [clean(f"Refused: {error}", 300) for error in result.refused]
    stow = stow_words(order, plan.mount)
    told += [f"After the last: {stow[0].lower()}{stow[1:]}."] if stow else []
    return EveningTable(
        lines=lines,
        strip=evening_strip(
            contacts,
            passes,
            plan.mount,
            result.time_zone,
            ALONE_MM if wishes.shape == "page" else IN_THE_LIST_MM,
        ),
        left_out=tuple(
            _left_out(check, _full_why(result, check, why), result.time_zone, _hours_s(plan))
            for (check, _), why in zip(order.left_out, whys, strict=True)
            if wishes.left_out
        ),
        told=tuple(told),
    )


def _evening_line(plan: Plan, result: Result, index: int, drawn: DrawnPass) -> EveningLine:
    contact, zone = result.order.contacts[index], result.time_zone
    check, idle = contact.check, idle_before(result.order, index)
    start, end = contact_seconds(drawn)
    start_dials = dials_at(drawn, start, plan.mount)
    move = contact.move_before
    return EveningLine(
        number=index + 1,
        satellite=name_of(check.pass_),
        verdict=check.verdict_words,
        mark=mark_of_check(check),
        utc=worked_words(start, end, _hours_s(plan)),
        local=f"{local_clock(start, zone, seconds=False)} to {local_clock(end, zone, seconds=False)}",
        peak=peak_words(check.pass_),
        start_azimuth=start_dials[0],
        start_elevation=start_dials[1],
        posture=posture_words(check),
        turn=turn_words(drawn, check, with_times=False),
        move=move_words(contact, index)
        if idle is None
        else f"Move from idle at {place_words(idle.m_deg, idle.e_deg, plan.mount)}",
        in_time=move is None or move.feasible,
        start_moving_by=leave_by(idle) if idle is not None else start_moving_by(contact),
        start_moving_utc_s=idle.end_utc_s if idle is not None else start_moving_utc_s(contact),
        lost=lost_of(contact, plan.station.beam_limit_deg).words,
    )


def _full_why(result: Result, check: PassCheck, why: str) -> str:
    """Why a pass is left out; where that only repeats the verdict, the verdict's own reason."""
    if why != check.verdict:
        return why
    told = zip(result.checks, result.reasons, strict=True)
    return next((reason.text for other, reason in told if other is check), why)


def _hours_s(plan: Plan) -> float:
    return plan.evening.end_utc_s - plan.evening.start_utc_s


def _left_out(check: PassCheck, why: str, zone: str, hours_s: float) -> LeftOut:
    pass_ = check.pass_
    return LeftOut(
        satellite=name_of(pass_),
        mark=mark_of_check(check),
        when=(
            f"{worked_words(pass_.aos.utc_s, pass_.los.utc_s, hours_s)} UTC, "
            f"{local_clock(pass_.aos.utc_s, zone)} to {local_clock(pass_.los.utc_s, zone)} local"
        ),
        peak=f"peak {peak_words(pass_)}",
        verdict=check.verdict_words,
        why=clean(why, 300),
    )
