from __future__ import annotations

from core.base.memo import Memo
from core.mount.model.station import Antenna, Mount, Station

WIDE, NARROW = Antenna(beamwidth_deg=40.0), Antenna(beamwidth_deg=30.0)


def a_result(_station: Station) -> object:
    return object()


def test_the_narrowest_antenna_sets_the_beam() -> None:
    station = Station(Mount(), (WIDE, NARROW))
    assert (station.narrowest_deg, station.beam_limit_deg) == (30.0, 15.0)


def test_equal_stations_are_the_same_input_to_a_memo() -> None:
    memo = Memo()
    first = memo.call("ways", a_result, Station(Mount(), (WIDE,)))
    assert memo.call("ways", a_result, Station(Mount(), (Antenna(beamwidth_deg=40.0),))) is first
    for other in (
        Station(Mount(keyway_bearing_deg=1.0), (WIDE,)),
        Station(Mount(), (NARROW,)),
        Station(Mount(), (WIDE,), "held"),
    ):
        assert memo.call("ways", a_result, other) is not first
