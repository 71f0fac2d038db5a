"""What lasts less than a millisecond: a look through a slit is no stretch, a thin post parts none."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.passes.track import cut_pass, stay_at
from core.place.site import HorizonPoint
from tests.stays import arc_stay

SECONDS, RISE_DEG, PEAK_DEG = 600.0, 180.0, 50.0
MIDDLE_S = SECONDS / 2.0
short = st.floats(1e-4, 8e-4)
longer = st.floats(1.2e-3, 5e-3)
moments = st.floats(100.0, 500.0)


def azimuth_deg(utc_s: float) -> float:
    """Of the flight of `arc_stay`, falling from 180 to 0: the way along the ground and the way aside."""
    angle = math.pi * utc_s / SECONDS
    aside = math.sin(angle) * math.cos(math.radians(PEAK_DEG))
    return RISE_DEG - math.degrees(math.atan2(aside, math.cos(angle)))


def edges(start_s: float, end_s: float, between: float, beside: float) -> tuple[HorizonPoint, ...]:
    """A mask with upright edges where the satellite is at two moments, so high between and beside them."""
    first, last = azimuth_deg(end_s), azimuth_deg(start_s)
    corners = ((first, beside), (first, between), (last, between), (last, beside))
    return tuple(HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in corners)


@settings(max_examples=25, deadline=None)
@given(at=moments, lasts=short)
def test_a_look_through_a_slit_of_less_than_a_millisecond_is_no_pass(at: float, lasts: float) -> None:
    stay = arc_stay(1, 0.0, RISE_DEG, SECONDS, PEAK_DEG)
    assert cut_pass(stay, edges(at, at + lasts, -5.0, 80.0), 0.0) is None


@settings(max_examples=25, deadline=None)
@given(at=moments, lasts=longer)
def test_a_look_through_a_slit_of_more_than_a_millisecond_is_one(at: float, lasts: float) -> None:
    stay = arc_stay(1, 0.0, RISE_DEG, SECONDS, PEAK_DEG)
    found = cut_pass(stay, edges(at, at + lasts, -5.0, 80.0), 0.0)
    assert found is not None
    assert found.stretches == pytest.approx([pytest.approx((at, at + lasts), abs=1e-4)])


@settings(max_examples=25, deadline=None)
@given(at=moments, lasts=short)
def test_a_post_that_hides_it_for_less_than_a_millisecond_parts_nothing(at: float, lasts: float) -> None:
    stay = arc_stay(1, 0.0, RISE_DEG, SECONDS, PEAK_DEG)
    found = cut_pass(stay, edges(at, at + lasts, 80.0, -5.0), 0.0)
    assert found is not None
    assert found.stretches == ((0.0, SECONDS),)


@settings(max_examples=25, deadline=None)
@given(at=moments, lasts=longer)
def test_a_post_that_hides_it_for_more_than_a_millisecond_parts_it(at: float, lasts: float) -> None:
    stay = arc_stay(1, 0.0, RISE_DEG, SECONDS, PEAK_DEG)
    found = cut_pass(stay, edges(at, at + lasts, 80.0, -5.0), 0.0)
    assert found is not None
    (first, second) = found.stretches
    assert (*first, *second) == pytest.approx((0.0, at, at + lasts, SECONDS), abs=1e-4)


@pytest.mark.parametrize(("before_s", "sampled"), [(2e-3, True), (3e-4, False)])
def test_the_peak_is_a_sample_but_where_a_stretch_ends_at_it(before_s: float, sampled: bool) -> None:
    """Two samples a hair apart would have rates of nothing over nothing."""
    stay = arc_stay(1, 0.0, RISE_DEG, SECONDS, PEAK_DEG)
    found = cut_pass(stay, edges(MIDDLE_S - 50.0, MIDDLE_S - before_s, 80.0, -5.0), 0.0)
    assert found is not None
    assert len(found.stretches) == 2
    assert (MIDDLE_S in found.utc_s) == sampled
    assert np.diff(found.utc_s).min() > 1e-3


def test_a_moment_up_to_a_millisecond_outside_a_stay_is_its_end() -> None:
    stay = arc_stay(1, 1000.0, RISE_DEG, SECONDS, PEAK_DEG)
    near, _ = stay_at(stay, np.array([1000.0 - 9e-4, 1600.0 + 9e-4]))
    assert near == pytest.approx(stay_at(stay, np.array([1000.0, 1600.0]))[0], abs=0.01)
    for outside in (1000.0 - 1.2e-3, 1600.0 + 1.2e-3):
        with pytest.raises(ValueRangeError, match="utc_s is"):
            stay_at(stay, np.array([1300.0, outside]))
