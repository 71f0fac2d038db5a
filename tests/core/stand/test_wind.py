"""The wind reckoned with, and go, watch or take down."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from core.base.errors import ValueRangeError
from core.stand.answer import stand_answer
from core.stand.model import Forecast, Stand
from core.stand.wind import Wind, advice_of, limits_of, wind_of
from tests.core.stand.stands import worked_stand

RANK = {"go": 0, "watch": 1, "take down": 2}


def test_either_figure_gives_the_other_by_the_gust_factor():
    stand = Stand(gust_factor=1.6)
    assert wind_of(stand, mean_m_s=5.0) == Wind(5.0, 8.0)
    assert wind_of(stand, gust_m_s=8.0) == Wind(5.0, 8.0)
    assert wind_of(stand, 5.0, 12.0) == Wind(5.0, 12.0)


def test_what_is_asked_goes_before_the_plans_forecast_and_that_before_force_4():
    stand = Stand(forecast=Forecast(mean_m_s=3.0, gust_m_s=9.0))
    assert wind_of(stand) == Wind(3.0, 9.0)
    assert wind_of(stand, gust_m_s=6.0) == Wind(4.0, 6.0)
    untyped = wind_of(Stand())
    assert (untyped.mean_m_s, untyped.typed) == (7.9, False)
    assert untyped.gust_m_s == pytest.approx(11.85)


@pytest.mark.parametrize(
    "asked", [(-1.0, None), (None, math.nan), (math.inf, None), (None, 100.1), (9.0, 8.0)]
)
def test_no_such_wind(asked):
    with pytest.raises(ValueRangeError):
        wind_of(Stand(), *asked)


@pytest.mark.parametrize("told", [{}, {"mean_m_s": 9.0, "gust_m_s": 8.0}, {"mean_m_s": -1.0}])
def test_no_such_forecast(told):
    with pytest.raises(ValidationError):
        Forecast(**told)


@pytest.mark.parametrize(
    ("mean", "gust", "advice"),
    [
        (5.49, 7.9, "go"),
        (5.5, 7.9, "watch"),  # force 4
        (3.0, 8.0, "watch"),  # eight tenths of the gust to stop at
        (3.0, 9.99, "watch"),
        (3.0, 10.0, "take down"),
        (7.99, 9.0, "watch"),
        (8.0, 9.0, "take down"),  # force 5
    ],
)
def test_go_watch_or_take_down(mean, gust, advice):
    assert advice_of(Wind(mean, gust), limits_of(10.0 * math.sqrt(1.5), 1.5)) == advice


@given(st.floats(0.0, 30.0), st.floats(0.0, 30.0), st.floats(1.0, 2.5))
def test_more_wind_is_never_told_better(one, other, factor):
    low, high = sorted((one, other))
    answers = [stand_answer(worked_stand(gust_factor=factor), None, 0.0, mean_m_s=v) for v in (low, high)]
    assert RANK[answers[0].advice] <= RANK[answers[1].advice]
    assert answers[0].ballast_kg <= answers[1].ballast_kg


def test_it_stops_at_what_comes_first_tipping_or_sliding():
    tips = stand_answer(worked_stand(friction=2.0), None, 0.0)
    slides = stand_answer(worked_stand(friction=0.05), None, 0.0)
    weakest = tips.tip_mean_m_s(tips.weakest_deg) * tips.stand.gust_factor
    assert tips.limits.stop_gust_m_s == pytest.approx(weakest / math.sqrt(1.5))
    assert slides.limits.stop_gust_m_s == pytest.approx(slides.slide_gust_m_s / math.sqrt(1.5))
    assert slides.limits.stop_gust_m_s < tips.limits.stop_gust_m_s
