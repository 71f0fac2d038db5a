"""What each kind of edit asks of the propagator, counted from outside the program."""

from __future__ import annotations

import pytest

from core.base.memo import Memo
from core.evaluate import evaluate
from core.plan.picks import picks_with
from core.studies import orient
from tests.plans import plan_of, short_plan_data
from tests.propagator_calls import counted_calls

WALL = [{"azimuth_deg": 0.0, "elevation_deg": 12.0}, {"azimuth_deg": 180.0, "elevation_deg": 3.0}]


@pytest.fixture(scope="module")
def worked_out():
    """A plan, what is known of it, and its result."""
    plan, memo = plan_of(short_plan_data()), Memo()
    return plan, memo, evaluate(plan, memo)


@pytest.mark.parametrize(
    "edit",
    [
        {"mount__keyway_bearing_deg": 212.5},
        {"mount__index_holes": [{"name": "A", "offset_deg": 15.0}]},
        {"site__horizon": WALL},
        {"site__minimum_elevation_deg": 11.0},
        {"mount__azimuth__rate_deg_s": 2.0},
        {"steering": "held"},
        {"title": "Another evening"},
    ],
)
def test_what_is_not_of_the_orbit_asks_for_no_state(worked_out, edit):
    _plan, memo, _result = worked_out
    with counted_calls() as counted:
        evaluate(plan_of(short_plan_data(), **edit), memo)
    assert (counted.calls, counted.states) == (0, 0)


def test_picks_ask_for_no_state_and_neither_does_the_study_of_the_seat(worked_out):
    plan, memo, result = worked_out
    with counted_calls() as counted:
        picked = plan.model_copy(update={"picks": picks_with(plan.picks, result.passes[0])})
        orient(picked, evaluate(picked, memo), memo)
    assert (counted.calls, counted.states) == (0, 0)


def test_another_place_and_other_hours_ask_anew(worked_out):
    plan, memo, _result = worked_out
    for edit in ({"site__latitude_deg": 46.0}, {"evening__end": "2024-11-01T18:00:00Z"}):
        with counted_calls() as counted:
            evaluate(plan_of(short_plan_data(), **edit), memo)
        assert counted.states > 10 * len(plan.satellites)
