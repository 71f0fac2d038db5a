"""The evening with changed mounts: each row is what its plan alone gives, and nothing is searched twice."""

from __future__ import annotations

import numpy as np
import pytest

from core.base.errors import Cancelled, NorthkeyError, ValueRangeError
from core.base.memo import Memo
from core.evaluate import evaluate
from core.mount.model.results import VERDICTS
from core.mount.seat.losses.table import verdicts_at
from core.plan.document import Plan
from core.studies import orient, passes_to_study
from core.what_if.changes import MOST_CHANGES, Change
from core.what_if.evening import AtSeat, what_if_evening
from tests.lasting import MEMO
from tests.plans import changed, plan_of, short_plan_data
from tests.propagator_calls import counted_calls

HOLES = [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": 90.0}]
LOSES = {"mount__azimuth__travel_deg": 360.0, "mount__index_holes": HOLES}
PLAN = plan_of(short_plan_data(), **LOSES)
#: Each change, and the plan's keys with it as a hand would write them.
CHANGES = {
    Change(travel_deg=540.0): {"mount__azimuth__travel_deg": 540.0},
    Change(elevation_maximum_deg=90.0): {"mount__elevation__maximum_deg": 90.0},
    Change(azimuth_rate_deg_s=1.0): {"mount__azimuth__rate_deg_s": 1.0},
    Change(index_hole="B"): {"mount__index_hole": "B"},
}


@pytest.fixture
def told():
    return what_if_evening(PLAN, tuple(CHANGES), MEMO)


def by_hand(**more) -> Plan:
    return plan_of(changed(short_plan_data(), **LOSES), **more)


def figures(plan: Plan) -> AtSeat:
    """A seat's figures from a cold evaluation."""
    result = evaluate(plan)
    mine = [check for check in result.checks if check.pass_ in passes_to_study(plan, result)]
    contacts = result.order.contacts
    return AtSeat(
        plan.mount.keyway_bearing_deg,
        plan.mount.index_hole,
        len(contacts),
        sum(one.check.seconds_in_all for one in contacts) - sum(one.check.seconds_lost for one in contacts),
        result.order.worth.worth_s,
        tuple([check.verdict for check in mine].count(verdict) for verdict in VERDICTS),
        sum(check.seconds_lost for check in mine),
    )


@pytest.mark.parametrize("place", range(1 + len(CHANGES)))
def test_each_row_is_what_its_plan_alone_gives(told, place):
    keys = ({}, *CHANGES.values())[place]
    row, plan = told.rows[place], by_hand(**keys)
    assert row.stands == figures(plan)
    study = orient(plan, evaluate(plan))
    assert row.best == study.best
    seat = {
        "mount__keyway_bearing_deg": study.hole_of_best.best_rounded_deg,
        "mount__index_hole": study.best.index_hole,
    }
    turned = by_hand(**keys | seat)
    assert row.at_best == figures(turned)
    shift = study.hole_in_use.hole.offset_deg
    middles = (row.curve.start_deg + row.curve.width_deg / 2.0)[row.curve.width_deg > 1e-3]
    for bearing in middles[:: max(len(middles) // 9, 1)].tolist():
        there = verdicts_at(study.table, bearing + shift).lost_s.sum()
        assert row.curve.at(np.array([bearing]))[0] == pytest.approx(there, abs=2.0)


def test_the_plan_as_it_is_comes_first_and_is_not_changed(told):
    before = PLAN.model_dump()
    assert [row.change for row in told.rows] == [None, *CHANGES]
    assert told.rows[0].name == "as it is now"
    assert PLAN.model_dump() == before
    assert told.studied == len(passes_to_study(PLAN, evaluate(PLAN, MEMO)))


def test_nothing_is_propagated_for_a_change():
    memo = Memo()
    evaluate(PLAN, memo)
    with counted_calls() as counted:
        what_if_evening(PLAN, tuple(CHANGES), memo)
    assert counted.calls == 0
    assert memo.computed["search"] == memo.computed["frame"] == 1


def test_a_row_is_remembered_and_pushes_nothing_of_the_plan_out():
    memo = Memo()
    evaluate(PLAN, memo)
    first = what_if_evening(PLAN, tuple(CHANGES), memo)
    again = what_if_evening(by_hand(title="Other"), (Change(travel_deg=540.0),), memo)
    assert memo.computed["what if"] == 1 + len(CHANGES)
    assert again.rows[1].stands is first.rows[1].stands
    assert memo.computed["order"] == 1
    assert evaluate(PLAN, memo).order is evaluate(PLAN, memo).order
    assert memo.computed["order"] == 1


@pytest.mark.parametrize("calls", [0, 1, 3, 9])
def test_it_can_be_stopped_and_tells_the_row(calls):
    told: list[str] = []

    def progress(_done: int, _total: int, what: str) -> bool:
        told.append(what)
        return len(told) <= calls

    with pytest.raises(Cancelled):
        what_if_evening(PLAN, tuple(CHANGES), Memo(), progress)
    assert len(told) == calls + 1


def test_the_row_is_told():
    told: list[tuple[int, int, str]] = []
    what_if_evening(PLAN, (Change(travel_deg=500.0),), Memo(), lambda *step: told.append(step) or True)
    assert (1, 2) in {(done, total) for done, total, what in told if what.startswith("row 2 of 2, ")}


def test_too_many_changes_and_an_evening_without_passes_are_refused():
    many = tuple(Change(travel_deg=400.0 + place) for place in range(MOST_CHANGES + 1))
    with pytest.raises(ValueRangeError, match="at most 7"):
        what_if_evening(PLAN, many)
    empty = plan_of(short_plan_data(), site__minimum_elevation_deg=89.0)
    with pytest.raises(NorthkeyError, match="nothing to set side by side"):
        what_if_evening(empty, (Change(travel_deg=540.0),))


def test_a_change_that_cannot_be_is_refused_before_anything_is_computed():
    memo = Memo()
    with pytest.raises(ValueRangeError, match="travel_deg"):
        what_if_evening(PLAN, (Change(travel_deg=5000.0),), memo)
    assert memo.computed == {}
