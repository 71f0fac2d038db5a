"""One move against an axis integrated in small steps, which knows no closed formula."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.mount.drive.slew import is_ideal, move_angles, move_seconds, slew_angle, slew_seconds
from core.mount.model.station import AzimuthAxis, Drive, ElevationAxis, Mount

AXES = st.builds(
    AzimuthAxis,
    rate_deg_s=st.floats(0.5, 20.0),
    rate_back_deg_s=st.none() | st.floats(0.5, 20.0),
    acceleration_deg_s2=st.none() | st.floats(0.5, 50.0),
    deadband_deg=st.sampled_from([0.0, 0.0, 0.5, 2.0]),
    least_nudge_deg=st.sampled_from([0.0, 0.0, 1.0, 5.0]),
)


def stepped(by_deg: float, axis: AzimuthAxis, count: int = 40_000) -> tuple[np.ndarray, np.ndarray]:
    """Seconds and degrees of a move in even steps: faster while it can still be stopped, then slower."""
    far, sense = abs(by_deg), 1.0 if by_deg > 0.0 else -1.0
    nudge = axis.least_nudge_deg
    leave = far < axis.deadband_deg or abs(nudge - far) > far or far == 0.0
    if leave:
        return np.array([0.0]), np.array([0.0])
    far = max(far, nudge)
    rate = axis.rate_deg_s
    if by_deg < 0.0 and axis.rate_back_deg_s is not None:
        rate = axis.rate_back_deg_s
    gain = axis.acceleration_deg_s2 or math.inf
    step = (far / rate + 2.0 * (far / gain) ** 0.5) / count
    seconds, degrees, speed, place = [0.0], [0.0], 0.0, 0.0
    while place < far and len(seconds) < 3 * count:
        left = far - place
        if axis.acceleration_deg_s2 is None:
            speed = rate
        elif left <= 2.0 * gain * step * step:
            place = far
        else:
            # Never faster than the speed from which it can still be stopped in what is left after the step.
            speed = min(speed + gain * step, rate, (2.0 * gain * left) ** 0.5 - gain * step / 2.0)
        place = min(place + speed * step, far)
        seconds.append(seconds[-1] + step)
        degrees.append(sense * place)
    return np.array(seconds), np.array(degrees)


@settings(deadline=None, max_examples=40)
@given(axis=AXES, by=st.floats(-400.0, 400.0), start=st.floats(0.0, 360.0))
def test_a_move_is_what_small_steps_give(axis: AzimuthAxis, by: float, start: float) -> None:
    assume(min(abs(abs(by) - axis.deadband_deg), abs(abs(by) - axis.least_nudge_deg / 2.0)) > 1e-6)
    seconds, degrees = stepped(by, axis, 4000)
    taken = float(slew_seconds(start, start + by, axis))
    assert taken == pytest.approx(seconds[-1], rel=0.02, abs=0.02)
    got = slew_angle(start, start + by, seconds, axis)
    assert np.abs(got - start - degrees).max() <= 1e-2 * max(abs(by), axis.least_nudge_deg) + 1e-6
    assert float(slew_angle(start, start + by, taken + 1.0, axis)) - start == pytest.approx(
        degrees[-1], abs=1e-6
    )
    assert float(slew_angle(start, start + by, -1.0, axis)) == start


@settings(deadline=None, max_examples=60)
@given(axis=AXES, by=st.floats(-400.0, 400.0))
def test_no_move_is_faster_than_its_rate_or_its_acceleration(axis: AzimuthAxis, by: float) -> None:
    taken = float(slew_seconds(0.0, by, axis))
    seconds = np.linspace(0.0, taken + 0.5, 4001)
    place = slew_angle(0.0, by, seconds, axis)
    step = seconds[1]
    rate = axis.rate_deg_s if by >= 0.0 or axis.rate_back_deg_s is None else axis.rate_back_deg_s
    speed = np.diff(place) / step
    assert np.abs(speed).max() <= rate * (1 + 1e-9) + 1e-9
    if axis.acceleration_deg_s2 is not None:
        assert np.abs(np.diff(speed) / step).max() <= axis.acceleration_deg_s2 * (1 + 1e-6) + 1e-6


def test_figures_worked_by_hand() -> None:
    """6 deg/s and 3 deg/s2: 2 s and 6 deg each to gain and lose speed; 60 deg take 12 s, 3 deg take 2 s."""
    axis = AzimuthAxis(rate_deg_s=6.0, acceleration_deg_s2=3.0, rate_back_deg_s=4.0)
    assert slew_seconds(0.0, 60.0, axis) == pytest.approx(12.0)
    assert slew_seconds(0.0, 3.0, axis) == pytest.approx(2.0)
    assert slew_seconds(60.0, 0.0, axis) == pytest.approx(60.0 / 4.0 + 4.0 / 3.0)
    assert slew_angle(0.0, 60.0, [2.0, 6.0, 10.0], axis) == pytest.approx([6.0, 30.0, 54.0])


def test_deadband_and_least_nudge() -> None:
    axis = AzimuthAxis(rate_deg_s=5.0, deadband_deg=2.0, least_nudge_deg=3.0)
    assert slew_seconds(10.0, [11.9, 12.0, 15.0, 8.1], axis) == pytest.approx([0.0, 0.6, 1.0, 0.0])
    assert slew_angle(10.0, [11.9, 12.0, 15.0, 7.5], 99.0, axis) == pytest.approx([10.0, 13.0, 15.0, 7.0])


def test_both_axes_at_once_or_azimuth_first_and_settling() -> None:
    at_once = Mount(
        azimuth=AzimuthAxis(rate_deg_s=6.0),
        elevation=ElevationAxis(rate_deg_s=2.0),
        drive=Drive(settle_s=1.5),
    )
    one_by_one = at_once.model_copy(update={"drive": Drive(both_axes_at_once=False, settle_s=1.5)})
    assert move_seconds(at_once, 0.0, 60.0, 0.0, 30.0) == pytest.approx(16.5)
    assert move_seconds(one_by_one, 0.0, 60.0, 0.0, 30.0) == pytest.approx(26.5)
    assert move_seconds(one_by_one, 5.0, 5.0, 7.0, 7.0) == 0.0
    m_deg, e_deg = move_angles(one_by_one, 0.0, 60.0, 0.0, 30.0, [5.0, 10.0, 15.0, 30.0])
    assert m_deg == pytest.approx([30.0, 60.0, 60.0, 60.0])
    assert e_deg == pytest.approx([0.0, 0.0, 10.0, 30.0])


def test_shapes_broadcast() -> None:
    mount = Mount()
    many = move_seconds(mount, np.zeros((3, 1)), np.linspace(0, 360, 5)[None, :], 0.0, 10.0)
    assert many.shape == (3, 5)
    assert many[0, -1] == pytest.approx(60.0)


def test_ideal_is_told_by_rates_alone() -> None:
    assert is_ideal(Mount())
    assert is_ideal(Mount(azimuth=AzimuthAxis(rate_deg_s=4.0, rate_back_deg_s=4.0)))
    assert not is_ideal(Mount(azimuth=AzimuthAxis(rate_back_deg_s=4.0)))
    assert not is_ideal(Mount(elevation=ElevationAxis(readout_step_deg=1.0)))
    assert not is_ideal(Mount(drive=Drive(settle_s=1.0)))
    assert not is_ideal(Mount(drive=Drive(duty=0.5)))
