"""Tensions of guys, against every pair of them that can hold the mast, and a linear program."""

from __future__ import annotations

import math
from itertools import combinations_with_replacement

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from core.stand.answer import stand_answer
from core.stand.guys import guys_in
from core.stand.model import StandGuy
from tests.core.stand.stands import place, worked_stand

MOMENT = 200.0
guy_lists = st.lists(
    st.builds(
        StandGuy,
        from_keyway_deg=st.integers(0, 71).map(lambda k: 5.0 * k),
        height_mm=st.floats(600.0, 2000.0),
        peg_radius_mm=st.floats(800.0, 3000.0),
    ),
    min_size=1,
    max_size=5,
    unique_by=lambda guy: guy.from_keyway_deg,
)


def arms(guys):
    """(2, G) horizontal moment about the foot of a tension of 1 N in each, by vectors."""
    told = []
    for guy in guys:
        top = np.array([0.0, 0.0, guy.height_mm / 1000.0])
        along = np.array([*place(guy.from_keyway_deg, guy.peg_radius_mm), 0.0]) - top
        moment = np.cross(top, along / np.linalg.norm(along))
        told.append([moment[1], -moment[0]])  # as the horizontal push at a height of 1 m
    return np.array(told).T


def least(matrix, toward_deg):
    """Tensions that hold the wind's moment with the least moment in all; None where none do.

    A linear program with two equations has its best at two tensions at most: all are tried.
    """
    wanted = -MOMENT * place(toward_deg, 1000.0)
    best, least_sum = None, math.inf
    count = matrix.shape[1]
    for one, other in combinations_with_replacement(range(count), 2):
        pair = matrix[:, [one, other]]
        held = np.linalg.lstsq(pair, wanted, rcond=None)[0]
        if np.abs(pair @ held - wanted).max() > 1e-6 or held.min() < -1e-6:
            continue
        total = float(np.hypot(*pair) @ held)
        if total < least_sum - 1e-9:
            best, least_sum = np.zeros(count), total
            np.add.at(best, [one, other], held)
    return best


def test_the_pairs_are_the_linear_programs_answer():
    guys = [StandGuy(from_keyway_deg=at, peg_radius_mm=900.0 + at) for at in (0.0, 70.0, 200.0, 290.0)]
    matrix = arms(guys)
    for toward in (10.0, 100.0, 230.0, 300.0):
        wanted = -MOMENT * place(toward, 1000.0)
        found = linprog(np.hypot(*matrix), A_eq=matrix, b_eq=wanted, method="highs")
        assert least(matrix, toward) == pytest.approx(found.x, abs=1e-6)


@given(guy_lists)
def test_no_wind_that_is_held_asks_more_and_some_asks_as_much(guys):
    found = guys_in(guys, MOMENT, 10.0)
    tension = np.array([one.tension_n for one in found.forces])
    most, down, matrix = np.zeros(len(guys)), 0.0, arms(guys)
    sines = [math.sin(math.radians(one.guy_deg)) for one in found.forces]
    for toward in np.arange(0.0, 360.0, 5.0):  # what asks most of one lies square to another, at such a step
        by_program = least(matrix, float(toward))
        unheld = any(0.0 < (toward - start) % 360.0 < _width(start, end) for start, end in found.unheld_deg)
        assert (by_program is None) == unheld
        if by_program is not None:
            most = np.maximum(most, by_program)
            down = max(down, float(by_program @ sines))
    assert most == pytest.approx(tension, rel=1e-6)
    assert down <= found.down_n * (1.0 + 1e-6)
    assert down >= found.down_n * 0.99


def _width(start, end):
    return (end - start) % 360.0 or 360.0


def test_straight_against_the_wind_by_its_formula():
    # T = (M / z) sqrt(1 + (z / p)^2); four guys take no more from any side.
    guys = [StandGuy(from_keyway_deg=at, height_mm=1200.0, peg_radius_mm=1500.0) for at in (0, 90, 180, 270)]
    found = guys_in(guys, MOMENT, 10.0)
    straight = MOMENT / 1.2 * math.sqrt(1.0 + 0.8**2)
    assert [one.tension_n for one in found.forces] == pytest.approx([straight] * 4)
    assert [one.straight_n for one in found.forces] == pytest.approx([straight] * 4)
    assert found.forces[0].peg_angle_deg + found.forces[0].guy_deg == pytest.approx(90.0)
    assert found.forces[0].guy_deg == pytest.approx(38.6598, abs=1e-4)


def test_three_guys_take_more_with_the_wind_square_to_one():
    guys = [StandGuy(from_keyway_deg=at) for at in (0.0, 120.0, 240.0)]
    found = guys_in(guys, MOMENT, 10.0)
    for one in found.forces:
        assert one.tension_n / one.straight_n == pytest.approx(2.0 / math.sqrt(3.0))


def test_two_in_one_direction_may_each_be_the_tight_one():
    pair = [StandGuy(from_keyway_deg=at) for at in (0.0, 360.0, 120.0, 240.0)]
    found = guys_in(pair, MOMENT, 10.0)
    assert found.unheld_deg == ()
    assert found.forces[0].tension_n == found.forces[1].tension_n
    assert found.forces[0].tension_n / found.forces[0].straight_n == pytest.approx(2.0 / math.sqrt(3.0))


def test_each_of_a_pair_in_one_direction_holds_the_wider_gap_beside_the_pair():
    guys = [StandGuy(from_keyway_deg=at) for at in (0.0, 0.0, 100.0, 220.0)]
    forces = guys_in(guys, MOMENT, 10.0).forces
    shares = [one.tension_n / one.straight_n for one in forces]
    wide, middle = 1.0 / math.sin(math.radians(140.0)), 1.0 / math.sin(math.radians(120.0))
    assert shares == pytest.approx([wide, wide, middle, wide])


@pytest.mark.parametrize(
    ("at", "unheld"),
    [
        ((10.0,), [(190.0, 190.0)]),
        ((0.0, 180.0), [(180.0, 0.0), (0.0, 180.0)]),
        ((0.0, 90.0), [(270.0, 180.0)]),
        ((), []),
    ],
)
def test_winds_that_no_guy_holds(at, unheld):
    found = guys_in([StandGuy(from_keyway_deg=one) for one in at], MOMENT, 10.0)
    assert sorted(found.unheld_deg) == sorted(unheld)
    assert all(math.isfinite(one.tension_n) for one in found.forces)
    assert found.gust_m_s is None


def test_what_they_hold_is_counted_in_the_advice_only_where_it_is_told():
    bare = stand_answer(worked_stand(friction=2.0), None, 0.0, gust_m_s=12.0)
    guys = tuple(StandGuy(from_keyway_deg=at) for at in (0.0, 120.0, 240.0))
    untold = stand_answer(worked_stand(friction=2.0, guys=guys), None, 0.0, gust_m_s=12.0)
    told = tuple(guy.model_copy(update={"holds_n": 600.0}) for guy in guys)
    held = stand_answer(worked_stand(friction=2.0, guys=told), None, 0.0, gust_m_s=12.0)
    assert bare.limits == untold.limits
    assert held.limits.stop_gust_m_s > bare.limits.stop_gust_m_s
    # At that gust the first guy is at what it holds.
    at_limit = stand_answer(held.stand, None, 0.0, gust_m_s=held.limits.stop_gust_m_s)
    assert max(one.tension_n for one in at_limit.guys.forces) == pytest.approx(600.0)
    assert (bare.advice, held.advice) == ("take down", "take down")  # the mean is at force 5
    assert stand_answer(held.stand, None, 0.0, mean_m_s=5.0, gust_m_s=12.0).advice == "go"
