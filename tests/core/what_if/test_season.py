"""A season with changed mounts: each row is what the season of its plan says, and it is searched once."""

from __future__ import annotations

import numpy as np
import pytest

from core.base.errors import Cancelled, ValueRangeError
from core.base.memo import Memo
from core.season import study_plan
from core.what_if.changes import Change
from core.what_if.season import of_season, what_if_season
from tests.plans import changed, plan_of, short_plan_data

HOLES = [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": 90.0}]
LOSES = {
    "mount__azimuth__travel_deg": 360.0,
    "mount__elevation__maximum_deg": 90.0,
    "mount__index_holes": HOLES,
}
PLAN = plan_of(short_plan_data(), **LOSES)
DAYS = 3
CHANGES = {
    Change(travel_deg=450.0): {"mount__azimuth__travel_deg": 450.0},
    Change(index_hole="B"): {"mount__index_hole": "B"},
}


def test_each_row_is_the_season_of_its_plan_and_passes_are_searched_once():
    memo = Memo()
    told = what_if_season(PLAN, tuple(CHANGES), DAYS, memo)
    assert memo.computed["season passes"] == 1
    for row, keys in zip(told.rows, ({}, *CHANGES.values()), strict=True):
        plan = plan_of(changed(short_plan_data(), **LOSES), **keys)
        study = study_plan(plan, DAYS).study
        through = next(one for one in study.holes if one.hole.name == plan.mount.index_hole)
        assert row.through.best_deg == through.best_deg
        assert row.through.shares.tolist() == through.shares.tolist()
        assert row.through.curve.value.tolist() == through.curve.value.tolist()
        assert row.mean_share == np.mean(through.shares)
        assert row.free_evenings == sum(share == 0.0 for share in through.shares)
        assert (told.evenings, told.passes) == (study.evenings, study.passes)
    assert told.rows[1].mean_share < told.rows[0].mean_share


def test_it_can_be_stopped_and_days_have_a_range():
    with pytest.raises(Cancelled):
        what_if_season(PLAN, tuple(CHANGES), DAYS, Memo(), lambda *_: False)
    with pytest.raises(ValueRangeError, match="2 to 1100"):
        what_if_season(PLAN, tuple(CHANGES), 1, Memo())


def test_what_it_is_of_knows_no_keyway_but_the_hole():
    turned = plan_of(changed(short_plan_data(), **LOSES), mount__keyway_bearing_deg=70.0, title="Other")
    assert of_season(turned) == of_season(PLAN)
    for keys in (
        {"mount__index_hole": "B"},
        {"mount__azimuth__guard_deg": 9.0},
        {"site__latitude_deg": 40.0},
    ):
        assert of_season(plan_of(changed(short_plan_data(), **LOSES), **keys)) != of_season(PLAN)
