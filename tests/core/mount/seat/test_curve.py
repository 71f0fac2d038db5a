"""The curve as it is drawn: its steps cover the circle once and say what the study's table says."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.model.chain import fixed_offset_deg
from core.mount.seat.curve import CurveSteps, curve_steps
from core.mount.seat.outcome import outcome_from_study
from tests.seat_evening import seat_evening


@cache
def steps(hole: int) -> CurveSteps:
    """The drawn curve of one hole."""
    return curve_steps(seat_evening()[2].holes[hole].curve)


@settings(deadline=None)
@given(st.floats(0.0, 359.9), st.integers(0, 1))
def test_the_drawn_curve_says_what_the_look_up_says(bearing: float, hole: int) -> None:
    plan, _result, study = seat_evening()
    shift = fixed_offset_deg(plan.mount, study.holes[hole].hole)
    drawn = steps(hole)
    k = drawn.at(bearing)
    assert drawn.from_deg[k] <= bearing <= drawn.to_deg[k]
    assert drawn.to_deg[k] - drawn.from_deg[k] < 1.0 + 1e-9
    if k in {0, drawn.from_deg.size - 1}:
        return  # north lies inside a piece: its middle is elsewhere
    outcome = outcome_from_study(study, (drawn.from_deg[k] + drawn.to_deg[k]) / 2.0 + shift)
    assert drawn.lost_s[k] == pytest.approx(outcome.lost_s)
    words = [here.verdict for here in outcome.passes]
    assert (drawn.splits[k], drawn.parts[k], drawn.out_of_reach[k]) == (
        words.count("split"),
        words.count("part"),
        words.count("out of reach"),
    )


def test_the_drawn_curve_covers_the_circle_once() -> None:
    for hole in (0, 1):
        drawn = steps(hole)
        assert drawn.from_deg[0] == 0.0
        assert drawn.to_deg[-1] == 360.0
        assert (drawn.from_deg[1:] == drawn.to_deg[:-1]).all()
        assert (drawn.to_deg > drawn.from_deg).all()
