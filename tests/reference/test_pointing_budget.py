"""Worked vectors of the trade notes on pointing, [calc]: common practice, no source."""

from __future__ import annotations

import math

import numpy as np
import pytest

from core.setup.budget.combine import lobe_loss_db, on_sky, root_sum_square, worst_case
from core.setup.budget.terms.term import FIXED, Term, alone
from core.setup.budget.worked import WorkedPass, moments_of
from tests.core.setup.budget.made import station, worked
from tests.oracles.pass_maker import Recipe, low_orbit

#: The notes' budget, degrees on the sky.
NOTED = {
    "north": 1.0,
    "play": 0.3,
    "readout": 3.0,
    "backlash": 1.0,
    "tilt": 0.7,
    "boom": 1.5,
    "elements": 0.5,
    "time": 0.4,
    "step lag": 4.0,
}
BEAM_DEG = 31.0


def test_the_worked_budget_by_figures():
    rss, worst = root_sum_square(list(NOTED.values())), worst_case(list(NOTED.values()))
    assert round(rss, 1) == 5.5
    assert round(worst, 1) == 12.4
    assert round(lobe_loss_db(rss, BEAM_DEG), 1) == 0.4
    assert round(lobe_loss_db(worst, BEAM_DEG), 1) == 1.9


def test_the_worked_budget_laid_on_a_pass():
    """The notes take one figure for deviation and bound: terms of known size, whole on the sky."""
    terms = tuple(
        Term(name, FIXED, "known", (alone("elevation", size),), size, "deg", "[calc]", "")
        for name, size in NOTED.items()
    )
    moments = moments_of([worked(50.0)], station().mount.tilt)
    sky = on_sky(terms, moments, None)
    assert round(math.sqrt(float(sky.evening.sum())), 1) == 5.5
    assert round(float(sky.worst_deg[0]), 1) == 12.4
    # "Readout and step lag rule; machining does not."
    ruling = [terms[place].name for place in np.argsort(-sky.evening)[:2]]
    assert ruling == ["step lag", "readout"]


def test_along_the_track_at_culmination():
    """5 deg at culmination take 4.6 s at 400 km and 9.4 s at 800 km."""
    for height_km, seconds in ((400.0, 4.6), (800.0, 9.4)):
        pass_ = Recipe(low_orbit(height_km, 89.0, 0.0, 1.0, 47.0)).pass_
        one = WorkedPass(pass_, "upright", pass_.peak.utc_s - 1.0, pass_.peak.utc_s + 1.0)
        moments = moments_of([one], station().mount.tilt)
        rate = float(np.hypot(moments.across_deg_s, moments.up_deg_s).max())
        assert 5.0 / rate == pytest.approx(seconds, rel=0.06)
