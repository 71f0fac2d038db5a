"""The horizon mask over every bearing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.place.site import HorizonPoint, mask_elevation_deg, mask_floor_deg, mask_vertices_deg

Pair = tuple[float, float]

_ELEVATIONS = st.integers(-10, 90).map(float)
_DISTINCT_POINTS = st.dictionaries(st.integers(0, 359), _ELEVATIONS, min_size=1, max_size=12)


def mask(*pairs: Pair) -> tuple[HorizonPoint, ...]:
    return tuple(HorizonPoint(azimuth_deg=azimuth, elevation_deg=elevation) for azimuth, elevation in pairs)


def at(points: tuple[HorizonPoint, ...], *bearings_deg: float) -> list[float]:
    return mask_elevation_deg(points, np.array(bearings_deg)).tolist()


def brute_force(pairs: list[Pair], bearing_deg: float) -> float:
    """The straight line between the nearest point on either side, each looked for among all of them."""
    before = min(pairs, key=lambda pair: (bearing_deg - pair[0]) % 360.0)
    after = min(pairs, key=lambda pair: (pair[0] - bearing_deg) % 360.0)
    to_before, to_after = (bearing_deg - before[0]) % 360.0, (after[0] - bearing_deg) % 360.0
    if to_before + to_after == 0.0:
        return before[1]
    return (before[1] * to_after + after[1] * to_before) / (to_before + to_after)


@given(_DISTINCT_POINTS, st.lists(st.floats(-720.0, 720.0), min_size=1, max_size=20), st.randoms())
def test_mask_is_straight_between_points_in_any_order(points, bearings_deg, random):
    pairs = [(float(azimuth), elevation) for azimuth, elevation in points.items()]
    expected = [brute_force(pairs, bearing % 360.0) for bearing in bearings_deg]
    random.shuffle(pairs)
    np.testing.assert_allclose(at(mask(*pairs), *bearings_deg), expected, atol=1e-9)


@given(_DISTINCT_POINTS)
def test_mask_meets_each_of_its_points_exactly(points):
    pairs = list(points.items())
    assert at(mask(*pairs), *points) == list(points.values())


def test_mask_wraps_past_north():
    points = mask((350.0, 10.0), (10.0, 30.0))
    assert at(points, 350.0, 355.0, 0.0, 5.0, 10.0, 180.0) == [10.0, 15.0, 20.0, 25.0, 30.0, 20.0]
    assert at(points, -10.0, 370.0, 710.0) == [10.0, 30.0, 10.0]


def test_without_points_nothing_is_hidden():
    assert at((), 0.0, 123.0, 360.0) == [-90.0, -90.0, -90.0]


def test_one_point_is_a_mask_of_one_height():
    assert at(mask((77.0, 4.0)), 0.0, 77.0, 76.999, 257.0) == [4.0, 4.0, 4.0, 4.0]


def test_zero_and_360_are_one_bearing():
    assert at(mask((0.0, 8.0), (180.0, 2.0)), 0.0, 360.0) == [8.0, 8.0]
    assert at(mask((360.0, 8.0), (180.0, 2.0)), 0.0, 360.0, 270.0) == [8.0, 8.0, 5.0]


def test_a_bearing_just_short_of_north_is_north():
    assert at(mask((0.0, 8.0), (180.0, 2.0)), -1e-20) == [8.0]


@pytest.mark.parametrize("low_first", [True, False])
def test_points_on_one_bearing_are_a_step_with_its_higher_value_on_it(low_first):
    step = ((100.0, 5.0), (100.0, 20.0)) if low_first else ((100.0, 20.0), (100.0, 5.0))
    points = mask((0.0, step[0][1]), (200.0, step[1][1]), *step)
    before, on, after = at(points, 99.999999, 100.0, 100.000001)
    assert before == pytest.approx(step[0][1], abs=1e-6)
    assert on == 20.0
    assert after == pytest.approx(step[1][1], abs=1e-6)


def test_a_spike_of_three_points_shows_on_its_bearing_only():
    points = mask((90.0, 1.0), (90.0, 40.0), (90.0, 3.0))
    assert at(points, 90.0) == [40.0]
    assert at(points, 89.9999999, 90.0000001) == pytest.approx([1.0, 3.0], abs=1e-6)


def test_a_step_at_north_runs_from_360_to_0_however_written():
    for points in (
        mask((0.0, 5.0), (180.0, 5.0), (360.0, 20.0)),
        mask((360.0, 20.0), (0.0, 5.0), (180.0, 5.0)),
    ):
        assert at(points, 359.999999, 0.0, 360.0, 0.000001) == pytest.approx(
            [20.0, 20.0, 20.0, 5.0], abs=1e-5
        )


def test_shape_of_the_bearings_is_kept():
    points = mask((0.0, 8.0), (180.0, 2.0))
    assert mask_elevation_deg(points, np.zeros((3, 4))).shape == (3, 4)
    assert mask_elevation_deg(points, np.array(90.0)).shape == ()
    assert mask_elevation_deg((), np.zeros(0)).shape == (0,)


@given(st.one_of(st.just({}), _DISTINCT_POINTS), st.integers(-10, 89).map(float))
def test_floor_is_the_lowest_open_elevation_but_not_above_the_horizon(points, minimum_deg):
    horizon = mask(*points.items())
    around = np.maximum(mask_elevation_deg(horizon, np.arange(0.0, 360.0)), minimum_deg)
    assert mask_floor_deg(horizon, minimum_deg) == min(around.min(), 0.0)


def test_vertices_are_sorted_and_each_told_once():
    points = mask((360.0, 1.0), (90.0, 2.0), (0.0, 3.0), (12.5, 4.0), (90.0, 7.0))
    assert mask_vertices_deg(points).tolist() == [0.0, 12.5, 90.0]
    assert mask_vertices_deg(()).shape == (0,)
