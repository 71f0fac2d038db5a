"""Timetable, checklist, kit and sky on paper: the same list as everywhere, and nothing worked out anew."""

from __future__ import annotations

import importlib.resources
import json
from dataclasses import replace
from functools import cache

from core.base.memo import Memo
from core.evaluate import Result, evaluate, identity
from core.mount.evening.joining import AxisAngles
from core.mount.evening.order.rules import MountStart
from core.plan.document import Plan
from core.plan.on_site_edits import with_tick
from core.ready import get_ready
from core.sheet.content import sheet_content
from core.sheet.render import pages_of
from core.sheet.set_up.ready_card import ready_card
from core.sheet.wishes import SheetWishes
from tests.lasting import MEMO, result_of
from tests.plans import plan_of, short_plan_data

DEMO = importlib.resources.files("resources").joinpath("demo", "larch_ridge.northkey.json")


@cache
def demo() -> tuple[Plan, Result, Memo]:
    plan = plan_of(json.loads(DEMO.read_text("utf-8")))
    return plan, result_of(plan), MEMO


def test_the_checklist_on_paper_is_the_windows_with_its_ticks():
    plan, result, memo = demo()
    ready = get_ready(with_tick(plan, "torque", True), result, memo)
    card = ready_card(ready, result.time_zone)
    assert [step.words.replace("\u200b", "") for step in card.steps] == [one.words for one in ready.steps]
    assert [step.done for step in card.steps] == [one.name == "torque" for one in ready.steps]
    assert [what.replace("\u200b", "") for what, _why in card.kit] == [one.what for one in ready.kit]


def test_lines_of_the_sky_are_those_with_something_in_sight():
    plan, result, memo = demo()
    ready = get_ready(plan, result, memo)
    card = ready_card(ready, result.time_zone)
    shown = [line for line in ready.sky if line.sun is not None or line.moon is not None]
    assert 0 < len(card.sky) == len(shown) < len(ready.sky)
    for printed, line in zip(card.sky, shown, strict=True):
        assert line.sun is not None
        assert (printed.sun_azimuth.figure, printed.moon_azimuth.figure) == (
            line.sun.azimuth.short.split(" ")[0],
            "",
        )
    assert card.sky_after.endswith("where either is in sight. The Moon is not in sight.")
    assert card.marks[0].azimuth.text == "21 (1st)"
    assert "Never look at the Sun" in card.caution


def test_the_demos_set_up_is_two_pages_without_what_is_studied_besides():
    plan, result, _memo = demo()
    content = replace(sheet_content(plan, result, 1.7e9), cards=())
    _pages, begins = pages_of(content, "a4", 20.0)
    assert [(one.page, one.name) for one in begins if one.name][:3] == [
        (1, "Set-up card"),
        (2, "Set-up card, second page"),
        (3, "Evening"),
    ]


def test_an_evening_without_a_contact_has_a_card_without_a_timetable():
    plan = plan_of(short_plan_data(), site__minimum_elevation_deg=89.0)
    card = sheet_content(plan, evaluate(plan), 1.7e9).set_up
    assert card is not None
    assert (card.ready.stages, card.ready.work) == ((), "")
    assert card.ready.arrive.startswith("No contact is worked")


def test_planned_again_the_set_up_is_left_out_and_found_by_its_plans_identity():
    plan, memo = plan_of(short_plan_data()), MEMO
    start = MountStart(AxisAngles(100.0, 0.0), plan.evening.start_utc_s + 600.0)
    result = evaluate(plan, memo, mount_start=start)
    again = sheet_content(plan, result, 1.7e9)
    assert again.set_up is None
    assert again.set_up_elsewhere == ("Set-up card: see the sheet made before; keyway 0.0 deg true, hole A.")
    assert sheet_content(plan, result, 1.7e9, wishes=SheetWishes(set_up=True)).set_up is not None
    first = sheet_content(plan, evaluate(plan, memo), 1.7e9)
    assert (first.set_up is not None, first.set_up_elsewhere) == (True, "")
    assert sheet_content(plan, evaluate(plan, memo), 1.7e9, wishes=SheetWishes(set_up=False)).set_up is None
    assert identity(plan) == first.identity
