"""When a figure of the dial must be told which time round it is meant."""

from __future__ import annotations

from core.mount.model.station import AzimuthAxis, Mount
from core.setup.ambiguous import rounds_to_tell


def test_a_turn_apart_looks_the_same_way():
    wraps = AzimuthAxis(travel_deg=450.0, dial_wraps_at_deg=360.0, dial_wraps_to_deg=0.0)
    assert rounds_to_tell(20.0, Mount(azimuth=wraps)) == 0


def test_a_dial_that_runs_twice_as_fast_must_be_told():
    fast = AzimuthAxis(travel_deg=360.0, dial_scale=2.0, dial_wraps_at_deg=360.0, dial_wraps_to_deg=0.0)
    assert rounds_to_tell(20.0, Mount(azimuth=fast)) == 2


def test_a_figure_the_dial_never_shows():
    assert rounds_to_tell(900.0, Mount()) == 0
