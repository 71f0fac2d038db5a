"""What one pass loses over the bearing: an arc of seats, however narrow, is not passed over."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.check.ways import reach_of
from core.mount.drive.tracks import mount_tracks
from core.mount.model.station import UPRIGHT, Antenna, AzimuthAxis, ElevationAxis, Mount, Station
from core.mount.seat.losses.table import seat_table
from tests.oracles.pass_maker import Recipe, low_orbit

GUARD_DEG = 3.0


@pytest.mark.parametrize("spare_deg", [0.02, 0.4, 5.0])
def test_an_arc_that_lets_the_pass_through_is_found_however_narrow(spare_deg):
    """The travel is the pass' own sweep and a little more: only so many degrees of seats lose nothing."""
    pass_ = Recipe(low_orbit(800.0, 35.0, 20.0, 1.0, 47.0)).pass_
    tracks = mount_tracks((pass_,), Mount().tilt)
    elevation = ElevationAxis(maximum_deg=90.0)
    reach = reach_of(tracks[0], UPRIGHT, elevation, 0.05)
    travel = reach.high_deg - reach.low_deg + 2.0 * GUARD_DEG + spare_deg
    mount = Mount(azimuth=AzimuthAxis(travel_deg=travel, guard_deg=GUARD_DEG), elevation=elevation)
    station = Station(mount, (Antenna(beamwidth_deg=0.1),), "led")
    # Boresight on the counter-clockwise stop: with the pass' lowest azimuth on the one guard, and so on.
    last = reach.low_deg - GUARD_DEG
    lets = last - spare_deg * np.linspace(0.01, 0.99, 9)
    lost = seat_table(tracks, station).losses_at(lets)[0, :, 0]
    assert lost == pytest.approx(np.zeros(9), abs=1e-9)
    beyond = seat_table(tracks, station).losses_at(np.array([last + 2.0, last - spare_deg - 2.0]))
    assert (beyond[:, :, 0].min(axis=0) > 1.0).all()
