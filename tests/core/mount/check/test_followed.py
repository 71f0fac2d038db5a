"""Passes in columns against one pass, one way and one sample at a time."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.mount.check.followed import FollowedPasses, chunks_of, ragged
from core.mount.check.strikes import barring_of, kept_clear
from core.mount.check.ways import pointing_of_way
from core.mount.check.ways_struck import seconds_off_held, struck_along
from core.mount.drive.aim import aim, seconds_off
from core.mount.drive.motion import Steered, steer, steer_all
from core.mount.drive.tracks import MountTrack, mount_track
from core.mount.model.station import POSTURES, AzimuthAxis, ElevationAxis, Mount
from tests.core.mount.clearance.samples import station as clearance_of
from tests.core.mount.drive.test_motion import overhead, track_of
from tests.oracles.pass_maker import from_angles
from tests.seat_evening import seat_evening, seat_plan

MOUNT = Mount(
    azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=3.0, rate_deg_s=6.0),
    elevation=ElevationAxis(maximum_deg=180.0),
)


def followed() -> tuple[tuple[MountTrack, ...], tuple[Steered, ...]]:
    """Three passes of unlike length: a low one, one up to 82 deg, and one too fast for azimuth."""
    tracks = []
    for seconds, sweep, peak in ((300, 150.0, 25.0), (600, 170.0, 82.0)):
        share = np.linspace(0.0, 1.0, seconds + 1)
        elevation = 5.0 + (peak - 5.0) * np.sin(np.pi * share)
        pass_ = from_angles(80.0 + sweep * share**2, elevation, 1e9 + np.arange(seconds + 1.0))
        tracks.append(mount_track(pass_, MOUNT.tilt))
    tracks.append(overhead(88.0))
    return tuple(tracks), tuple(steer(track, MOUNT) for track in tracks)


@pytest.mark.parametrize("half_beam", [0.5, 4.0, 15.0, 60.0])
def test_seconds_off_are_those_of_each_way_alone(half_beam: float) -> None:
    tracks, steered = followed()
    offsets = -np.arange(0.0, 720.0, 23.0)
    passes = FollowedPasses(tracks, steered, MOUNT, half_beam)
    of_pass, row, offset = (side.ravel() for side in np.meshgrid([0, 1, 2], [0, 1], offsets, indexing="ij"))
    of_pass, row = of_pass.astype(np.intp), row.astype(np.intp)
    found = passes.seconds_off(of_pass, row, offset)
    for index in range(found.size):
        track, posture = tracks[of_pass[index]], POSTURES[row[index]]
        off = aim(track, steered[of_pass[index]], posture, offset[index : index + 1], MOUNT).off_deg
        assert found[index] == pytest.approx(seconds_off(track, off, half_beam)[0], abs=1e-6)
    kept = passes.kept_along(of_pass, row, offset)
    assert kept.total_s == pytest.approx([tracks[index].seconds_in_all for index in of_pass] - found, abs=0.3)


def test_moments_are_found_in_their_own_pass() -> None:
    tracks, steered = followed()
    passes = FollowedPasses(tracks, steered, MOUNT, 15.0)
    for index, track in enumerate(tracks):
        moments_s = np.linspace(passes.begin_s[index], passes.end_s[index], 777)
        expected = np.interp(
            moments_s - passes.begin_s[index] + track.utc_s[0], track.utc_s, track.azimuth_deg
        )
        assert passes.at(moments_s).of(passes.azimuth_deg) == pytest.approx(expected, abs=1e-4)
        late = passes.until_los(np.array([np.inf]), np.array([index]))
        assert late.of(passes.azimuth_deg)[0] == track.azimuth_deg[-1]


@pytest.mark.parametrize("apart_s", [0.001, 0.1, 0.6])
def test_moments_are_found_however_near_samples_are_to_each_other(apart_s: float) -> None:
    random = np.random.default_rng(5)
    steps_s = random.uniform(apart_s / 2.0, apart_s, 200) + (random.random(200) < 0.1)
    utc_s = np.append(0.0, np.cumsum(steps_s))
    track = replace(track_of(utc_s * 0.1, utc_s * 0.0), utc_s=utc_s, interval_s=np.diff(utc_s))
    passes = FollowedPasses((track, track), (steer(track, MOUNT),) * 2, MOUNT, 15.0)
    moments_s = np.concatenate([random.uniform(0.0, utc_s[-1], 500), passes.clock_s])
    found = passes.at(moments_s)
    assert found.index.tolist() == (np.searchsorted(passes.clock_s, moments_s, side="right") - 1).tolist()
    assert found.past_s == pytest.approx(moments_s - passes.clock_s[found.index], abs=1e-12)


def test_rows_of_unlike_length_are_laid_flat() -> None:
    row, entry = ragged(np.array([10, 0, 7]), np.array([2, 0, 3]))
    assert row.tolist() == [0, 0, 2, 2, 2]
    assert entry.tolist() == [10, 11, 7, 8, 9]
    sizes = np.array([3, 0, 4, 50, 1, 2])
    assert np.concatenate([np.arange(6)[some] for some in chunks_of(sizes, 5)]).tolist() == list(range(6))
    assert chunks_of(np.zeros(0, dtype=np.intp)) == []


def test_ways_held_off_what_they_strike_lose_what_their_pointing_does() -> None:
    here = replace(seat_plan(mount__elevation__maximum_deg=180.0).station, clearance=clearance_of())
    barring, tracks = barring_of(here), seat_evening()[1].tracks
    assert barring is not None
    steered = steer_all(tracks, here.mount, here.steering)
    passes = FollowedPasses(tracks, steered, here.mount, here.beam_limit_deg, barring)
    compared = 0
    for offset in (0.0, 75.0, 160.0, 301.0):
        for row, posture in enumerate(POSTURES):
            offsets = offset - passes.low_deg
            ways = np.arange(len(tracks)), np.full(len(tracks), row), offsets
            lost, struck = seconds_off_held(passes, *ways), struck_along(passes, *ways).any
            for index, track in enumerate(tracks):
                pointing = pointing_of_way(track, steered[index], here.mount, posture, float(offsets[index]))
                assert struck[index] == barring.strikes(pointing)
                held = kept_clear(
                    pointing, track, posture, float(offsets[index]), barring, here.beam_limit_deg
                )
                if struck[index] and held is not None:
                    compared += 1
                    off_s = float(seconds_off(track, held.off_deg, here.beam_limit_deg))
                    # A pointing is held at samples, the columns where the points that are asked end.
                    steps_s = 2.0 * float(np.diff(track.utc_s).max())
                    assert off_s - steps_s - 1e-6 <= lost[index] <= off_s + 1e-6
                if held is None:
                    assert lost[index] == np.inf
    assert compared > 5
