"""The steerings of a pass in figures: sums of the study's own paths, in the way the verdict begins in."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from core.mount.check.verdict import check_pass
from core.mount.drive.aim import seconds_off
from core.mount.drive.thinned import picked_out
from core.mount.drive.tracks import MountTrack, mount_track
from core.mount.model.results import Part, PassCheck
from core.mount.model.station import OVER_THE_TOP, Antenna, AzimuthAxis, ElevationAxis, Mount, Station
from core.mount.steering.pass_steering import (
    PassSteering,
    keyhole_sentence,
    pass_steering,
    peaks_over_keyhole,
    steered_way,
)
from tests.oracles.pass_maker import Recipe, low_orbit

TWO = (Antenna(name="two", beamwidth_deg=30.0), Antenna(name="seventy", beamwidth_deg=8.0))


def _checked(mount: Mount, peak_deg: float = 86.0, aos_deg: float = 200.0) -> tuple[PassCheck, MountTrack]:
    pass_ = Recipe(low_orbit(500.0, peak_deg, aos_deg, 1.0, 50.0)).pass_
    track = mount_track(pass_, mount.tilt)
    return check_pass(pass_, track, Station(mount, TWO)), track


def _told(mount: Mount, peak_deg: float = 86.0) -> PassSteering:
    told = pass_steering(*_checked(mount, peak_deg), Station(mount, TWO))
    assert told is not None
    return told


@pytest.mark.parametrize("side", [1.0, -1.0])
@pytest.mark.parametrize("some", [slice(None, -200), slice(200, None)])
def test_which_way_it_turns_is_the_way_azimuth_goes_from_its_start_to_its_end(side, some) -> None:
    """Whether the pass ends higher or lower than it began."""
    mount = Mount(azimuth=AzimuthAxis(travel_deg=720.0))
    pass_ = Recipe(low_orbit(500.0, 60.0, 200.0, side, 50.0)).pass_
    whole = mount_track(pass_, mount.tilt)
    track = picked_out(whole, np.arange(whole.utc_s.size)[some])
    told = pass_steering(check_pass(pass_, track, Station(mount, TWO)), track, Station(mount, TWO))
    assert told is not None
    assert told.clockwise == (track.azimuth_deg[-1] > track.azimuth_deg[0])


def test_the_figures_are_those_of_the_curves() -> None:
    mount = Mount(azimuth=AzimuthAxis(rate_deg_s=3.0))
    check, track = _checked(mount)
    told = pass_steering(check, track, Station(mount, TWO))
    assert told is not None
    assert [row.name for row in told.study.runs] == [
        "chased",
        "led",
        "held",
        "through the zenith",
        "best path",
    ]
    assert (told.posture, told.turn) == steered_way(check)
    for run in told.study.runs:
        assert run.worst_off_deg == pytest.approx(float(run.off_deg[track.worked].max()))
        for axis_deg, travel_deg in (
            (run.m_deg, run.azimuth_travel_deg),
            (run.e_deg, run.elevation_travel_deg),
        ):
            steps = (abs(float(b - a)) for a, b in itertools.pairwise(axis_deg))
            assert travel_deg == pytest.approx(sum(steps))
        for cost, antenna in zip(run.antennas, TWO, strict=True):
            assert cost.name == antenna.name
            loss = 12.0 * (run.worst_off_deg / antenna.beamwidth_deg) ** 2
            assert cost.worst_loss_db == pytest.approx(min(loss, 20.0), abs=1e-3)
            off_s = float(seconds_off(track, run.off_deg, antenna.beamwidth_deg / 2.0))
            assert cost.seconds_off == pytest.approx(off_s, abs=0.01)
    best = told.study.runs[-1].worst_off_deg
    assert best <= min(run.worst_off_deg for run in told.study.runs) + 0.1 + 1e-6


def test_the_way_is_that_of_the_verdict() -> None:
    """The first moment of the study is where the verdict's way starts, in posture and turn."""
    for bearing in (0.0, 90.0, 200.0, 300.0):
        mount = Mount(keyway_bearing_deg=bearing)
        check, track = _checked(mount, 60.0)
        told = pass_steering(check, track, Station(mount, TWO))
        assert told is not None
        assert check.chosen is not None
        first = float(told.study.runs[0].m_deg[0])
        assert first == pytest.approx(check.chosen.m_aos_deg, abs=1e-6)


def test_a_part_is_steered_in_its_own_way_and_what_is_out_of_reach_in_none() -> None:
    mount = Mount()
    check, track = _checked(mount)
    part = Part(0.0, 1.0, OVER_THE_TOP, 0)
    assert steered_way(replace(check, chosen=None, part=part)) == (OVER_THE_TOP, 0)
    lost = replace(check, chosen=None, pointing=None)
    assert steered_way(lost) is None
    assert pass_steering(lost, track, Station(mount, TWO)) is None


@pytest.mark.parametrize("posture_top", [90.0, 180.0])
def test_a_split_is_steered_in_the_way_it_begins_in(posture_top: float) -> None:
    seen = 0
    for bearing in range(0, 360, 20):
        mount = Mount(
            keyway_bearing_deg=float(bearing),
            azimuth=AzimuthAxis(travel_deg=360.0),
            elevation=ElevationAxis(maximum_deg=posture_top),
        )
        check, _track = _checked(mount, 60.0)
        if check.split is not None:
            seen += 1
            assert steered_way(check) == (check.split.from_posture, check.split.from_turn)
    assert seen or posture_top == 180.0


def test_the_keyhole_is_told_on_either_side_of_it() -> None:
    slow, fast = Mount(azimuth=AzimuthAxis(rate_deg_s=1.0)), Mount(azimuth=AzimuthAxis(rate_deg_s=60.0))
    over, below = _told(slow), _told(fast)
    assert over.over_keyhole
    assert "over the keyhole" in keyhole_sentence(over, slow)
    assert "the 1 deg/s of azimuth" in keyhole_sentence(over, slow)
    assert not below.over_keyhole
    assert "below the keyhole" in keyhole_sentence(below, fast)
    assert peaks_over_keyhole(*_checked(slow), slow)
    assert not peaks_over_keyhole(*_checked(fast), fast)
    assert over.peak_deg == pytest.approx(86.0, abs=1.5)
    back = slow.model_copy(update={"azimuth": AzimuthAxis(rate_deg_s=9.0, rate_back_deg_s=0.5)})
    assert "the 0.5 deg/s of azimuth" in keyhole_sentence(_told(back), back)
    assert np.isfinite(over.keyhole_deg)
