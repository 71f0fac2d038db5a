"""Compared fields: remembered, cancellable, and each figure the one its plan has alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import Cancelled, ValueRangeError
from core.base.memo import Memo
from core.compare import Comparison, compare, field_names, with_same_evening
from core.evaluate import evaluate, identity
from core.mount.evening.lost import lost_in
from core.passes.mask_cost import mask_cost, sky_paths
from core.plan.document import Plan
from core.studies import orient, orient_by_evening
from tests.lasting import MEMO
from tests.plans import plan_of, short_plan_data

#: A wood in the west, twelve degrees high.
WOOD = [
    {"azimuth_deg": bearing, "elevation_deg": height}
    for bearing, height in ((180.0, 0.0), (200.0, 12.0), (300.0, 12.0), (320.0, 0.0))
]


def field(name: str = "", title: str = "Untitled evening", **changes) -> Plan:
    return plan_of(short_plan_data(), site__name=name, title=title, **changes)


RIDGE = field("Ridge")
MOOR = field("Moor", site__latitude_deg=47.9, site__horizon=WOOD)
PICKED = field("Copse", picks=[{"norad_id": 70001, "near": "2024-11-01T17:40:00Z"}])


@pytest.fixture
def compared() -> Comparison:
    return compare((RIDGE, MOOR, PICKED), MEMO)


def test_each_figure_is_the_one_its_plan_has_alone(compared):
    for place, plan in enumerate((RIDGE, MOOR, PICKED)):
        result = evaluate(plan)
        study = orient(plan, result)
        assert compared.identities[place] == result.identity == identity(plan)
        assert compared.contacts[place] == len(result.order.contacts)
        assert compared.worth_s[place] == result.order.worth.worth_s
        assert compared.lost[place] == lost_in(result.order.contacts, plan.station.beam_limit_deg)
        assert compared.best[place] == study.best
        assert compared.studied[place] == len(study.passes)
        if not plan.picks:
            cost = mask_cost(sky_paths(result.stays), plan.site.horizon, 5.0)
            assert compared.hidden_s[place] == cost.hidden_s
            assert compared.usable_s[place] == pytest.approx(cost.seconds - cost.hidden_s)
        seen_s = sum(check.seconds_in_all for check in result.checks)
        if plan.picks:
            wanted = [contact.check for contact in result.order.contacts]
            seen_s = sum(check.seconds_in_all for check in wanted)
        assert compared.usable_s[place] == pytest.approx(seen_s, abs=1.0 * len(result.checks))
    assert compared.hidden_s[1] > 60.0


def test_the_best_by_the_evening_is_asked_for_only_where_it_is_wanted(compared):
    plans = [replan(RIDGE), replan(MOOR)]
    weighed = compare(plans, MEMO, weigh=True)
    assert compared.best_evening == (None,) * 3
    for plan, best in zip(plans, weighed.best_evening, strict=True):
        result = evaluate(plan, MEMO)
        assert best is not None
        assert best == orient_by_evening(plan, result, orient(plan, result, MEMO), MEMO).best
    assert "with each keyway at its best" in weighed.sentences[0]
    assert f"Worth {max(one.worth_s for one in weighed.best_evening):.0f} s" in weighed.sentences[0]


def replan(plan: Plan) -> Plan:
    """One pass, whose seats are weighed the sooner."""
    return plan_of(
        short_plan_data() | {"site": plan.site.model_dump(mode="json", exclude_unset=True)},
        evening__end="2024-11-01T18:00:00Z",
        satellites=short_plan_data()["satellites"][:1],
    )


def test_it_is_remembered_by_the_value_of_the_plans():
    memo = Memo()
    first = compare((RIDGE, MOOR), memo)
    assert compare([field("Ridge"), MOOR], memo) is first
    computed = dict(memo.computed)
    turned = compare((MOOR, RIDGE), memo)
    again = {stage for stage, times in memo.computed.items() if times > computed.get(stage, 0)}
    assert again == {"compare"}
    assert turned.worth_s.tolist() == first.worth_s[::-1].tolist()


def test_progress_names_the_field_and_ends_it():
    told: list[str] = []

    def at_second(_done: int, _total: int, what: str) -> bool:
        told.append(what)
        return not what.startswith("field 2 of 2")

    with pytest.raises(Cancelled):
        compare((RIDGE, MOOR), Memo(), at_second)
    assert told[0].startswith("field 1 of 2, ")
    assert [what for what in told if what.startswith("field 2 of 2")] == [told[-1]]


@pytest.mark.parametrize("count", [0, 1, 6])
def test_two_to_five_plans_are_compared(count):
    with pytest.raises(ValueRangeError, match="2 to 5"):
        compare((RIDGE,) * count, MEMO)


def test_other_evenings_are_told_and_no_field_is_called_the_best(compared):
    assert not compared.same_evening
    assert compared.sentences == ("Copse plans another evening than Ridge: they differ in picks.",)


def test_the_same_evening_goes_to_every_field_and_picks_find_their_passes_there():
    plans = with_same_evening((PICKED, field("Moor", site__latitude_deg=47.9, picks=[])))
    there = compare(plans, MEMO)
    assert there.same_evening
    assert there.unmatched == ((), ())
    assert there.contacts.tolist() == [1, 1]
    assert there.usable_s[0] != there.usable_s[1]


def test_a_pick_that_a_field_hides_altogether_is_told_and_costs_its_minutes():
    wall = [{"azimuth_deg": 0.0, "elevation_deg": 88.0}]
    told = compare(with_same_evening((PICKED, field("Gorge", site__horizon=wall))), MEMO)
    assert told.contacts.tolist() == [1, 0]
    assert told.usable_s[1] == 0.0
    assert told.hidden_s[1] == told.over_s[0] > 60.0
    assert "No pass of Alder near 2024-11-01T17:40:00Z" in told.unmatched[1][0]
    assert told.studied.tolist() == [1, 0]


def test_the_sentence_names_the_field_whose_evening_is_worth_most():
    plain = compare((RIDGE, MOOR), MEMO)
    for worth, words in (
        ((900.0, 500.0), "Worth 900 s at Ridge: most of all as the keyway stands, 400 s more than at Moor."),
        ((500.0, 900.0), "Worth 900 s at Moor: most of all as the keyway stands, 400 s more than at Ridge."),
        ((500.2, 500.0), "Worth 500 s at Ridge and Moor: alike as the keyway stands."),
        ((0.0, -3.0), "No field's evening is worth anything."),
    ):
        assert replace(plain, worth_s=np.array(worth)).sentences == (words,)


@given(
    st.lists(
        st.sampled_from([("", "a"), ("", "b"), ("Ridge", "a"), ("Ridge", "b"), ("Moor", "a")]), max_size=5
    )
)
@settings(max_examples=40)
def test_no_two_fields_are_called_alike(pairs):
    plans = [field(name, title) for name, title in pairs]
    names = field_names(plans)
    assert len(set(names)) == len(names) == len(plans)
    assert all(names)
    for (name, _title), called in zip(pairs, names, strict=True):
        if name and sum(other == name for other, _ in pairs) == 1:
            assert called.startswith(name)
