"""States along a stay, against the path its knots were taken from."""

from __future__ import annotations

import numpy as np
import pytest

from core.base.errors import ValueRangeError
from core.passes.stays import stay_at
from tests.core.passes.flights import START, flight, stay_of


def test_interpolation_follows_the_path():
    path, half = flight(500.0, 30.0, 3.0)
    stay = stay_of(path, START - half, START + half)
    times = np.linspace(stay.utc_s[0], stay.utc_s[-1], 5000)
    position, velocity = stay_at(stay, times)
    truth_position, truth_velocity = path(times)
    assert np.abs(position - truth_position).max() < 1e-5
    assert np.abs(velocity - truth_velocity).max() < 5e-6
    at_knots = stay_at(stay, stay.utc_s)
    assert at_knots[0] == pytest.approx(stay.position_km, abs=1e-9)
    assert at_knots[1] == pytest.approx(stay.velocity_km_s, abs=1e-12)


def test_times_outside_a_stay_are_refused():
    path, half = flight(500.0, 30.0, 3.0)
    stay = stay_of(path, START - half, START + half)
    with pytest.raises(ValueRangeError, match="utc_s is"):
        stay_at(stay, np.array([START, START + half + 1.0]))
    with pytest.raises(ValueRangeError, match="utc_s is"):
        stay_at(stay, np.array([START - half - 1.0]))
    assert stay_at(stay, np.zeros(0))[0].shape == (0, 3)
