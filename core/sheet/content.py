"""`sheet_content`: from a plan and its result to everything that is printed. No figure is made further on."""

from __future__ import annotations

import math
from collections.abc import Sequence

from core.base.angles import wrap_360
from core.base.times import clock, format_iso
from core.base.words import bearing_text, duration, figure, listed, plain, signed
from core.evaluate import Result
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.drawn import DrawnPass, drawn_pass, postures_of
from core.mount.evening.joining import idle_place, joining
from core.mount.evening.results import Contact, EveningOrder
from core.mount.model.results import PassCheck
from core.mount.model.station import OVER_THE_TOP
from core.passes.track import Pass
from core.place.zones import local_clock
from core.plan.document import Plan
from core.sheet.halts import idle_before, leave_by, place_words, stow_words
from core.sheet.nouns import (
    Dial,
    Drawing,
    EveningLine,
    EveningPage,
    LeftOut,
    PassCard,
    Row,
    SheetContent,
)
from core.sheet.plots import evening_strip, sky, verdict_mark
from core.sheet.set_up import as_dial, set_up_card
from core.sheet.swings import swings
from core.sheet.table_lines import TableLine, hidden_at, table_lines
from core.sheet.words import clean, day, zone_line
from core.studies import SeatElsewhere

_NAME = 48
_TITLE = 80
_REASON = 600
#: Lines of a pass card at most, and at least; long words take from them, so that a card always fits one page.
_MOST_LINES = 22
_FEWEST_LINES = 9
#: Characters over the table that fit beside the polar plot, and what one line of the table is worth.
_ROOM = 500
_LINE_WORTH = 90
_NO_DIAL = Dial("")
#: A moment with a name of its own (a start on the beam's edge) is off the beam from this much on, degrees.
_OFF_EDGE_DEG = 0.2
_TWICE = (
    "(1st), (2nd): which time round from the counter-clockwise stop, where the dial reads the same twice."
)


def sheet_content(
    plan: Plan, result: Result, made_utc_s: float, elsewhere: SeatElsewhere | None = None
) -> SheetContent:
    """Texts and drawings of the whole sheet; ``made_utc_s`` is printed and nothing else asks the clock.

    Where the best seat elsewhere is given, the set-up card has it.
    """
    contacts = result.order.contacts
    passes = [drawn_pass(contact.check, plan.mount) for contact in contacts]
    start_s, end_s = plan.evening.start_utc_s, plan.evening.end_utc_s
    seat = result.seat
    return SheetContent(
        identity=result.identity,
        title=clean(plan.title, _TITLE) or "Untitled evening",
        made_utc_s=made_utc_s,
        made=f"{format_iso(made_utc_s)[:16].replace('T', ' ')} UTC",
        elements=_element_span(plan),
        seat=(
            f"keyway {bearing_text(seat.keyway_true_deg)} true, hole {clean(seat.hole, 24)} "
            f"(offset {signed(seat.hole_offset_deg)}, drilled {plain(seat.hole_drilled_deg)})"
        ),
        time_zone=zone_line(start_s, end_s, result.time_zone),
        set_up=set_up_card(plan, result, elsewhere),
        evening=_evening_page(plan, result, passes),
        cards=tuple(_pass_card(plan, result, index, drawn) for index, drawn in enumerate(passes)),
    )


def _element_span(plan: Plan) -> str:
    epochs = sorted(satellite.elements.epoch_utc_s for satellite in plan.satellites)
    if not epochs:
        return "no elements"
    first, last = (format_iso(epoch)[:10] for epoch in (epochs[0], epochs[-1]))
    return f"elements of {first}" if first == last else f"elements of {first} to {last}"


# --- shared by evening and cards --------------------------------------------------------------------------


def _verdict(check: PassCheck) -> str:
    return f"{check.verdict}, resting" if check.resting else check.verdict


def _mark(check: PassCheck) -> Drawing:
    first, last = (posture == OVER_THE_TOP for posture in postures_of(check))
    return verdict_mark(check.verdict, first, last)


def _azimuth_at(plan: Plan, drawn: DrawnPass, utc_s: float) -> Dial:
    return as_dial(azimuth_dial(drawn.at(drawn.m_deg, utc_s), plan.mount.azimuth))


def _elevation_at(plan: Plan, drawn: DrawnPass, utc_s: float) -> Dial:
    return as_dial(elevation_dial(drawn.at(drawn.e_deg, utc_s), plan.mount.elevation))


def _dials_at(plan: Plan, check: PassCheck, drawn: DrawnPass, utc_s: float) -> tuple[Dial, Dial]:
    if check.pointing is None:
        return _NO_DIAL, _NO_DIAL
    return _azimuth_at(plan, drawn, utc_s), _elevation_at(plan, drawn, utc_s)


def _postures(check: PassCheck) -> str:
    """The posture, or both with a split's change."""
    if check.pointing is None:
        return ""
    first, last = postures_of(check)
    return first if first == last else f"{first}, then {last}"


def _turns(drawn: DrawnPass, check: PassCheck, with_times: bool) -> str:
    """Which way the azimuth axis goes: ``clockwise 143 deg``, swing by swing."""
    told = []
    found = swings(drawn, check)
    for index, (degrees, end_s) in enumerate(found):
        sense = "clockwise" if degrees > 0.0 else "counter-clockwise"
        moved = check.split is not None and end_s == check.split.end_utc_s
        until = f" to {clock(end_s)}" if with_times and index < len(found) - 1 else ""
        told.append(f"{'MOVE ' if moved else ''}{sense} {abs(degrees):.0f} deg{until}")
    return ", then ".join(told) or ("stands still" if check.pointing is not None else "")


def _start_by(contact: Contact) -> float | None:
    move = contact.move_before
    return None if move is None else contact.start_utc_s - move.seconds_needed


def _start_moving_by(contact: Contact) -> str:
    by = _start_by(contact)
    return clock(by) if by is not None and contact.move_before and contact.move_before.feasible else ""


# --- the evening ------------------------------------------------------------------------------------------


def _evening_page(plan: Plan, result: Result, passes: list[DrawnPass]) -> EveningPage:
    order = result.order
    contacts = order.contacts
    lines = tuple(_evening_line(plan, result, i, drawn) for i, drawn in enumerate(passes))
    told = [clean(text, 300) for text in order.unmatched]
    told += [clean(f"Refused: {error}", 300) for error in result.refused]
    stow = stow_words(order, plan.mount)
    told += [f"After the last: {stow[0].lower()}{stow[1:]}."] if stow else []
    return EveningPage(
        lines=lines,
        strip=evening_strip(contacts, passes, plan.mount, result.time_zone),
        left_out=tuple(
            _left_out(check, _full_why(result, check, why), result.time_zone) for check, why in order.left_out
        ),
        told=tuple(told),
    )


def _evening_line(plan: Plan, result: Result, index: int, drawn: DrawnPass) -> EveningLine:
    contact, zone = result.order.contacts[index], result.time_zone
    check, idle = contact.check, idle_before(result.order, index)
    start, end = contact.start_utc_s, contact.end_utc_s
    start_dials = _dials_at(plan, check, drawn, start)
    end_dials = _dials_at(plan, check, drawn, end)
    move = contact.move_before
    return EveningLine(
        number=index + 1,
        satellite=clean(check.pass_.satellite, _NAME),
        verdict=_verdict(check),
        mark=_mark(check),
        utc=f"{clock(start)} to {clock(end)}",
        local=f"{local_clock(start, zone)} to {local_clock(end, zone)}",
        peak=_peak_short(check.pass_),
        start_azimuth=start_dials[0],
        start_elevation=start_dials[1],
        end_azimuth=end_dials[0],
        end_elevation=end_dials[1],
        posture=_postures(check),
        turn=_turns(drawn, check, with_times=False),
        move=_move_words(contact, index)
        if idle is None
        else f"Move from idle at {place_words(idle, plan.mount)}",
        in_time=move is None or move.feasible,
        start_moving_by=leave_by(idle) if idle is not None else _start_moving_by(contact),
        wrap_after=f"{signed(contact.wrap_after_deg, 0)} deg",
        lost=f"{check.seconds_lost:.0f} s",
        joins=_joins(plan, check),
    )


def _peak_short(pass_: Pass) -> str:
    return f"{pass_.peak.elevation_deg:.0f} deg at {wrap_360(pass_.peak.azimuth_deg):.0f} true"


def _move_words(contact: Contact, index: int) -> str:
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


def _full_why(result: Result, check: PassCheck, why: str) -> str:
    """Why a pass is left out; where that only repeats the verdict, the verdict's own reason."""
    if why != check.verdict:
        return why
    told = zip(result.checks, result.reasons, strict=True)
    return next((reason.text for other, reason in told if other is check), why)


def _left_out(check: PassCheck, why: str, zone: str) -> LeftOut:
    pass_ = check.pass_
    return LeftOut(
        satellite=clean(pass_.satellite, _NAME),
        mark=_mark(check),
        when=(
            f"{clock(pass_.aos.utc_s)} to {clock(pass_.los.utc_s)} UTC, "
            f"{local_clock(pass_.aos.utc_s, zone)} to {local_clock(pass_.los.utc_s, zone)} local"
        ),
        peak=f"peak {_peak_short(pass_)}",
        verdict=_verdict(check),
        why=clean(why, 300),
    )


# --- one pass ---------------------------------------------------------------------------------------------


def _pass_card(plan: Plan, result: Result, index: int, drawn: DrawnPass) -> PassCard:
    contacts = result.order.contacts
    contact = contacts[index]
    check, pass_, zone = contact.check, contact.check.pass_, result.time_zone
    reason = clean(contact.reason.text, _REASON)
    turn, before = _turns(drawn, check, with_times=True), _before(plan, result.order, index)
    joins = _joining(plan, check)
    wordy = (
        len(reason) + len(before) + len(turn) + sum(map(len, joins)) + 2 * max(len(pass_.satellite) - 20, 0)
    )
    most = max(_MOST_LINES - max(wordy - _ROOM, 0) // _LINE_WORTH, _FEWEST_LINES)
    step = plan.station.beam_limit_deg / 3.0
    lines, step = table_lines(drawn, check, step, most)
    rows = _rows(plan, zone, check, drawn, lines)
    start = _dials_at(plan, check, drawn, lines[0].utc_s if lines else contact.start_utc_s)
    twice = any(row.azimuth.time_round for row in rows)
    return PassCard(
        number=index + 1,
        of=len(contacts),
        satellite=clean(pass_.satellite, _NAME),
        norad_id=str(pass_.norad_id),
        verdict=_verdict(check),
        mark=_mark(check),
        utc=_span(pass_, None),
        local=_span(pass_, zone),
        peak=_peak_words(pass_),
        reason=reason,
        posture=_postures(check),
        start_azimuth=start[0],
        start_elevation=start[1],
        turn=turn,
        facts=(*_cut(contacts, index), *_facts(contact), *joins),
        before=before,
        after=_after(result.order, index + 1, plan),
        late=contact.move_before is not None and not contact.move_before.feasible,
        rows=rows,
        step=f"lines no more than {figure(step)} deg of sky apart" if lines else "",
        twice=_TWICE if twice else "",
        polar=sky(drawn, plan.site.horizon),
    )


def _span(pass_: Pass, zone: str | None) -> str:
    start, end = pass_.aos.utc_s, pass_.los.utc_s
    first, last = day(start, zone), day(end, zone)
    clocks = [clock(t) if zone is None else local_clock(t, zone) for t in (start, end)]
    return (
        f"{first}  {clocks[0]} to {clocks[1]}"
        if first == last
        else f"{first} {clocks[0]} to {last} {clocks[1]}"
    )


def _peak_words(pass_: Pass) -> str:
    peak, tca = pass_.peak, pass_.tca
    return (
        f"peak {figure(peak.elevation_deg)} deg at {bearing_text(peak.azimuth_deg)} true, "
        f"{clock(peak.utc_s)}; nearest {tca.range_km:.0f} km, {clock(tca.utc_s)} UTC"
    )


def _cut(contacts: Sequence[Contact], index: int) -> tuple[str, ...]:
    """What of the pass is worked where another contact takes the rest of it."""
    contact, last = contacts[index], len(contacts) - 1
    pass_ = contact.check.pass_
    told = []
    if index and contact.joined_late_s > 1.0 and contacts[index - 1].end_utc_s > pass_.aos.utc_s:
        told.append(f"joined {duration(contact.joined_late_s)} late, after pass {index}")
    if index < last and contact.left_early_s > 1.0 and contacts[index + 1].start_utc_s < pass_.los.utc_s:
        told.append(f"left {duration(contact.left_early_s)} early, for pass {index + 2}")
    if not told:
        return ()
    words = listed(told)
    return (f"{words[0].upper()}{words[1:]}.",)


def _facts(contact: Contact) -> tuple[str, ...]:
    """What the reason does not say: time on the beam and the cable's twist."""
    check = contact.check
    found = []
    on_beam = duration(check.seconds_in_all - check.seconds_lost)
    found.append(
        f"On the beam {on_beam} of {duration(check.seconds_in_all)}; {check.seconds_lost:.0f} s lost."
    )
    if check.pointing is not None:
        found.append(
            f"Cable twist from mid travel {signed(contact.wrap_before_deg, 0)} deg at the start, "
            f"{signed(contact.wrap_after_deg, 0)} at the end."
        )
    return tuple(found)


def _joining(plan: Plan, check: PassCheck) -> tuple[str, ...]:
    """How soon the pass is joined from a dead start, and when to leave to have all of it."""
    idle = idle_place(plan.mount, plan.evening_rules.idle_m_deg)
    found = joining(check, plan.mount, idle)
    if found is None:
        return ()
    dial = as_dial(azimuth_dial(idle.m_deg, plan.mount.azimuth)).text
    return (
        f"From a dead start at {clock(found.start_utc_s)} on it {_on_it(found.from_idle_utc_s)} from idle "
        f"({dial}), {_on_it(found.from_anywhere_utc_s)} from anywhere; to have all of it leave idle by "
        f"{clock(math.floor(found.leave_idle_utc_s))}, anywhere by "
        f"{clock(math.floor(found.leave_anywhere_utc_s))}.",
    )


def _on_it(utc_s: float | None) -> str:
    """Upward to the second: not before it is true."""
    return "too late" if utc_s is None else f"by {clock(math.ceil(utc_s))}"


def _joins(plan: Plan, check: PassCheck) -> str:
    """The same for the evening's line: ``19:42:31 from idle, 19:43:05 from anywhere``."""
    found = joining(check, plan.mount, idle_place(plan.mount, plan.evening_rules.idle_m_deg))
    if found is None:
        return ""
    return f"{_on_it(found.from_idle_utc_s)} from idle, {_on_it(found.from_anywhere_utc_s)} from anywhere"


def _before(plan: Plan, order: EveningOrder, index: int) -> str:
    contact, idle = order.contacts[index], idle_before(order, index)
    if idle is not None:
        return f"From idle ({place_words(idle, plan.mount)}): start moving by {leave_by(idle)} UTC."
    by = _start_by(contact)
    if by is None or contact.move_before is None:
        return (
            "First of the evening: be on the start dials before AOS."
            if index == 0
            else "Be there before AOS."
        )
    if contact.move_before.feasible:
        place = f"pass {index}" if index else "where it stands now"
        return f"From {place}: start moving by {clock(by)} UTC. {_move_words(contact, index)}."
    return f"{_move_words(contact, index)}."


def _after(order: EveningOrder, index: int, plan: Plan) -> str:
    """What comes next, and by when to be on the way there."""
    contacts, idle = order.contacts, idle_before(order, index)
    if index >= len(contacts):
        stow = stow_words(order, plan.mount)
        return f"Last of the evening. {stow}." if stow else "Last of the evening."
    following = contacts[index]
    name = clean(following.check.pass_.satellite, _NAME)
    move = following.move_before
    if move is None:
        return f"Next: pass {index + 1}, {name}, at {clock(following.start_utc_s)} UTC."
    if idle is not None:
        return (
            f"Next: idle at {place_words(idle, plan.mount)}; leave it by {leave_by(idle)} UTC for pass "
            f"{index + 1}, {name}."
        )
    azimuth = as_dial(azimuth_dial(move.m_to_deg, plan.mount.azimuth)).text
    elevation = as_dial(elevation_dial(move.e_to_deg, plan.mount.elevation)).text
    sense = "clockwise" if move.m_to_deg >= move.m_from_deg else "counter-clockwise"
    degrees = abs(move.m_to_deg - move.m_from_deg)
    by = following.start_utc_s - move.seconds_needed
    when = (
        f"leave by {clock(by)} UTC" if move.feasible else f"NOT IN TIME unless you leave by {clock(by)} UTC"
    )
    return (
        f"Next: pass {index + 1}, {name}: {when}, turn {sense} {degrees:.0f} deg to azimuth {azimuth}, "
        f"elevation {elevation}."
    )


def _rows(
    plan: Plan, zone: str, check: PassCheck, drawn: DrawnPass, lines: tuple[TableLine, ...]
) -> tuple[Row, ...]:
    rows = []
    limit = plan.station.beam_limit_deg
    for index, line in enumerate(lines):
        t = line.utc_s
        following = lines[index + 1].utc_s if index + 1 < len(lines) else t
        azimuth, elevation = _dials_at(plan, check, drawn, t)
        note = _note(plan, check, drawn, line)
        off = drawn.at(drawn.off_deg, t)
        trouble = _trouble(hidden_at(check, t), off, limit + (_OFF_EDGE_DEG if note else 0.0))
        if not note:
            note = trouble
        elif trouble and not hidden_at(check, t):
            note = f"{note}, {trouble}"
        rows.append(
            Row(
                utc=clock(t),
                local=local_clock(t, zone),
                azimuth=azimuth,
                elevation=elevation,
                turn=_sense(drawn, t, following),
                true_azimuth_deg=bearing_text(drawn.bearing_at(t)),
                elevation_deg=figure(drawn.at(drawn.elevation_deg, t)),
                range_km=f"{drawn.at(drawn.range_km, t):.0f}",
                note=note,
                strong=bool(line.note),
            )
        )
    return tuple(rows)


def _trouble(hidden: bool, off_deg: float, limit_deg: float) -> str:
    if hidden:
        return "behind the mask"
    return f"off the beam by {off_deg:.0f} deg" if off_deg > limit_deg else ""


def _sense(drawn: DrawnPass, start_s: float, end_s: float) -> str:
    """Which way azimuth goes next; nothing for less than a tenth of a degree."""
    turned = drawn.at(drawn.m_deg, end_s) - drawn.at(drawn.m_deg, start_s)
    return "" if abs(turned) < 0.1 else ("cw" if turned > 0.0 else "ccw")


def _note(plan: Plan, check: PassCheck, drawn: DrawnPass, line: TableLine) -> str:
    split = check.split
    if split is None or "LEAVE" not in line.note:
        return line.note
    azimuth, elevation = _dials_at(plan, check, drawn, split.end_utc_s)
    sense = "cw" if split.m_to_deg >= split.m_from_deg else "ccw"
    order = f"LEAVE: move {sense} to {azimuth.text}, el {elevation.text}"
    return line.note.replace("LEAVE", order)
