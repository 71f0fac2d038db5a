"""Getting ready on site: timetable, checklist, kit and the sky's dials, of a plan and its evening."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.errors import Cancelled, ValueRangeError
from core.base.memo import Memo
from core.base.times import clock, first_second
from core.base.units import Progress, no_progress
from core.base.words import plain
from core.evaluate import Result
from core.mount.clearance.lengths import Clearance
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.joining import place_at
from core.mount.evening.results import Contact
from core.mount.model.station import Mount
from core.plan.document import Plan
from core.plan.north_field import north_field
from core.plate.body.shape import bolt_places
from core.plate.holding.bolting import Screwed
from core.plate.model import Plate
from core.plate.part import plate_part
from core.setup.checklist import CheckStep, checklist
from core.setup.facts import Holding, NearBy, StationFacts, Tightened
from core.setup.kit import KitItem, kit
from core.setup.level import level_of
from core.setup.methods import Method, landmark_methods
from core.setup.sky_dials import HOURS_S, SkyLine, sky_lines
from core.setup.timetable import Timetable, timetable
from core.stand.answer import StandAnswer, stand_answer
from core.stand.body import feet_of, guys_of, support_of
from core.stand.ground import fall_of, highest_m, top_known
from core.stand.model import Near, Stand

_SCREWS = {"bolts": "rotator's bolts", "clamp": "centre bolt", "pin": "index screw"}


@dataclass(frozen=True, eq=False)
class Ready:
    """What gets an operator ready.

    Attributes:
        timetable: None where no contact is worked.
        steps: the checklist, as it is ticked.
        kit: what to pack.
        sky: Sun and Moon on the dials for two hours from the arrival on, or up to the sighting of north where
            that is later; without a contact for the two hours before the evening.
        landmarks: the ways to north by them, for their dials.
    """

    timetable: Timetable | None
    steps: tuple[CheckStep, ...]
    kit: tuple[KitItem, ...]
    sky: tuple[SkyLine, ...]
    landmarks: tuple[Method, ...]


def get_ready(
    plan: Plan, result: Result, memo: Memo | None = None, progress: Progress = no_progress
) -> Ready:
    """Timetable, checklist, kit and sky; what is ticked is looked up last, so that a tick computes nothing.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    if not progress(0, 1, "timetable"):
        raise Cancelled
    level = memo.call(
        "level", level_of, plan.level_readings, plan.pointing.level_deg, plan.pointing.level_zero_deg
    )
    first = first_contact(result)
    field, found = north_field(plan, level, hears=False), None
    if first is not None:
        found = memo.call("timetable", timetable, field, first.start_utc_s, plan.setup_minutes)
    facts = _facts(plan, result, first, found, memo)
    return Ready(
        timetable=found,
        steps=checklist(facts, plan.checklist.done),
        kit=kit(facts),
        sky=memo.call("sky dials", sky_lines, plan.site, plan.mount, *_sky_span(plan, found)),
        landmarks=memo.call("landmark dials", landmark_methods, field),
    )


def _sky_span(plan: Plan, found: Timetable | None) -> tuple[float, float]:
    """From the arrival on, but no more than two hours before north has been sighted."""
    start_s = plan.evening.start_utc_s
    if found is None:
        return start_s - HOURS_S, start_s
    sighted_s = next(one.end_utc_s for one in found.stages if one.key == "sighting")
    return max(found.arrive_utc_s, sighted_s - HOURS_S), found.ready_utc_s


def first_contact(result: Result) -> Contact | None:
    """The first contact that is worked."""
    worked = (one for one in result.order.contacts if one.check.pointing is not None)
    return min(worked, key=lambda one: one.start_utc_s, default=None)


def _facts(
    plan: Plan, result: Result, first: Contact | None, found: Timetable | None, memo: Memo
) -> StationFacts:
    stand, lengths = plan.stand, plan.clearance
    # Without a boom's length the highest thing typed is no boom's end: nothing is said to keep clear of it.
    known = top_known(stand or Stand(), lengths)
    return StationFacts(
        mount=plan.mount,
        antennas=plan.antennas,
        keyway_magnetic_deg=result.seat.keyway_magnetic_deg,
        highest_m=_highest_m(stand or Stand(), lengths) if known else None,
        near=() if stand is None else _near(stand, lengths),
        screws=()
        if plan.plate is None
        else memo.call("plate's screws", _tightened, plan.plate, plan.mount, lengths),
        holding=None if stand is None else memo.call("holding", _holding, stand, lengths, plan.mount),
        first="" if first is None else _first_words(first, plan.mount),
        north=None if found is None or found.north is None else found.north.method,
        landmarks=tuple(one.name for one in plan.landmarks),
        compass=plan.compass is not None,
        level=bool(plan.level_readings),
        after_dark=_after_dark(result, found),
    )


def _highest_m(stand: Stand, lengths: Clearance | None) -> float:
    return highest_m(stand, lengths, guys_of(stand, lengths))


def _near(stand: Stand, lengths: Clearance | None) -> tuple[NearBy, ...]:
    """Of each thing near by whether station and thing keep clear of each other, however the station falls."""
    guys = guys_of(stand, lengths)
    try:
        fall = fall_of(stand, lengths, guys, support_of(feet_of(stand, lengths)))
    except ValueRangeError:  # no feet are typed: as if it fell from where it stands
        top_m = highest_m(stand, lengths, guys)
        return tuple(_near_by(one, one.distance_m > top_m) for one in stand.near)
    overhead = set(fall.overhead)
    return tuple(_near_by(one, not reached and one.name not in overhead) for one, reached in fall.near)


def _near_by(one: Near, clear: bool) -> NearBy:
    return NearBy(one.name, one.distance_m, one.height_m, clear)


def _tightened(plate: Plate, mount: Mount, lengths: Clearance | None) -> tuple[Tightened, ...]:
    part = plate_part(plate, mount, lengths)
    return tuple(_one_kind(screw, part.plate) for screw in part.screws)


def _one_kind(screw: Screwed, plate: Plate) -> Tightened:
    count = 1 if plate.bolts is None or screw.name != "bolts" else len(bolt_places(plate.bolts))
    return Tightened(_SCREWS[screw.name], count, screw.thread.name, screw.torque_nm, screw.given)


def _holding(stand: Stand, lengths: Clearance | None, mount: Mount) -> Holding | None:
    try:
        found = stand_answer(stand, lengths, mount.keyway_bearing_deg)
    except ValueRangeError:  # it says too little to be reckoned with
        return None
    ballast = found.ballast_kg
    return Holding(
        guys=len(found.guys.forces),
        pegs_n=max((one.tension_n for one in found.guys.forces), default=0.0),
        ballast_kg=None if ballast is None else float(math.ceil(ballast)),
        stakes_n=max((one.pull_n for one in found.stakes), default=0.0),
        hung=tuple(one.name for one in stand.hung),
        wind=_wind_words(found),
    )


def _wind_words(found: StandAnswer) -> str:
    return f"gusts of {plain(found.wind.gust_m_s, 1)} m/s"


def _first_words(first: Contact, mount: Mount) -> str:
    assert first.check.pointing is not None
    start_s = first_second(first.start_utc_s)  # as its card has it
    place = place_at(first.check.pointing, start_s)
    azimuth = azimuth_dial(place.m_deg, mount.azimuth).short
    elevation = elevation_dial(place.e_deg, mount.elevation).short
    return f"azimuth {azimuth}, elevation {elevation}, for {clock(start_s)} UTC"


def _after_dark(result: Result, found: Timetable | None) -> bool:
    """Something is worked after sunset, or it is not known."""
    if found is None or found.light.sunset_utc_s is None:
        return found is None or not found.light.sun_up
    ends = max(one.end_utc_s for one in result.order.contacts)
    return ends > found.light.sunset_utc_s or any(one.dark for one in found.stages)
