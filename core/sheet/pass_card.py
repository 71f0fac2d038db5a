"""The card of one contact: what to set at each second, what is lost, what comes before and after."""

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
from core.mount.model.results import Topic
from core.passes.light import Light
from core.passes.track import Pass
from core.place.zones import local_clock
from core.plan.document import Plan
from core.sheet.dials import PrintedDial, dials_at
from core.sheet.drawing.marks import mark_of_check
from core.sheet.drawing.sky import sky
from core.sheet.hand.line import HandLine
from core.sheet.hand.stretches import contact_seconds, untold_gaps_s
from core.sheet.hand.table import STEP_SHARE, HandTable, hand_table
from core.sheet.moves import after_words, before_words, joining_sentences
from core.sheet.pass_words import name_of, posture_words, turn_words
from core.sheet.satellite.light import light_words
from core.sheet.satellite.radio import radio_lines
from core.sheet.wishes import MOST_LINES
from core.sheet.words import clean, worked_words

_REASON = 600
#: Less that is lost by hand is not told, seconds.
_LOST_BY_HAND_S = 1.5
#: Peak and TCA closer in time than this are told as one moment.
_SAME_MOMENT_S = 2.0
#: What the hand at the mount can do something with; the rest of a reason is for the screen.
_AT_THE_MOUNT = (Topic.DONE, Topic.STRIKE, Topic.RATE)


@dataclass(frozen=True)
class PassCard:
    """One contact.

    Attributes:
        number, of: its place in the evening.
        satellite, norad_id: which.
        verdict, mark: the word and its mark.
        start_utc_s, end_utc_s, peak_utc_s: whole seconds of the contact; the moment of the pass' peak. POSIX.
        utc, local: from when to when it is worked.
        peak: elevation, bearing, time; range at TCA.
        posture: how the elevation axis serves; empty when out of reach.
        start_azimuth, start_elevation: dials to set before it starts.
        turn: which way azimuth goes in all, and how far.
        before, after: what to do before and after it.
        late: the move before it does not fit.
        lines: what to set, second by second.
        light: whether the Sun shines on the satellite; empty where that is not known.
        radio: frequencies, one line each.
        below: explanations, to be read at home or where there is time.
        polar: the sky.
    """

    number: int
    of: int
    satellite: str
    norad_id: str
    verdict: str
    mark: Drawing
    start_utc_s: float
    end_utc_s: float
    peak_utc_s: float
    utc: str
    local: str
    peak: str
    posture: str
    start_azimuth: PrintedDial
    start_elevation: PrintedDial
    turn: str
    before: str
    after: str
    late: bool
    lines: tuple[HandLine, ...]
    light: str
    radio: tuple[str, ...]
    below: tuple[str, ...]
    polar: Drawing


def pass_card(
    plan: Plan,
    result: Result,
    index: int,
    drawn: DrawnPass,
    joined: Joining | None,
    most_lines: int = MOST_LINES["cards"],
    light: Light | None = None,
) -> PassCard:
    """The card of a contact: its place in the order, its pass as drawn, how soon it is joined, its light."""
    contacts = result.order.contacts
    contact = contacts[index]
    check, pass_, zone = contact.check, contact.check.pass_, result.time_zone
    table = hand_table(plan.station, check, drawn, most_lines)
    start_s, end_s = contact_seconds(drawn)
    start = dials_at(drawn, start_s, plan.mount)
    return PassCard(
        number=index + 1,
        of=len(contacts),
        satellite=name_of(pass_),
        norad_id=str(pass_.norad_id),
        verdict=check.verdict_words,
        mark=mark_of_check(check),
        start_utc_s=start_s,
        end_utc_s=end_s,
        peak_utc_s=pass_.peak.utc_s,
        utc=worked_words(start_s, end_s, plan.evening.end_utc_s - plan.evening.start_utc_s),
        local=f"{_minute(start_s, zone)} to {_minute(end_s, zone)}",
        peak=_peak_and_nearest(pass_),
        posture=posture_words(check),
        start_azimuth=start[0],
        start_elevation=start[1],
        turn=turn_words(drawn, check, with_times=True),
        before=before_words(result.order, index, plan.mount),
        after=after_words(result.order, index, plan.mount),
        late=contact.move_before is not None and not contact.move_before.feasible,
        lines=table.lines,
        light=light_words(light),
        radio=radio_lines(
            plan.transponders_of(pass_.norad_id), pass_.stay, drawn.start_utc_s, drawn.end_utc_s
        ),
        below=_below(plan, contacts, index, table, joined, untold_gaps_s(drawn, check)),
        polar=sky(drawn, plan.site.horizon),
    )


def _peak_and_nearest(pass_: Pass) -> str:
    peak, tca = pass_.peak, pass_.tca
    cut = f", {cut_words(pass_.cut)} of the hours" if pass_.cut else ""
    bearing = bearing_text(peak.azimuth_deg)
    return (
        f"peak {figure(peak.elevation_deg)} deg at {bearing} true {clock(peak.utc_s)}, "
        f"nearest {tca.range_km:.0f} km{_when(peak.utc_s, tca.utc_s)}{cut}"
    )


def _minute(utc_s: float, zone: str) -> str:
    return local_clock(utc_s, zone, seconds=False)


def _when(peak_s: float, tca_s: float) -> str:
    """The time of TCA where it is not that of the peak, to two seconds."""
    return "" if abs(peak_s - tca_s) < _SAME_MOMENT_S else f" {clock(tca_s)}"


def _below(
    plan: Plan,
    contacts: Sequence[Contact],
    index: int,
    table: HandTable,
    joined: Joining | None,
    hidden_s: Sequence[float],
) -> tuple[str, ...]:
    """Explanations: when it is still caught, what is lost, why the verdict, how the lines are made."""
    contact = contacts[index]
    limit = plan.station.beam_limit_deg
    topics = (*_AT_THE_MOUNT, Topic.REST) if contact.check.resting else _AT_THE_MOUNT
    reason = " ".join(one.text for one in contact.reason.sentences if one.topic in topics)
    told = [*joining_sentences(plan, joined), *_cut(contacts, index), *_lost(contact, limit)]
    if table.lost_by_hand_s > _LOST_BY_HAND_S:
        told.append(f"By hand, 1 s late on every line: {duration(table.lost_by_hand_s)} more off the beam.")
    if hidden_s:
        again = "once more" if len(hidden_s) == 1 else f"{len(hidden_s)} more times"
        told.append(f"Behind the mask {again}, {duration(sum(hidden_s))} in all.")
    told.append(clean(reason, _REASON))
    if table.widened:
        told.append(
            f"Lines up to {figure(table.step_deg)} deg of sky apart: every {figure(STEP_SHARE * limit)}, "
            "a quarter of the half beam, would not fit the page."
        )
    return tuple(text for text in told if text)


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
    whole = f"the pass is up {clock(first_second(pass_.aos.utc_s))} to {clock(last_second(pass_.los.utc_s))}"
    return (f"{words[0].upper()}{words[1:]}; {whole}.",)


def _lost(contact: Contact, beam_limit_deg: float) -> tuple[str, ...]:
    """Time on the beam, what is lost and why, and the cable's twist."""
    check = contact.check
    on_beam = duration(check.seconds_in_all - check.seconds_lost)
    lost = lost_of(contact, beam_limit_deg).words
    twist = ""
    if check.pointing is not None:
        twist = (
            f" Cable twist {signed(contact.wrap_before_deg, 0)} to {signed(contact.wrap_after_deg, 0)} deg."
        )
    return (f"On the beam {on_beam} of {duration(check.seconds_in_all)}; {lost}.{twist}",)
