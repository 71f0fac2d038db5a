"""Gaps of a station: against points along every line, and one case worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.clearance.gaps import Gaps, gap_map
from core.mount.clearance.lengths import Boom, Clearance, Column, Leg
from tests.core.mount.clearance.samples import TWO_YAGIS, station
from tests.oracles.clearance_points import sampled_gap

bearing = st.floats(min_value=-360.0, max_value=720.0)
elevation = st.floats(min_value=-30.0, max_value=180.0)
BARE = {"crossboom_left_mm": 0.0, "crossboom_right_mm": 0.0}


@settings(max_examples=60)
@given(bearing, elevation)
def test_the_least_gap_is_that_of_points_along_all_lines(boom_deg, e_deg):
    gap, _turning, _standing = Gaps(station(**BARE)).least(np.array([boom_deg]), np.array([e_deg]))
    sampled = sampled_gap(TWO_YAGIS, boom_deg, e_deg)
    assert gap[0] <= sampled + 0.01
    assert sampled <= gap[0] + (2300.0 + 1950.0) / 59.0 / 2.0  # the longest boom's and guy's steps, halved


def by_hand(tail_mm: float = 800.0, side_mm: float = 200.0) -> Clearance:
    return Clearance(
        axis_height_mm=1500.0,
        booms=(Boom(name="yagi", side_mm=side_mm, front_mm=0.0, tail_mm=tail_mm),),
        legs=(Leg(from_keyway_deg=90.0, radius_mm=1000.0, top_radius_mm=0.0, top_height_mm=1000.0),),
    )


def test_a_case_worked_by_hand():
    """The boom looks along the keyway and straight up, so its tail hangs straight down, 200 mm to the right.

    Tail: from (200, 0, 1500) down to (200, 0, 1500 - 800 = 700).
    Leg at 90 deg, so to the right: from (1000, 0, 0) up to (0, 0, 1000), the line x + z = 1000 in the plane
    y = 0. Where the tail ends x + z = 200 + 700 = 900, which is less than 1000: the tail has gone through the
    leg's line, at z = 1000 - 200 = 800. So they touch: gap 0.

    With a tail of 600 mm it ends at (200, 0, 900), where x + z = 1100. Its distance from the line x + z =
    1000 is (1100 - 1000) / sqrt(2) = 70.711 mm; the foot of that perpendicular is (150, 0, 850), on the leg.
    Nothing of the tail is nearer, since x + z only grows upward.
    """
    there = np.array([0.0]), np.array([90.0])
    assert Gaps(by_hand()).least(*there)[0][0] == pytest.approx(0.0, abs=1e-6)
    nearest = Gaps(by_hand(tail_mm=600.0)).nearest(0.0, 90.0)
    assert nearest is not None
    assert nearest.gap_mm == pytest.approx(100.0 / math.sqrt(2.0))
    assert (nearest.turning, nearest.standing) == ("tail of the yagi", "leg 1")


def test_over_the_top_is_the_same_boresight_with_left_and_right_exchanged():
    """Azimuth + 180 and elevation 180 - e: the tail is on the other side of the axis, and misses the leg."""
    lengths = by_hand()
    upright = Gaps(lengths).least(np.array([0.0]), np.array([70.0]))[0][0]
    assert Gaps(lengths).least(np.array([180.0]), np.array([110.0]))[0][0] > upright + 30.0
    assert Gaps(by_hand(side_mm=-200.0)).least(np.array([180.0]), np.array([110.0]))[0][0] == pytest.approx(
        upright
    )


def test_the_ground_is_struck_by_what_comes_down_to_it():
    lengths = Clearance(axis_height_mm=600.0, booms=(Boom(tail_mm=500.0, front_mm=100.0),))
    nearest = Gaps(lengths).nearest(10.0, 90.0)
    assert nearest is not None
    assert (nearest.turning, nearest.standing) == ("tail of the yagi", "the ground")
    assert nearest.gap_mm == pytest.approx(100.0)


def test_the_column_is_round_and_the_crossboom_stands_on_it():
    lengths = Clearance(
        axis_height_mm=1500.0,
        crossboom_right_mm=400.0,
        booms=(Boom(side_mm=300.0, tail_mm=700.0, front_mm=0.0, tail_half_element_mm=200.0),),
        column=Column(radius_mm=40.0, top_height_mm=1490.0),
    )
    nearest = Gaps(lengths).nearest(77.0, 90.0)
    assert nearest is not None
    # The tail's element reaches from 300 mm beside the axis 200 mm back toward it: 100 mm, less the radius.
    assert nearest.gap_mm == pytest.approx(60.0)
    assert (nearest.turning, nearest.standing) == ("tail elements of the yagi", "the column")


def test_the_map_is_the_gaps_at_its_points():
    found = gap_map(station(), 30.0)
    assert found.gap_mm.shape == (7, 12)
    gap, _turning, _standing = Gaps(station()).least(np.array([60.0]), np.array([90.0]))
    assert found.gap_mm[3, 2] == gap[0]


def test_a_station_of_which_nothing_turns_has_no_nearest():
    assert Gaps(Clearance(booms=())).nearest(0.0, 0.0) is None
