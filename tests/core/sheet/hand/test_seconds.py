"""At which seconds a line stands."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.evening.drawn import drawn_pass
from core.sheet.hand.seconds import HAND_S, QUICKEST_S, boresight_path_deg, stepped_seconds
from tests.core.sheet.samples import MOUNT, Wanted, check_of, pass_of


@given(
    peak_deg=st.floats(10.0, 88.0),
    height_km=st.floats(400.0, 1500.0),
    step_deg=st.floats(0.5, 12.0),
)
def test_lines_are_a_step_apart_or_as_far_as_the_hand_needs(peak_deg, height_km, step_deg):
    wanted = Wanted("upright", "COMB-1", 0.0, peak_deg, 20.0, height_km)
    drawn = drawn_pass(check_of(wanted, pass_of(wanted, 44001), MOUNT), MOUNT)
    path = boresight_path_deg(drawn.m_deg, drawn.e_deg)
    start, end = float(np.ceil(drawn.utc_s[0])), float(np.floor(drawn.utc_s[-1]))
    seconds = [start, *stepped_seconds(drawn, path, start, end, step_deg).tolist(), end]
    fastest = float(np.max(np.diff(path) / np.diff(drawn.utc_s)))
    for here, there in pairwise(seconds):
        gone = float(np.interp(there, drawn.utc_s, path) - np.interp(here, drawn.utc_s, path))
        assert there - here >= QUICKEST_S or end - start < QUICKEST_S
        # A whole second, and a line left away, at most beyond the step.
        assert (
            gone <= step_deg + fastest + 1e-6 or there - here < HAND_S + QUICKEST_S + step_deg / fastest + 2.0
        )
        assert gone <= 3.0 * step_deg + fastest * (2.0 * QUICKEST_S + 2.0)


def test_the_path_is_the_angle_on_the_sky():
    """A quarter turn at the horizon is 90 deg, at 60 deg of elevation 45."""
    m = np.linspace(0.0, 90.0, 901)
    assert boresight_path_deg(m, np.zeros(901))[-1] == pytest.approx(90.0, abs=1e-6)
    assert boresight_path_deg(m, np.full(901, 60.0))[-1] == pytest.approx(45.0, abs=0.01)
    assert boresight_path_deg(np.zeros(10), np.linspace(0.0, 90.0, 10))[-1] == pytest.approx(90.0)
