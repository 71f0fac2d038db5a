"""Where holes are, what is between them, and the view from below."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.angles import wrap_360
from core.plate.body.features import features_of
from core.plate.body.shape import (
    Hole,
    angle_of,
    at_angle,
    bolt_places,
    faces_at,
    gap_mm,
    mirrored,
    mirrored_angle,
    shared_area_mm2,
)
from core.plate.model import Bolts
from tests.core.plate.samples import HOLES, mount_of, plate_of, plates

LENGTHS = st.floats(-200.0, 200.0)


def test_x_is_to_the_right_of_the_datum_mark_and_y_toward_it():
    assert at_angle(10.0, 0.0) == pytest.approx((0.0, 10.0))
    assert at_angle(10.0, 90.0) == pytest.approx((10.0, 0.0))
    assert angle_of(-3.0, 0.0) == pytest.approx(270.0)


@given(LENGTHS, st.floats(-720.0, 720.0))
def test_the_view_from_below_twice_is_the_view_from_above(radius_mm, angle_deg):
    place = at_angle(radius_mm, angle_deg)
    np.testing.assert_array_equal(mirrored(mirrored(place)), np.asarray(place) + 0.0)
    assert math.remainder(mirrored_angle(mirrored_angle(angle_deg)) - angle_deg, 360.0) == pytest.approx(
        0, abs=1e-9
    )


@given(st.floats(1.0, 200.0), st.floats(0.0, 359.9), st.floats(1.0, 179.0))
def test_what_runs_clockwise_from_above_runs_counter_clockwise_from_below(radius_mm, angle_deg, turn_deg):
    """By the sign of the turn's cross product, which no mirror keeps."""

    def cross(one, other):
        return float(one[0] * other[1] - one[1] * other[0])

    above = at_angle(radius_mm, angle_deg), at_angle(radius_mm, angle_deg + turn_deg)
    assert cross(*above) < 0.0 < cross(*mirrored(above))


def test_a_drawing_from_below_shows_the_hole_at_the_other_hand():
    """Offset -30 is drilled 30 clockwise from above; from below it is 30 counter-clockwise, 330."""
    index = features_of(plate_of(), HOLES)[-1]
    assert (index.name, index.offset_deg, index.angle_deg) == ("index B", -30.0, 30.0)
    assert index.x_mm == pytest.approx(47.0 * 0.5)
    assert index.below_mm == pytest.approx((-47.0 * 0.5, index.y_mm))
    assert index.below_angle_deg == 330.0


@given(st.lists(st.floats(-360.0, 360.0), min_size=1, max_size=6))
def test_index_holes_are_drilled_at_minus_their_offsets(offsets):
    found = [one for one in features_of(plate_of(), mount_of(*offsets)) if one.role == "index"]
    assert [one.offset_deg for one in found] == offsets
    for one, offset in zip(found, offsets, strict=True):
        assert one.angle_deg == wrap_360(-offset)
        assert math.atan2(one.x_mm, one.y_mm) == pytest.approx(
            math.remainder(math.radians(-offset), math.tau), abs=1e-9
        )


def test_a_rectangle_and_points_go_before_the_circle():
    square = Bolts(circle_diameter_mm=50.0, rectangle_mm=(60.0, 40.0), first_angle_deg=90.0)
    assert bolt_places(square)[0] == pytest.approx((20.0, -30.0))
    points = ((1.0, 2.0), (-3.0, 4.0))
    assert bolt_places(Bolts(circle_diameter_mm=50.0, rectangle_mm=(60.0, 40.0), points_mm=points)) == points


@given(plates(), st.floats(0.0, 75.0), st.floats(0.0, 360.0))
def test_the_step_stands_proud_of_its_side_by_its_height(plate, radius_mm, angle_deg):
    low_mm, high_mm = faces_at(plate, *at_angle(radius_mm, angle_deg))
    step = plate.step
    if step is None:
        assert (low_mm, high_mm) == (0.0, plate.thickness_mm)
    elif step.inner_diameter_mm / 2.0 + 1e-6 < radius_mm < step.outer_diameter_mm / 2.0 - 1e-6:
        assert high_mm - low_mm == plate.thickness_mm
    elif radius_mm > step.outer_diameter_mm / 2.0 + 1e-6:
        assert high_mm - low_mm == pytest.approx(plate.thickness_mm - step.height_mm)
        assert (low_mm > 0.0) == (step.side == "below")


HOLE = st.builds(
    Hole,
    st.floats(-30.0, 30.0),
    st.floats(-30.0, 30.0),
    st.floats(1.0, 12.0),
    st.floats(0.0, 10.0),
    st.floats(10.5, 20.0),
)
TALL = st.builds(
    Hole,
    st.floats(-30.0, 30.0),
    st.floats(-30.0, 30.0),
    st.floats(1.0, 12.0),
    st.floats(8.0, 14.0),
    st.floats(15.0, 25.0),
)


def sampled(hole: Hole) -> np.ndarray:
    """Points all over a cylinder's skin and inside it."""
    turns = np.linspace(0.0, 2.0 * np.pi, 60, endpoint=False)
    shares, heights = np.linspace(0.0, 1.0, 8), np.linspace(hole.low_mm, hole.high_mm, 7)
    turn, share, height = (grid.ravel() for grid in np.meshgrid(turns, shares, heights))
    radius = hole.radius_mm * share
    return np.stack([hole.x_mm + radius * np.cos(turn), hole.y_mm + radius * np.sin(turn), height], axis=1)


def within(points: np.ndarray, hole: Hole) -> np.ndarray:
    flat = np.hypot(points[:, 0] - hole.x_mm, points[:, 1] - hole.y_mm) < hole.radius_mm
    return flat & (points[:, 2] > hole.low_mm) & (points[:, 2] < hole.high_mm)


@settings(max_examples=25)
@given(HOLE, TALL)
def test_holes_run_into_each_other_where_sampled_points_of_one_lie_in_the_other(one, other):
    gap = gap_mm(one, other)
    assert gap == gap_mm(other, one)
    points = sampled(one)
    if gap > 0.0:
        assert not within(points, other).any()
        apart = np.sqrt(
            np.maximum(0.0, np.hypot(points[:, 0] - other.x_mm, points[:, 1] - other.y_mm) - other.radius_mm)
            ** 2
            + np.maximum(0.0, np.maximum(other.low_mm - points[:, 2], points[:, 2] - other.high_mm)) ** 2
        )
        assert gap - 1e-9 <= apart.min() <= gap + 0.06 * one.radius_mm
    elif gap < -0.3 * min(one.radius_mm, other.radius_mm):
        assert within(points, other).any() or within(sampled(other), one).any()


def test_a_counterbore_over_a_blind_hole_leaves_a_floor():
    below, above = Hole(0.0, 0.0, 5.0, 0.0, 6.0), Hole(1.0, 0.0, 3.0, 9.0, 20.0)
    assert gap_mm(below, above) == 3.0
    assert gap_mm(below, Hole(1.0, 0.0, 3.0, 5.0, 20.0)) == -1.0
    assert gap_mm(below, Hole(12.0, 0.0, 3.0, 9.0, 20.0)) == pytest.approx(5.0)


@settings(max_examples=40)
@given(st.floats(0.0, 60.0), st.floats(1.0, 30.0), st.floats(1.0, 30.0))
def test_the_area_two_discs_share_is_that_of_chords(apart_mm, one_mm, other_mm):
    """By the lengths of upright chords that lie in both."""
    x = (np.arange(4000) + 0.5) / 4000.0 * 2.0 * one_mm - one_mm
    half = np.minimum(
        np.sqrt(np.maximum(0.0, one_mm**2 - x**2)),
        np.sqrt(np.maximum(0.0, other_mm**2 - (x - apart_mm) ** 2)),
    )
    area = float(2.0 * half.sum() * 2.0 * one_mm / 4000.0)
    assert shared_area_mm2(apart_mm, one_mm, other_mm) == pytest.approx(
        area, abs=2e-4 * one_mm**2 + 1e-6, rel=1e-3
    )
