from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.motion import steer
from core.mount.splits import full_turns, posture_changes
from core.mount.stack import AzimuthAxis, ElevationAxis, Mount, zeta_deg
from tests.core.mount.test_motion import angle_between, overhead, track_of

LIMIT = 15.0


def rising_east(sweep: float = 150.0, start: float = 40.0, seconds: int = 600):
    """A low pass whose azimuth runs evenly clockwise."""
    count = 2 * seconds + 1
    share = np.linspace(0.0, 1.0, count)
    return track_of(start + sweep * share, 8.0 + 25.0 * np.sin(np.pi * share))


def walked(track, mount, zeta: float, first_k: int, start_s: float, sense: float, rate: float) -> float:
    """Seconds off the beam of a full turn, by walking the axis in steps of 0.05 s with vectors."""
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    step, lost, moving = 0.05, 0.0, False
    moments = np.arange(track.utc_s[0], track.utc_s[-1], step)
    m = float(np.clip(track.azimuth_deg[0] - zeta + 360.0 * first_k, guard, top))
    for moment in moments:
        azimuth = float(np.interp(moment, track.utc_s, track.azimuth_deg))
        elevation = float(np.interp(moment, track.utc_s, track.elevation_deg))
        turns = first_k if moment < start_s else first_k - sense
        target = float(np.clip(azimuth - zeta + 360.0 * turns, guard, top))
        if moment >= start_s and abs(target - m) > rate * step:
            moving = True
            m += np.sign(target - m) * rate * step
        else:
            m = target
        if angle_between((m + zeta, elevation), (azimuth, elevation)) > LIMIT:
            lost += step
    assert moving
    return lost


@settings(deadline=None, max_examples=4)
@given(start=st.floats(215.0, 320.0), rate=st.sampled_from([3.0, 6.0]))
def test_a_full_turn_loses_what_a_walked_axis_loses(start: float, rate: float) -> None:
    track = rising_east(start=start)
    mount = Mount(azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=5.0, rate_deg_s=rate))
    zeta = zeta_deg(mount)
    run = full_turns(track, steer(track, mount), mount, np.array([zeta]), "upright", 0, LIMIT)
    meets = np.interp(355.0, track.azimuth_deg, track.utc_s)
    assert run.start_utc_s[0] == pytest.approx(meets, abs=0.01)
    assert run.seconds_lost[0] == pytest.approx(walked(track, mount, zeta, 0, meets, 1.0, rate), abs=0.6)


def test_a_pass_inside_the_travel_has_no_full_turn() -> None:
    track = rising_east(start=40.0)
    mount = Mount(azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=5.0))
    run = full_turns(track, steer(track, mount), mount, np.array([0.0]), "upright", 0, LIMIT)
    assert np.isnan(run.start_utc_s[0])
    assert run.seconds_lost[0] == np.inf


def test_the_axes_stay_inside_guards_and_rates() -> None:
    track = rising_east(start=300.0)
    mount = Mount(azimuth=AzimuthAxis(travel_deg=400.0, guard_deg=4.0, rate_deg_s=5.0))
    run = full_turns(track, steer(track, mount), mount, np.array([10.0]), "upright", 0, LIMIT)
    assert run.m_deg.min() >= 4.0
    assert run.m_deg.max() <= 396.0
    assert np.abs(np.diff(run.m_deg[0]) / np.diff(track.utc_s)).max() <= 5.0 * 1.3


def test_over_the_zenith_a_change_of_posture_turns_no_azimuth() -> None:
    """Past the zenith upright and over the top share m: going on through it costs nothing."""
    track = overhead(89.95)
    mount = Mount(azimuth=AzimuthAxis(rate_deg_s=6.0), elevation=ElevationAxis(rate_deg_s=2.5))
    zeta = {posture: np.array([200.0]) for posture in ("upright", "over the top")}
    steered = steer(track, mount)
    losses = []
    for second_k in (-1, 0, 1):
        run = posture_changes(
            track, steered, mount, zeta, (("upright", 1), ("over the top", second_k)), LIMIT
        )
        losses.append(run.seconds_lost[0])
    assert min(losses) == 0.0


def test_many_seats_at_once_are_each_alone() -> None:
    track = rising_east(start=250.0)
    mount = Mount(azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=5.0))
    steered = steer(track, mount)
    zetas = np.array([0.0, 10.0, 33.0, 300.0])
    together = full_turns(track, steered, mount, zetas, "upright", 0, LIMIT)
    for row, zeta in enumerate(zetas):
        alone = full_turns(track, steered, mount, np.array([zeta]), "upright", 0, LIMIT)
        np.testing.assert_array_equal(together.m_deg[row], alone.m_deg[0])
        assert together.seconds_lost[row] == alone.seconds_lost[0]
