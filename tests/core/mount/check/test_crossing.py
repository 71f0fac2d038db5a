"""Where a pass meets a stop, in either posture: against the pass' own azimuths."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.check.crossing import nearest_crossing
from core.mount.drive.tracks import mount_tracks
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, AzimuthAxis, ElevationAxis, Mount, Posture
from core.passes.track import Pass, cut_pass
from tests.stays import arc_stay

TRAVEL_DEG, GUARD_DEG, BEAM_LIMIT_DEG = 360.0, 3.0, 15.0


def a_mount(keyway_deg: float, **elevation: float) -> Mount:
    azimuth = AzimuthAxis(travel_deg=TRAVEL_DEG, guard_deg=GUARD_DEG)
    return Mount(keyway_bearing_deg=keyway_deg, azimuth=azimuth, elevation=ElevationAxis(**elevation))


def passing(azimuth_deg: float, peak_deg: float) -> Pass:
    found = cut_pass(arc_stay(1, 0.0, azimuth_deg, peak_deg=peak_deg), (), 0.0)
    assert found is not None
    return found


@settings(max_examples=60, deadline=None)
@given(
    azimuth=st.floats(0.0, 360.0),
    share=st.floats(0.3, 0.7),
    peak=st.floats(20.0, 70.0),
    posture=st.sampled_from([UPRIGHT, OVER_THE_TOP]),
)
def test_a_stop_is_met_where_the_satellite_crosses_its_guard(
    azimuth: float, share: float, peak: float, posture: Posture
) -> None:
    """The stop lies where the satellite is after a share of the pass; it may pass it either way round."""
    pass_ = passing(azimuth, peak)
    turn_deg = 180.0 if posture == OVER_THE_TOP else 0.0
    there = int(share * pass_.utc_s.size)
    mount = a_mount(float(pass_.azimuth_deg[there]) + turn_deg)
    (track,) = mount_tracks((pass_,), mount.tilt)
    crossing = nearest_crossing(track, mount, (posture,), BEAM_LIMIT_DEG)
    assert crossing is not None
    assert crossing.posture == posture
    guard_m = GUARD_DEG if crossing.stop == "counter-clockwise stop" else TRAVEL_DEG - GUARD_DEG
    assert crossing.m_deg == pytest.approx(guard_m, abs=1e-3)
    now = int(np.argmin(np.abs(pass_.utc_s - crossing.utc_s)))
    on_guard_deg = mount.keyway_bearing_deg + guard_m - turn_deg
    unwrapped = np.unwrap(pass_.azimuth_deg, period=360.0)
    rate = np.abs(np.diff(unwrapped) / np.diff(pass_.utc_s)).max()
    assert abs((pass_.azimuth_deg[now] - on_guard_deg + 180.0) % 360.0 - 180.0) < rate * 0.5
    assert abs((crossing.bearing_deg - on_guard_deg + 180.0) % 360.0 - 180.0) < 1e-2
    elevation_deg = float(np.interp(crossing.utc_s, pass_.utc_s, pass_.elevation_deg))
    expected_deg = 180.0 - elevation_deg if posture == OVER_THE_TOP else elevation_deg
    assert crossing.e_deg == pytest.approx(expected_deg, abs=1e-6)
    # How far past the guard it goes at worst, or all the way round the other way.
    swept = unwrapped - unwrapped[now]
    past = swept if crossing.stop == "clockwise stop" else -swept
    assert crossing.short_deg == pytest.approx(past.max(), abs=2.0 * rate)


@pytest.mark.parametrize(
    ("posture", "stop", "limits", "e_deg"),
    [
        (UPRIGHT, "elevation maximum", {"maximum_deg": 40.0}, 40.0),
        (UPRIGHT, "elevation minimum", {"minimum_deg": 20.0}, 20.0),
        (OVER_THE_TOP, "elevation maximum", {"maximum_deg": 150.0}, 150.0),
    ],
)
def test_a_limit_is_met_with_the_axis_on_it(
    posture: Posture, stop: str, limits: dict[str, float], e_deg: float
) -> None:
    pass_ = passing(60.0, 70.0)
    mount = a_mount(200.0 + (180.0 if posture == OVER_THE_TOP else 0.0), **limits)
    (track,) = mount_tracks((pass_,), mount.tilt)
    crossing = nearest_crossing(track, mount, (posture,), 1.0)
    assert crossing is not None
    assert crossing.stop == stop
    assert crossing.e_deg == pytest.approx(e_deg, abs=1e-6)
    elevation_deg = float(np.interp(crossing.utc_s, pass_.utc_s, pass_.elevation_deg))
    assert elevation_deg == pytest.approx(180.0 - e_deg if posture == OVER_THE_TOP else e_deg, abs=1e-2)
    worst = {"elevation maximum": 70.0 - 40.0, "elevation minimum": 20.0}
    expected = 30.0 if posture == OVER_THE_TOP else worst[stop]
    assert crossing.short_deg == pytest.approx(expected, abs=0.01)
