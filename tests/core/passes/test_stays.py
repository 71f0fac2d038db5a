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
    times = np.linspace(stay.start_utc_s, stay.end_utc_s, 5000)
    position, velocity = stay_at(stay, times)
    truth_position, truth_velocity = path(times)
    assert np.abs(position - truth_position).max() < 1e-5
    assert np.abs(velocity - truth_velocity).max() < 5e-6
    knots = np.linspace(stay.start_utc_s, stay.end_utc_s, 60)
    for found, given in zip(stay_at(stay, knots), path(knots), strict=True):
        assert found == pytest.approx(given, abs=2e-6)


def test_times_outside_a_stay_are_refused():
    path, half = flight(500.0, 30.0, 3.0)
    stay = stay_of(path, START - half, START + half)
    with pytest.raises(ValueRangeError, match="utc_s is"):
        stay_at(stay, np.array([START, START + half + 1.0]))
    with pytest.raises(ValueRangeError, match="utc_s is"):
        stay_at(stay, np.array([START - half - 1.0]))
    assert stay_at(stay, np.zeros(0))[0].shape == (0, 3)
