"""Wishes: how far a bearing falls short, by the plainest reckoning, and where that bends."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.stand.answer import stand_tipping
from core.stand.model import Mass
from core.wishes.wish import GRANTED, CableSide, Lee, LegDownhill, Wish, cost_s
from tests.core.stand.stands import angles, ring, worked_stand

legs = st.lists(angles, min_size=1, max_size=5).map(tuple)


def wishes(legs_deg: tuple[float, ...], bearing_deg: float) -> list[Wish]:
    stand = worked_stand(legs=ring(3, 700.0, legs_deg[0]))
    return [
        LegDownhill(100.0, legs_deg, bearing_deg),
        Lee(100.0, stand_tipping(stand, None), bearing_deg, 1.5),
        CableSide(100.0, legs_deg[0], bearing_deg),
    ]


@given(legs, angles, st.floats(0.0, 1.0))
def test_between_bends_no_cost_has_a_valley(legs_deg, bearing_deg, share):
    for wish in wishes(legs_deg, bearing_deg):
        bends = np.unique(np.concatenate([wish.bends_deg(), [0.0, 360.0]]))
        inside = bends[:-1] + share * np.diff(bends)
        cost = cost_s(wish, bends)
        line = cost[:-1] + share * np.diff(cost)
        assert (cost_s(wish, inside) >= line - 1e-6).all()


@given(legs, angles)
def test_a_shortfall_is_0_at_best_and_1_at_worst(legs_deg, bearing_deg):
    for wish in wishes(legs_deg, bearing_deg):
        short = wish.shortfall(np.concatenate([wish.bends_deg(), np.arange(0.0, 360.0, 0.5)]))
        assert short.min() == pytest.approx(0.0, abs=1e-6)
        assert short.max() == pytest.approx(1.0, abs=1e-6)


@given(legs, angles, angles)
def test_a_leg_downhill_by_walking_round(legs_deg, downhill_deg, keyway_deg):
    wish = LegDownhill(1.0, legs_deg, downhill_deg)
    off = min(
        math.degrees(math.acos(max(-1.0, min(1.0, math.cos(math.radians(keyway_deg + leg - downhill_deg))))))
        for leg in legs_deg
    )
    assert float(wish.off_deg(np.array([keyway_deg]))[0]) == pytest.approx(off, abs=1e-5)


def test_what_is_granted_costs_nothing():
    leg = LegDownhill(90.0, (0.0, 120.0, 240.0), 50.0)
    cost = cost_s(leg, np.array([50.0, 65.0, 35.0, 80.0, 110.0]))
    assert cost == pytest.approx([0.0, 0.0, 0.0, 90.0 * (0.5 - GRANTED) / 0.75, 90.0])
    cable = CableSide(90.0, 30.0, 100.0)
    assert cost_s(cable, np.array([70.0, 115.0, 250.0])) == pytest.approx([0.0, 0.0, 90.0])


def test_the_lee_is_where_the_wind_blows_toward_a_leg():
    lee = Lee(90.0, stand_tipping(worked_stand(), None), 300.0, 1.5)  # blows toward 120
    assert lee.shortfall(np.array([0.0, 120.0, 60.0])) == pytest.approx([0.0, 0.0, 1.0])
    # 27.4 kg at R/2 against 0.984 m3: 12.9 m/s in gusts at the weakest, the root of two more toward a leg.
    assert lee.words(0.0) == "12.2 m/s mean from 300 deg tips it (other ways 8.6 to 12.2)."


def test_a_stand_as_strong_every_way_or_falling_by_itself_has_its_lee_anywhere():
    falls = worked_stand(masses=(Mass(mass_kg=9.0, height_mm=0.0, radius_mm=800.0),))
    lee = Lee(90.0, stand_tipping(falls, None), 300.0, 1.5)
    assert lee.shortfall(np.arange(0.0, 360.0, 10.0)).max() == 0.0
    assert lee.bends_deg().size
