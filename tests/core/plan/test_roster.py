"""The plan's satellites: taken in, renewed, named, wanted, removed; and the rows that show them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import PropagationError, ValueRangeError
from core.plan.document import Satellite
from core.plan.picks import match_picks
from core.plan.roster import Roster, renamed, take_in, with_wanted, with_worth, without
from tests.lasting import result_of
from tests.plans import elements_data, plan_of, short_plan_data

PLAN = plan_of(short_plan_data())
PASSES = result_of(PLAN).passes
ALDER, BIRCH = 70001, 70002


def elements(norad_id: int, day: int = 1, name: str = ""):
    data = elements_data(norad_id, name, EPOCH=f"2024-11-{day:02d}T06:28:48.432")
    return Satellite.model_validate({"name": "x", "elements": data}).elements


def test_what_was_done_is_told_by_name():
    intake = take_in(PLAN, [elements(70003, name="OAK"), elements(ALDER, 2), elements(BIRCH, 1)])
    assert (intake.added, intake.renewed, intake.unchanged, intake.older) == (
        ("OAK",),
        ("Alder",),
        ("Birch",),
        (),
    )
    assert intake.words == (
        "1 added, 1 renewed by a newer set (Alder), 1 already there with the same epoch (Birch)."
    )


def test_nothing_to_take_in_leaves_the_plan_itself():
    assert take_in(PLAN, []).plan is PLAN
    assert take_in(PLAN, [elements(BIRCH, 1)]).plan is PLAN
    assert take_in(PLAN, []).words == "Nothing to take in."


def test_long_lists_of_names_are_cut():
    plan = take_in(PLAN, [elements(71000 + n, name=f"T {n}") for n in range(9)]).plan
    words = take_in(plan, [elements(71000 + n, 2) for n in range(9)]).words
    assert words == "9 renewed by a newer set (T 0, T 1, T 2 and 6 more)."


@settings(deadline=None)
@given(st.lists(st.tuples(st.integers(min_value=ALDER, max_value=ALDER + 4), st.integers(1, 5)), max_size=12))
def test_of_each_object_the_newest_set_is_there_and_places_stay(offers):
    """Against a dictionary of newest days."""
    newest = {ALDER: 1, BIRCH: 1}
    for number, day in offers:
        newest[number] = max(newest.get(number, 0), day)
    plan = take_in(PLAN, [elements(number, day) for number, day in offers]).plan
    found = {s.elements.norad_id: int(s.elements.epoch[8:10]) for s in plan.satellites}
    assert found == newest
    assert [s.elements.norad_id for s in plan.satellites[:2]] == [ALDER, BIRCH]
    assert [s.name for s in plan.satellites[:2]] == ["Alder", "Birch"]


def test_wanting_picks_each_pass_once_and_keeps_what_was_picked():
    first = with_wanted(PLAN, PASSES, ALDER, True, 2.0)
    own = [pass_ for pass_ in PASSES if pass_.norad_id == ALDER]
    assert len(first.picks) == len(own)
    assert with_wanted(first, PASSES, ALDER, True, 9.0) is first
    both = with_wanted(first, PASSES, BIRCH, True)
    wanted, told = match_picks(both.picks, both.satellites, PASSES)
    assert told == ()
    assert sorted(want.index for want in wanted) == list(range(len(PASSES)))
    assert {PASSES[w.index].norad_id: w.worth for w in wanted} == {ALDER: 2.0, BIRCH: 1.0}
    assert with_wanted(both, PASSES, ALDER, False).picks == with_wanted(PLAN, PASSES, BIRCH, True).picks


def test_worth_is_set_for_one_satellite_within_its_range():
    both = with_wanted(with_wanted(PLAN, PASSES, ALDER, True), PASSES, BIRCH, True)
    worths = {pick.norad_id: pick.worth for pick in with_worth(both, BIRCH, 4.0).picks}
    assert worths == {ALDER: 1.0, BIRCH: 4.0}
    for bad in (-0.1, 1000.1, float("nan")):
        with pytest.raises(ValueRangeError):
            with_worth(both, BIRCH, bad)


def test_names():
    assert renamed(PLAN, BIRCH, " Tall ").satellites[1].name == "Tall"
    with pytest.raises(ValueRangeError):
        renamed(PLAN, BIRCH, "  ")
    with pytest.raises(ValueRangeError):
        renamed(PLAN, 1, "x")


def test_removal_takes_the_picks_along():
    both = with_wanted(with_wanted(PLAN, PASSES, ALDER, True), PASSES, BIRCH, True)
    left = without(both, [ALDER])
    assert [s.name for s in left.satellites] == ["Birch"]
    assert {pick.norad_id for pick in left.picks} == {BIRCH}
    assert without(PLAN, [ALDER, BIRCH]).satellites == ()


def test_rows():
    plan = with_worth(with_wanted(PLAN, PASSES, ALDER, True), ALDER, 3.0)
    roster = Roster(plan, PASSES, [PropagationError("Birch", BIRCH, "sank")])
    alder, birch = roster.row(0), roster.row(1)
    many = sum(pass_.norad_id == ALDER for pass_ in PASSES)
    assert (len(roster), roster.wanted_satellites, roster.picked_passes) == (2, 1, many)
    assert (alder.passes, alder.picked, alder.worth, alder.refusal) == (many, many, 3.0, "")
    assert (birch.picked, birch.worth, birch.refusal) == (0, None, "sank")
    assert (alder.epoch, alder.grade, round(alder.age_days, 3)) == ("2024-11-01T06:28Z", "fresh", 0.438)
    assert Roster(plan, None).row(0).passes is None
    mixed = plan.model_copy(
        update={"picks": (plan.picks[0].model_copy(update={"worth": 1.0}), *plan.picks[1:])}
    )
    assert Roster(mixed, PASSES).row(0).worth is None
