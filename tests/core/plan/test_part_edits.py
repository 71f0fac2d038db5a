"""Plate and stand to start from, and edits that change several of their values at once."""

from __future__ import annotations

import pytest

from core.base.errors import ValueRangeError
from core.plan.part_edits import (
    bolt_pattern,
    with_bolt_place,
    with_bolts,
    with_forecast,
    with_new_bolt_place,
    with_rectangle_side,
    with_stand_row,
    with_step,
    with_usual_plate,
    with_usual_stand,
    without_bolt_place,
    without_stand_row,
)
from core.plate.body.shape import bolt_places
from core.plate.part import plate_part
from core.stand.answer import stand_answer
from tests.plans import plan_of, short_plan_data


@pytest.fixture
def plan():
    return with_usual_stand(with_usual_plate(plan_of(short_plan_data())))


def test_the_usual_part_holds_and_goes_in_one_way(plan):
    part = plate_part(plan.plate, plan.mount, plan.clearance)
    assert [check.name for check in part.checks if not check.holds] == []
    assert part.fits_ways == 1


def test_the_usual_station_stands_in_light_wind(plan):
    found = stand_answer(plan.stand, plan.clearance, 0.0, 4.0)
    assert found.advice == "go"
    assert found.load.kg > 0.0


def test_bolts_lie_as_far_out_whatever_their_pattern(plan):
    free = with_bolts(plan, "points").plate.bolts
    before = bolt_places(plan.plate.bolts)
    assert [place for point in free.points_mm for place in point] == pytest.approx(
        [place for point in before for place in point], abs=1e-3
    )
    for pattern in ("rectangle", "circle", "points", "rectangle"):
        plan = with_bolts(plan, pattern)
        assert bolt_pattern(plan.plate.bolts) == pattern
        places = bolt_places(plan.plate.bolts)
        assert max(max(abs(x), abs(y)) for x, y in places) < 90.0
    assert with_bolts(plan, "none").plate.bolts is None
    assert bolt_pattern(with_bolts(with_bolts(plan, "none"), "rectangle").plate.bolts) == "rectangle"
    assert with_bolts(plan, "rectangle") == plan


def test_a_rectangles_sides_and_free_places_are_typed_one_by_one(plan):
    plan = with_rectangle_side(with_bolts(plan, "rectangle"), 1, 44.0)
    assert plan.plate.bolts.rectangle_mm[1] == 44.0
    plan = with_bolt_place(with_bolts(plan, "points"), 2, 0, -12.5)
    assert plan.plate.bolts.points_mm[2][0] == -12.5
    more = with_new_bolt_place(plan)
    x, y = plan.plate.bolts.points_mm[-1]
    assert more.plate.bolts.points_mm[-1] == (-x, -y)
    assert without_bolt_place(more, len(more.plate.bolts.points_mm) - 1) == plan


def test_a_step_goes_to_the_other_side_with_its_measures(plan):
    above = with_step(plan, "above").plate.step
    assert (above.side, above.outer_diameter_mm) == ("above", plan.plate.step.outer_diameter_mm)
    assert with_step(plan, "none").plate.step is None
    assert with_step(with_step(plan, "none"), "below").plate.step == plan.plate.step


@pytest.mark.parametrize("name", ["legs", "masses", "areas", "hung", "guys", "near"])
def test_rows_come_and_go(plan, name):
    twice = with_stand_row(with_stand_row(plan, name), name)
    rows = getattr(twice.stand, name)
    assert len(rows) == len(getattr(plan.stand, name)) + 2
    assert without_stand_row(without_stand_row(twice, name, len(rows) - 1), name, len(rows) - 2) == plan


def test_either_figure_of_a_forecast_and_none(plan):
    told = with_forecast(plan, 5.0, None)
    assert (told.stand.forecast.mean_m_s, told.stand.forecast.gust_m_s) == (5.0, None)
    assert with_forecast(told, None, 9.0).stand.forecast.gust_m_s == 9.0
    assert with_forecast(told, None, None) == plan
    with pytest.raises(ValueRangeError, match="gust"):
        with_forecast(plan, 5.0, 4.0)
