"""The mask in pieces, against its elevation bearing by bearing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.passes.mask_pieces import MaskPieces
from core.place.site import mask_elevation_deg
from tests.core.passes.flights import masks, points


@given(
    horizon=masks.filter(len),
    low=st.floats(-180.0, 360.0, exclude_max=True),
    width=st.floats(0.0, 180.0),
    share=st.floats(0.0, 1.0),
)
def test_no_bearing_lies_beyond_the_extremes(horizon, low, width, share):
    mask = MaskPieces.of(horizon)
    lowest, highest = mask.extremes_between(np.array([low]), np.array([low + width]))
    there = mask_elevation_deg(horizon, np.array([low + share * width]))
    assert lowest[0] - 1e-6 <= there[0] <= highest[0] + 1e-6


def test_extremes_are_those_of_the_corners_and_ends_in_between():
    mask = MaskPieces.of(points((0, 10), (100, 20), (100, 40), (200, 10)))
    low, high = np.array([-10.0, 50.0, 99.0, 110.0]), np.array([10.0, 90.0, 101.0, 120.0])
    lowest, highest = mask.extremes_between(low, high)
    assert lowest == pytest.approx([10.0, 15.0, 19.9, 34.0])
    assert highest == pytest.approx([11.0, 19.0, 40.0, 37.0])


def test_corners_are_met_between_their_neighbours_whichever_turn_they_are_on():
    mask = MaskPieces.of(points((10, 0), (350, 5)))
    interval, piece = mask.corners_between(np.array([-20.0, 20.0, 340.0]), np.array([20.0, 340.0, 371.0]))
    assert interval.tolist() == [0, 0, 2, 2]
    assert mask.start_deg[piece].tolist() == [-10.0, 10.0, 350.0, 370.0]


@given(horizon=masks.filter(len), bearings=st.lists(st.floats(-180.0, 540.0), min_size=1, max_size=20))
def test_the_piece_under_a_bearing_is_the_last_that_has_begun(horizon, bearings):
    """Looked at at the corners themselves too, which may lie close to each other."""
    mask = MaskPieces.of(horizon)
    asked = np.concatenate([bearings, mask.start_deg[np.abs(mask.start_deg) < 360.0]])
    expected = [int(np.flatnonzero(mask.start_deg <= bearing)[-1]) for bearing in asked]
    assert mask.at(asked).tolist() == expected
