"""A season of a plan: memoised, stopped, and what voids it."""

from __future__ import annotations

import pytest

from core.base.errors import Cancelled, ValueRangeError
from core.base.memo import Memo
from core.mount.seat.season.study import SeasonQuestion
from core.season import study_plan
from tests.core.mount.clearance.samples import TWO_YAGIS
from tests.plans import plan_of, short_plan_data

LOSES = {"mount__azimuth__travel_deg": 360.0, "mount__elevation__maximum_deg": 90.0}


def test_another_question_asks_no_pass_anew_and_another_seat_nothing():
    memo, one_hole = Memo(), SeasonQuestion(most_holes=1)
    one = study_plan(plan_of(short_plan_data(), **LOSES), 4, one_hole, memo)
    assert (one.days, one.zone, len(one.windows)) == (4, "Europe/Zurich", 4)
    assert one.study.passes > 8
    again = study_plan(plan_of(short_plan_data(), **LOSES, mount__keyway_bearing_deg=40.0), 4, one_hole, memo)
    study_plan(plan_of(short_plan_data()), 4, SeasonQuestion(most_holes=2), memo)
    assert memo.computed == {"season passes": 1, "season": 2}
    assert again.study is one.study
    study_plan(plan_of(short_plan_data(), site__minimum_elevation_deg=20.0), 4, one_hole, memo)
    assert memo.computed["season passes"] == 2


def test_it_is_the_evening_s_own_clock_and_its_own_drag_is_left_out():
    plain = study_plan(plan_of(short_plan_data(), **LOSES), 5, SeasonQuestion(most_holes=1))
    data = short_plan_data()
    for satellite in data["satellites"]:
        satellite["elements"]["BSTAR"] = 0.01
    dragged = study_plan(plan_of(data, **LOSES), 5, SeasonQuestion(most_holes=1))
    assert dragged.study.holes[0].curve.value.tolist() == plain.study.holes[0].curve.value.tolist()
    assert dragged.refused == ()


def test_lengths_are_counted_and_found_again_until_they_change():
    memo, one_hole = Memo(), SeasonQuestion(most_holes=1)
    plain = study_plan(plan_of(short_plan_data(), **LOSES), 4, one_hole, memo)
    struck = study_plan(plan_of(short_plan_data(), **LOSES, clearance=TWO_YAGIS), 4, one_hole, memo)
    assert struck.study.passes == plain.study.passes
    assert struck.study.holes[0].curve.mean() > plain.study.holes[0].curve.mean()
    turned = plan_of(short_plan_data(), **LOSES, clearance=TWO_YAGIS, mount__keyway_bearing_deg=40.0)
    assert study_plan(turned, 4, one_hole, memo).study is struck.study
    high = TWO_YAGIS | {"legs": [], "guys": []}
    free = study_plan(plan_of(short_plan_data(), **LOSES, clearance=high), 4, one_hole, memo)
    assert free.study.holes[0].curve.value.tolist() == plain.study.holes[0].curve.value.tolist()


@pytest.mark.parametrize("calls", [0, 1, 2, 4])
def test_it_can_be_stopped(calls):
    left = [calls]

    def progress(*_):
        left[0] -= 1
        return left[0] >= 0

    with pytest.raises(Cancelled):
        study_plan(plan_of(short_plan_data()), 12, progress=progress)


def test_days_have_a_range():
    for days in (1, 1101):
        with pytest.raises(ValueRangeError, match="2 to 1100"):
            study_plan(plan_of(short_plan_data()), days)
