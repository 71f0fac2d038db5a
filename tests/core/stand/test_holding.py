"""Ballast, stakes and sliding, against moments summed mass by mass about every line of two feet."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.stand.answer import stand_answer, stand_tipping
from core.stand.holding import ballast_kg, slide_gust_m_s, stakes
from core.stand.model import Foot, HungMass, Mass
from core.stand.wind import pressure_pa
from tests.core.stand.stands import (
    G,
    holding_moments,
    lines,
    place,
    ring,
    stands,
    stands_up,
    wind_moment,
    worked_stand,
)

gusts = st.floats(5.0, 40.0)


@given(stands, gusts)
def test_with_the_ballast_it_just_stands_in_every_direction(stand, gust_m_s):
    try:
        tipping = stand_tipping(stand, None)
    except ValueRangeError:
        assume(False)
        raise
    assume(tipping.support.offset_m.min() > 0.01)
    needed = ballast_kg(tipping, pressure_pa(gust_m_s, stand.air_density_kg_m3), 1.5)
    assert needed is not None
    assume(needed > 0.01)

    def stays(kg):
        heavier = stand.model_copy(update={"hung": (HungMass.model_construct(mass_kg=kg, height_mm=300.0),)})
        return all(
            stands_up(heavier, gust_m_s * math.sqrt(1.5), math.degrees(math.atan2(*outward)))
            for outward, _ in holding_moments(heavier)
        )

    assert stays(needed * (1.0 + 1e-9))
    assert not stays(needed * (1.0 - 1e-6))


def test_ballast_by_its_formula_on_three_legs():
    # m = rho V^2 S 1.5 / (2 g R/2) - W with the centre of mass on the axis.
    stand = worked_stand()
    found = stand_answer(stand, None, 0.0, gust_m_s=20.0)
    assert found.ballast_kg == pytest.approx(1.225 * 400.0 * 0.984 * 1.5 / (2.0 * G * 0.375) - 27.4)
    assert found.load.with_ballast_kg == pytest.approx(27.4 + found.ballast_kg)


def test_ballast_on_the_feet_does_the_same_as_on_the_axis():
    hung = stand_tipping(worked_stand(hung=(HungMass(mass_kg=12.0),)), None)
    bags = tuple(
        Mass(mass_kg=4.0, height_mm=0.0, from_keyway_deg=at, radius_mm=750.0, carried=False)
        for at in (0.0, 120.0, 240.0)
    )
    laid = stand_tipping(worked_stand(masses=(*worked_stand().masses, *bags)), None)
    toward = np.arange(0.0, 360.0, 11.0)
    assert laid.gust_m_s(toward) == pytest.approx(hung.gust_m_s(toward))
    assert (hung.body.carried_kg, laid.body.carried_kg) == (pytest.approx(39.4), pytest.approx(27.4))


def test_no_ballast_helps_where_the_axis_is_outside_the_feet():
    legs = tuple(Foot(from_keyway_deg=at, radius_mm=700.0) for at in (0.0, 40.0, 80.0))
    masses = (Mass(mass_kg=20.0, height_mm=500.0, from_keyway_deg=40.0, radius_mm=620.0),)
    assert stand_answer(worked_stand(legs=legs, masses=masses), None, 0.0, gust_m_s=30.0).ballast_kg is None


@given(stands, gusts)
def test_stakes_that_lift_hold_what_the_weight_leaves(stand, gust_m_s):
    try:
        tipping = stand_tipping(stand, None)
    except ValueRangeError:
        assume(False)
        raise
    pulls = stakes(tipping, pressure_pa(gust_m_s, stand.air_density_kg_m3), 1.5)
    places = [place(leg.from_keyway_deg, leg.radius_mm) for leg in stand.legs]
    for (outward, held), foot in zip(holding_moments(stand), _feet_of(stand), strict=True):
        missing = 1.5 * wind_moment(stand, gust_m_s) - held
        levers = [float(outward @ (foot - other)) for other in places]
        by_stakes = sum(one.pull_n * max(lever, 0.0) for one, lever in zip(pulls, levers, strict=True))
        assert by_stakes >= missing - 1e-6 * max(abs(missing), 1.0)


def _feet_of(stand):
    return [foot for foot, _ in lines(stand.legs)]


def test_the_stake_of_three_pulls_at_one_and_a_half_radii():
    stand = worked_stand()
    found = stand_answer(stand, None, 0.0, gust_m_s=20.0)
    missing = 1.5 * 0.5 * 1.225 * 400.0 * 0.984 - 27.4 * G * 0.375
    assert [one.pull_n for one in found.stakes] == pytest.approx([missing / (1.5 * 0.75)] * 3)
    calm = stand_answer(stand, None, 0.0, gust_m_s=5.0)
    assert (calm.ballast_kg, [one.pull_n for one in calm.stakes]) == (0.0, [0.0, 0.0, 0.0])


def test_sliding_is_friction_against_the_push():
    body = stand_tipping(worked_stand(), None).body
    slides = slide_gust_m_s(body, 0.4, 1.225)
    assert pressure_pa(slides, 1.225) * 0.82 == pytest.approx(0.4 * 27.4 * G)


def test_four_feet_share_the_stakes_of_the_side_that_lifts():
    stand = worked_stand(legs=ring(4, 750.0))
    found = stand_answer(stand, None, 0.0, gust_m_s=25.0)
    side = 0.75 * math.sqrt(2.0)
    missing = 1.5 * 0.5 * 1.225 * 625.0 * 0.984 - 27.4 * G * side / 2.0
    assert [one.pull_n for one in found.stakes] == pytest.approx([missing / (2.0 * side)] * 4)
