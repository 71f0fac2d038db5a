"""Sets of holes on given evenings, against asking every hole at bearings a twentieth of a degree apart."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.seat.season.placed import placed
from tests.core.mount.seat.season.seasons import drawn_season, season_of

offsets_lists = st.lists(st.floats(-360.0, 360.0), min_size=1, max_size=4).map(np.array)


@given(seed=st.integers(0, 40), offsets=offsets_lists, zero=st.floats(-360.0, 360.0))
def test_round_the_circle_is_the_mean_of_the_least(seed, offsets, zero):
    season = drawn_season(seed, evenings=3, arcs=4)
    told = placed(season, offsets, zero, None)
    count = 7200
    table = season.shares_round(count)
    steps = np.round((offsets + zero) * count / 360.0).astype(int)
    least = np.min([np.roll(table, -step, axis=1) for step in steps], axis=0)
    assert told.share.tolist() == pytest.approx(least.mean(axis=1).tolist(), abs=0.01)
    assert told.free.tolist() == pytest.approx((least == 0.0).mean(axis=1).tolist(), abs=0.01)


def test_one_arc_and_two_holes_by_hand():
    """One of two passes is lost over 90 deg: through two holes 60 apart over the 30 deg common to both."""
    season = season_of((2, [(300.0, 90.0)]), (1, []), (4, [(0.0, 360.0)]))
    told = placed(season, np.array([10.0, 70.0]), 33.0, None)
    assert told.share.tolist() == pytest.approx([0.5 * 30.0 / 360.0, 0.0, 0.25])
    assert told.free.tolist() == pytest.approx([330.0 / 360.0, 1.0, 0.0])
    assert told.mean_share == pytest.approx((0.5 / 12.0 + 0.25) / 3.0)
    assert told.free_evenings == pytest.approx(1.0 + 11.0 / 12.0)


@given(
    seed=st.integers(0, 40),
    offsets=offsets_lists,
    keyways=st.lists(st.floats(0.0, 360.0), min_size=1, max_size=5),
)
def test_given_keyways_are_asked_one_by_one(seed, offsets, keyways):
    season = drawn_season(seed, evenings=4, arcs=3)
    told = placed(season, offsets, 12.0, np.array(keyways))
    least = np.array([[min_at(season, 12.0 + keyway, offsets, e) for keyway in keyways] for e in range(4)])
    assert told.share.tolist() == pytest.approx(least.mean(axis=1).tolist())
    assert told.free.tolist() == pytest.approx((least == 0.0).mean(axis=1).tolist())


def min_at(season, zeta, offsets, evening):
    return min(float(season.shares_at(zeta + offset)[evening]) for offset in offsets)
