"""The distance of two lines, against points along both and figures worked by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.clearance.segments import least_distance
from tests.oracles.clearance_points import sampled_distance

place = st.integers(min_value=-2000, max_value=2000).map(float)
point = st.tuples(place, place, place)
line = st.tuples(point, point).map(np.array)


@given(line, line)
def test_it_is_the_least_of_points_along_both_lines(first, second):
    found = float(least_distance(first, second))
    sampled = sampled_distance(first, second)
    lengths = sum(np.linalg.norm(one[1] - one[0]) for one in (first, second))
    assert found <= sampled + 0.01
    assert sampled <= found + lengths / 399.0 / 2.0 + 0.01


@given(line, line)
def test_it_does_not_matter_which_is_first_nor_which_end(first, second):
    found = float(least_distance(first, second))
    assert float(least_distance(second[::-1], first)) == pytest.approx(found, abs=1e-3)


@pytest.mark.parametrize(
    ("first", "second", "apart"),
    [
        (((-1, 0, 0), (1, 0, 0)), ((0, -1, 2), (0, 1, 2)), 2.0),  # crossing in the middle of both
        (((0, 0, 0), (1, 0, 0)), ((4, 4, 0), (4, 9, 0)), 5.0),  # end to end: 3, 4, 5
        (((0, 0, 0), (10, 0, 0)), ((2, 3, 0), (8, 3, 0)), 3.0),  # parallel, side by side
        (((0, 0, 0), (1, 0, 0)), ((3, 0, 0), (9, 0, 0)), 2.0),  # on one line
        (((0, 0, 0), (0, 0, 0)), ((-5, 7, 0), (5, 7, 0)), 7.0),  # a point
        (((0, 0, 0), (2, 2, 0)), ((0, 2, 0), (2, 0, 0)), 0.0),  # touching
    ],
)
def test_by_hand(first, second, apart):
    assert float(least_distance(np.array(first, float), np.array(second, float))) == pytest.approx(apart)


def test_shapes_broadcast():
    first, second = np.zeros((4, 1, 2, 3)), np.ones((1, 5, 2, 3))
    assert least_distance(first, second).shape == (4, 5)
