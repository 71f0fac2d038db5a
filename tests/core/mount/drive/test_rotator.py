"""The rotator as measured, against one in steps of a hundredth of a second, and what must hold of any."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.drive.motion import limited, steer
from core.mount.drive.rotator import STEP_S, Achieved, follow, follow_in
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, AzimuthAxis, Drive, ElevationAxis, Mount
from tests.core.mount.drive.test_motion import overhead
from tests.oracles import fine_rotator

AXES = st.fixed_dictionaries(
    {
        "rate_deg_s": st.floats(1.0, 8.0),
        "rate_back_deg_s": st.none() | st.floats(1.0, 8.0),
        "acceleration_deg_s2": st.none() | st.floats(1.0, 10.0),
        "deadband_deg": st.sampled_from([0.0, 1.0, 3.0]),
        "least_nudge_deg": st.sampled_from([0.0, 2.0]),
        "readout_step_deg": st.sampled_from([0.0, 1.0, 5.0]),
    }
)
PATHS = st.tuples(st.floats(-180.0, 180.0), st.floats(20.0, 120.0), st.floats(-60.0, 60.0))


def path_of(shape: tuple[float, float, float]) -> tuple[np.ndarray, np.ndarray]:
    """An S of some degrees in some seconds with a wave on it: both senses, fast and slow."""
    by, over_s, wave = shape
    utc_s = np.arange(0.0, 401.0)
    return utc_s, by * np.tanh((utc_s - 200.0) / over_s) + wave * np.sin(utc_s / 90.0)


def followed(axis: dict, utc_s: np.ndarray, wanted: np.ndarray, **drive: object) -> Achieved:
    mount = Mount(azimuth=AzimuthAxis(**axis), drive=Drive(**drive))
    return follow(utc_s, wanted, np.full(utc_s.size, 30.0), mount)


def as_fine(axis: dict) -> dict:
    back = axis["rate_back_deg_s"]
    return {
        "up": axis["rate_deg_s"],
        "down": axis["rate_deg_s"] if back is None else back,
        "gain": axis["acceleration_deg_s2"],
        "deadband": axis["deadband_deg"],
        "nudge": axis["least_nudge_deg"],
        "readout": axis["readout_step_deg"],
    }


@settings(deadline=None, max_examples=25)
@given(axis=AXES, shape=PATHS)
def test_it_goes_where_a_hundred_times_finer_steps_go(axis: dict, shape: tuple[float, float, float]) -> None:
    utc_s, wanted = path_of(shape)
    done = followed(axis, utc_s, wanted)
    moments, places = fine_rotator.run(as_fine(axis), utc_s, wanted)
    apart = np.abs(done.m_deg - np.interp(utc_s, moments, places))
    fastest = max(axis["rate_deg_s"], axis["rate_back_deg_s"] or 0.0)
    # Two hysteretic axes may stand anywhere in the deadband, the nudge and the readout's step.
    free = axis["deadband_deg"] + axis["least_nudge_deg"] + axis["readout_step_deg"]
    coasting = (
        0.0 if axis["acceleration_deg_s2"] is None else min(fastest**2 / axis["acceleration_deg_s2"], 6.0)
    )
    switched = free > 0.0
    assert apart.max() <= free + 3.0 * fastest * STEP_S * switched + coasting * switched + 0.35 * fastest
    assert apart.mean() <= 0.6 * free + (0.3 * coasting + 1.0 if switched else 0.25)


@settings(deadline=None, max_examples=25)
@given(axis=AXES, shape=PATHS)
def test_it_is_never_faster_than_its_rates(axis: dict, shape: tuple[float, float, float]) -> None:
    utc_s, wanted = path_of(shape)
    speed = np.diff(followed(axis, utc_s, wanted).m_deg) / np.diff(utc_s)
    back = axis["rate_back_deg_s"] or axis["rate_deg_s"]
    assert speed.max(initial=0.0) <= axis["rate_deg_s"] + 1e-6
    assert speed.min(initial=0.0) >= -back - 1e-6


@settings(deadline=None, max_examples=20)
@given(shape=PATHS, rate=st.floats(1.0, 8.0), back=st.floats(1.0, 8.0))
def test_rates_alone_chase_as_motion_does(
    shape: tuple[float, float, float], rate: float, back: float
) -> None:
    utc_s, wanted = path_of(shape)
    done = followed({"rate_deg_s": rate, "rate_back_deg_s": back}, utc_s, wanted)
    assert np.abs(done.m_deg - limited(utc_s, wanted, (rate, back))).max() <= 1e-6


@pytest.mark.parametrize("readout", [0.0, 1.0])
def test_a_motor_stands_after_its_move_in_either_sense(readout: float) -> None:
    """Counter-clockwise it once crept on for ever after each move, which the duty then counted as running."""
    utc_s = np.arange(0.0, 601.0)
    axis = {"acceleration_deg_s2": 2.0, "deadband_deg": 3.0, "readout_step_deg": readout}
    there = followed(axis, utc_s, 0.3 * utc_s + 0.2)
    back = followed(axis, utc_s, -0.3 * utc_s - 0.2)
    assert there.azimuth_ran_s < 0.4 * 600.0
    assert back.azimuth_ran_s == pytest.approx(there.azimuth_ran_s, abs=5.0)
    assert back.m_deg == pytest.approx(-there.m_deg, abs=0.05 + 2.0 * readout)


@pytest.mark.parametrize("deadband", [1.0, 3.0])
def test_a_slow_path_is_followed_within_the_deadband(deadband: float) -> None:
    utc_s = np.arange(0.0, 400.0)
    wanted = 0.3 * utc_s
    done = followed({"rate_deg_s": 6.0, "deadband_deg": deadband}, utc_s, wanted)
    assert np.abs(done.m_deg - wanted).max() <= deadband + 6.0 * STEP_S
    assert np.abs(done.m_deg - wanted).max() >= 0.8 * deadband
    # It stands most of the time: 120 deg at 6 deg/s are 20 s.
    assert (wanted[-1] - deadband) / 6.0 - 0.1 <= done.azimuth_ran_s <= 20.0 + 0.1


def test_the_least_nudge_is_the_least() -> None:
    utc_s = np.arange(0.0, 200.0, 0.25)
    done = followed({"rate_deg_s": 4.0, "least_nudge_deg": 3.0}, utc_s, 0.1 * utc_s)
    moving = np.abs(np.diff(done.m_deg)) > 1e-9
    starts = np.flatnonzero(moving & ~np.concatenate([[False], moving[:-1]]))
    ends = np.flatnonzero(moving & ~np.concatenate([moving[1:], [False]])) + 1
    assert starts.size >= 5
    assert (done.m_deg[ends] - done.m_deg[starts]).min() >= 3.0 - 1e-9


def test_a_coarse_readout_is_right_to_its_step() -> None:
    utc_s = np.arange(0.0, 300.0)
    wanted = 0.5 * utc_s
    done = followed({"rate_deg_s": 6.0, "readout_step_deg": 5.0}, utc_s, wanted)
    assert np.abs(done.m_deg - wanted).max() <= 5.0 + 6.0 * STEP_S
    read, right = np.floor(done.m_deg / 5.0 + 0.5), np.floor(wanted / 5.0 + 0.5)
    # From edge to edge of the reading it takes 0.83 s, of the 10 s in which the reading has to change.
    assert (read == right).mean() >= 0.9


def test_one_axis_at_a_time() -> None:
    utc_s = np.arange(0.0, 300.0, STEP_S)
    mount = Mount(
        azimuth=AzimuthAxis(deadband_deg=2.0),
        elevation=ElevationAxis(deadband_deg=2.0),
        drive=Drive(both_axes_at_once=False),
    )
    done = follow(utc_s, 0.5 * utc_s, 0.25 * utc_s, mount)
    turning, tipping = np.abs(np.diff(done.m_deg)) > 1e-9, np.abs(np.diff(done.e_deg)) > 1e-9
    assert not (turning & tipping).any()
    assert turning.any()
    assert tipping.any()
    assert np.abs(done.m_deg - 0.5 * utc_s).max() < 5.0
    assert np.abs(done.e_deg - 0.25 * utc_s).max() < 5.0


@settings(deadline=None, max_examples=15)
@given(duty=st.floats(0.05, 0.9), window=st.floats(20.0, 200.0), rate=st.floats(0.5, 6.0))
def test_no_window_holds_more_running_than_the_duty(duty: float, window: float, rate: float) -> None:
    utc_s = np.arange(0.0, 400.0 + STEP_S / 2, STEP_S)
    done = followed({"rate_deg_s": rate}, utc_s, 10.0 * utc_s, duty=duty, duty_window_s=window)
    ran = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(done.m_deg)) > 1e-9)]) * STEP_S
    width = round(window / STEP_S)
    assert (ran[width:] - ran[:-width]).max() <= duty * window + 2.0 * STEP_S
    assert done.azimuth_ran_s == pytest.approx(ran[-1])


def test_a_motor_of_one_speed_runs_for_what_its_rate_needs() -> None:
    """Following 0.3 deg/s at 6 deg/s it runs a twentieth of the time, with a deadband or without."""
    utc_s = np.arange(0.0, 601.0)
    for deadband in (0.0, 3.0):
        done = followed({"rate_deg_s": 6.0, "deadband_deg": deadband}, utc_s, 0.3 * utc_s, duty=0.1)
        assert done.azimuth_ran_s == pytest.approx(30.0, abs=1.0)
        assert np.abs(done.m_deg - 0.3 * utc_s).max() <= deadband + 0.1


def test_elevation_that_falls_slowly_is_worse_in_one_posture() -> None:
    """Down at 0.3 deg/s only: upright the setting half is lost behind, over the top the rising half."""
    track = overhead(70.0)
    mount = Mount(elevation=ElevationAxis(rate_deg_s=5.0, rate_back_deg_s=0.3))
    rising = track.utc_s < track.utc_s[int(np.argmax(track.elevation_deg))]
    late = {}
    for posture in (UPRIGHT, OVER_THE_TOP):
        _m, e_deg = follow_in(posture, track.utc_s, track.azimuth_deg, track.elevation_deg, mount)
        behind = np.abs(e_deg - track.elevation_deg)
        late[posture] = behind[rising].max(), behind[~rising].max()
    assert late[UPRIGHT][0] < 0.1
    assert late[UPRIGHT][1] > 5.0
    assert late[OVER_THE_TOP][0] > 5.0
    steered = steer(track, mount, "led")
    assert steered.in_posture(OVER_THE_TOP) is not steered


def test_an_ideal_drive_does_what_it_is_told() -> None:
    steered = steer(overhead(85.0), Mount(), "led")
    assert steered.told_azimuth_deg is None
    assert steered.over is None
