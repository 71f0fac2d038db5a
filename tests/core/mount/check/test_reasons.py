"""The sentences of a verdict say what the tracks do."""

from __future__ import annotations

import importlib.resources

import numpy as np
import pytest

from core.base.times import clock
from core.evaluate import Result
from core.mount.check.reasons import reason_for
from core.mount.check.verdict import check_pass
from core.mount.drive.tracks import mount_track
from core.mount.model.results import Rest, Topic
from core.mount.model.station import Antenna, ElevationAxis, Mount, Station, Tilt
from core.plan.document import Plan
from core.plan.storage import plan_from_text
from tests.lasting import result_of
from tests.oracles.pass_maker import build, low_orbit


@pytest.fixture(scope="module")
def plan() -> Plan:
    """The demo: elevation to 160 deg, so that over the top a pass begins and ends past the maximum."""
    path = importlib.resources.files("resources").joinpath("demo", "larch_ridge.northkey.json")
    return plan_from_text(path.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def result(plan: Plan) -> Result:
    return result_of(plan)


def with_mount(plan: Plan, **changes: object) -> Plan:
    return plan.model_copy(update={"mount": plan.mount.model_copy(update=changes)})


def test_a_pass_that_begins_past_a_limit_is_told_until_when(plan: Plan, result: Result) -> None:
    told = [
        (check.crossing, track, reason.text)
        for check, track, reason in zip(result.checks, result.tracks, result.reasons, strict=True)
        if check.crossing is not None and check.crossing.stop == "elevation maximum"
    ]
    assert told
    for crossing, track, sentence in told:
        before, after = np.interp(
            [crossing.utc_s - 5.0, crossing.utc_s + 5.0], track.utc_s, 180.0 - track.elevation_deg
        )
        limit = plan.mount.elevation.maximum_deg
        assert before > limit > after
        beyond = f"Over the top it lies {crossing.short_deg:.1f} deg beyond the elevation maximum, until "
        assert sentence.startswith(beyond + clock(crossing.utc_s))
        assert f"elevation dial {limit:g})" in sentence


def test_a_cure_that_leaves_it_resting_says_so(plan: Plan, result: Result) -> None:
    seen = set()
    for check, reason in zip(result.checks, result.reasons, strict=True):
        if reason.cure is None:
            continue
        turned = with_mount(plan, keyway_bearing_deg=reason.cure.to_value)
        same = next(
            other
            for other in result_of(turned).checks
            if other.pass_.satellite == check.pass_.satellite
            and other.pass_.aos.utc_s == check.pass_.aos.utc_s
        )
        assert same.resting == reason.cure.rests == ("where it rests inside the beam" in reason.text)
        seen.add(reason.cure.rests)
    assert True in seen


def test_a_rest_at_both_ends_is_told_in_seconds(plan: Plan) -> None:
    rest = Rest("elevation maximum", 1000.0, 1500.0, 231.0, 12.0, 12.0, 2.0)
    assert rest.comes_off
    assert not Rest("elevation maximum", 1000.0, 1231.5, 231.0, 12.0, 12.0, 2.0).comes_off
    tilted = with_mount(plan, tilt=plan.mount.tilt.model_copy(update={"angle_deg": 6.0, "toward_deg": 200.0}))
    sentences = [reason.text for reason in result_of(tilted).reasons]
    found = [one for one in sentences if "Rests at the elevation maximum for " in one]
    assert found
    assert all(" s between " in one for one in found)


@pytest.mark.parametrize("maximum_deg", [60.0, 80.0])
def test_the_limit_that_a_cure_moves_is_told(maximum_deg: float) -> None:
    """Even where the pass meets a stop before: else the cure would come out of the blue."""
    pass_ = build(low_orbit(700.0, 86.0, 30.0, 1.0, 47.0), 5.0)
    assert pass_ is not None
    track, told = mount_track(pass_, Tilt()), 0
    for keyway_deg in np.arange(0.0, 360.0, 30.0).tolist():
        elevation = ElevationAxis(maximum_deg=maximum_deg)
        station = Station(
            Mount(keyway_bearing_deg=keyway_deg, elevation=elevation), (Antenna(beamwidth_deg=10.0),)
        )
        check = check_pass(pass_, track, station)
        reason = reason_for(check, track, station)
        if reason.cure is None or reason.cure.change != "elevation.maximum_deg":
            continue
        met = [one.text for one in reason.sentences if one.topic is Topic.CROSSING]
        assert any("beyond the elevation maximum" in text for text in met)
        told += check.crossing is not None and check.crossing.stop.endswith("stop")
    assert told
