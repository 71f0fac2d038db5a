"""Splits of a real evening at 36 keyway bearings against the brute scan; a hundredth of it in the suite."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.check.ways import ways_of
from core.mount.drive.motion import steer
from core.mount.drive.tracks import mount_track
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, Mount, Station
from tests.core.mount.check.test_splits import apart_s, both_ways, walked_s
from tests.core.mount.seat.test_seat_oracle import real_passes

BEARINGS = np.arange(0.0, 360.0, 10.0)
#: Half beams of 15 and 5 deg; upright only, since with over the top every pass of that evening has a way.
CASES = [(travel, half_beam) for travel in (360.0, 450.0) for half_beam in (15.0, 5.0)]


def worst_apart_s(travel_deg: float, half_beam: float, every: int) -> tuple[int, float]:
    """How many passes without a way were scanned, and how far the search was from the scan at worst."""
    mount = Mount(
        azimuth=AzimuthAxis(travel_deg=travel_deg, guard_deg=5.0), elevation=ElevationAxis(maximum_deg=90.0)
    )
    antennas = (Antenna(beamwidth_deg=2.0 * half_beam),)
    hard, worst = 0, 0.0
    cases = [(pass_, zeta) for pass_ in real_passes() for zeta in BEARINGS]
    for pass_, zeta in cases[::every]:
        track = mount_track(pass_, mount.tilt)
        seated = mount.model_copy(update={"keyway_bearing_deg": float(zeta)})
        ways = ways_of(track, Station(seated, antennas), steer(track, seated))
        if min((way.seconds_lost for way in ways), default=np.inf) <= NEAR_ENOUGH_S:
            continue
        hard += 1
        best, scan, found = both_ways(track, mount, pass_.stretches, float(zeta), half_beam)
        worst = max(worst, abs(apart_s(best, scan, found)))
        if np.isfinite(best.seconds_lost[0]):
            worst = max(worst, abs(float(best.seconds_lost[0]) - walked_s(best, scan)))
    return hard, worst


@pytest.mark.parametrize(("travel_deg", "half_beam"), CASES)
def test_splits_of_some_real_passes(travel_deg: float, half_beam: float) -> None:
    hard, worst = worst_apart_s(travel_deg, half_beam, every=61)
    assert hard >= 3
    assert worst < 1.0


@pytest.mark.long
@pytest.mark.parametrize(("travel_deg", "half_beam"), CASES)
def test_splits_of_all_real_passes(travel_deg: float, half_beam: float) -> None:
    hard, worst = worst_apart_s(travel_deg, half_beam, every=1)
    assert hard > 100
    assert worst < 1.0
