"""What the best seat saves, counted afresh by turning the plan there and working it out."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from core.base.edits import changed
from core.evaluate import evaluate
from core.mount.model.chain import zeta_deg
from core.mount.model.station import SightingCorrection
from core.mount.seat.choice import SeatLimit
from core.mount.seat.outcome import best_bearing_deg, checked, looked_up, pass_id
from core.mount.seat.saving import Fare, Saving, fare, fare_at_best, saving
from core.mount.seat.words import saving_sentence
from core.plan.document import Plan
from tests.seat_evening import seat_evening, seat_plan

THERE = Fare(6, 6, 0.0)


@cache
def _told(keyway: float, hole: str = "A") -> Saving:
    _plan, _result, study = seat_evening()
    mount = seat_plan(mount__keyway_bearing_deg=keyway, mount__index_hole=hole).mount
    best = best_bearing_deg(study, mount, study.best)
    there = fare_at_best(study, mount, best)
    return saving(study, mount, best, looked_up(study, zeta_deg(mount)), there)


def _held(plan: Plan) -> int:
    return sum(check.verdict in {"upright", "over the top"} for check in evaluate(plan).checks)


@pytest.mark.parametrize("keyway", [60.0, 250.0])
def test_turning_there_saves_what_is_told(keyway: float) -> None:
    told = _told(keyway)
    here = seat_plan(mount__keyway_bearing_deg=keyway)
    there = seat_plan(mount__keyway_bearing_deg=told.keyway_bearing_deg, mount__index_hole=told.index_hole)
    assert told.there.held == _held(there)
    assert told.saved == _held(there) - _held(here)
    assert told.saved > 0
    words = saving_sentence(told)
    assert f"({told.saved} saved)" in words
    assert f"{told.keyway_bearing_deg:.1f} deg true, hole {told.index_hole}" in words


def test_where_it_stands_best_nothing_is_to_be_turned() -> None:
    best = _told(60.0)
    told = _told(best.keyway_bearing_deg, best.index_hole)
    assert told.at_best
    assert told.saved == 0
    assert told.here == told.there
    assert saving_sentence(told).startswith("The keyway stands best as it is")
    assert not _told(best.keyway_bearing_deg, "B" if best.index_hole == "A" else "A").at_best


def test_what_is_exact_counts_before_what_is_looked_up() -> None:
    plan, result, study = seat_evening()
    exact = checked(study.passes, {pass_id(check.pass_): check for check in result.checks})
    assert exact is not None
    worse = replace(exact, passes=tuple(replace(p, word="out of reach") for p in exact.passes))
    told = saving(study, plan.mount, 10.0, worse, THERE)
    assert fare(worse).in_reach == told.here.in_reach == told.here.held == 0


def test_correction_and_forbidden_arcs_come_from_the_plan() -> None:
    plan, _result, study = seat_evening()
    standing = looked_up(study, zeta_deg(plan.mount))
    fitted = SightingCorrection(deg=1.0, keyway_bearing_deg=60.0, index_hole="A")
    limit = SeatLimit(from_deg=50.0, to_deg=70.0, why="the wall")
    held = changed(plan.mount, "sighting_correction", fitted)
    void = changed(held, "keyway_bearing_deg", 61.0)
    assert saving(study, held, 10.0, standing, THERE).correction == "holds"
    assert saving(study, void, 10.0, standing, THERE).correction == "void"
    assert saving(study, plan.mount, 10.0, standing, THERE).correction == "none"
    assert saving(study, plan.mount, 10.0, standing, THERE, (limit,)).forbidden_here == (limit,)
