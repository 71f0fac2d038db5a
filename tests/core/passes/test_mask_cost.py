"""What the mask costs, against the search's own cuts."""

from __future__ import annotations

import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.evaluate import evaluate
from core.passes.mask_cost import (
    MaskCost,
    cost_words,
    mask_cost,
    minutes_words,
    rest_words,
    sky_paths,
)
from core.passes.track import cut_passes
from core.place.raised_parts import RaisedPart
from core.place.site import HorizonPoint
from core.plan.storage import plan_from_text
from tests.plans import short_plan_data


def points(*pairs: tuple[float, float]) -> tuple[HorizonPoint, ...]:
    return tuple(HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in pairs)


@pytest.fixture(scope="module")
def stays():
    return evaluate(plan_from_text(json.dumps(short_plan_data()), "test")).stays


masks = st.lists(
    st.tuples(st.integers(0, 360), st.integers(-5, 40)),
    min_size=0,
    max_size=9,
    unique_by=lambda p: p[0] % 360,
).map(lambda pairs: points(*pairs))


@settings(max_examples=40, deadline=None)
@given(horizon=masks, level=st.sampled_from([0.0, 5.0, 12.0]))
def test_costs_what_the_cut_passes_lack(stays, horizon, level):
    cost = mask_cost(sky_paths(stays), horizon, level)
    bare, masked = cut_passes(stays, (), level), cut_passes(stays, horizon, level)
    seconds = [sum(end - start for p in some for start, end in p.stretches) for some in (bare, masked)]
    assert cost.seconds == pytest.approx(seconds[0], abs=1.0 * len(stays))
    assert cost.hidden_s == pytest.approx(seconds[0] - seconds[1], abs=1.0 * len(stays))
    assert sum(part.hidden_s for part in cost.parts) == pytest.approx(cost.hidden_s, abs=1e-6)


def test_a_wall_all_round_hides_every_pass(stays):
    cost = mask_cost(sky_paths(stays), points((0, 90)), 5.0)
    assert cost.hidden_s == pytest.approx(cost.seconds)
    assert cost.hidden_passes == cost.passes == len(cut_passes(stays, (), 5.0)) > 0
    assert "hidden altogether" in rest_words(cost)


def test_only_some_stays_are_counted(stays):
    paths = sky_paths(stays)
    horizon = points((0, 20))
    whole = mask_cost(paths, horizon, 0.0)
    each = [mask_cost(paths, horizon, 0.0, frozenset({index})) for index in range(paths.count)]
    assert sum(cost.hidden_s for cost in each) == pytest.approx(whole.hidden_s)
    assert sum(cost.passes for cost in each) == whole.passes


def test_no_stays_cost_nothing():
    cost = mask_cost(sky_paths(()), points((0, 20)), 5.0)
    assert (cost.passes, cost.seconds, cost.hidden_s) == (0, 0.0, 0.0)


def test_a_line_is_continuous_and_ends_where_the_stay_does(stays):
    paths = sky_paths(stays)
    for index, stay in enumerate(stays):
        azimuth, elevation = paths.line(index)
        assert azimuth.size == elevation.size
        assert np.abs(np.diff(azimuth)).max() < 180.0
        assert elevation.max() == pytest.approx(stay.peak.elevation_deg, abs=0.6)


def test_words():
    trees = RaisedPart(200.0, 240.0, 20.0, 31 * 60.0)
    barn = RaisedPart(350.0, 370.0, 9.0, 44.0)
    cost = MaskCost(12, 2, 190 * 60.0, 31 * 60.0 + 44.0, (trees, barn))
    assert cost_words(cost) == (
        "The horizon from 200 to 240 costs 31 of tonight's 190 minutes; all of it costs 32 min."
    )
    assert rest_words(cost) == "Then from 350 to 10 44 s. 2 of 12 passes are hidden altogether."
    alone = MaskCost(1, 0, 600.0, 44.0, (barn,))
    assert cost_words(alone) == "The horizon from 350 to 10 costs 44 s of tonight's 10 minutes."
    assert rest_words(alone) == ""
    assert "Nothing stands over" in cost_words(MaskCost(3, 0, 600.0, 0.0, ()))
    idle = RaisedPart(0.0, 360.0, 6.0, 0.0)
    assert (
        cost_words(MaskCost(3, 0, 600.0, 0.0, (idle,))) == "The horizon hides none of tonight's 10 minutes."
    )
    assert minutes_words(119.4) == "119 s"
    assert minutes_words(150.0) == "2 min"
