from __future__ import annotations

import math
from typing import Any

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.joining import (
    AxisAngles,
    corners,
    idle_place,
    joined_at,
    joining,
    place_at,
    seconds_between,
)
from core.mount.model.results import PassCheck
from core.mount.model.station import Antenna, AzimuthAxis, Drive, ElevationAxis, Mount, Station
from tests.oracles.pass_maker import evenings


def test_both_axes_go_at_once_or_one_after_the_other() -> None:
    azimuth, elevation = AzimuthAxis(rate_deg_s=6.0), ElevationAxis(rate_deg_s=2.0, rate_back_deg_s=3.0)
    at_once = Mount(azimuth=azimuth, elevation=elevation, drive=Drive(settle_s=1.5))
    in_turn = at_once.model_copy(update={"drive": Drive(both_axes_at_once=False)})
    assert seconds_between(at_once, AxisAngles(0.0, 0.0), AxisAngles(60.0, 10.0)) == 11.5
    assert seconds_between(in_turn, AxisAngles(0.0, 0.0), AxisAngles(60.0, 10.0)) == 15.0
    assert seconds_between(in_turn, AxisAngles(60.0, 9.0), AxisAngles(0.0, 0.0)) == 13.0
    assert seconds_between(at_once, AxisAngles(5.0, 5.0), AxisAngles(5.0, 5.0)) == 0.0


def test_the_mount_idles_at_mid_travel_unless_told() -> None:
    mount = Mount(elevation=ElevationAxis(minimum_deg=3.0))
    assert idle_place(mount) == (225.0, 3.0)
    assert idle_place(mount, 100.0) == (100.0, 3.0)
    assert idle_place(mount, 900.0) == (447.0, 3.0)


mounts = st.builds(
    Mount,
    azimuth=st.builds(
        AzimuthAxis, rate_deg_s=st.floats(1.0, 8.0), acceleration_deg_s2=st.none() | st.just(2.0)
    ),
    elevation=st.builds(ElevationAxis, rate_deg_s=st.floats(1.0, 5.0)),
    drive=st.builds(Drive, both_axes_at_once=st.booleans(), settle_s=st.floats(0.0, 5.0)),
)


def checks_of(evening: Any, mount: Mount) -> tuple[PassCheck, ...]:
    passes = tuple(recipe.pass_ for recipe in evening)
    return check_passes(
        passes, mount_tracks(passes, mount.tilt), Station(mount, (Antenna(beamwidth_deg=20.0),))
    )


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    evening=evenings(),
    mount=mounts,
    start=st.builds(AxisAngles, st.floats(3.0, 447.0), st.floats(0.0, 180.0)),
    late=st.floats(-60.0, 200.0),
)
def test_a_pass_is_joined_at_the_first_second_that_is_reached(evening, mount, start, late) -> None:
    """Against a walk over every tenth of a second of the pass."""
    for check in checks_of(evening, mount):
        pointing = check.pointing
        if pointing is None:
            continue
        leave = float(pointing.utc_s[0]) + late
        found = joined_at(check, mount, (start,), leave)
        moments = np.arange(pointing.utc_s[0], pointing.utc_s[-1] - 1.0, 0.1)
        # A gap in the mask, or a split's move, is no moment to join, nor is the last second before one.
        hindered = np.concatenate([[0], np.cumsum(~pointing.worked | pointing.moving)])
        index = np.searchsorted(pointing.utc_s, moments, side="right") - 1
        after = np.searchsorted(pointing.utc_s, moments + 1.0, side="left")
        free = hindered[np.minimum(after + 1, len(pointing.utc_s))] == hindered[index]
        reached = None
        for utc_s in moments[free & (moments >= leave)]:
            needed = seconds_between(mount, start, place_at(pointing, float(utc_s)))
            if utc_s - leave >= needed:
                reached = float(utc_s)
                break
        if reached is None:
            assert found is None or found >= pointing.utc_s[-1] - 2.2
        else:
            assert found is not None
            assert reached - 1.2 <= found <= reached + 1e-6
            needed = seconds_between(mount, start, place_at(pointing, found))
            assert found - leave >= needed - 1e-3


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    evening=evenings(),
    mount=mounts,
    start=st.builds(AxisAngles, st.floats(3.0, 447.0), st.floats(0.0, 180.0)),
)
def test_from_anywhere_is_enough_for_every_place(evening, mount, start) -> None:
    for check in checks_of(evening, mount):
        found = joining(check, mount, idle_place(mount))
        if found is None:
            assert check.pointing is None
            continue
        assert found.leave_anywhere_utc_s <= found.leave_idle_utc_s <= found.start_utc_s
        own = joined_at(check, mount, (start,), found.start_utc_s)
        if found.from_anywhere_utc_s is not None:
            assert own is not None
            assert own <= found.from_anywhere_utc_s + 1e-6
            assert found.from_idle_utc_s is not None
            assert found.start_utc_s <= found.from_idle_utc_s <= found.from_anywhere_utc_s + 1e-6
        # Leaving by the time that is told, the start of the pass is not missed.
        there = joined_at(check, mount, (start,), found.leave_anywhere_utc_s)
        assert there is not None
        assert math.isclose(there, found.start_utc_s, abs_tol=1e-3)


def test_a_pass_out_of_reach_cannot_be_joined() -> None:
    mount = Mount()
    assert len(corners(mount)) == 4
    check = PassCheck.__new__(PassCheck)
    object.__setattr__(check, "pointing", None)
    assert joining(check, mount, idle_place(mount)) is None
    assert joined_at(check, mount, corners(mount), 0.0) is None
