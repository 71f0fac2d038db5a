"""What leans when a foot sinks, and what a fall reaches, against turning the points themselves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from core.base.errors import ValueRangeError
from core.mount.clearance.lengths import Boom, Clearance, Leg
from core.stand.answer import stand_answer
from core.stand.body import support_of
from core.stand.ground import fall_of, settlings
from core.stand.model import Foot, Near
from core.stand.words import cautions
from tests.core.stand.stands import angles, feet, place, ring, worked_stand


def test_a_foot_of_three_leans_by_its_distance_from_the_other_two():
    for one, at in zip(
        settlings(support_of(ring(3, 750.0, 30.0)), (0.0, 0.0), 0.010), (30.0, 150.0, 270.0), strict=True
    ):
        assert (one.from_keyway_deg, one.toward_deg) == (pytest.approx(at), pytest.approx(at, abs=1e-9))
        assert math.tan(math.radians(one.lean_deg)) == pytest.approx(0.010 / 1.125)


def test_four_feet_rock_about_the_diagonal_or_do_not_lean():
    square = support_of(ring(4, 750.0))
    on_it = settlings(square, (0.0, 0.0), 0.010)
    assert [one.lean_deg for one in on_it] == pytest.approx([math.degrees(math.atan(0.010 / 0.75))] * 4)
    # The centre of mass toward the keyway: only the foot there lets it down.
    aside = settlings(square, (0.0, 0.05), 0.010)
    assert [round(one.lean_deg, 3) for one in aside] == [0.764, 0.764, 0.0, 0.764]


@settings(max_examples=25)
@given(feet, st.floats(-0.1, 0.1), st.floats(-0.1, 0.1), st.floats(0.001, 0.05))
def test_it_rests_as_low_as_the_feet_let_it(legs, x_m, y_m, sinks_m):
    try:
        support = support_of(tuple(legs))
    except ValueRangeError:
        assume(False)
        raise
    assume(support.inset_m(x_m, y_m).min() > 0.02)
    for k, one in enumerate(settlings(support, (x_m, y_m), sinks_m)):
        # Of all planes with no foot in the ground, the one lowest over the centre of mass.
        ground = np.zeros(len(legs))
        ground[k] = -sinks_m
        rows = -np.column_stack([np.ones(len(legs)), support.feet_m])
        lowest = linprog([1.0, x_m, y_m], A_ub=rows, b_ub=-ground, bounds=[(None, None)] * 3, method="highs")
        slope = math.tan(math.radians(one.lean_deg))
        down = place(one.toward_deg, 1000.0) * slope
        through = max(ground + support.feet_m @ down)  # the plane of that slope, let down on the feet
        assert through - down @ [x_m, y_m] == pytest.approx(lowest.fun, abs=1e-9)


def fallen(foot_m, point_m, steps=2000):
    """Where a point comes down when everything turns about a foot's place, in the plane of the fall: m."""
    turn = np.linspace(0.0, math.pi, steps)
    x, z = point_m[0] - foot_m, point_m[1]
    along = foot_m + x * np.cos(turn) + z * np.sin(turn)
    up = -x * np.sin(turn) + z * np.cos(turn)
    return along[up >= -1e-9].max()


@given(st.floats(400.0, 1200.0), st.floats(500.0, 3000.0), angles)
def test_the_fall_circle_is_where_the_highest_point_comes_down(radius_mm, highest_mm, first_deg):
    stand = worked_stand(legs=ring(3, radius_mm, first_deg), highest_mm=highest_mm)
    found = fall_of(stand, None, (), support_of(stand.legs))
    points = [(0.0, at / 1000.0) for at in (highest_mm, 900.0, 1200.0, 500.0)]
    expected = max(fallen(radius_mm / 1000.0, point) for point in points)
    assert found.circle_m == pytest.approx(expected, abs=2e-5)
    assert found.highest_m == max(point[1] for point in points)


def test_booms_reach_as_far_as_they_can_be_turned():
    lengths = Clearance(
        axis_height_mm=1500.0,
        booms=(Boom(side_mm=-300.0, front_mm=1600.0, tail_mm=400.0, front_half_element_mm=200.0),),
    )
    stand = worked_stand()
    arm = math.hypot(0.5, 1.6)
    found = fall_of(stand, lengths, (), support_of(stand.legs))
    assert found.circle_m == pytest.approx(0.75 + math.hypot(0.75, 1.5) + arm)
    # Any pointing of the boom comes down within it.
    for up in np.linspace(-90.0, 90.0, 19):
        tip = (-arm * math.cos(math.radians(up)), 1.5 + arm * math.sin(math.radians(up)))
        if tip[1] > 0.0:
            assert fallen(0.75, tip) <= found.circle_m + 1e-9


def test_what_is_reached_on_the_ground_and_over_it():
    def near(name, distance_m, height_m=0.0):
        return Near(name=name, bearing_deg=10.0, distance_m=distance_m, height_m=height_m)

    reach = 0.75 + math.hypot(0.75, 2.0)
    things = (
        near("path", reach - 0.001),
        near("car", reach + 0.001),
        near("wire over the path", reach - 0.001, 0.5),
        near("wire in reach", 1.5, 1.9),
        near("wire above", 0.0, 2.2),
    )
    stand = worked_stand(near=things, highest_mm=2000.0)
    found = stand_answer(stand, None, 0.0)
    assert found.fall.circle_m == pytest.approx(reach)
    assert found.fall.reached == ("path", "wire in reach")
    assert found.fall.overhead == ("wire over the path", "wire above")
    assert "hangs wire over the path and wire above" in " ".join(cautions(found))


def test_legs_and_guys_left_out_are_the_clearances():
    legs = tuple(Leg(from_keyway_deg=at, radius_mm=650.0) for at in (0.0, 120.0, 240.0))
    lengths = Clearance(legs=legs)
    by_clearance = stand_answer(worked_stand(legs=()), lengths, 0.0)
    own = stand_answer(worked_stand(legs=ring(3, 650.0)), None, 0.0)
    assert by_clearance.tipping.holding_m == pytest.approx(own.tipping.holding_m)
    assert isinstance(worked_stand().legs[0], Foot)
