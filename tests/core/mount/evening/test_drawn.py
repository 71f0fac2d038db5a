"""What is drawn of a pass, read at a moment and summed over an evening agrees with the checks."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from core.mount.dial.readings import azimuth_dial
from core.mount.evening.drawn import Kind, drawn_pass
from core.mount.evening.moment import moment_of, start_axes
from core.mount.evening.results import contact_at
from core.mount.evening.tally import tally
from core.mount.evening.way_curves import axis_rates_deg_s, way_curves
from tests.evening_plans import evening_plan, full_evening_plan
from tests.lasting import result_of

NARROW = {"mount__azimuth": {"travel_deg": 360.0}, "mount__elevation": {"maximum_deg": 90.0}}


@pytest.fixture(scope="module", params=[{}, NARROW], ids=["wide", "narrow"])
def evening(request):
    plan = full_evening_plan(30, **request.param)
    return plan, result_of(plan)


def test_paths_keep_ends_peaks_and_figures(evening):
    plan, result = evening
    for check in result.checks:
        path, pass_ = drawn_pass(check, plan.mount).thinned, check.pass_
        assert (np.diff(path.utc_s) > 0.0).all()
        assert path.utc_s[0] == pytest.approx(pass_.aos.utc_s, abs=1e-3)
        assert path.utc_s[-1] == pytest.approx(pass_.los.utc_s, abs=1e-3)
        drawn = np.interp(pass_.utc_s, path.utc_s, path.elevation_deg)
        assert np.abs(drawn - pass_.elevation_deg).max() < 0.3
        assert path.in_reach == (check.pointing is not None)
        if check.pointing is not None:
            drawn = np.interp(check.pointing.utc_s, path.utc_s, path.m_deg)
            assert np.abs(drawn - check.pointing.m_deg).max() < 1.2


def test_kinds_tell_the_verdict(evening):
    plan, result = evening
    seen = set()
    for check in result.checks:
        kinds = set(drawn_pass(check, plan.mount).kind.tolist())
        seen.add(check.verdict)
        if check.verdict == "upright":
            assert kinds == {Kind.UPRIGHT}
        elif check.verdict == "over the top":
            assert kinds == {Kind.OVER_THE_TOP}
        elif check.verdict == "split":
            assert Kind.MOVING in kinds
        elif check.verdict == "part":
            assert Kind.LET_GO in kinds
        else:
            assert kinds == {Kind.LET_GO}
    assert len(seen) >= 2


def test_runs_cover_the_path_once(evening):
    plan, result = evening
    for check in result.checks:
        path = drawn_pass(check, plan.mount)
        runs = path.runs()
        assert runs[0][1] == 0
        assert runs[-1][2] == path.utc_s.size - 1
        assert all(before[2] == after[1] for before, after in pairwise(runs))


def test_a_rest_up_to_the_end_is_drawn_to_the_last_sample(evening):
    plan, result = evening
    path = drawn_pass(result.checks[0], plan.mount)
    size = path.utc_s.size
    for first, beyond, drawn in (
        (5, 9, (5, 9)),
        (0, size, (0, size - 1)),
        (size - 4, size, (size - 4, size - 1)),
    ):
        resting = (np.arange(size) >= first) & (np.arange(size) < beyond)
        assert replace(path, resting=resting).resting_runs() == [drawn]


def test_a_pass_starts_where_the_axes_are_when_it_is_first_worked(evening):
    _plan, result = evening
    check = next(one for one in result.checks if one.pointing is not None)
    pointing = check.pointing
    worked = np.arange(pointing.utc_s.size) >= 12
    late = replace(check, pointing=replace(pointing, worked=worked))
    assert start_axes(late) == (pointing.m_deg[12], pointing.e_deg[12])
    assert start_axes(replace(check, pointing=None)) is None


def test_what_the_mask_hides_is_hidden():
    horizon = [{"azimuth_deg": a, "elevation_deg": e} for a, e in ((0, 0), (100, 0), (101, 60), (110, 0))]
    plan = evening_plan(site__horizon=horizon, site__minimum_elevation_deg=0.0)
    result = result_of(plan)
    cut = [check for check in result.checks if len(check.pass_.stretches) > 1]
    assert cut
    for check in cut:
        path = drawn_pass(check, plan.mount)
        for (_s, end), (start, _e) in zip(check.pass_.stretches, check.pass_.stretches[1:], strict=False):
            inside = (path.utc_s > end + 0.01) & (path.utc_s < start - 0.01)
            assert (path.kind[inside] == Kind.HIDDEN).all()


def test_way_curves_start_and_end_as_the_ways_say(evening):
    plan, result = evening
    for check, track in zip(result.checks, result.tracks, strict=True):
        curves = way_curves(check, track, plan.mount, plan.steering)
        assert len(curves) == len(check.ways)
        for curve in curves:
            assert curve.m_deg[0] == pytest.approx(curve.way.m_aos_deg)
            assert curve.m_deg[-1] == pytest.approx(curve.way.m_los_deg)
            assert curve.e_deg[0] == pytest.approx(curve.way.e_aos_deg)


def test_rates_have_the_ways_peak(evening):
    _plan, result = evening
    for check, track in zip(result.checks, result.tracks, strict=True):
        _times, azimuth, _elevation = axis_rates_deg_s(track)
        for way in check.ways:
            assert azimuth.max() == pytest.approx(way.peak_azimuth_rate_deg_s)


def test_rates_are_unsigned_and_add_up_to_what_the_axes_turn(evening):
    _plan, result = evening
    for track in result.tracks:
        times, azimuth, elevation = axis_rates_deg_s(track)
        assert (times > track.utc_s[:-1]).all()
        assert (times < track.utc_s[1:]).all()
        top, ends = track.elevation_deg.max(), track.elevation_deg[[0, -1]]
        steps = np.diff(track.utc_s)
        assert azimuth.min() >= 0.0
        assert float((elevation * steps).sum()) == pytest.approx(2.0 * top - ends.sum(), abs=1e-6)


def test_whole_minutes_lie_inside(evening):
    plan, result = evening
    for check in result.checks:
        minutes, pass_ = drawn_pass(check, plan.mount).whole_minutes(), check.pass_
        assert (minutes % 60.0 == 0.0).all()
        assert minutes.size == 0 or (minutes[0] >= pass_.aos.utc_s and minutes[-1] <= pass_.los.utc_s)
        assert abs(minutes.size - (pass_.los.utc_s - pass_.aos.utc_s) / 60.0) <= 1.0


def test_a_reading_is_the_pass_and_the_dial(evening):
    plan, result = evening
    for check in result.checks:
        path, peak = drawn_pass(check, plan.mount), check.pass_.peak
        if not path.covers(peak.utc_s):
            continue
        reading = moment_of(path, plan.mount, peak.utc_s)
        assert reading.elevation_deg == pytest.approx(peak.elevation_deg, abs=1e-3)
        assert reading.range_km == pytest.approx(peak.range_km, abs=0.05)
        if check.pointing is None:
            assert (reading.state, reading.dial_azimuth, reading.m_deg) == ("out of reach", "", None)
        else:
            m_deg = float(np.interp(peak.utc_s, check.pointing.utc_s, check.pointing.m_deg))
            assert reading.dial_azimuth == azimuth_dial(m_deg, plan.mount.azimuth).short


def test_a_reading_is_held_inside_the_pass(evening):
    plan, result = evening
    check = result.checks[0]
    path = drawn_pass(check, plan.mount)
    assert moment_of(path, plan.mount, 0.0).utc_s == path.utc_s[0]
    assert moment_of(path, plan.mount, 1e12).utc_s == path.utc_s[-1]


def test_the_contact_at_a_moment(evening):
    order = evening[1].order
    for place, contact in enumerate(order.contacts):
        running, following = contact_at(order, contact.start_utc_s)
        assert running is not None
        assert running.start_utc_s <= contact.start_utc_s <= running.end_utc_s
        if following is not None:
            assert following.start_utc_s > order.contacts[place].start_utc_s
    assert contact_at(order, 0.0) == (None, order.contacts[0])
    assert contact_at(order, 1e12) == (None, None)


def test_the_tally_is_the_sum_of_its_contacts(evening):
    order = evening[1].order
    sums = tally(order)
    assert sums.contacts == len(order.contacts)
    on = sum(c.check.seconds_in_all - c.check.seconds_lost for c in order.contacts)
    assert sums.seconds_on == pytest.approx(on)
    assert all(not order.contacts[place].move_before.feasible for place in sums.misfits)
    least = sum(abs(c.wrap_after_deg - c.wrap_before_deg) for c in order.contacts) / 360.0
    assert sums.turns_of_azimuth >= least
