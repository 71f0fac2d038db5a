"""Where the mount idles and is stowed stands on the sheet as the order has it."""

from __future__ import annotations

import importlib.resources

import pytest

from core.base.times import clock
from core.evaluate import Result, evaluate
from core.mount.evening.order.rules import EveningRules
from core.mount.evening.tally import tally
from core.plan.document import Plan
from core.plan.storage import plan_from_text
from core.sheet.content import sheet_content


@pytest.fixture(scope="module")
def plan() -> Plan:
    path = importlib.resources.files("resources").joinpath("demo", "larch_ridge.northkey.json")
    rules = EveningRules(move_margin_s=20.0, idle_m_deg=180.0, stow_elevation_deg=90.0)
    return plan_from_text(path.read_text(encoding="utf-8")).model_copy(update={"evening_rules": rules})


@pytest.fixture(scope="module")
def result(plan: Plan) -> Result:
    return evaluate(plan)


def test_idling_is_told_in_the_evening_and_on_both_cards(plan: Plan, result: Result) -> None:
    sheet = sheet_content(plan, result, 0.0)
    idles = [rest for rest in result.order.rests if rest.kind == "idle"]
    assert idles
    for rest in idles:
        assert rest.end_utc_s is not None
        leave, where = clock(rest.end_utc_s), "azimuth 180, elevation 0"
        line = sheet.evening.lines[rest.after + 1]
        assert (line.move, line.start_moving_by) == (f"Move from idle at {where}", leave)
        assert sheet.cards[rest.after + 1].before == f"From idle ({where}): start moving by {leave} UTC."
        assert sheet.cards[rest.after].after.startswith(f"Next: idle at {where}; leave it by {leave} UTC for")


def test_a_move_is_started_so_long_before_the_contact_as_it_takes(plan: Plan) -> None:
    bare = plan.model_copy(update={"evening_rules": EveningRules()})
    bare_result = evaluate(bare)
    lines = sheet_content(bare, bare_result, 0.0).evening.lines
    told = 0
    for contact, line in zip(bare_result.order.contacts, lines, strict=True):
        move = contact.move_before
        if move is not None and move.feasible:
            assert line.start_moving_by == clock(contact.start_utc_s - move.seconds_needed)
            told += 1
    assert told > 1


def test_stowing_is_told_at_the_end(plan: Plan, result: Result) -> None:
    sheet = sheet_content(plan, result, 0.0)
    assert "After the last: stow at azimuth 180, elevation 90." in sheet.evening.told
    assert sheet.cards[-1].after == "Last of the evening. Stow at azimuth 180, elevation 90."
    bare = plan.model_copy(update={"evening_rules": EveningRules()})
    without = sheet_content(bare, evaluate(bare), 0.0)
    assert without.cards[-1].after == "Last of the evening."
    assert "idle at" not in str(without.evening).lower()


def test_the_way_by_idle_is_counted(result: Result) -> None:
    straight = result.order
    direct = tally(type(straight)(contacts=straight.contacts, left_out=straight.left_out))
    more = sum(
        abs(rest.m_deg - move.m_from_deg)
        + abs(move.m_to_deg - rest.m_deg)
        - abs(move.m_to_deg - move.m_from_deg)
        for rest in straight.rests
        if rest.kind == "idle" and (move := straight.contacts[rest.after + 1].move_before) is not None
    )
    assert more > 1.0
    assert tally(straight).turns_of_azimuth - direct.turns_of_azimuth == pytest.approx(more / 360.0)
