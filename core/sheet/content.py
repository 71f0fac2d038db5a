"""From a plan and its result to everything that is printed; no figure is made further on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.base.times import clock, format_iso
from core.base.words import bearing_text, figure, plain, signed
from core.evaluate import Result
from core.mount.evening.drawn import drawn_pass
from core.passes.light import light_on
from core.place.zones import offset_changes_s, utc_offset_s
from core.plan.document import Plan
from core.sheet.dials import PrintedDial
from core.sheet.evening_table import EveningTable, evening_table
from core.sheet.hand.seconds import HAND_S, QUICKEST_S
from core.sheet.hand.table import STEP_SHARE
from core.sheet.moves import dead_start
from core.sheet.pass_card import PassCard, pass_card
from core.sheet.satellite.radio import RADIO_READ
from core.sheet.set_up.card import SetUpCard, hours_words, set_up_card, site_name, warnings_of
from core.sheet.wishes import MOST_LINES, PLAIN_WISHES, Shape, SheetWishes
from core.sheet.words import clean, zone_line
from core.studies import NOT_STUDIED, BesideEvening

_TITLE = 80


@dataclass(frozen=True)
class SheetContent:
    """The whole sheet before it is laid out.

    Attributes:
        identity: of the result it was made from.
        title: the plan's.
        kind: what paper it is; one of an evening re-planned says from when, so that two are told apart.
        made_utc_s: when the sheet was made.
        made, elements, seat, time_zone: the foot of every page.
        start_utc_s, end_utc_s: the evening's hours.
        local_offsets: (from this moment on, local time less UTC in seconds), the first from the start on.
        hours, site: the evening in words, the site's name.
        warnings: sentences that must not be missed.
        set_up, evening, cards: the pages; no set-up on a sheet of an evening planned again.
        set_up_elsewhere: which sheet has the set-up, where this one has not.
        how_read: how the cards' lines are made and read.
        shape: how the contacts are laid out.
    """

    identity: str
    title: str
    kind: str
    made_utc_s: float
    made: str
    elements: str
    seat: str
    time_zone: str
    start_utc_s: float
    end_utc_s: float
    local_offsets: tuple[tuple[float, float], ...]
    hours: str
    site: str
    warnings: tuple[str, ...]
    set_up: SetUpCard | None
    set_up_elsewhere: str
    evening: EveningTable
    cards: tuple[PassCard, ...]
    how_read: str
    shape: Shape = "cards"

    def dials(self) -> Iterator[PrintedDial]:
        """Every dial reading that is printed."""
        if self.set_up is not None:
            yield from self.set_up.dials()
        for line in self.evening.lines:
            yield from (line.start_azimuth, line.start_elevation)
        for card in self.cards:
            yield from (card.start_azimuth, card.start_elevation)
            for one in card.lines:
                yield from (one.azimuth, one.elevation)


def sheet_content(
    plan: Plan,
    result: Result,
    made_utc_s: float,
    beside: BesideEvening = NOT_STUDIED,
    wishes: SheetWishes = PLAIN_WISHES,
) -> SheetContent:
    """Texts and drawings of the whole sheet; ``made_utc_s`` is printed and nothing else asks the clock.

    Where the best seat elsewhere or the seats by their evenings are studied, the set-up card has them; where
    the evening's reasons are, what is left out has what it would cost.

    Args:
        plan, result: what is printed.
        made_utc_s: when.
        beside: what was studied beside the evening.
        wishes: its shape, and what is on it.
    """
    contacts = result.order.contacts
    passes = [drawn_pass(contact.check, plan.mount) for contact in contacts]
    joins = [dead_start(plan, contact.check) for contact in contacts]
    start_s, end_s = plan.evening.start_utc_s, plan.evening.end_utc_s
    seat = result.seat
    shown = wishes.with_set_up(result.mount_start is not None)
    spans = [
        (contact.check.pass_.stay, drawn.start_utc_s, drawn.end_utc_s)
        for contact, drawn in zip(contacts, passes, strict=True)
    ]
    cards = tuple(
        pass_card(plan, result, index, drawn, joined, MOST_LINES[wishes.shape], light)
        for index, (drawn, joined, light) in enumerate(
            zip(passes, joins, light_on(plan.site, spans), strict=True)
        )
    )
    return SheetContent(
        identity=result.identity,
        title=clean(plan.title, _TITLE) or "Untitled evening",
        kind=_kind(result),
        made_utc_s=made_utc_s,
        made=f"{format_iso(made_utc_s)[:16].replace('T', ' ')} UTC",
        elements=_element_span(plan),
        seat=(
            f"keyway {bearing_text(seat.keyway_true_deg)} true, hole {clean(seat.hole, 24)} "
            f"(offset {signed(seat.hole_offset_deg)}, drilled {plain(seat.hole_drilled_deg)})"
        ),
        time_zone=zone_line(start_s, end_s, result.time_zone),
        start_utc_s=start_s,
        end_utc_s=end_s,
        local_offsets=_local_offsets(start_s, end_s, result.time_zone),
        hours=hours_words(start_s, end_s, result.time_zone),
        site=site_name(plan),
        warnings=warnings_of(plan, result),
        set_up=set_up_card(plan, result, beside) if shown else None,
        set_up_elsewhere="" if shown else _elsewhere(result),
        evening=evening_table(plan, result, passes, wishes, beside.reasons),
        cards=cards,
        how_read=_how_read(plan, with_radio=wishes.shape == "cards" and any(card.radio for card in cards)),
        shape=wishes.shape,
    )


def _how_read(plan: Plan, with_radio: bool) -> str:
    limit = plan.station.beam_limit_deg
    return (
        "On the cards: set both dials at the second of each line, turning as it says (cw, ccw) from the line "
        f"before. A line every {figure(STEP_SHARE * limit)} deg of sky, a quarter of the half beam of "
        f"{plain(limit, 1)} deg; of a fast satellite one every {plain(HAND_S)} s or twice as far apart, "
        f"{plain(QUICKEST_S)} s at the least. "
        "1st, 2nd: which time round from the counter-clockwise stop, where the dial reads the same twice."
        f"{f' {RADIO_READ}' if with_radio else ''}"
    )


def _elsewhere(result: Result) -> str:
    """Where the set-up is found, with what must not have changed since."""
    seat, identity = result.seat, result.identity_before
    sheet = f"the sheet of plan {identity}" if identity else "the sheet made before"
    return (
        f"Set-up card: see {sheet}; keyway {bearing_text(seat.keyway_true_deg)} deg true, "
        f"hole {clean(seat.hole, 24)}."
    )


def _local_offsets(start_s: float, end_s: float, zone: str) -> tuple[tuple[float, float], ...]:
    changes = (start_s, *offset_changes_s(start_s, end_s, zone))
    return tuple((change_s, utc_offset_s(change_s, zone)) for change_s in changes)


def _kind(result: Result) -> str:
    start = result.mount_start
    again = "" if start is None else f", re-planned from {clock(start.utc_s)} UTC"
    return f"Northkey field sheet{again}"


def _element_span(plan: Plan) -> str:
    epochs = sorted(satellite.elements.epoch_utc_s for satellite in plan.satellites)
    if not epochs:
        return "no elements"
    first, last = (format_iso(epoch)[:10] for epoch in (epochs[0], epochs[-1]))
    return f"elements of {first}" if first == last else f"elements of {first} to {last}"
