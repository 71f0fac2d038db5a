"""Tilt through everything: what each pointing looks at, by stacked rotations, is as far off as it says."""

from __future__ import annotations

from typing import Any

import numpy as np
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from core.base.angles import Floats
from core.mount.check.verdict import check_pass
from core.mount.check.ways import offset_deg
from core.mount.dial.readings import azimuth_dial, azimuth_from_dial
from core.mount.drive.tracks import mount_track
from core.mount.model.chain import ground_bearing_deg
from core.mount.model.station import Mount, Station
from core.mount.steering.runs import study_steering
from tests.core.mount.check.test_ways_oracle import antennas, core_mount, the_code
from tests.oracles import mount_oracle as oracle
from tests.oracles.pass_maker import Recipe, make, mount_numbers, recipes

CODE = the_code()
#: Angles on the sky agree to this: both sides are exact, apart from rounding near the axis.
NEAR_DEG = 1e-5


@st.composite
def leaning_mounts(draw: st.DrawFn) -> dict[str, Any]:
    return draw(mount_numbers()) | {"tau": draw(st.floats(0.2, 8.0)), "phi": draw(st.floats(0.0, 360.0))}


def slowed(mount: Mount, rate_deg_s: float) -> Mount:
    """The oracle's mounts turn at once; real ones take their time."""
    return mount.model_copy(
        update={
            "azimuth": mount.azimuth.model_copy(update={"rate_deg_s": rate_deg_s}),
            "elevation": mount.elevation.model_copy(update={"rate_deg_s": rate_deg_s / 2.0}),
        }
    )


def off_by_vectors(
    pass_: Any, numbers: dict[str, Any], posture: str, m: Floats, e: Floats, t: Floats
) -> Floats:
    """(N,) degrees between where the axes look and where the satellite is, on the ground's own axes."""
    looks = oracle.boresight(oracle.at_the_stop(numbers, posture), m, e)
    place = oracle._position(pass_.stay, t)
    place = place / np.linalg.norm(place, axis=1)[:, None]
    across = np.linalg.norm(np.cross(looks, place), axis=1)
    return np.degrees(np.arctan2(across, (looks * place).sum(axis=1)))


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(recipe=recipes(kinds=("fast", "fast", "slow")), numbers=leaning_mounts(), rate=st.floats(1.0, 12.0))
def test_a_pointing_is_as_far_off_as_it_says(recipe: Recipe, numbers: dict[str, Any], rate: float) -> None:
    pass_, mount = make(recipe), slowed(core_mount(CODE, numbers), rate)
    assume(pass_ is not None)
    check = check_pass(pass_, mount_track(pass_, mount.tilt), Station(mount, antennas(CODE, numbers)))
    assume(check.pointing is not None and one_zeta(numbers))
    pointing = check.pointing
    wanted = off_by_vectors(pass_, numbers, oracle.UPRIGHT, pointing.m_deg, pointing.e_deg, pointing.utc_s)
    assert np.abs(pointing.off_deg - wanted).max() < NEAR_DEG


def one_zeta(numbers: dict[str, Any]) -> bool:
    """A correction of one posture alone gives the two postures different bearings on the stop."""
    fitted = numbers["correction"]
    return fitted is None or fitted["posture"] is None


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(recipe=recipes(kinds=("fast",)), numbers=leaning_mounts(), rate=st.floats(1.0, 12.0))
def test_every_steering_is_as_far_off_as_it_says(
    recipe: Recipe, numbers: dict[str, Any], rate: float
) -> None:
    pass_, mount = make(recipe), slowed(core_mount(CODE, numbers), rate)
    assume(pass_ is not None and one_zeta(numbers))
    track = mount_track(pass_, mount.tilt)
    offset = offset_deg(mount, "upright", 0)
    assume(float(track.azimuth_deg[0]) + offset > mount.azimuth.guard_deg)
    study = study_steering(pass_, track, Station(mount, antennas(CODE, numbers)), "upright", offset)
    for run in study.runs:
        wanted = off_by_vectors(pass_, numbers, oracle.UPRIGHT, run.m_deg, run.e_deg, run.utc_s)
        assert np.abs(run.off_deg - wanted).max() < NEAR_DEG, run.name


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(numbers=leaning_mounts(), share=st.floats(0.0, 1.0), e_deg=st.floats(-5.0, 89.0))
def test_a_dial_reading_looks_where_it_is_printed_to_look(
    numbers: dict[str, Any], share: float, e_deg: float
) -> None:
    """Dial to mechanical azimuth and on to the ground, against the vectors."""
    mount = core_mount(CODE, numbers)
    m_deg = share * mount.azimuth.travel_deg
    reading = azimuth_dial(m_deg, mount.azimuth)
    again = azimuth_from_dial(reading.value_deg, mount.azimuth)
    assert min(abs(back - m_deg) for back in again) < 1e-6
    looks = oracle.boresight(
        oracle.at_the_stop(numbers, oracle.UPRIGHT), np.array([m_deg]), np.array([e_deg])
    )[0]
    zeta = CODE.chain.zeta_deg(mount)
    bearing, elevation = ground_bearing_deg(zeta + m_deg, e_deg, mount.tilt)
    sky = np.array(
        [
            np.sin(np.radians(bearing)) * np.cos(np.radians(elevation)),
            np.cos(np.radians(bearing)) * np.cos(np.radians(elevation)),
            np.sin(np.radians(elevation)),
        ]
    )
    assert np.degrees(np.linalg.norm(np.cross(sky, looks))) < NEAR_DEG
