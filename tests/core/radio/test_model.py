"""What a plan may say of a transponder, and that no evening depends on it."""

from __future__ import annotations

from typing import Any

import pytest

from core.base.errors import PlanError
from core.base.memo import Memo
from core.evaluate import evaluate, identity
from core.plan.document import Plan
from core.plan.roster import take_in
from core.plan.storage import plan_to_text
from core.radio.model import MOST_TRANSPONDERS, Transponder
from tests.plans import elements_data, plan_of, satellites_data, short_plan_data, transponders_data
from tests.propagator_calls import counted_calls


def with_transponders(transponders: list[dict[str, Any]]) -> Plan:
    first, second = satellites_data()
    return plan_of(short_plan_data(), satellites=[{**first, "transponders": transponders}, second])


def test_transponders_change_nothing_of_the_evening_and_nothing_is_computed_again():
    plan, memo = plan_of(short_plan_data()), Memo()
    result, before = evaluate(plan, memo), dict(memo.computed)
    for transponders in (transponders_data(), transponders_data()[:1]):
        other = with_transponders(transponders)
        assert other != plan
        with counted_calls() as counted:
            again = evaluate(other, memo)
        assert (counted.calls, memo.computed) == (0, before)
        assert again.order is result.order
        assert again.identity == result.identity == identity(plan)


def test_the_satellites_that_evenings_depend_on_are_the_very_ones_where_none_has_a_transponder():
    plan = plan_of(short_plan_data())
    assert plan.orbits is plan.satellites
    assert with_transponders(transponders_data()).orbits == plan.satellites


def test_a_newer_element_set_leaves_the_transponders():
    plan = with_transponders(transponders_data())
    newer = plan_of(
        short_plan_data(),
        satellites=[{"name": "x", "elements": elements_data(70001, EPOCH="2024-11-01T12:00:00")}],
    )
    renewed = take_in(plan, [newer.satellites[0].elements])
    assert renewed.renewed == ("Alder",)
    assert renewed.plan.transponders_of(70001) == plan.transponders_of(70001)
    assert renewed.plan.transponders_of(70001)
    assert renewed.plan.transponders_of(70002) == renewed.plan.transponders_of(1) == ()


def test_a_plan_keeps_all_that_is_said_of_them():
    plan = with_transponders(transponders_data())
    told = plan.satellites[0].transponders[0].model_dump(exclude_unset=True)
    assert told == transponders_data()[0]
    assert '"status_date": "2024-10-20"' in plan_to_text(plan)


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("status_date", "20 Oct", "a day such as"),
        ("status_date", "2024-13-01", "a day such as"),
        ("colour", "red", "colour"),
        ("name", "", "name"),
    ],
)
def test_what_is_no_transponder_is_refused_by_its_key(key, value, words):
    with pytest.raises(PlanError) as caught:
        with_transponders([{**transponders_data()[0], key: value}])
    assert "transponders[1]" in caught.value.place
    assert words in f"{caught.value.place} {caught.value.reason}"


def test_no_more_than_a_satellite_can_have():
    with pytest.raises(PlanError):
        with_transponders([{"name": "beacon"}] * (MOST_TRANSPONDERS + 1))
    assert len(with_transponders([{"name": "beacon"}] * MOST_TRANSPONDERS).transponders_of(70001)) == 24


@pytest.mark.parametrize(
    ("status", "off", "told"),
    [
        ("", False, ""),
        ("Active.", False, ""),
        ("off", True, "off"),
        ("INACTIVE", True, "INACTIVE"),
        ("off on weekends", False, "off on weekends"),
        ("official frequency", False, "official frequency"),
    ],
)
def test_only_a_status_that_says_nothing_else_is_off(status, off, told):
    one = Transponder(name="voice", status=status)
    assert (one.is_off, one.told_status) == (off, told)
