"""Picks in and out, by the pass they mean."""

from __future__ import annotations

import pytest

from core.evaluate import evaluate
from core.plan.document import Pick
from core.plan.picking import pick_of_pass, picks_with, picks_without
from tests.evening_plans import evening_plan


@pytest.fixture(scope="module")
def plan():
    return evening_plan()


@pytest.fixture(scope="module")
def passes(plan):
    return evaluate(plan).passes


def test_every_pass_can_be_picked_and_let_go(plan, passes):
    for index, pass_ in enumerate(passes):
        picks = picks_with((), pass_, worth=2.5)
        assert pick_of_pass(picks, plan.satellites, passes) == {index: 0}
        assert picks[0].worth == 2.5
        assert picks_without(picks, plan.satellites, passes, index) == ()


def test_picks_stand_by_time(plan, passes):
    picks = ()
    for pass_ in reversed(passes):
        picks = picks_with(picks, pass_)
    assert [pick.near for pick in picks] == sorted(pick.near for pick in picks)
    places = pick_of_pass(picks, plan.satellites, passes)
    assert sorted(places) == list(range(len(passes)))


def test_letting_one_go_keeps_the_others_and_takes_doubles(plan, passes):
    picks = picks_with(picks_with(picks_with((), passes[0]), passes[1]), passes[0])
    stranger = Pick(norad_id=99, near="2024-11-01T18:00:00Z")
    left = picks_without((*picks, stranger), plan.satellites, passes, 0)
    assert pick_of_pass(left, plan.satellites, passes) == {1: 0}
    assert stranger in left


def test_the_first_of_two_picks_counts(plan, passes):
    picks = picks_with(picks_with((), passes[0], 3.0), passes[0], 1.0)
    assert pick_of_pass(picks, plan.satellites, passes) == {0: 0}
