"""The keyhole: E_key = atan(w h / v) against circular orbits, and the trade notes' table.

The table is computed, no published source; its ground stands still.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.mount.drive.keyhole import keyhole_deg, keyhole_of
from core.mount.model.station import AzimuthAxis, Mount
from tests.oracles.pass_maker import Recipe, low_orbit, state

RATES = (2.0, 3.0, 4.0, 5.0, 6.0)
#: Highest peak elevation by height and rate, the notes' own figures.
TABLE = {
    400.0: (61.0, 69.8, 74.6, 77.6, 79.6),
    500.0: (66.3, 73.7, 77.7, 80.1, 81.7),
    800.0: (75.0, 79.9, 82.4, 83.9, 84.9),
    1200.0: (80.1, 83.4, 85.0, 86.0, 86.7),
    1500.0: (82.2, 84.8, 86.1, 86.9, 87.4),
}


def fastest(
    height_km: float, peak_deg: float, heading_deg: float, turning: bool
) -> tuple[float, float, float]:
    """Greatest azimuth rate, deg/s, with the elevation peak of that pass and the speed there, km/s."""
    orbit = replace(low_orbit(height_km, peak_deg, heading_deg, 1.0, 50.0), turning=turning)
    moments = np.linspace(-90.0, 90.0, 3601)
    where, moved = state(orbit, moments)
    azimuth = np.unwrap(np.arctan2(where[:, 0], where[:, 1]))
    elevation = np.degrees(np.arcsin(where[:, 2] / np.linalg.norm(where, axis=1)))
    peak = int(np.argmax(elevation))
    rate = np.abs(np.diff(azimuth) / np.diff(moments)).max()
    return float(np.degrees(rate)), float(elevation[peak]), float(np.linalg.norm(moved[peak]))


def highest_followed(height_km: float, rate: float, heading_deg: float, turning: bool) -> tuple[float, float]:
    """The peak at which azimuth just turns at the rate, by halving, and the speed there."""
    low, high = 20.0, 89.5
    for _ in range(20):
        middle = (low + high) / 2.0
        slow = fastest(height_km, middle, heading_deg, turning)[0] <= rate
        low, high = (middle, high) if slow else (low, middle)
    _rate, peak, speed = fastest(height_km, low, heading_deg, turning)
    return peak, speed


@pytest.mark.parametrize("height_km", TABLE)
def test_the_table_is_met_by_circular_orbits_over_a_still_ground(height_km: float) -> None:
    for rate, expected in zip(RATES, TABLE[height_km], strict=True):
        assert highest_followed(height_km, rate, 0.0, False)[0] == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize("height_km", TABLE)
@pytest.mark.parametrize("heading_deg", [15.0, 90.0, 190.0, 270.0])
def test_the_formula_is_within_half_a_degree_over_the_turning_ground(
    height_km: float, heading_deg: float
) -> None:
    for rate in RATES:
        peak, speed = highest_followed(height_km, rate, heading_deg, True)
        assert keyhole_deg(rate, height_km, speed) == pytest.approx(peak, abs=0.5)


def test_speed_is_relative_to_the_turning_ground() -> None:
    """Eastward the ground follows: slower past it, so higher passes are followed than westward."""
    east, west = (highest_followed(500.0, 2.0, heading, True) for heading in (90.0, 270.0))
    assert east[1] < west[1] - 0.5
    assert east[0] > west[0] + 0.5


def test_the_keyhole_of_a_pass_has_its_own_height_and_speed() -> None:
    pass_ = Recipe(low_orbit(500.0, 81.0, 200.0, 1.0, 50.0)).pass_
    mount = Mount(azimuth=AzimuthAxis(rate_deg_s=6.0, rate_back_deg_s=4.0))
    peak, _speed = highest_followed(500.0, 4.0, 200.0, True)
    assert keyhole_of(pass_, mount) == pytest.approx(peak, abs=0.5)
