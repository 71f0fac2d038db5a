"""The wind that tips, against moments summed mass by mass about every line of two feet."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.base.angles import wrap_180
from core.base.errors import ValueRangeError
from core.stand.answer import stand_tipping
from core.stand.body import support_of
from core.stand.model import Foot, HungMass, Mass, Stand
from tests.core.stand.stands import G, angles, holding_moments, ring, stands, stands_up, worked_stand


def tipping(stand):
    """Its tipping; stands whose feet are nearly one line, or that nearly fall, are not asked."""
    try:
        found = stand_tipping(stand, None)
    except ValueRangeError:
        assume(False)
        raise
    assume(np.abs(found.holding_m).min() > 1e-4)
    return found


def speed(found, toward_deg):
    return float(found.gust_m_s(np.array([toward_deg]))[0])


@given(stands, st.lists(angles, min_size=1, max_size=8))
def test_just_below_the_speed_it_stands_and_just_above_it_does_not(stand, toward):
    found = tipping(stand)
    for at in toward:
        tips = speed(found, at)
        if tips == 0.0:
            assert min(held for _, held in holding_moments(stand)) < 0.0
            continue
        assert stands_up(stand, tips * (1.0 - 1e-6), at)
        assert not stands_up(stand, tips * (1.0 + 1e-6), at)


@given(stands)
def test_no_direction_is_weaker_than_the_weakest_nor_stronger_than_the_strongest(stand):
    found = tipping(stand)
    assume(found.holding_m.min() > 0.0)
    everywhere = found.gust_m_s(np.arange(0.0, 360.0, 0.5))
    weakest, strongest = speed(found, found.weakest_deg), speed(found, found.strongest_deg)
    assert everywhere.min() >= weakest * (1.0 - 1e-9)
    assert everywhere.max() <= strongest * (1.0 + 1e-9)
    # A direction beside the exact one is no better.
    for by in (-0.01, 0.01):
        assert speed(found, found.weakest_deg + by) >= weakest * (1.0 - 1e-12)
        assert speed(found, found.strongest_deg + by) <= strongest * (1.0 + 1e-12)


@given(st.integers(3, 8), st.floats(300.0, 1500.0), angles)
def test_an_even_ring_holds_by_its_polygon(count, radius_mm, first_deg):
    found = stand_tipping(worked_stand(legs=ring(count, radius_mm, first_deg)), None)
    to_leg, to_edge = speed(found, first_deg), speed(found, first_deg + 180.0 / count)
    assert to_leg / to_edge == pytest.approx(math.sqrt(1.0 / math.cos(math.pi / count)), rel=1e-9)
    assert found.holding_m == pytest.approx(radius_mm / 1000.0 * math.cos(math.pi / count))
    assert abs(wrap_180(count * (found.strongest_deg - first_deg))) < 1e-5


def test_three_legs_toward_a_leg_need_the_root_of_two():
    # Moment: W g r against W g r / 2 would be two in moment, the root of two in speed.
    found = stand_tipping(worked_stand(), None)
    assert speed(found, 120.0) / speed(found, 300.0) == pytest.approx(math.sqrt(2.0), rel=1e-12)


def test_weight_on_one_side_makes_the_other_weaker():
    found = stand_tipping(worked_stand(masses=(Mass(mass_kg=20.0, height_mm=0.0, radius_mm=200.0),)), None)
    assert found.weakest_deg in (pytest.approx(60.0), pytest.approx(300.0))
    assert speed(found, 180.0) > speed(found, 60.0)


def test_what_turns_counts_on_every_side_alike():
    still = (Mass(mass_kg=20.0, height_mm=900.0),)
    turning = Mass(mass_kg=5.0, height_mm=1500.0, from_keyway_deg=77.0, radius_mm=400.0, turns=True)
    found = stand_tipping(worked_stand(masses=(*still, turning)), None)
    assert found.body.turning_m == pytest.approx(5.0 * 0.4 / 25.0)
    assert found.body.radius_m == pytest.approx(0.0, abs=1e-15)
    assert found.holding_m == pytest.approx(np.full(3, 0.375 - 0.08))
    # With it on the side of an edge, fixed there, that edge holds just as much.
    fixed = turning.model_copy(update={"turns": False, "from_keyway_deg": 60.0})
    other = stand_tipping(worked_stand(masses=(*still, fixed)), None)
    assert speed(other, 60.0) == pytest.approx(speed(found, 60.0), rel=1e-12)


def test_masses_that_turn_on_both_sides_of_the_boom_balance():
    pair = tuple(
        Mass(mass_kg=3.0, height_mm=1500.0, from_keyway_deg=at, radius_mm=700.0, turns=True)
        for at in (0.0, 180.0)
    )
    assert stand_tipping(worked_stand(masses=pair), None).body.turning_m == pytest.approx(0.0, abs=1e-15)


def test_outside_the_feet_it_falls_by_itself():
    found = stand_tipping(worked_stand(masses=(Mass(mass_kg=9.0, height_mm=0.0, radius_mm=800.0),)), None)
    assert found.holding_m.min() < 0.0
    assert speed(found, found.weakest_deg) == 0.0


def test_a_foot_on_the_edge_or_inside_changes_nothing():
    three = ring(3, 750.0)
    more = (*three, Foot(from_keyway_deg=60.0, radius_mm=375.0), Foot(from_keyway_deg=10.0, radius_mm=50.0))
    toward = np.arange(0.0, 360.0, 7.0)
    plain, with_more = (
        stand_tipping(worked_stand(legs=legs), None).gust_m_s(toward) for legs in (three, more)
    )
    assert with_more == pytest.approx(plain, rel=1e-6)


@pytest.mark.parametrize(
    "legs",
    [
        (),
        ring(2, 700.0),
        (*ring(2, 700.0), Foot(from_keyway_deg=0.0, radius_mm=300.0)),
        ring(3, 700.0)[:1] * 3,
    ],
)
def test_feet_in_one_line_are_refused(legs):
    with pytest.raises(ValueRangeError, match=r"stand\.legs is (\d feet|all in one line), it must be three"):
        support_of(legs)


@pytest.mark.parametrize(("left_out", "field"), [("masses", "stand.masses"), ("areas", "stand.areas")])
def test_a_stand_without_mass_or_area_is_refused(left_out, field):
    with pytest.raises(ValueRangeError) as caught:
        stand_tipping(worked_stand(**{left_out: ()}), None)
    assert caught.value.field == field


def test_the_sums_of_a_body():
    stand = Stand(
        legs=ring(3, 700.0),
        tripod_mass_kg=10.0,
        tripod_height_mm=400.0,
        masses=(
            Mass(mass_kg=5.0, height_mm=1000.0, from_keyway_deg=90.0, radius_mm=300.0),
            Mass(mass_kg=4.0, height_mm=0.0, carried=False),
        ),
        hung=(HungMass(mass_kg=6.0, height_mm=200.0),),
        areas=worked_stand().areas,
    )
    body = stand_tipping(stand, None).body
    assert (body.mass_kg, body.carried_kg) == (25.0, 11.0)
    assert body.height_m == pytest.approx((10 * 0.4 + 5 * 1.0 + 6 * 0.2) / 25.0)
    assert (body.radius_m, body.from_keyway_deg) == (pytest.approx(0.06), pytest.approx(90.0))
    assert body.drag_area_m2 == pytest.approx(0.82)
    weight = body.mass_kg * G
    assert weight == pytest.approx(245.16625)
