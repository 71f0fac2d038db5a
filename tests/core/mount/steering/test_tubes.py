"""Tubes against arithmetic done by hand: when an axis must set off, and which side of the plane it is on."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.model.station import AzimuthAxis, ElevationAxis, Mount
from core.mount.steering.grid_search import Target
from core.mount.steering.tubes import AzimuthTube, azimuth_beside, elevation_beside


def target_of(azimuth: np.ndarray, elevation: np.ndarray) -> Target:
    seconds = np.arange(azimuth.size, dtype=float)
    return Target(seconds, azimuth, elevation, np.ones(azimuth.size, dtype=bool))


@pytest.mark.parametrize("sense", [1.0, -1.0])
@pytest.mark.parametrize(("bound_deg", "there_is_one"), [(4.9, False), (5.1, True), (8.0, True)])
def test_elevation_sets_off_before_a_climb_that_is_too_fast(sense, bound_deg, there_is_one):
    """30 deg in 10 s for an axis of 2 deg/s: 20 in that time, so 5 before and 5 behind at least."""
    climb = np.interp(np.arange(61.0), [25.0, 35.0], [20.0, 50.0])
    elevation = climb if sense > 0.0 else 70.0 - climb
    target = target_of(np.zeros(61), elevation)
    mount = Mount(elevation=ElevationAxis(rate_deg_s=2.0, maximum_deg=90.0))
    path = elevation_beside(target, mount, np.zeros(61), bound_deg)
    assert (path is not None) == there_is_one
    if path is not None:
        assert np.abs(np.diff(path)).max() <= 2.0 + 1e-9
        assert np.abs(path - elevation).max() <= bound_deg + 1e-9
        # It moves no more than it must: from wall to wall.
        assert np.abs(np.diff(path)).sum() == pytest.approx(max(30.0 - 2.0 * bound_deg, 0.0), abs=1e-6)


@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_azimuth_sets_off_before_a_swing_that_is_too_fast(sense):
    """At the horizon the error on the sky is that of azimuth: the same sum as in elevation."""
    azimuth = 180.0 + sense * np.interp(np.arange(61.0), [25.0, 35.0], [-15.0, 15.0])
    target = target_of(azimuth, np.zeros(61))
    mount = Mount(azimuth=AzimuthAxis(rate_deg_s=2.0))
    for bound_deg, there_is_one in ((4.9, False), (5.1, True)):
        level = azimuth, np.zeros(61)
        path = azimuth_beside(target, mount, level, bound_deg)
        assert (path is not None) == there_is_one
        tube = AzimuthTube(target, mount, float(azimuth[0])).path(bound_deg)
        assert (tube is not None) == there_is_one
        if path is not None and tube is not None:
            for found in (path, tube):
                assert np.abs(np.diff(found)).max() <= 2.0 + 1e-6
                assert np.abs(found - azimuth).max() <= bound_deg + 1e-6


@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_elevation_stands_where_a_climb_that_begins_at_once_can_be_met(sense):
    """20 deg in the first 5 s, then none, for an axis of 2 deg/s: it must be up 5 to 5.5 deg at the start."""
    climb = np.interp(np.arange(31.0), [0.0, 5.0], [20.0, 40.0])
    elevation = climb if sense > 0.0 else 60.0 - climb
    target = target_of(np.zeros(31), elevation)
    mount = Mount(elevation=ElevationAxis(rate_deg_s=2.0, maximum_deg=90.0))
    path = elevation_beside(target, mount, np.zeros(31), 5.5)
    assert path is not None
    assert np.abs(np.diff(path)).max() <= 2.0 + 1e-9
    assert np.abs(path - elevation).max() <= 5.5 + 1e-9
    assert 4.5 <= sense * (path[0] - elevation[0]) <= 5.5 + 1e-9


@pytest.mark.parametrize(
    ("elevation_deg", "range_deg", "there_is_one"),
    [
        (70.0, (0.0, 60.0), False),
        (63.0, (0.0, 60.0), True),
        (5.0, (15.0, 90.0), False),
        (12.0, (15.0, 90.0), True),
    ],
)
def test_no_tube_where_elevation_cannot_come_within_the_bound(elevation_deg, range_deg, there_is_one):
    """A bound of 5 deg, upright; the axis ends below the satellite, or begins above it."""
    target = target_of(np.linspace(30.0, 60.0, 61), np.full(61, elevation_deg))
    lowest, highest = range_deg
    mount = Mount(elevation=ElevationAxis(minimum_deg=lowest, maximum_deg=highest))
    assert (AzimuthTube(target, mount, 30.0).path(5.0) is not None) == there_is_one


@pytest.mark.parametrize("half_turns", [0, 1])
def test_a_path_that_is_not_lazy_stays_on_the_satellite_in_its_posture(half_turns):
    azimuth = np.linspace(30.0, 150.0, 121)
    target = target_of(azimuth, np.full(121, 20.0))
    start = float(azimuth[0]) + 180.0 * half_turns
    path = AzimuthTube(target, Mount(), start).path(6.0, lazy=False)
    assert path is not None
    assert path == pytest.approx(azimuth + 180.0 * half_turns, abs=1e-9)
