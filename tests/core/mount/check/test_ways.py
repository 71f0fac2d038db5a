"""What a way tells of the axes is what the axes do, however they are steered."""

from __future__ import annotations

import pytest

from core.mount.check.verdict import check_pass
from core.mount.check.ways import offset_in_turn, pointing_of_way, ways_of
from core.mount.drive.motion import steer
from core.mount.drive.tracks import mount_track
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, Mount, Station, Tilt
from tests.oracles.pass_maker import build, low_orbit

#: Over a rotator of 1.5 and 0.6 deg/s this passes the zenith far too fast.
OVERHEAD = build(low_orbit(500.0, 84.0, 30.0, 1.0, 47.0), 5.0)


def station(keyway_deg: float, steering: str, travel_deg: float = 450.0, beam_deg: float = 30.0) -> Station:
    mount = Mount(
        keyway_bearing_deg=keyway_deg,
        azimuth=AzimuthAxis(travel_deg=travel_deg, guard_deg=3.0, rate_deg_s=1.5),
        elevation=ElevationAxis(rate_deg_s=0.6),
    )
    return Station(mount, (Antenna(beamwidth_deg=beam_deg),), steering)


@pytest.mark.parametrize("steering", ["led", "chased", "held"])
@pytest.mark.parametrize("keyway_deg", [10.0, 75.0, 140.0, 205.0, 270.0, 335.0])
def test_least_and_greatest_azimuth_are_the_axis_own(keyway_deg, steering):
    assert OVERHEAD is not None
    here = station(keyway_deg, steering, beam_deg=60.0)
    track = mount_track(OVERHEAD, Tilt())
    steered = steer(track, here.mount, here.steering)
    ways = ways_of(track, here, steered)
    assert ways
    guard, top = guarded_travel_deg(here.mount.azimuth)
    for way in ways:
        offset = offset_in_turn(track, here.mount, way.posture, way.turn)
        m_deg = pointing_of_way(track, steered, here.mount, way.posture, offset).m_deg
        assert (way.m_min_deg, way.m_max_deg) == pytest.approx((m_deg.min(), m_deg.max()))
        if way.clear:
            assert way.margin_deg == pytest.approx(min(m_deg.min() - guard, top - m_deg.max()))
    if steering == "held":
        check = check_pass(OVERHEAD, track, here, steered)
        assert check.chosen is not None
        assert check.chosen.m_max_deg - check.chosen.m_min_deg < 1e-9  # azimuth stands
