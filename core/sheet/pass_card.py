"""The card of one pass: what to set at each second, what is lost, what comes before and after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.base.drawing import Drawing
from core.base.times import clock, first_second, last_second
from core.base.words import bearing_text, cut_words, duration, figure, listed, signed
from core.evaluate import Result
from core.mount.evening.drawn import DrawnPass
from core.mount.evening.joining import Joining
from core.mount.evening.lost import lost_of
from core.mount.evening.results import Contact
from core.mount.model.results import PassCheck
from core.passes.track import Pass
from core.place.zones import local_clock
from core.plan.document import Plan
from core.sheet.dials import PrintedDial, dials_at
from core.sheet.drawing.marks import mark_of_check
from core.sheet.drawing.sky import sky
from core.sheet.moves import (
    after_words,
    before_words,
    joining_sentences,
)
from core.sheet.pass_words import name_of, posture_words, turn_words
from core.sheet.table_lines import TableLine, hidden_at, table_lines
from core.sheet.words import clean, day

_REASON = 600

#: Lines of a pass card at most, and at least; long words take from them, so that a card always fits one page.
_MOST_LINES = 22

_FEWEST_LINES = 9

#: Characters over the table that fit beside the polar plot, and what one line of the table is worth.
_ROOM = 500

_LINE_WORTH = 90

#: A moment with a name of its own (a start on the beam's edge) is off the beam from this much on, degrees.
_OFF_EDGE_DEG = 0.2

_TWICE = (
    "(1st), (2nd): which time round from the counter-clockwise stop, where the dial reads the same twice."
)


@dataclass(frozen=True)
class CardRow:
    """One line of a pass card: set this dial at this second.

    Attributes:
        utc, local: HH:MM:SS.
        azimuth, elevation: the dials at that second.
        turn: "cw", "ccw" or empty: which way from here to the next line.
        true_azimuth_deg, elevation_deg, range_km: the satellite.
        note: what happens here.
        strong: an event and not a step between.
    """

    utc: str
    local: str
    azimuth: PrintedDial
    elevation: PrintedDial
    turn: str
    true_azimuth_deg: str
    elevation_deg: str
    range_km: str
    note: str
    strong: bool


@dataclass(frozen=True)
class PassCard:
    """One pass.

    Attributes:
        number, of: its place in the evening.
        satellite, norad_id: which.
        verdict, mark: the word and its mark.
        utc, local: first to last moment over the mask, with the dates.
        peak: elevation, bearing, time; range at TCA.
        reason: why the verdict is what it is.
        posture: how the elevation axis serves; empty when out of reach.
        start_azimuth, start_elevation: dials to set before it starts.
        turn: which way and how far, in words.
        facts: short lines: where the dial ends, nearest to a stop, seconds lost, wrap.
        before, after: what to do before and after it.
        late: the move before it does not fit.
        rows: the table.
        step: in words, what lies between two lines.
        twice: a sentence where the dial reads the same twice, else empty.
        polar: the sky.
    """

    number: int
    of: int
    satellite: str
    norad_id: str
    verdict: str
    mark: Drawing
    utc: str
    local: str
    peak: str
    reason: str
    posture: str
    start_azimuth: PrintedDial
    start_elevation: PrintedDial
    turn: str
    facts: tuple[str, ...]
    before: str
    after: str
    late: bool
    rows: tuple[CardRow, ...]
    step: str
    twice: str
    polar: Drawing


def pass_card(plan: Plan, result: Result, index: int, drawn: DrawnPass, joined: Joining | None) -> PassCard:
    """The card of a contact: its place in the order, its pass as drawn, how soon it is joined."""
    contacts = result.order.contacts
    contact = contacts[index]
    check, pass_, zone = contact.check, contact.check.pass_, result.time_zone
    reason = clean(contact.reason.text, _REASON)
    turn, before = turn_words(drawn, check, with_times=True), before_words(result.order, index, plan.mount)
    joins = joining_sentences(plan, joined)
    wordy = (
        len(reason) + len(before) + len(turn) + sum(map(len, joins)) + 2 * max(len(pass_.satellite) - 20, 0)
    )
    most = max(_MOST_LINES - max(wordy - _ROOM, 0) // _LINE_WORTH, _FEWEST_LINES)
    step = plan.station.beam_limit_deg / 3.0
    lines, step = table_lines(drawn, check, step, most)
    rows = _rows(plan, zone, check, drawn, lines)
    start = dials_at(drawn, lines[0].utc_s if lines else contact.start_utc_s, plan.mount)
    twice = any(row.azimuth.time_round for row in rows)
    return PassCard(
        number=index + 1,
        of=len(contacts),
        satellite=name_of(pass_),
        norad_id=str(pass_.norad_id),
        verdict=check.verdict_words,
        mark=mark_of_check(check),
        utc=_span(pass_, None),
        local=_span(pass_, zone),
        peak=_peak_and_nearest(pass_),
        reason=reason,
        posture=posture_words(check),
        start_azimuth=start[0],
        start_elevation=start[1],
        turn=turn,
        facts=(*_cut(contacts, index), *_facts(contact, plan.station.beam_limit_deg), *joins),
        before=before,
        after=after_words(result.order, index, plan.mount),
        late=contact.move_before is not None and not contact.move_before.feasible,
        rows=rows,
        step=f"lines no more than {figure(step)} deg of sky apart" if lines else "",
        twice=_TWICE if twice else "",
        polar=sky(drawn, plan.site.horizon),
    )


def _span(pass_: Pass, zone: str | None) -> str:
    start, end = first_second(pass_.aos.utc_s), last_second(pass_.los.utc_s)
    first, last = day(start, zone), day(end, zone)
    clocks = [clock(t) if zone is None else local_clock(t, zone) for t in (start, end)]
    cut = f", {cut_words(pass_.cut)}" if pass_.cut and zone is None else ""
    if first == last:
        return f"{first}  {clocks[0]} to {clocks[1]}{cut}"
    return f"{first} {clocks[0]} to {last} {clocks[1]}{cut}"


def _peak_and_nearest(pass_: Pass) -> str:
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


def _facts(contact: Contact, beam_limit_deg: float) -> tuple[str, ...]:
    """What the reason does not say: time on the beam, what is lost and why, and the cable's twist."""
    check = contact.check
    found = []
    on_beam = duration(check.seconds_in_all - check.seconds_lost)
    lost = lost_of(contact, beam_limit_deg).words
    found.append(f"On the beam {on_beam} of {duration(check.seconds_in_all)}; {lost}.")
    if check.pointing is not None:
        found.append(
            f"Cable twist from mid travel {signed(contact.wrap_before_deg, 0)} deg at the start, "
            f"{signed(contact.wrap_after_deg, 0)} at the end."
        )
    return tuple(found)


def _rows(
    plan: Plan, zone: str, check: PassCheck, drawn: DrawnPass, lines: tuple[TableLine, ...]
) -> tuple[CardRow, ...]:
    rows = []
    limit = plan.station.beam_limit_deg
    for index, line in enumerate(lines):
        t = line.utc_s
        following = lines[index + 1].utc_s if index + 1 < len(lines) else t
        azimuth, elevation = dials_at(drawn, t, plan.mount)
        note = _note(plan, check, drawn, line)
        off = drawn.at(drawn.off_deg, t)
        trouble = _trouble(hidden_at(check, t), off, limit + (_OFF_EDGE_DEG if note else 0.0))
        if not note:
            note = trouble
        elif trouble and not hidden_at(check, t):
            note = f"{note}, {trouble}"
        rows.append(
            CardRow(
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
    azimuth, elevation = dials_at(drawn, split.end_utc_s, plan.mount)
    sense = "cw" if split.m_to_deg >= split.m_from_deg else "ccw"
    order = f"LEAVE: move {sense} to {azimuth.text}, el {elevation.text}"
    return line.note.replace("LEAVE", order)
