"""The stand's pictures: across the wind, on the ground, by plain trigonometry."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.stand.answer import stand_answer
from core.stand.model import Mass, Near, StandGuy
from core.stand.pictures import ground_view, side_view
from tests.core.stand.stands import ring, stands, worked_stand


@settings(max_examples=40)
@given(stands, st.floats(0.0, 360.0), st.floats(0.0, 360.0))
def test_things_lie_across_the_wind_by_the_cosine_of_their_bearing(stand, keyway_deg, toward_deg):
    try:
        found = stand_answer(stand, None, keyway_deg)
    except ValueRangeError:  # all feet in one line
        assume(False)
    view = side_view(found, toward_deg)
    for foot, across in zip(stand.legs, view.feet, strict=True):
        off = math.radians(keyway_deg + foot.from_keyway_deg - toward_deg)
        assert across == pytest.approx(foot.radius_mm / 1000.0 * math.cos(off), abs=1e-9)
    for mass, placed in zip(stand.masses, view.masses, strict=True):
        off = math.radians(keyway_deg + mass.from_keyway_deg - toward_deg)
        assert placed.across_m == pytest.approx(mass.radius_mm / 1000.0 * math.cos(off), abs=1e-9)
        assert (placed.height_m, placed.size) == (mass.height_mm / 1000.0, mass.mass_kg)


def test_wind_square_to_an_edge_tips_it_half_a_radius_from_the_axis():
    found = stand_answer(worked_stand(legs=ring(3, 750.0)), None, 40.0)
    assert side_view(found, 40.0 + 180.0).tips_at_m == pytest.approx(0.375)
    assert side_view(found, 40.0).tips_at_m == pytest.approx(0.75)


def test_what_turns_stands_on_the_axis_and_what_is_told_is_told():
    stand = worked_stand(
        masses=(
            Mass(name="boom", mass_kg=3.0, height_mm=1500.0, radius_mm=400.0, turns=True),
            Mass(name="box", mass_kg=2.0, height_mm=500.0, radius_mm=300.0),
        ),
        guys=(StandGuy(from_keyway_deg=90.0, height_mm=1100.0, peg_radius_mm=1600.0),),
    )
    view = side_view(stand_answer(stand, None, 0.0), 90.0)
    boom, box = view.masses
    assert (boom.across_m, boom.turns, box.across_m) == (0.0, True, pytest.approx(0.0))
    assert [(peg.across_m, peg.height_m) for peg in view.pegs] == [(pytest.approx(1.6), 1.1)]
    assert view.mast_m >= 1.5


def test_on_the_ground_everything_has_its_true_bearing():
    near = (
        Near(name="far", bearing_deg=10.0, distance_m=40.0),
        Near(name="path", bearing_deg=200.0, distance_m=1.0),
        Near(name="line", bearing_deg=300.0, distance_m=2.0, height_m=9.0),
    )
    guys = (StandGuy(from_keyway_deg=350.0, peg_radius_mm=1600.0),)
    found = stand_answer(worked_stand(legs=ring(3, 750.0), near=near, guys=guys), None, 30.0)
    view = ground_view(found)
    assert sorted(foot.bearing_deg for foot in view.feet) == pytest.approx([30.0, 150.0, 270.0])
    assert [foot.distance_m for foot in view.feet] == pytest.approx([0.75] * 3)
    assert [(peg.bearing_deg, peg.distance_m) for peg in view.pegs] == [
        (pytest.approx(20.0), pytest.approx(1.6))
    ]
    assert view.circle_m == found.fall.circle_m
    assert [(one.near.name, one.reached, one.overhead) for one in view.near] == [
        ("path", True, False),
        ("line", False, True),
        ("far", False, False),
    ]
