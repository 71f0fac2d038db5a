"""Which passes the picks mean, against a plain search; picks in and out."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.times import format_iso
from core.evaluate import evaluate
from core.passes.mask_cost import mask_cost, sky_paths
from core.passes.track import Pass
from core.place.site import HorizonPoint
from core.plan.document import Pick, Plan, WayChoice
from core.plan.picks import (
    match_picks,
    pick_of_pass,
    picked_indices,
    picked_stays,
    picks_with,
    picks_without,
)
from tests.plans import plan_of, short_plan_data

#: Alder and Birch of the samples: 14.81234567 revolutions a day, so half of one takes 2916.5 s.
HALF_S = 86_400.0 / 14.81234567 / 2.0


@cache
def evening() -> tuple[Plan, tuple[Pass, ...]]:
    plan = plan_of(short_plan_data())
    return plan, evaluate(plan).passes


def pick_at(norad_id: int, utc_s: float, **more) -> Pick:
    return Pick(norad_id=norad_id, near=format_iso(utc_s), **more)


def test_without_picks_nothing_is_wanted_in_particular():
    plan, passes = evening()
    assert match_picks((), plan.satellites, passes) == (None, ())
    assert picked_indices((), plan.satellites, passes) == (0, 1, 2, 3)


def test_the_stays_of_picked_passes_are_told_even_where_others_have_no_pass():
    plan = plan_of(short_plan_data())
    result = evaluate(plan)
    pass_ = result.passes[2]
    picks = (pick_at(pass_.norad_id, pass_.peak.utc_s),)
    stays = tuple(pass_.stay for pass_ in result.passes)
    assert picked_stays(picks, plan.satellites, result.passes, stays) == {2}
    assert picked_stays(picks, plan.satellites, result.passes, stays[3:]) == frozenset()
    assert picked_stays((), plan.satellites, result.passes, stays) == frozenset()


def test_a_picked_pass_that_the_mask_hides_altogether_still_has_its_stay():
    open_sky, passes = evening()
    pass_ = max(passes, key=lambda one: one.los.utc_s - one.aos.utc_s)
    picks = (pick_at(pass_.norad_id, pass_.peak.utc_s + 60.0), pick_at(70002, passes[0].peak.utc_s - 1e6))
    walled = [{"azimuth_deg": 0.0, "elevation_deg": 89.0}]
    result = evaluate(plan_of(short_plan_data(), site__horizon=walled))
    assert result.passes == ()
    stays = picked_stays(picks, open_sky.satellites, result.passes, result.stays)
    assert [result.stays[index].peak.utc_s for index in stays] == [pass_.peak.utc_s]
    cost = mask_cost(sky_paths(result.stays), [HorizonPoint(**walled[0])], 5.0, stays)
    assert cost.hidden_s == pytest.approx(pass_.los.utc_s - pass_.aos.utc_s, abs=1.0)


def test_a_pick_means_the_nearest_peak_of_its_satellite():
    plan, passes = evening()
    way = WayChoice(posture="over the top", turn=1)
    picks = (
        pick_at(70002, passes[3].peak.utc_s + 1000.0, worth=2.5, way=way),
        pick_at(70001, passes[0].peak.utc_s - 900.0),
    )
    wanted, told = match_picks(picks, plan.satellites, passes)
    assert told == ()
    assert wanted is not None
    assert [(want.index, want.worth, want.way) for want in wanted] == [
        (0, 1.0, None),
        (3, 2.5, ("over the top", 1)),
    ]
    assert picked_indices(picks, plan.satellites, passes) == (0, 3)


@pytest.mark.parametrize(("offset_s", "matches"), [(HALF_S - 0.01, True), (HALF_S + 0.01, False)])
def test_half_a_period_is_the_limit(offset_s, matches):
    plan, passes = evening()
    wanted, told = match_picks((pick_at(70001, passes[0].peak.utc_s - offset_s),), plan.satellites, passes)
    assert (wanted != ()) is matches
    assert (told == ()) is matches


def test_picks_that_match_nothing_are_told_with_name_and_date():
    plan, passes = evening()
    picks = (pick_at(70001, passes[0].peak.utc_s - 7 * 86_400.0), pick_at(99, passes[0].peak.utc_s))
    wanted, told = match_picks(picks, plan.satellites, passes)
    assert wanted == ()
    assert "Alder near 2024-10-25T17:18" in told[0]
    assert "99" in told[1]
    assert picked_indices(picks, plan.satellites, passes) == ()


def test_a_satellite_without_passes_is_told():
    plan, passes = evening()
    own = tuple(pass_ for pass_ in passes if pass_.norad_id != 70001)
    wanted, told = match_picks((pick_at(70001, passes[0].peak.utc_s),), plan.satellites, own)
    assert (wanted, len(told)) == ((), 1)


def test_two_picks_of_one_pass_are_told_and_the_first_counts():
    plan, passes = evening()
    peak = passes[1].peak.utc_s
    picks = (pick_at(70002, peak, worth=5.0), pick_at(70002, peak + 60.0, worth=9.0))
    wanted, told = match_picks(picks, plan.satellites, passes)
    assert wanted is not None
    assert [(want.index, want.worth) for want in wanted] == [(1, 5.0)]
    assert len(told) == 1
    assert "first counts" in told[0]


def test_a_pick_of_nothing_leaves_an_empty_evening_not_all_passes():
    result = evaluate(plan_of(short_plan_data(), picks=[{"norad_id": 99, "near": "2024-11-01T18:00:00Z"}]))
    assert result.order.contacts == ()
    assert len(result.order.unmatched) == 1


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from([70001, 70002, 99]), st.integers(-9000, 20_000), st.integers(0, 9)),
        max_size=6,
    )
)
def test_every_pick_is_matched_as_a_plain_search_would_or_told(wishes):
    plan, passes = evening()
    start = plan.evening.start_utc_s
    picks = tuple(pick_at(number, start + offset, worth=float(worth)) for number, offset, worth in wishes)
    expected: dict[int, float] = {}
    unmatched = 0
    for number, offset, worth in wishes:
        away = {
            index: abs(pass_.peak.utc_s - start - offset)
            for index, pass_ in enumerate(passes)
            if pass_.norad_id == number
        }
        nearest = min(away, key=lambda index, away=away: away[index], default=None)
        if nearest is None or away[nearest] > HALF_S or nearest in expected:
            unmatched += 1
        else:
            expected[nearest] = float(worth)
    wanted, told = match_picks(picks, plan.satellites, passes)
    if wishes:
        assert wanted is not None
        assert {want.index: want.worth for want in wanted} == expected
        assert [want.index for want in wanted] == sorted(expected)
    assert len(told) == unmatched


# --- picks in and out --------------------------------------------------------------------------------------


def test_every_pass_can_be_picked_and_let_go():
    plan, passes = evening()
    for index, pass_ in enumerate(passes):
        picks = picks_with((), pass_, worth=2.5)
        assert pick_of_pass(picks, plan.satellites, passes) == {index: 0}
        assert picks[0].worth == 2.5
        assert picks_without(picks, plan.satellites, passes, index) == ()


def test_picks_stand_by_time():
    plan, passes = evening()
    picks = ()
    for pass_ in reversed(passes):
        picks = picks_with(picks, pass_)
    assert [pick.near for pick in picks] == sorted(pick.near for pick in picks)
    places = pick_of_pass(picks, plan.satellites, passes)
    assert sorted(places) == list(range(len(passes)))


def test_letting_one_go_keeps_the_others_and_takes_doubles():
    plan, passes = evening()
    picks = picks_with(picks_with(picks_with((), passes[0]), passes[1]), passes[0])
    stranger = Pick(norad_id=99, near="2024-11-01T18:00:00Z")
    left = picks_without((*picks, stranger), plan.satellites, passes, 0)
    assert pick_of_pass(left, plan.satellites, passes) == {1: 0}
    assert stranger in left


def test_the_first_of_two_picks_counts():
    plan, passes = evening()
    picks = picks_with(picks_with((), passes[0], 3.0), passes[0], 1.0)
    assert pick_of_pass(picks, plan.satellites, passes) == {0: 0}
