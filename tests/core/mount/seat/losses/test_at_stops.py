"""Seconds lost at the stops, looked up, against each way's own samples."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.base.angles import Indices
from core.mount.check.followed import FollowedPasses
from core.mount.drive.motion import steer_all
from core.mount.drive.tracks import MountTrack
from core.mount.model.station import AzimuthAxis, ElevationAxis, Mount
from core.mount.seat.losses.at_stops import LossesAtStops
from tests.seat_evening import seat_evening

MOUNT = Mount(
    azimuth=AzimuthAxis(travel_deg=300.0, guard_deg=3.0, rate_deg_s=60.0),
    elevation=ElevationAxis(maximum_deg=180.0, rate_deg_s=60.0),
)


def hidden_at_times(track: MountTrack) -> MountTrack:
    over = np.arange(track.utc_s.size) % 7 < 5
    return replace(track, worked=over, interval_s=track.interval_s * (over[1:] & over[:-1]))


def ways(passes: FollowedPasses) -> tuple[Indices, Indices, np.ndarray]:
    """Every pass in either posture, with its azimuth held by a stop anywhere within half a turn of it."""
    every, shares = np.arange(passes.count.size), np.linspace(-1.0, 1.0, 41)
    of_pass, row, share = (side.ravel() for side in np.meshgrid(every, [0, 1], shares, indexing="ij"))
    guard, top = passes.guards_deg
    at_deg = np.where(share < 0.0, guard - passes.high_deg[of_pass], top - passes.low_deg[of_pass])
    return of_pass, row, at_deg - share * (passes.high_deg - passes.low_deg)[of_pass]


@pytest.mark.parametrize("hides", [False, True])
@pytest.mark.parametrize("half_beam", [2.0, 15.0, 60.0])
def test_what_a_stop_costs_is_what_the_samples_of_each_way_cost(half_beam: float, hides: bool) -> None:
    tracks = seat_evening()[1].tracks
    steered = steer_all(tracks, MOUNT)
    if hides:
        tracks = tuple(hidden_at_times(track) for track in tracks)
    passes = FollowedPasses(tracks, steered, MOUNT, half_beam)
    looked_up = LossesAtStops(passes)
    of_pass, row, offset = ways(passes)
    told = looked_up.told[of_pass + row * passes.count.size]
    assert told.mean() > 0.8
    found = looked_up.seconds_off(of_pass[told], row[told], offset[told])
    expected = passes.seconds_off(of_pass[told], row[told], offset[told])
    assert found == pytest.approx(expected, abs=0.05)
    assert np.unique(np.round(expected)).size > 50


def test_what_is_not_followed_exactly_is_not_told() -> None:
    """As of an axis that is too slow, or a pass that goes lower than elevation does."""
    tracks = seat_evening()[1].tracks
    slow = MOUNT.model_copy(update={"azimuth": MOUNT.azimuth.model_copy(update={"rate_deg_s": 0.2})})
    high = MOUNT.model_copy(update={"elevation": MOUNT.elevation.model_copy(update={"minimum_deg": 30.0})})
    for mount in (slow, high):
        passes = FollowedPasses(tracks, steer_all(tracks, mount), mount, 15.0)
        told = LossesAtStops(passes).told
        wrong = (passes.turned_deg.values != np.tile(passes.azimuth_deg.values, 2)) | (
            passes.axis_deg.values != passes.wanted_deg.values
        )
        of_row = np.repeat(np.arange(told.size), np.tile(passes.count, 2))
        assert wrong.any()
        assert not told[np.unique(of_row[wrong])].any()
