"""The best arcs of a hole against the study's table, and isolated bearings beside them."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from core.mount.model.chain import fixed_offset_deg
from core.mount.seat.intervals import BestArcs, ClearCounts, Interval, IsolatedBearing, best_arcs
from core.mount.seat.outcome import outcome_from_study
from core.mount.seat.study import SeatStudy
from tests.seat_evening import seat_evening


def _near_an_end(study: SeatStudy, zeta: float) -> bool:
    ends = study.over_zeta.bearing_deg[study.over_zeta.is_end]
    return bool(np.min(np.abs((ends - zeta + 180.0) % 360.0 - 180.0)) < 1e-5)


@given(st.floats(0.0, 359.9))
def test_best_arcs_hold_exactly_the_bearings_with_fewest_not_clear(bearing: float) -> None:
    plan, _result, study = seat_evening()
    hole = study.holes[1]
    zeta = bearing + fixed_offset_deg(plan.mount, hole.hole)
    if _near_an_end(study, zeta):
        return
    arcs = best_arcs(hole.intervals, hole.isolated)
    inside = any(start <= bearing <= end for start, end in arcs.spans)
    assert inside == (outcome_from_study(study, zeta).not_clear == arcs.not_clear)
    assert all(0.0 <= start < end <= 360.0 for start, end in arcs.spans)


def test_an_arc_over_north_is_cut_there_and_one_up_to_it_is_not() -> None:
    best, worse = ClearCounts(3, 0, ()), ClearCounts(2, 0, (1,))
    over = (Interval(20.0, 350.0, worse), Interval(350.0, 380.0, best))
    assert best_arcs(over, ()).spans == ((0.0, 20.0), (350.0, 360.0))
    up_to = (Interval(0.0, 350.0, worse), Interval(350.0, 360.0, best))
    assert best_arcs(up_to, ()).spans == ((350.0, 360.0),)
    around = (Interval(90.0, 450.0, best),)
    assert best_arcs(around, ()).spans == ((0.0, 360.0),)


def test_isolated_bearings_count_where_they_are_as_good_as_the_arcs() -> None:
    _plan, _result, study = seat_evening()
    hole = study.hole_in_use
    plain = best_arcs(hole.intervals, hole.isolated)
    as_good, worse = (ClearCounts(0, 0, tuple(range(plain.not_clear + more))) for more in (0, 1))
    isolated = (IsolatedBearing(12.0, as_good), IsolatedBearing(99.0, worse))
    assert best_arcs(hole.intervals, isolated) == BestArcs(plain.not_clear, plain.spans, (12.0,))
