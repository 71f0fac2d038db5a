"""Getting ready: put together from the plan's own answers; a tick computes nothing."""

from __future__ import annotations

import importlib.resources
import json
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from core.base.edits import changed
from core.base.memo import Memo
from core.evaluate import Result, evaluate, identity
from core.place.site import mask_elevation_deg
from core.plan.document import Plan
from core.plan.on_site_edits import with_tick
from core.plate.part import plate_part
from core.ready import Ready, get_ready
from core.setup.checklist import CheckStep
from core.setup.sky import directions
from core.setup.sky_dials import sky_lines
from core.sheet.content import sheet_content
from core.stand.answer import stand_answer
from tests.evening_plans import evening_plan
from tests.lasting import MEMO, result_of
from tests.plans import plan_of, short_plan_data

DEMO = importlib.resources.files("resources").joinpath("demo", "larch_ridge.northkey.json")


@cache
def demo() -> tuple[Plan, Result, Memo, Ready]:
    plan = plan_of(json.loads(DEMO.read_text("utf-8")))
    result = result_of(plan)
    return plan, result, MEMO, get_ready(plan, result, MEMO)


def told_of(plan: Plan) -> dict[str, CheckStep]:
    return {one.name: one for one in get_ready(plan, result_of(plan)).steps}


def test_the_demo_is_told_by_its_own_plate_stand_and_first_contact():
    plan, result, _memo, ready = demo()
    assert plan.plate is not None
    assert plan.stand is not None
    told = {one.name: one for one in ready.steps}
    for screw in plate_part(plan.plate, plan.mount).screws:
        assert f"{screw.torque_nm:.1f} Nm" in told["torque"].words
    stand = stand_answer(plan.stand, None, 0.0)
    assert told["look up"].words.startswith(f"{stand.fall.highest_m:.1f} m: ")
    assert told["look up"].holds == ("power line" not in (*stand.fall.reached, *stand.fall.overhead))
    assert ready.timetable is not None
    assert ready.timetable.ready_utc_s == result.order.contacts[0].start_utc_s


def test_a_line_that_a_fall_reaches_or_that_hangs_over_it_does_not_hold():
    plan, result, memo, _ready = demo()
    for distance_m, height_m in ((3.0, 3.0), (1.0, 60.0)):
        near = [{"name": "wire", "bearing_deg": 0.0, "distance_m": distance_m, "height_m": height_m}]
        other = changed(plan, "stand.near", near)
        assert get_ready(other, result, memo).steps[0].holds is False, (distance_m, height_m)


def test_no_line_is_said_to_hold_where_no_boom_is_typed():
    """A stand without lengths is half a metre high by what it tells: a wire over it would keep clear."""
    near = [{"name": "wire", "bearing_deg": 0.0, "distance_m": 3.0, "height_m": 6.0}]
    told = told_of(plan_of(short_plan_data(), stand={"near": near}))
    assert told["look up"].holds is None
    assert "'wire' is 3 m away, 6 m up: no boom is typed" in told["look up"].words
    told = told_of(plan_of(short_plan_data(), stand={"near": near, "highest_mm": 4000.0}))
    assert told["look up"].words.startswith("4.0 m: ")
    assert told["look up"].holds is False


def test_the_first_dials_are_those_of_the_first_card():
    """At the first whole second of the contact, not at the nearest: a half division may lie between."""
    plan = evening_plan(site={"latitude_deg": 47.2, "longitude_deg": 10.0})
    result = result_of(plan)
    card = sheet_content(plan, result, plan.evening.start_utc_s).cards[0]
    start_s = result.order.contacts[0].start_utc_s
    assert 0.0 < start_s % 1.0 < 0.5, "a start that is rounded down is what this is about"
    words = told_of(plan)["first dials"].words
    azimuth, elevation = card.start_azimuth.text, card.start_elevation.text
    assert f"azimuth {azimuth}, elevation {elevation}, for {card.lines[0].utc} UTC" in words


def test_a_tick_changes_no_identity_and_computes_nothing():
    plan, result, memo, ready = demo()
    ticked = with_tick(plan, "level", True)
    assert identity(ticked) == identity(plan)
    again = evaluate(ticked, memo)
    assert (again.passes, again.order) == (result.passes, result.order)
    found = get_ready(ticked, again, memo)
    assert found.timetable is ready.timetable
    assert found.sky is ready.sky
    assert [one.name for one in found.steps if one.done] == ["level"]


def test_without_a_contact_there_is_no_timetable_and_the_sky_is_of_the_two_hours_before():
    plan = plan_of(short_plan_data(), satellites=[])
    ready = get_ready(plan, evaluate(plan))
    assert ready.timetable is None
    assert ready.sky[0].utc_s == plan.evening.start_utc_s - 7200.0
    assert ready.sky[-1].utc_s == plan.evening.start_utc_s


def test_sun_and_moon_stand_on_the_dials_only_while_they_clear_mask_and_horizon():
    plan, _result, _memo, ready = demo()
    lines = sky_lines(plan.site, plan.mount, ready.sky[0].utc_s - 4 * 3600.0, ready.sky[0].utc_s)
    assert [b.utc_s - a.utc_s for a, b in pairwise(lines)] == [600.0] * (len(lines) - 1)
    utc_s = np.array([one.utc_s for one in lines])
    for body in ("Sun", "Moon"):
        (seen,) = directions(plan.site, (body,), utc_s)
        over = seen.apparent_deg >= np.maximum(mask_elevation_deg(plan.site.horizon, seen.azimuth_deg), 0.0)
        dials = [one.sun if body == "Sun" else one.moon for one in lines]
        assert [one is not None for one in dials] == over.tolist()
    assert any(one.sun is not None for one in lines)
    first = next(one for one in lines if one.sun is not None)
    (sun,) = directions(plan.site, ("Sun",), np.array([first.utc_s]))
    assert first.shadow_bearing_deg == pytest.approx((float(sun.azimuth_deg[0]) + 180.0) % 360.0)


def test_the_sky_is_told_up_to_the_sighting_of_north():
    plan, _result, _memo, _ready = demo()
    late = changed(plan, "setup_minutes", {"tripod": 180.0})
    ready = get_ready(late, result_of(late))
    assert ready.timetable is not None
    sighted_s = next(one.end_utc_s for one in ready.timetable.stages if one.key == "sighting")
    assert ready.sky[0].utc_s <= sighted_s - 7200.0 < ready.sky[0].utc_s + 600.0
    assert ready.timetable.arrive_utc_s < ready.sky[0].utc_s
    assert ready.sky[-1].utc_s <= sighted_s < ready.sky[-1].utc_s + 600.0
