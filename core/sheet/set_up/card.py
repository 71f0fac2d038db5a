"""The set-up card: the seat, the dials in words, what the figures rest on, and the order of setting up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.base.drawing import Drawing
from core.base.times import clock
from core.base.words import bearing_text, figure, plain, signed
from core.elements.age import far_words
from core.evaluate import Result, Seat
from core.mount.dial.summary import DialCheck, dial_checks
from core.mount.model.station import Mount
from core.mount.seat.limits import SeatLimit
from core.mount.seat.words import forbidden_seat_sentence
from core.place.locator import locator_of
from core.place.zones import local_clock
from core.plan.document import Plan
from core.ready import get_ready
from core.sheet.dials import PrintedDial, printed_axes, printed_azimuth
from core.sheet.drawing.seat_picture import seat_picture
from core.sheet.set_up.advice import CAUTIONS, DEFER, LegendLine, legend
from core.sheet.set_up.best_seat import best_seat_words
from core.sheet.set_up.correction import (
    Correction,
    corrections,
    example_words,
    place_within_words,
    rule_words,
)
from core.sheet.set_up.dial_words import (
    approach_words,
    azimuth_words,
    division_words,
    elevation_words,
)
from core.sheet.set_up.figures import element_ages, steering_words
from core.sheet.set_up.ready_card import ReadyCard, ready_card
from core.sheet.set_up.second_seat import SecondSeat, second_seat
from core.sheet.words import clean, day, zone_line, zone_warning
from core.studies import NOT_STUDIED, BesideEvening

_NOTES = 12


@dataclass(frozen=True)
class PrintedStop:
    """A stop: its name, true bearing of boresight there, and the dial there."""

    name: str
    true_deg: str
    dial: PrintedDial


@dataclass(frozen=True)
class TravelTest:
    """One line of the travel test: where the axis is set, the true bearing there (or empty), the dial."""

    place: str
    true_deg: str
    dial: PrintedDial


@dataclass(frozen=True)
class SetUpCard:
    """Everything needed to set the station down, and what the figures rest on.

    Attributes:
        hours: the evening in words.
        site, position: where, with signs in words.
        time_zone: the zone with its offset.
        warnings: sentences that must not be missed.
        keyway_true_deg, keyway_magnetic_deg: figures.
        declination: in words, with its error.
        hole, hole_words: its name; offset and place together.
        stops: counter-clockwise and clockwise.
        travel: in words, with guard and dial limits.
        place_within: how far off the keyway may be placed, or empty.
        picture: seen from above.
        dial_words: how the two dials read.
        rule, example: the correction for a keyway that came out elsewhere.
        corrections_below, corrections_above: the rule worked out, keyways below and above the intended one.
        steerings: what else entered the figures: steering, sighting correction, tilt.
        ready: timetable, checklist, kit, the sky's dials.
        approach: from which side every dial is come to; empty without play.
        cautions: (what, sentence).
        defer: what comes before this sheet.
        legend: the marks.
        ages: (satellites, age in words, stale), the oldest first.
        assumed: what the plan left out.
        notes: the operator's own lines.
        travel_test: what the dials must read at the ends and the middle of the travel.
        forbidden: sentences about forbidden keyway bearings.
        second: the best seat elsewhere; None where it was not asked for or there is none.
        best_seat: whether this seat is the best by the evening, with both worths; empty where not asked for.
    """

    hours: str
    site: str
    position: str
    time_zone: str
    warnings: tuple[str, ...]
    keyway_true_deg: str
    keyway_magnetic_deg: str
    declination: str
    hole: str
    hole_words: str
    stops: tuple[PrintedStop, PrintedStop]
    travel: str
    guards: tuple[PrintedDial, PrintedDial]
    place_within: str
    picture: Drawing
    dial_words: tuple[str, ...]
    rule: str
    example: str
    corrections_below: tuple[Correction, ...]
    corrections_above: tuple[Correction, ...]
    steerings: tuple[str, ...]
    ready: ReadyCard
    approach: str
    cautions: tuple[tuple[str, str], ...]
    defer: str
    legend: tuple[LegendLine, ...]
    ages: tuple[tuple[str, str, bool], ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]
    travel_test: tuple[TravelTest, ...] = ()
    forbidden: tuple[str, ...] = ()
    second: SecondSeat | None = None
    best_seat: str = ""

    def dials(self) -> Iterator[PrintedDial]:
        """Every dial reading on the card."""
        for stop in self.stops:
            yield stop.dial
        yield from self.guards
        for test in self.travel_test:
            yield test.dial
        for line in self.ready.sky:
            yield from (line.sun_azimuth, line.sun_elevation, line.moon_azimuth, line.moon_elevation)
        for mark in self.ready.marks:
            yield from (mark.azimuth, mark.elevation)
        if self.second is not None:
            for start in self.second.starts:
                yield from (start.azimuth, start.elevation)


def set_up_card(plan: Plan, result: Result, beside: BesideEvening = NOT_STUDIED) -> SetUpCard:
    """Everything on the set-up card; the best seat and the best elsewhere where they are studied."""
    mount, seat = plan.mount, result.seat
    start_s, end_s = plan.evening.start_utc_s, plan.evening.end_utc_s
    travel = mount.azimuth.travel_deg
    hole = clean(seat.hole, 24)
    intended = seat.keyway_true_deg
    guard = mount.azimuth.guard_deg
    return SetUpCard(
        hours=hours_words(start_s, end_s, result.time_zone),
        site=site_name(plan),
        position=_position(plan),
        time_zone=zone_line(start_s, end_s, result.time_zone),
        warnings=warnings_of(plan, result),
        keyway_true_deg=bearing_text(intended),
        keyway_magnetic_deg=bearing_text(seat.keyway_magnetic_deg),
        declination=_declination(seat),
        hole=hole,
        hole_words=_hole_words(seat),
        stops=(
            _stop("counter-clockwise stop", seat.counter_clockwise_stop_deg, 0.0, mount),
            _stop("clockwise stop", seat.clockwise_stop_deg, travel, mount),
        ),
        travel=f"Travel {plain(travel)} deg from stop to stop; keep {plain(guard)} deg from each.",
        guards=(printed_azimuth(guard, mount), printed_azimuth(travel - guard, mount)),
        place_within=place_within_words(result.order.contacts, mount, intended, beside.verdicts_deg),
        picture=seat_picture(mount),
        dial_words=(
            azimuth_words(mount.azimuth),
            elevation_words(mount.elevation),
            division_words(mount.azimuth, mount.elevation),
        ),
        rule=rule_words(mount.azimuth, intended),
        example=example_words(mount.azimuth, intended),
        corrections_below=corrections(mount.azimuth, intended, -1),
        corrections_above=corrections(mount.azimuth, intended, 1),
        steerings=steering_words(plan),
        ready=ready_card(get_ready(plan, result), result.time_zone),
        approach=approach_words(mount.azimuth, plan.pointing.backlash_deg, plan.sightings),
        cautions=CAUTIONS,
        defer=DEFER,
        legend=legend(),
        ages=element_ages(result),
        assumed=tuple(clean(text, 200) for text in result.assumed),
        notes=_notes(plan.notes),
        travel_test=tuple(_travel_test(check, mount) for check in dial_checks(mount)),
        forbidden=tuple(_forbidden(limit) for limit in plan.seat_limits),
        second=None if beside.elsewhere is None else second_seat(beside.elsewhere, seat.declination_deg),
        best_seat=best_seat_words(plan, result, beside.by_evening, beside.study),
    )


def _stop(name: str, true_deg: float, m_deg: float, mount: Mount) -> PrintedStop:
    return PrintedStop(name, bearing_text(true_deg), printed_azimuth(m_deg, mount))


def _travel_test(check: DialCheck, mount: Mount) -> TravelTest:
    azimuth, elevation = printed_axes(check.axis_deg, check.axis_deg, mount)
    true_deg = "" if check.bearing_deg is None else bearing_text(check.bearing_deg)
    return TravelTest(
        f"{check.axis}, {check.place}", true_deg, azimuth if check.axis == "azimuth" else elevation
    )


def _forbidden(limit: SeatLimit) -> str:
    why = f": {clean(limit.why, 80)}" if limit.why else ""
    return f"No keyway between {bearing_text(limit.from_deg)} and {bearing_text(limit.to_deg)} deg true{why}."


def _notes(text: str) -> tuple[str, ...]:
    """The plan's notes line by line; what is beyond the room for them is said to be left off."""
    lines = [line for line in (clean(raw, 600) for raw in text.splitlines()) if line]
    return tuple(lines if len(lines) <= _NOTES else [*lines[:_NOTES], "... more in the plan."])


def site_name(plan: Plan) -> str:
    """The site's name, as long as there is room for."""
    return clean(plan.site.name, 60) or "site without a name"


def hours_words(start_s: float, end_s: float, zone: str) -> str:
    """An evening's hours, UTC and local, with the dates that differ."""
    utc_end = clock(end_s, seconds=False)
    if day(start_s) != day(end_s):
        utc_end = f"{day(end_s)} {utc_end}"
    local_start, local_end = (local_clock(t, zone, seconds=False) for t in (start_s, end_s))
    if day(start_s, zone) != day(end_s, zone):
        local_end = f"{day(end_s, zone)} {local_end}"
    if day(start_s, zone) != day(start_s):
        local_start = f"{day(start_s, zone)} {local_start}"
    utc_start = f"{day(start_s)}, {clock(start_s, seconds=False)}"
    return f"{utc_start} to {utc_end} UTC, {local_start} to {local_end} local"


def _position(plan: Plan) -> str:
    site = plan.site
    north = "north" if site.latitude_deg >= 0.0 else "south"
    east = "east" if site.longitude_deg >= 0.0 else "west"
    locator = locator_of(site.latitude_deg, site.longitude_deg)
    return (
        f"{abs(site.latitude_deg):.5f} deg {north}, {abs(site.longitude_deg):.5f} deg {east}, "
        f"height {plain(site.height_m, 0)} m, locator {locator}; "
        f"passes counted over {plain(site.minimum_elevation_deg)} deg"
        + (" and the horizon mask" if site.horizon else ", no horizon mask")
    )


def _declination(seat: Seat) -> str:
    side = "east" if seat.declination_deg >= 0.0 else "west"
    error = figure(seat.declination_sigma_deg)
    text = (
        f"declination {figure(abs(seat.declination_deg))} deg {side}, ±{error} "
        f"({clean(seat.declination_model, 20)})"
    )
    return f"{text}; {clean(seat.declination_note, 160)}" if seat.declination_note else text


def _hole_words(seat: Seat) -> str:
    return (
        f"offset {signed(seat.hole_offset_deg)} deg (pin to datum mark), "
        f"drilled {plain(seat.hole_drilled_deg)} deg clockwise of the datum mark, both seen from above"
    )


def warnings_of(plan: Plan, result: Result) -> tuple[str, ...]:
    """What must not be missed: a clock that changes, a forbidden seat, old elements."""
    found = [zone_warning(plan.evening.start_utc_s, plan.evening.end_utc_s, result.time_zone)]
    found.append(clean(forbidden_seat_sentence(plan.mount, plan.seat_limits), 400))
    found += far_words([(clean(name, 40), days) for name, _, days in result.element_ages])
    return tuple(text for text in found if text)
