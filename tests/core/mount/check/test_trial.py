"""What a cure asks cheaply is what the verdict says."""

from __future__ import annotations

from dataclasses import replace
from unittest.mock import patch

import pytest

from core.mount.check import cure, trial
from core.mount.check.cure import least_cure
from core.mount.check.trial import Trial
from core.mount.check.verdict import check_pass
from core.mount.drive.tracks import mount_track
from core.mount.model.station import (
    POSTURES,
    Antenna,
    AzimuthAxis,
    Drive,
    ElevationAxis,
    Mount,
    Station,
    Tilt,
)
from core.passes.track import Pass
from tests.oracles.pass_maker import build, low_orbit

SLOW = Mount(azimuth=AzimuthAxis(rate_deg_s=1.5), elevation=ElevationAxis(rate_deg_s=0.6))


def overhead(peak_deg: float = 82.0, height_km: float = 500.0) -> Pass:
    made = build(low_orbit(height_km, peak_deg, 30.0, 1.0, 47.0), 5.0)
    assert made is not None
    return made


def mounts() -> list[Mount]:
    """Seats all round, rates up to enough, less and more travel and elevation."""
    turned = [SLOW.model_copy(update={"keyway_bearing_deg": float(at)}) for at in range(0, 360, 90)]
    faster = [SLOW.model_copy(update={"azimuth": AzimuthAxis(rate_deg_s=rate)}) for rate in (2.5, 6.0)]
    ended = [
        SLOW.model_copy(update={"azimuth": AzimuthAxis(rate_deg_s=1.5, travel_deg=travel)})
        for travel in (200.0, 900.0)
    ]
    low = [SLOW.model_copy(update={"elevation": ElevationAxis(rate_deg_s=0.6, maximum_deg=90.0)})]
    return [*turned, *faster, *ended, *low]


@pytest.mark.parametrize(("steering", "drive"), [("held", Drive()), ("led", Drive(both_axes_at_once=False))])
def test_a_trial_says_what_the_verdict_says(steering, drive):
    pass_ = overhead()
    track = mount_track(pass_, Tilt())
    station = Station(SLOW.model_copy(update={"drive": drive}), (Antenna(beamwidth_deg=14.0),), steering)
    tried, said = Trial(track, station), set()
    for mount in (one.model_copy(update={"drive": drive}) for one in mounts()):
        expected = check_pass(pass_, track, replace(station, mount=mount)).verdict in POSTURES
        assert tried.holds(mount, carefully=True) == expected
        said.add(expected)
    assert said == {True, False}


def test_a_cure_looks_for_splits_on_few_samples_and_judges_the_whole_pass_once_at_most():
    pass_ = overhead()
    track, station = mount_track(pass_, Tilt()), Station(SLOW, (Antenna(beamwidth_deg=14.0),), "held")
    sizes, judged = [], []
    look, judge = trial.best_splits, cure.check_pass
    with (
        patch.object(trial, "best_splits", lambda *a: (sizes.append(a[0].utc_s.size), look(*a))[1]),
        patch.object(cure, "check_pass", lambda *a: (judged.append(a), judge(*a))[1]),
    ):
        found = least_cure(pass_, track, station)
    assert found is not None
    assert len(judged) <= 1
    assert sizes
    assert max(sizes) < 0.3 * track.utc_s.size
