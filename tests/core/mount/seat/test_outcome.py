"""How passes fare at a seat: look-ups, checks and the drawn curve must tell the same."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.evaluate import evaluate
from core.mount.model.chain import fixed_offset_deg, zeta_deg
from core.mount.model.station import Mount
from core.mount.seat.outcome import (
    BestArcs,
    CurvePieces,
    Standing,
    best_arcs,
    best_bearing_deg,
    checked,
    curve_pieces,
    looked_up,
    pass_id,
    to_decide,
)
from core.mount.seat.study import HoleStudy, LonePoint, SeatStudy, seated
from tests.seat_evening import seat_evening, seat_plan

bearings = st.floats(0.0, 359.9)


@cache
def pieces(hole: int) -> CurvePieces:
    """The drawn curve of one hole."""
    plan, _result, study = seat_evening()
    return curve_pieces(study, plan.mount, study.holes[hole].hole)


def _near_an_end(study: SeatStudy, zeta: float) -> bool:
    ends = study.samples.zeta_deg[study.samples.is_end]
    return bool(np.min(np.abs((ends - zeta + 180.0) % 360.0 - 180.0)) < 1e-5)


def test_the_checks_of_a_seat_and_the_look_up_agree_on_what_is_clear() -> None:
    for keyway in (20.0, 60.0, 193.0, 290.0):
        plan = seat_plan(mount__keyway_bearing_deg=keyway)
        _plan, _result, study = seat_evening()
        result = evaluate(plan)
        exact = checked(result.passes, {pass_id(check.pass_): check for check in result.checks})
        assert exact is not None
        assert exact.exact
        quick = looked_up(study, zeta_deg(plan.mount))
        assert not quick.exact
        assert [here.clear for here in quick.passes] == [here.clear for here in exact.passes]
        assert quick.not_clear == exact.not_clear


def test_checks_that_are_not_all_there_give_no_standing() -> None:
    _plan, result, study = seat_evening()
    some = {pass_id(check.pass_): check for check in result.checks[1:]}
    assert checked(study.passes, some) is None


def test_what_is_lost_comes_before_what_rests() -> None:
    _plan, _result, study = seat_evening()
    for zeta in np.arange(0.0, 360.0, 5.0):
        standing = looked_up(study, float(zeta))
        loses = [not (here.held and here.lost_s < 0.5) for here in standing.troubled]
        assert loses == sorted(loses, reverse=True)
        shown = {here.index for here in standing.troubled}
        assert all(
            here.clear and here.held and not here.resting
            for here in standing.passes
            if here.index not in shown
        )


@given(bearings, st.integers(0, 1))
def test_the_drawn_curve_says_what_the_look_up_says(bearing: float, hole: int) -> None:
    plan, _result, study = seat_evening()
    shift = fixed_offset_deg(plan.mount, study.holes[hole].hole)
    drawn = pieces(hole)
    k = drawn.at(bearing)
    assert drawn.from_deg[k] <= bearing <= drawn.to_deg[k]
    assert drawn.to_deg[k] - drawn.from_deg[k] < 1.0 + 1e-9
    if k in {0, drawn.from_deg.size - 1}:
        return  # north lies inside a piece: its middle is elsewhere
    standing = looked_up(study, (drawn.from_deg[k] + drawn.to_deg[k]) / 2.0 + shift)
    assert drawn.lost_s[k] == pytest.approx(standing.lost_s)
    words = [here.word for here in standing.passes]
    assert (drawn.splits[k], drawn.parts[k], drawn.out_of_reach[k]) == (
        words.count("split"),
        words.count("part"),
        words.count("out of reach"),
    )


def test_the_drawn_curve_covers_the_circle_once() -> None:
    for hole in (0, 1):
        drawn = pieces(hole)
        assert drawn.from_deg[0] == 0.0
        assert drawn.to_deg[-1] == 360.0
        assert (drawn.from_deg[1:] == drawn.to_deg[:-1]).all()
        assert (drawn.to_deg > drawn.from_deg).all()


@given(bearings)
def test_best_arcs_hold_exactly_the_bearings_with_fewest_not_clear(bearing: float) -> None:
    plan, _result, study = seat_evening()
    hole = study.holes[1]
    zeta = bearing + fixed_offset_deg(plan.mount, hole.hole)
    if _near_an_end(study, zeta):
        return
    arcs = best_arcs(hole)
    inside = any(start <= bearing <= end for start, end in arcs.spans)
    assert inside == (looked_up(study, zeta).not_clear == arcs.not_clear)
    assert all(0.0 <= start < end <= 360.0 for start, end in arcs.spans)


def test_isolated_bearings_count_where_they_are_as_good_as_the_arcs() -> None:
    _plan, _result, study = seat_evening()
    hole = study.hole_in_use
    least = best_arcs(hole).not_clear
    points = (LonePoint(12.0, 0, 0, least, ()), LonePoint(99.0, 0, 0, least + 1, ()))
    with_points = HoleStudy(hole.hole, hole.intervals, points, hole.curve, hole.best)
    assert best_arcs(with_points) == BestArcs(least, best_arcs(hole).spans, (12.0,))


def test_the_best_bearing_is_a_tenth_that_is_as_good() -> None:
    plan, _result, study = seat_evening()
    rounded = best_bearing_deg(study, plan.mount, study.best)
    assert rounded == pytest.approx(study.best.keyway_bearing_deg, abs=0.1)
    assert rounded == round(rounded, 1)
    exact, near = looked_up(study, study.best.keyway_bearing_deg), looked_up(study, rounded)
    assert near.not_clear <= exact.not_clear
    assert near.lost_s <= exact.lost_s + 0.5


def test_there_is_something_to_decide_only_where_the_best_has_fewer() -> None:
    plan, _result, study = seat_evening()
    assert to_decide(study, plan.mount, zeta_deg(plan.mount)) == _standing(study, plan.mount).not_clear > 0
    best = seated(plan.mount, best_bearing_deg(study, plan.mount, study.best), study.best.index_hole)
    assert to_decide(study, best, zeta_deg(best)) == 0


def _standing(study: SeatStudy, mount: Mount) -> Standing:
    return looked_up(study, zeta_deg(mount))
