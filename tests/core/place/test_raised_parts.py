"""The raised parts of a mask, against a dense walk round it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.place.raised_parts import raised_parts
from core.place.site import HorizonPoint, mask_elevation_deg


def points(*pairs: tuple[float, float]) -> tuple[HorizonPoint, ...]:
    return tuple(HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in pairs)


masks = st.lists(
    st.tuples(st.integers(0, 360), st.integers(-5, 40)),
    min_size=0,
    max_size=9,
    unique_by=lambda p: p[0] % 360,
).map(lambda pairs: points(*pairs))


@settings(max_examples=300, deadline=None)
@example(points((0, 12), (1, 13), (2, 0), (3, 13)), 12.0)  # touches the level at north
@given(horizon=masks, level=st.sampled_from([0.0, 5.0, 12.0]))
def test_parts_are_exactly_where_the_mask_is_raised(horizon, level):
    bearings = np.arange(0.0, 360.0, 0.73)
    raised = mask_elevation_deg(horizon, bearings) > level
    parts = raised_parts(horizon, level)
    inside = np.zeros(bearings.size, dtype=int)
    for part in parts:
        assert 0.0 <= part.from_deg < 360.0
        assert part.from_deg < part.to_deg <= part.from_deg + 360.0
        inside += (np.mod(bearings - part.from_deg, 360.0) <= part.to_deg - part.from_deg).astype(int)
    # Bearings on an end belong to either side.
    ends = np.array([end for part in parts for end in (part.from_deg, part.to_deg)])
    near = np.zeros(bearings.size, dtype=bool)
    for end in ends:
        near |= np.abs(np.mod(bearings - end + 180.0, 360.0) - 180.0) < 1e-6
    assert np.array_equal(inside[~near] > 0, raised[~near])
    assert inside[~near].max(initial=0) <= 1


def test_a_deep_valley_parts_two_hills():
    hills = raised_parts(points((0, 0), (100, 15), (140, 8), (180, 14), (260, 0)), 5.0)
    assert [(round(part.from_deg), round(part.to_deg), part.peak_deg) for part in hills] == [
        (33, 140, 15.0),
        (140, 231, 14.0),
    ]
    shallow = raised_parts(points((0, 0), (100, 15), (140, 12), (180, 14), (260, 0)), 5.0)
    assert len(shallow) == 1


def test_a_hill_over_north_is_one():
    (hill,) = raised_parts(points((340, 12), (20, 12), (60, 0), (300, 0)), 5.0)
    assert hill.from_deg == pytest.approx(300 + 40 * 5 / 12)
    assert hill.to_deg == pytest.approx(360 + 20 + 40 * 7 / 12)


def test_a_step_is_an_end():
    (hill,) = raised_parts(points((100, 0), (100, 20), (150, 20), (150, 0)), 5.0)
    assert (hill.from_deg, hill.to_deg) == (100.0, 150.0)
