"""What to improve first is told truly: no other halving, asked for anew, lowers the total more."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.setup.along_track import AT_EPOCH_S, along_track_s
from core.setup.budget.answer import PointingBudget
from core.setup.budget.budget import pointing_budget
from core.setup.budget.combine import improve_first
from core.setup.model import PointingErrors
from tests.core.setup.budget.made import station, worked

FIELDS = {
    "north": "north_deg",
    "keyway play": "keyway_play_deg",
    "index play": "index_play_deg",
    "elevation zero": "elevation_zero_deg",
    "lean": "lean_deg",
    "backlash": "backlash_deg",
    "wind": "wind_deg",
    "boom": "boom_deg",
    "clock": "clock_s",
    "step lag": "hand_step_deg",
}


class Inputs(NamedTuple):
    """All that sizes a term."""

    errors: PointingErrors
    skew_deg: float
    deadband_deg: float
    division_deg: float
    ages_days: tuple[float, float]

    def budget(self) -> PointingBudget:
        axis = {"deadband_deg": self.deadband_deg, "dial_division_deg": self.division_deg}
        return pointing_budget(
            station(self.skew_deg, azimuth=axis, elevation=axis),
            [
                worked(35.0, "upright", 1, age_days=self.ages_days[0]),
                worked(75.0, "over the top", 2, age_days=self.ages_days[1]),
            ],
            self.errors,
            draws=2,
        )

    def halved(self, name: str) -> Inputs:
        if name in FIELDS:
            half = {FIELDS[name]: getattr(self.errors, FIELDS[name]) / 2.0}
            return self._replace(errors=self.errors.model_copy(update=half))
        if name == "element age":
            return self._replace(ages_days=tuple(age_of(along_track_s(age) / 2.0) for age in self.ages_days))
        field = {
            "skew": "skew_deg",
            "deadband": "deadband_deg",
            "dial readout": "division_deg",
        }[name]
        return self._replace(**{field: getattr(self, field) / 2.0})


def age_of(seconds: float) -> float:
    """The age at which elements err by so much, by halving."""
    low, high = 0.0, 400.0
    for _ in range(80):
        middle = (low + high) / 2.0
        low, high = (middle, high) if along_track_s(middle) < seconds else (low, middle)
    return high


@st.composite
def inputs(draw: st.DrawFn) -> Inputs:
    def size(most: float) -> float:
        return draw(st.sampled_from([0.0, 0.1, 0.3, 1.0])) * draw(st.floats(0.3, 1.0)) * most

    fields = {field: size(6.0) for field in FIELDS.values()}
    ages = draw(st.floats(age_of(2.0 * AT_EPOCH_S), 40.0)), draw(st.floats(age_of(2.0 * AT_EPOCH_S), 40.0))
    return Inputs(
        PointingErrors.model_validate(fields),
        size(6.0),
        size(6.0),
        draw(st.floats(0.1, 8.0)),
        ages,
    )


def totals(budget: PointingBudget) -> np.ndarray:
    """Of each pass, then of the evening."""
    now = budget.now
    return np.array([one.figures.rss_deg for one in (*now.passes, *now.antennas)])


@settings(max_examples=4)
@given(inputs())
def test_no_other_halving_lowers_the_total_more(given: Inputs):
    budget = given.budget()
    told = [one.figures for one in (*budget.now.passes, *budget.now.antennas)]
    names = [term.name for term in told[0].terms]
    table = dict(zip(names, (totals(given.halved(name).budget()) for name in names), strict=True))
    for place, figures in enumerate(told):
        least = min(column[place] for column in table.values())
        assert table[figures.improve_first][place] == pytest.approx(least, rel=1e-7)
        assert least < figures.rss_deg
        for other in figures.ties:
            assert table[other][place] == pytest.approx(least, rel=1e-7)


def test_terms_that_do_as_much_are_all_named():
    halved = np.array([9.0, 7.0, 8.0, 7.0])
    assert improve_first(("a", "b", "c", "d"), halved, 10.0) == ("b", "d")


def test_where_no_halving_lowers_it_none_is_named():
    assert improve_first(("a", "b"), np.array([0.0, 0.0]), 0.0) == ()
    assert improve_first(("a", "b"), np.array([4.0, 4.0]), 4.0) == ()


def test_a_step_longer_than_the_way_is_not_what_to_improve():
    """Half of 90 deg is still more than the whole arc: a shorter step changes nothing."""
    whole = worked(68.0)
    short = worked(68.0, end_utc_s=whole.pass_.aos.utc_s + 10.0)
    errors = PointingErrors.model_validate(
        dict.fromkeys(PointingErrors.model_fields, 0.0) | {"hand_step_deg": 90.0, "wind_deg": 0.1}
    )
    told = pointing_budget(station(), [short], errors, draws=2).now.passes[0].figures
    sizes: dict[str, Any] = {term.name: term.deg for term in told.terms}
    assert max(sizes, key=sizes.__getitem__) == "step lag"
    assert told.improve_first == "wind"
