"""The studies of a plan: remembered, the same however they are come by, and what they depend on."""

from __future__ import annotations

import pytest

from core.base.edits import changed
from core.base.errors import Cancelled
from core.base.memo import Memo
from core.evaluate import evaluate
from core.mount.evening.moment import start_axes
from core.mount.seat.choice import elsewhere
from core.mount.steering.pass_steering import PassSteering
from core.plan.document import Plan
from core.studies import (
    evening_question,
    orient,
    orient_checks,
    over_keyhole,
    seat_elsewhere,
    seat_question,
    study_pass,
)
from tests.core.plate.samples import plate_of
from tests.evening_plans import evening_plan
from tests.seat_evening import seat_evening, seat_plan


def figures(study: PassSteering) -> list[tuple[object, ...]]:
    """All that is told of each steering."""
    return [
        (
            *(run.name, run.worst_off_deg, run.azimuth_travel_deg, run.elevation_travel_deg),
            *((cost.name, cost.seconds_off, cost.worst_loss_db) for cost in run.antennas),
        )
        for run in study.study.runs
    ]


def test_a_study_is_remembered_until_the_mount_changes() -> None:
    plan, memo = evening_plan(), Memo()
    result = evaluate(plan, memo)
    first = study_pass(plan, result, result.checks[1], memo)
    assert study_pass(plan, result, result.checks[1], memo) is first
    assert memo.computed["steering"] == 1
    slower = changed(plan, "mount.azimuth.rate_deg_s", 1.0)
    study_pass(slower, evaluate(slower, memo), result.checks[1], memo)
    assert memo.computed["steering"] == 2
    cold = study_pass(plan, result, result.checks[1])
    assert first is not None
    assert cold is not None
    assert figures(cold) == figures(first)


def test_passes_over_the_keyhole_are_those_azimuth_cannot_follow() -> None:
    fast = evening_plan()
    assert over_keyhole(fast, evaluate(fast)) == ()
    slow = evening_plan(mount__azimuth__rate_deg_s=0.5)
    result = evaluate(slow)
    over = over_keyhole(slow, result)
    peaks = [result.passes[i].peak.elevation_deg for i in over]
    others = [pass_.peak.elevation_deg for i, pass_ in enumerate(result.passes) if i not in over]
    assert peaks
    assert not others or min(peaks) > min(others)


#: Edits after which the study of the seat must be made anew, and edits after which it must not.
ANOTHER_QUESTION: dict[str, object] = {
    "site.minimum_elevation_deg": 12.0,
    "site.height_m": 1500.0,
    "site.horizon": [
        {"azimuth_deg": 0.0, "elevation_deg": 4.0},
        {"azimuth_deg": 90.0, "elevation_deg": 30.0},
    ],
    "evening.start": "2024-11-01T18:00:00Z",
    "clearance": {"gap_mm": 60.0},
    "satellites.0.name": "HERON",
    "maximum_element_age_days": 30.0,
    "picks": [{"norad_id": 71001, "near": "2024-11-01T18:00:00Z"}],
    "mount.azimuth.guard_deg": 8.0,
    "mount.elevation.maximum_deg": 180.0,
    "mount.drive.settle_s": 3.0,
    "mount.tilt": {"angle_deg": 1.0, "toward_deg": 40.0},
    "mount.index_holes.1.offset_deg": 77.0,
    "mount.datum_to_stop_deg": 3.0,
    "mount.elevation_unit_offset_deg": 90.0,
    "antennas.0.beamwidth_deg": 12.0,
    "steering": "held",
    "seat_limits": [{"from_deg": 100.0, "to_deg": 130.0}],
}
SAME_QUESTION: dict[str, object] = {
    "title": "another",
    "notes": "bring a spade",
    "site.name": "the field",
    "site.time_zone": "Europe/Zurich",
    "shortest_contact_s": 60.0,
    "evening_rules.change_cost_s": 90.0,
    "picks.0.worth": 3.0,
    "picks.0.way": {"posture": "upright", "turn": 0},
    "sightings": [{"time": "2024-11-01T17:00:00Z", "target": "mast", "azimuth_dial_deg": 3.0}],
    "landmarks": [{"name": "mast", "latitude_deg": 47.0, "longitude_deg": 9.0}],
    "level_readings": [{"bearing_deg": 10.0, "rise_deg": 0.5}],
    "compass": {"reading_deg": 140.0},
    "satellites.0.transponders": [{"name": "beacon", "downlink_hz": 145.868e6}],
    "log": [{"norad_id": 71001, "near": "2024-11-01T18:00:00Z", "worked": True}],
    "pointing": {"wind_deg": 2.0},
    "setup_minutes": {"tripod": 40.0},
    "checklist": {"done": ["look up"]},
    "stand": {"tripod_mass_kg": 9.0},
    "plate": plate_of(),
    "mount.sighting_correction": {"deg": 2.0, "keyway_bearing_deg": 60.0, "index_hole": "A"},
}


def picked_plan() -> Plan:
    """The evening with two of its passes picked."""
    passes = seat_evening()[1].passes
    picks = [{"norad_id": p.norad_id, "near": f"2024-11-01T{_clock(p.peak.utc_s)}Z"} for p in passes[:2]]
    return seat_plan(picks=picks)


def _clock(utc_s: float) -> str:
    seconds = int(utc_s) % 86_400
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def test_the_study_stays_where_its_question_does() -> None:
    plan, memo = picked_plan(), Memo()
    study = orient(plan, evaluate(plan, memo), memo)
    for path, value in SAME_QUESTION.items():
        other = changed(plan, path, value)
        assert seat_question(other) == seat_question(plan), path
        assert orient(other, evaluate(other, memo), memo) is study, path


@pytest.mark.parametrize("path", ANOTHER_QUESTION)
def test_what_the_study_looks_at_is_in_its_question(path: str) -> None:
    plan = seat_plan()
    assert seat_question(changed(plan, path, ANOTHER_QUESTION[path])) != seat_question(plan)


def test_every_field_of_the_plan_is_known_to_matter_to_the_seat_or_not() -> None:
    told = {path.split(".")[0] for path in (*ANOTHER_QUESTION, *SAME_QUESTION)}
    assert told == set(Plan.model_fields) - {"format", "version"}
    mount = {path.split(".")[1] for path in (*ANOTHER_QUESTION, *SAME_QUESTION) if path.startswith("mount.")}
    assert mount == set(type(seat_plan().mount).model_fields) - {"keyway_bearing_deg", "index_hole"}


def test_the_evenings_of_other_seats_depend_on_picks_and_rules_and_on_no_seat() -> None:
    plan = seat_plan()
    for path, value in (("mount.keyway_bearing_deg", 200.0), ("mount.index_hole", "B"), ("title", "another")):
        assert evening_question(changed(plan, path, value)) == evening_question(plan)
    pick = {"norad_id": 71001, "near": "2024-11-01T18:00:00Z"}
    picked = changed(plan, "picks", [pick])
    for other in (
        picked,
        changed(plan, "evening_rules.change_cost_s", 90.0),
        changed(plan, "shortest_contact_s", 90.0),
        changed(plan, "mount.azimuth.travel_deg", 450.0),
    ):
        assert evening_question(other) != evening_question(plan)
    worth = changed(plan, "picks", [pick | {"worth": 3.0}])
    assert seat_question(worth) == seat_question(picked)
    assert evening_question(worth) != evening_question(picked)


def test_a_turned_keyway_asks_the_same_and_only_ties_are_broken_anew() -> None:
    plan, memo = seat_plan(), Memo()
    study = orient(plan, evaluate(plan, memo), memo)
    turned = changed(changed(plan, "mount.keyway_bearing_deg", 200.0), "mount.index_hole", "B")
    again = orient(turned, evaluate(turned, memo), memo)
    assert seat_question(turned) == seat_question(plan)
    assert again is not study
    assert again.table is study.table
    assert again.hole_in_use.hole.name == "B"


def test_the_checks_in_a_seat_are_those_of_a_plan_that_is_seated_there() -> None:
    plan, memo = seat_plan(), Memo()
    result = evaluate(plan, memo)
    second = orient(plan, result, memo).second_best
    assert second is not None
    there = seat_plan(
        mount__keyway_bearing_deg=second.keyway_bearing_deg, mount__index_hole=second.index_hole
    )
    found = orient_checks(plan, result, second, memo)
    by_aos = {check.pass_.aos.utc_s: check for check in evaluate(there).checks}
    assert found
    for check in found:
        other = by_aos[check.pass_.aos.utc_s]
        assert (check.verdict, check.seconds_lost) == (other.verdict, other.seconds_lost)
        assert start_axes(check) == start_axes(other)


def test_the_seat_elsewhere_is_the_study_s_with_the_evening_chosen_anew_there() -> None:
    plan, memo = seat_plan(), Memo()
    result = evaluate(plan, memo)
    found = seat_elsewhere(plan, result, memo)
    assert found is not None
    study = orient(plan, result, memo)
    assert found.seat == elsewhere(study.best, study.second_best, plan.mount.keyway_bearing_deg)
    mount = found.mount
    assert (mount.keyway_bearing_deg, mount.index_hole) == (
        found.seat.keyway_bearing_deg,
        found.seat.index_hole,
    )
    there = evaluate(
        seat_plan(mount__keyway_bearing_deg=mount.keyway_bearing_deg, mount__index_hole=mount.index_hole)
    ).order.contacts
    assert found.joined_utc_s == tuple(contact.start_utc_s for contact in there)
    for check, contact in zip(found.checks, there, strict=True):
        other = contact.check
        assert (check.pass_.norad_id, check.verdict) == (other.pass_.norad_id, other.verdict)
        assert start_axes(check) == start_axes(other)


def test_the_seat_elsewhere_is_remembered_and_can_be_stopped() -> None:
    plan, memo = seat_plan(), Memo()
    result = evaluate(plan, memo)
    orient(plan, result, memo)

    def stop(_done: int, _total: int, _what: str) -> bool:
        return False

    with pytest.raises(Cancelled):
        seat_elsewhere(plan, result, memo, stop)
    first, again = seat_elsewhere(plan, result, memo), seat_elsewhere(plan, result, memo, stop)
    assert first is not None
    assert again is not None
    assert all(one is other for one, other in zip(again.checks, first.checks, strict=True))


def test_there_is_no_seat_elsewhere_without_contacts() -> None:
    plan = seat_plan(site__minimum_elevation_deg=89.0)
    assert seat_elsewhere(plan, evaluate(plan)) is None
