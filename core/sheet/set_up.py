"""The set-up card's content: the seat, the dials in words, and the rule if the keyway came out elsewhere."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from core.base.angles import wrap_180, wrap_360
from core.base.times import clock
from core.base.words import bearing_text, duration, figure, listed, ordinal, plain, signed
from core.elements.age import describe_age, grade_age
from core.evaluate import Result, Seat
from core.mount.dial.readings import DialReading, azimuth_curve, azimuth_dial, dial_figure, elevation_dial
from core.mount.dial.summary import DialCheck, dial_checks
from core.mount.evening.moment import start_axes
from core.mount.evening.results import Contact
from core.mount.model.chain import correction_deg
from core.mount.model.results import PassCheck
from core.mount.model.station import POSTURES, AzimuthAxis, ElevationAxis, Mount
from core.mount.seat.choice import SeatLimit
from core.mount.seat.words import seat_outcome
from core.place.declination import magnetic_from_true
from core.place.locator import locator_of
from core.place.zones import local_clock
from core.plan.document import Plan
from core.sheet.advice import CAUTIONS, DEFER, legend, setting_up
from core.sheet.nouns import Correction, Dial, SecondSeat, SecondStart, SetUpCard, Stop, TravelTest
from core.sheet.plots import seat_picture
from core.sheet.words import clean, day, zone_line, zone_warning
from core.studies import SeatElsewhere

_NOTES = 12


def as_dial(reading: DialReading) -> Dial:
    """A reading as printed."""
    if reading.times_in_all < 2:
        return Dial(dial_figure(reading.shown_deg))
    return Dial(dial_figure(reading.shown_deg), _short_ordinal(reading.time_round))


def _short_ordinal(number: int) -> str:
    return {1: "1st", 2: "2nd", 3: "3rd"}.get(number, f"{number}th")


def correction_to_add(axis: AzimuthAxis, intended_deg: float, actual_deg: float) -> float:
    """What to add to a printed azimuth dial when the keyway came out at ``actual_deg``.

    The bearing of boresight is zeta + m and zeta turns with the keyway, so the same bearing needs m less
    (actual - intended); the dial is stop + scale * m, so it needs scale * (intended - actual) more. For a
    crooked dial its mean scale over the travel stands in; `correction_error_deg` says how well.
    """
    return _mean_scale(axis) * wrap_180(intended_deg - actual_deg) + 0.0


def _mean_scale(axis: AzimuthAxis) -> float:
    if not axis.calibration:
        return axis.dial_scale
    curve = azimuth_curve(axis)
    return (curve.dial_at(axis.travel_deg) - curve.dial_at(0.0)) / axis.travel_deg


def correction_error_deg(axis: AzimuthAxis, off_deg: float) -> float:
    """How wrong that is at worst, on the dial, for a keyway up to ``off_deg`` off; 0 for a straight dial."""
    if not axis.calibration:
        return 0.0
    curve, scale = azimuth_curve(axis), _mean_scale(axis)
    places = np.linspace(0.0, axis.travel_deg, 91)
    return max(
        abs(curve.dial_at(float(m) + turned) - curve.dial_at(float(m)) - scale * turned)
        for m in places
        for turned in (-off_deg, off_deg)
        if 0.0 <= m + turned <= axis.travel_deg
    )


def set_up_card(plan: Plan, result: Result, elsewhere: SeatElsewhere | None = None) -> SetUpCard:
    """Everything on the set-up card; the best seat elsewhere where it is given."""
    mount, seat = plan.mount, result.seat
    start_s, end_s = plan.evening.start_utc_s, plan.evening.end_utc_s
    travel = mount.azimuth.travel_deg
    hole = clean(seat.hole, 24)
    intended = seat.keyway_true_deg
    around = [
        [
            Correction(
                plain(wrap_360(intended + sign * off), 1),
                signed(correction_to_add(mount.azimuth, intended, intended + sign * off)),
            )
            for off in range(1, 11)
        ]
        for sign in (-1.0, 1.0)
    ]
    guard = mount.azimuth.guard_deg
    return SetUpCard(
        hours=_hours(start_s, end_s, result.time_zone),
        site=clean(plan.site.name, 60) or "site without a name",
        position=_position(plan),
        time_zone=zone_line(start_s, end_s, result.time_zone),
        warnings=_warnings(plan, result),
        keyway_true_deg=bearing_text(intended),
        keyway_magnetic_deg=bearing_text(seat.keyway_magnetic_deg),
        declination=_declination(seat),
        hole=hole,
        hole_words=_hole_words(seat),
        stops=(
            Stop(
                "counter-clockwise stop",
                bearing_text(seat.counter_clockwise_stop_deg),
                as_dial(azimuth_dial(0.0, mount.azimuth)),
            ),
            Stop(
                "clockwise stop",
                bearing_text(seat.clockwise_stop_deg),
                as_dial(azimuth_dial(travel, mount.azimuth)),
            ),
        ),
        travel=f"Travel {plain(travel)} deg from stop to stop; keep {plain(guard)} deg from each.",
        guards=(
            as_dial(azimuth_dial(guard, mount.azimuth)),
            as_dial(azimuth_dial(travel - guard, mount.azimuth)),
        ),
        place_within=_place_within(result.order.contacts, mount, intended),
        picture=seat_picture(mount),
        dial_words=(azimuth_words(mount.azimuth), elevation_words(mount.elevation)),
        rule=_rule(mount.azimuth, intended),
        example=_example(mount.azimuth, intended),
        corrections_below=tuple(around[0]),
        corrections_above=tuple(around[1]),
        steerings=_steerings(plan),
        steps=setting_up(
            as_dial(azimuth_dial(travel / 2.0, mount.azimuth)).text, hole, mount.elevation.maximum_deg > 90.0
        ),
        cautions=CAUTIONS,
        defer=DEFER,
        legend=legend(),
        ages=tuple(
            (clean(name, 40), describe_age(days), _stale(days)) for name, _, days in result.element_ages
        ),
        assumed=tuple(clean(text, 200) for text in result.assumed),
        notes=_notes(plan.notes),
        travel_test=tuple(_travel_test(check, mount) for check in dial_checks(mount)),
        forbidden=tuple(_forbidden(limit) for limit in plan.seat_limits),
        second=None if elsewhere is None else _second_seat(elsewhere, seat.declination_deg),
    )


def _travel_test(check: DialCheck, mount: Mount) -> TravelTest:
    azimuth = check.axis == "azimuth"
    reading = (
        azimuth_dial(check.axis_deg, mount.azimuth)
        if azimuth
        else elevation_dial(check.axis_deg, mount.elevation)
    )
    true_deg = "" if check.bearing_deg is None else bearing_text(check.bearing_deg)
    return TravelTest(f"{check.axis}, {check.place}", true_deg, as_dial(reading))


def _forbidden(limit: SeatLimit) -> str:
    why = f": {clean(limit.why, 80)}" if limit.why else ""
    return f"No keyway between {bearing_text(limit.from_deg)} and {bearing_text(limit.to_deg)} deg true{why}."


def _second_seat(elsewhere: SeatElsewhere, declination_deg: float) -> SecondSeat:
    seat = elsewhere.seat
    return SecondSeat(
        keyway_true_deg=bearing_text(seat.keyway_bearing_deg),
        keyway_magnetic_deg=bearing_text(magnetic_from_true(seat.keyway_bearing_deg, declination_deg)),
        hole=clean(seat.index_hole, 24),
        words=seat_outcome(seat),
        starts=tuple(
            _second_start(number, check, elsewhere.mount)
            for number, check in enumerate(elsewhere.checks, start=1)
        ),
    )


def _second_start(number: int, check: PassCheck, mount: Mount) -> SecondStart:
    place = start_axes(check)
    none = Dial("")
    return SecondStart(
        number=number,
        satellite=clean(check.pass_.satellite, 24),
        utc=clock(check.pass_.aos.utc_s, seconds=False),
        verdict=check.verdict,
        azimuth=none if place is None else as_dial(azimuth_dial(place[0], mount.azimuth)),
        elevation=none if place is None else as_dial(elevation_dial(place[1], mount.elevation)),
    )


def _notes(text: str) -> tuple[str, ...]:
    """The plan's notes line by line; what is beyond the room for them is said to be left off."""
    lines = [line for line in (clean(raw, 600) for raw in text.splitlines()) if line]
    return tuple(lines if len(lines) <= _NOTES else [*lines[:_NOTES], "... more in the plan."])


def _hours(start_s: float, end_s: float, zone: str) -> str:
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
        f"declination {figure(abs(seat.declination_deg))} deg {side}, give or take {error} "
        f"({clean(seat.declination_model, 20)})"
    )
    return f"{text}; {clean(seat.declination_note, 160)}" if seat.declination_note else text


def _hole_words(seat: Seat) -> str:
    return (
        f"offset {signed(seat.hole_offset_deg)} deg (pin to datum mark), "
        f"drilled {plain(seat.hole_drilled_deg)} deg clockwise of the datum mark, both seen from above"
    )


def _warnings(plan: Plan, result: Result) -> tuple[str, ...]:
    found = [zone_warning(plan.evening.start_utc_s, plan.evening.end_utc_s, result.time_zone)]
    stale = [clean(name, 40) for name, _, days in result.element_ages if _stale(days)]
    if stale:
        named = listed(stale[:4]) + (f" and {len(stale) - 4} more" if len(stale) > 4 else "")
        found.append(
            f"Elements too far from the evening to point by with confidence: {named}. Get newer ones."
        )
    return tuple(text for text in found if text)


def _stale(days: float) -> bool:
    return grade_age(days) in {"old", "too old to trust"}


def azimuth_words(axis: AzimuthAxis) -> str:
    """How the azimuth dial reads, in sentences."""
    sense = "rises" if axis.dial_scale > 0.0 else "falls"
    by = plain(abs(_mean_scale(axis)), 4)
    start = dial_figure(azimuth_dial(0.0, axis).shown_deg)
    mean = f" in the mean (crooked: by a table of {len(axis.calibration)} pairs)" if axis.calibration else ""
    text = (
        f"Azimuth dial: {start} on the counter-clockwise stop, "
        f"{sense} by {by} for each degree turned clockwise{mean}"
    )
    if axis.dial_wraps_at_deg is None or axis.dial_wraps_to_deg is None:
        text += ", runs on without wrapping."
    else:
        text += f"; at {plain(axis.dial_wraps_at_deg)} it starts again from {plain(axis.dial_wraps_to_deg)}."
        most = max(azimuth_dial(m, axis).times_in_all for m in (0.0, axis.travel_deg / 2.0, axis.travel_deg))
        if most > 1:
            text += (
                " Where it reads the same more than once, (1st), "
                f"({_short_ordinal(2)}) says which time round from that stop is meant"
                f" (up to the {ordinal(most)})."
            )
    return f"{text} Divided in {plain(axis.dial_division_deg)} deg, printed to half a division."


def elevation_words(axis: ElevationAxis) -> str:
    """How the elevation dial reads, in sentences."""
    level, up, over = (dial_figure(elevation_dial(e, axis).shown_deg) for e in (0.0, 90.0, 180.0))
    text = f"Elevation dial: {level} level, {up} straight up"
    if axis.maximum_deg > 90.0:
        text += (
            f", {over} level again, laid over the top" if axis.maximum_deg >= 180.0 else ", more over the top"
        )
    if axis.calibration:
        text += f", by a table of {len(axis.calibration)} pairs"
    limits = [dial_figure(elevation_dial(e, axis).shown_deg) for e in (axis.minimum_deg, axis.maximum_deg)]
    return (
        f"{text}; it can go from {limits[0]} to {limits[1]}. "
        f"Divided in {plain(axis.dial_division_deg)} deg, printed to half a division."
    )


def _rule(axis: AzimuthAxis, intended: float) -> str:
    slope = _mean_scale(axis)
    scale = "" if slope == 1.0 else f"{plain(slope, 4)} times "
    wrap = ""
    if axis.dial_wraps_at_deg is not None and axis.dial_wraps_to_deg is not None:
        span = plain(axis.dial_wraps_at_deg - axis.dial_wraps_to_deg)
        wrap = (
            f" If the sum leaves {plain(axis.dial_wraps_to_deg)} to {plain(axis.dial_wraps_at_deg)}, "
            f"bring it back by {span}."
        )
    return (
        f"If the keyway came out at ___ deg true instead of {bearing_text(intended)}, "
        f"correct every azimuth dial by {scale}(intended - actual) degrees: add it, with its sign.{wrap}"
        f"{_crooked(axis)}"
    )


def _crooked(axis: AzimuthAxis) -> str:
    if not axis.calibration:
        return ""
    error = math.ceil(correction_error_deg(axis, 10.0) * 10.0) / 10.0
    return f" The dial is crooked: within 10 deg this is right to {plain(error)} on the dial."


def _example(axis: AzimuthAxis, intended: float) -> str:
    actual = wrap_360(intended + 3.0)
    add = correction_to_add(axis, intended, actual)
    printed = azimuth_dial(axis.travel_deg / 2.0, axis).value_deg
    rounded = float(round(printed / 10.0) * 10)
    slope = _mean_scale(axis)
    times = "" if slope == 1.0 else f"{plain(slope, 4)} x "
    return (
        f"Example: it came out at {bearing_text(actual)}. "
        f"{times}({bearing_text(intended)} - {bearing_text(actual)}) = {signed(add)}; "
        f"where the sheet says {plain(rounded)}, set {plain(rounded + add)}."
    )


def _place_within(contacts: Sequence[Contact], mount: Mount, intended: float) -> str:
    """How far off a keyway that is then measured may be before a clear pass of tonight's meets a guard.

    Turning the keyway clockwise by d takes d off every m: the room is what is left to the guards.
    """
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    ways = [c.check.chosen for c in contacts if c.check.chosen is not None and c.check.chosen.clear]
    if not ways:
        return ""
    first = f"one of tonight's {len(ways)} clear passes" if len(ways) > 1 else "tonight's one clear pass"
    clockwise = max(min(way.m_min_deg for way in ways) - guard, 0.0)
    back = max(top - max(way.m_max_deg for way in ways), 0.0)
    return (
        f"Measured and corrected so, it may lie from {bearing_text(intended - back)} to "
        f"{bearing_text(intended + clockwise)} "
        f"({signed(-back, 1)} / {signed(clockwise, 1)} deg) before {first} "
        "meets a guard in the turn printed here."
    )


def _steerings(plan: Plan) -> tuple[str, ...]:
    mount = plan.mount
    words = {
        "led": "Passes too fast for the rotator are led: it starts ahead of the satellite, ends behind it.",
        "chased": "Passes too fast for the rotator are chased: it follows as fast as it can.",
        "held": "Passes too fast for the rotator are held: azimuth stands, elevation alone goes over.",
    }
    found = [
        f"{words[plan.steering]} Rates: {plain(mount.azimuth.rate_deg_s)} deg/s in azimuth, "
        f"{plain(mount.elevation.rate_deg_s)} in elevation (90 deg take "
        f"{duration(90.0 / mount.azimuth.rate_deg_s)} and {duration(90.0 / mount.elevation.rate_deg_s)})."
    ]
    fitted = mount.sighting_correction
    if fitted is not None:
        used = [posture for posture in POSTURES if correction_deg(mount, posture) == fitted.deg]
        state = (
            f"in the dials here ({listed(used)})"
            if used and fitted.deg
            else "void: keyway or hole has changed"
        )
        found.append(f"Sighting correction {signed(fitted.deg)} deg, {state}.")
    if mount.tilt.angle_deg:
        found.append(
            f"The axis' top leans {plain(mount.tilt.angle_deg)} deg toward "
            f"{bearing_text(mount.tilt.toward_deg)} true; "
            "the dials here allow for it."
        )
    if mount.datum_to_stop_deg or mount.elevation_unit_offset_deg:
        found.append(
            f"Datum mark to boresight on the stop {signed(mount.datum_to_stop_deg)} deg, "
            f"elevation unit {signed(mount.elevation_unit_offset_deg)} deg."
        )
    antennas = [f"{clean(a.name, 30)} {plain(a.beamwidth_deg)} deg" for a in plan.antennas]
    found.append(f"Beamwidths: {listed(antennas)}.")
    return tuple(found)
