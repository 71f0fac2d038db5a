"""What each steering of a pass costs each antenna, against unit vectors turned part by part."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.check.verdict import check_pass
from core.mount.check.ways import offset_deg, ways_of
from core.mount.drive.tracks import MountTrack, mount_track
from core.mount.model.station import (
    OVER_THE_TOP,
    UPRIGHT,
    Antenna,
    AzimuthAxis,
    Drive,
    ElevationAxis,
    Mount,
    Posture,
    Station,
)
from core.mount.steering.runs import SteeringRun, SteeringStudy, skewed_off_deg, study_steering
from tests.oracles.mount_oracle import raise_boom, turn_clockwise
from tests.oracles.pass_maker import Recipe, low_orbit

TWO = (Antenna(name="two", beamwidth_deg=30.0), Antenna(name="seventy", beamwidth_deg=20.0, skew_deg=4.0))


def studied(
    mount: Mount, peak_deg: float = 86.0, posture: Posture = UPRIGHT, antennas: tuple[Antenna, ...] = TWO
) -> tuple[MountTrack, float, SteeringStudy]:
    pass_ = Recipe(low_orbit(500.0, peak_deg, 200.0, 1.0, 50.0)).pass_
    track = mount_track(pass_, mount.tilt)
    way = next(way for way in ways_of(track, Station(mount, antennas)) if way.posture == posture)
    plain = offset_deg(mount, posture, 0)
    offset = plain + 360.0 * (way.turn - float(np.floor((track.azimuth_deg[0] + plain) / 360.0)))
    return track, offset, study_steering(pass_, track, Station(mount, antennas), posture, offset)


def named(study: SteeringStudy, name: str) -> SteeringRun:
    run = study.run(name)
    assert run is not None
    return run


@given(
    skew=st.floats(-60.0, 60.0),
    apart=st.floats(-360.0, 360.0),
    e=st.floats(0.0, 180.0),
    elevation=st.floats(0.0, 90.0),
)
def test_a_skewed_antenna_is_turned_on_the_boom(
    skew: float, apart: float, e: float, elevation: float
) -> None:
    """Skewed on the level boom, the boom raised, the mount turned."""
    north = np.array([0.0, 1.0, 0.0])
    antenna = turn_clockwise(apart) @ raise_boom(e) @ turn_clockwise(skew) @ north
    satellite = raise_boom(elevation) @ north
    expected = np.degrees(np.arctan2(np.linalg.norm(np.cross(antenna, satellite)), antenna @ satellite))
    got = skewed_off_deg(skew, np.array([apart]), np.array([e]), np.array([elevation]))
    assert got[0] == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("posture", [UPRIGHT, OVER_THE_TOP])
def test_costs_follow_from_the_pointing(posture: Posture) -> None:
    track, _offset, study = studied(Mount(azimuth=AzimuthAxis(rate_deg_s=3.0)), posture=posture)
    assert [run.name for run in study.runs] == ["chased", "led", "held", "through the zenith", "best path"]
    for run in study.runs:
        plain, skewed = run.antennas
        assert plain.off_deg == pytest.approx(run.off_deg, abs=1e-5)
        assert plain.worst_loss_db == pytest.approx(
            min(12.0 * (run.worst_off_deg / 30.0) ** 2, 20.0), abs=1e-4
        )
        worst = skewed.off_deg[track.worked].max()
        assert skewed.worst_loss_db == pytest.approx(min(12.0 * (worst / 20.0) ** 2, 20.0), abs=1e-6)
        fine = np.linspace(track.utc_s[0], track.utc_s[-1], 20001)
        off = np.interp(fine, track.utc_s, skewed.off_deg)
        assert skewed.seconds_off == pytest.approx((off > 10.0).mean() * np.ptp(fine), abs=0.2)


def test_a_skew_lies_on_the_other_side_over_the_top() -> None:
    mount = Mount()
    _track, _offset, upright = studied(mount, 60.0, UPRIGHT)
    _track, _offset, over = studied(mount, 60.0, OVER_THE_TOP)
    skew, on = np.array([4.0]), np.zeros(1)
    assert skewed_off_deg(4.0, on, on + 50.0, on + 50.0) == pytest.approx(skew)
    assert skewed_off_deg(4.0, on + 180.0, on + 130.0, on + 50.0) == pytest.approx(skew)
    # Skewed counter-clockwise, a degree clockwise brings it nearer upright, and farther over the top.
    turned = on + 1.0
    assert skewed_off_deg(-4.0, turned, on + 50.0, on + 50.0)[0] < 4.0
    assert skewed_off_deg(-4.0, turned + 180.0, on + 130.0, on + 50.0)[0] > 4.0
    assert named(upright, "led").worst_off_deg == pytest.approx(named(over, "led").worst_off_deg, abs=1e-4)


def test_the_order_of_the_steerings_above_the_keyhole() -> None:
    """500 km, 3 deg/s, 86 deg: the notes' figures (computed, no published source) lie about these."""
    _track, _offset, study = studied(Mount(azimuth=AzimuthAxis(rate_deg_s=3.0)))
    assert study.keyhole_deg == pytest.approx(73.7, abs=1.0)
    assert named(study, "chased").worst_off_deg > 2.0 * named(study, "led").worst_off_deg
    assert named(study, "held").worst_off_deg == pytest.approx(4.0, abs=0.2)
    assert named(study, "best path").worst_off_deg <= min(run.worst_off_deg for run in study.runs) + 0.02


def test_through_the_zenith_ends_over_the_top_with_azimuth_nearly_still() -> None:
    track, offset, study = studied(Mount(azimuth=AzimuthAxis(rate_deg_s=3.0)))
    run = named(study, "through the zenith")
    assert run.e_deg[0] < 90.0 < run.e_deg[-1]
    assert np.ptp(run.m_deg) < 25.0 < np.ptp(track.azimuth_deg)
    assert run.worst_off_deg < named(study, "led").worst_off_deg
    assert offset == pytest.approx(offset_deg(Mount(), UPRIGHT, 0) % 360.0, abs=1e-6) or offset > 0.0


def test_without_elevation_above_90_nothing_goes_through_the_zenith() -> None:
    mount = Mount(azimuth=AzimuthAxis(rate_deg_s=3.0), elevation=ElevationAxis(maximum_deg=90.0))
    _track, _offset, study = studied(mount)
    assert study.run("through the zenith") is None
    assert named(study, "best path").e_deg.max() <= 90.0


def test_a_measured_rotator_is_what_the_verdict_counts() -> None:
    """Seconds lost of the chosen way are those of the study's run; an ideal drive would lose none."""
    rough = Mount(
        azimuth=AzimuthAxis(rate_deg_s=3.0, deadband_deg=8.0, acceleration_deg_s2=2.0),
        elevation=ElevationAxis(deadband_deg=8.0),
        drive=Drive(both_axes_at_once=False),
    )
    narrow = (Antenna(beamwidth_deg=14.0),)
    track, _offset, study = studied(rough, 86.0, UPRIGHT, narrow)
    led = named(study, "led")
    assert np.abs(led.m_deg - led.told_m_deg).max() > 4.0
    pass_ = Recipe(low_orbit(500.0, 86.0, 200.0, 1.0, 50.0)).pass_
    lost = check_pass(pass_, track, Station(rough, narrow)).ways[0].seconds_lost
    assert lost == pytest.approx(led.antennas[0].seconds_off, abs=1e-6)
    assert lost > 20.0
    ideal = Mount(azimuth=AzimuthAxis(rate_deg_s=3.0))
    assert check_pass(pass_, track, Station(ideal, narrow)).ways[0].seconds_lost < lost - 15.0
