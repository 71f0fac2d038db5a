from __future__ import annotations

from dataclasses import replace

import pytest

from core.mount.check import cure as cure_module
from core.mount.check.cure import apply_cure, least_cure
from core.mount.check.reasons import reasons_for
from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.model.chain import zeta_deg
from core.mount.model.station import (
    Antenna,
    AzimuthAxis,
    ElevationAxis,
    Mount,
    SightingCorrection,
    Station,
    Tilt,
)
from core.passes.track import cut_pass
from tests.stays import arc_stay

ANTENNAS = (Antenna(beamwidth_deg=1.0),)


def test_a_correction_in_force_goes_along_with_the_cure() -> None:
    """Turning the tripod turns boresight by as much, whatever the correction: the least turn is short."""
    pass_ = cut_pass(arc_stay(1, 0.0, 90.0), (), 5.0)
    assert pass_ is not None
    tracks = mount_tracks((pass_,), Tilt())
    low, high = tracks[0].azimuth_deg.min(), tracks[0].azimuth_deg.max()
    # Put the counter-clockwise guard 3 deg past where the pass ends.
    short = 3.0
    keyway = (low - 3.0 + short - 10.0) % 360.0
    fitted = SightingCorrection(deg=10.0, keyway_bearing_deg=keyway, index_hole="A")
    mount = Mount(
        keyway_bearing_deg=keyway,
        sighting_correction=fitted,
        azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=3.0),
        elevation=ElevationAxis(maximum_deg=90.0),
    )
    assert high - low < 354.0
    cure = least_cure(pass_, tracks[0], Station(mount, ANTENNAS))
    assert cure is not None
    assert cure.change == "keyway_bearing_deg"
    assert abs(cure.by_deg) <= short + 1e-6
    after = apply_cure(mount, cure)
    assert abs(zeta_deg(after) - zeta_deg(mount)) < short + 0.1
    for fraction, good in ((1.0, True), (0.5, False)):
        turned = apply_cure(mount, cure, fraction)
        verdict = check_passes((pass_,), tracks, Station(turned, ANTENNAS))[0].verdict
        assert (verdict in ("upright", "over the top")) == good
    checks = check_passes((pass_,), tracks, Station(mount, ANTENNAS))
    assert "measure the correction again" in reasons_for(checks, tracks, Station(mount, ANTENNAS))[0].text


def test_a_rate_is_looked_for_no_finer_than_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every trial of a rate follows the pass anew, step by step for a measured drive."""
    pass_ = cut_pass(arc_stay(1, 0.0, 89.0), (), 5.0)
    assert pass_ is not None
    tracks = mount_tracks((pass_,), Tilt())
    slow = AzimuthAxis(rate_deg_s=0.1, acceleration_deg_s2=0.5, travel_deg=1440.0)
    station = Station(Mount(azimuth=slow, elevation=ElevationAxis(maximum_deg=90.0)), ANTENNAS)
    rates: list[float] = []
    holds = cure_module.Trial.holds

    def counted(trial: cure_module.Trial, mount: Mount, carefully: bool = False) -> bool:
        rates.append(mount.azimuth.rate_deg_s)
        return holds(trial, mount, carefully)

    monkeypatch.setattr(cure_module.Trial, "holds", counted)
    cure = least_cure(pass_, tracks[0], station)
    assert cure is not None
    assert cure.change == "azimuth.rate_deg_s"
    assert len(set(rates)) <= 16
    for by, good in ((cure.by_deg, True), (cure.by_deg - 0.02, False)):
        faster = apply_cure(station.mount, replace(cure, by_deg=by))
        assert holds(cure_module.Trial(tracks[0], station), faster, carefully=True) == good
