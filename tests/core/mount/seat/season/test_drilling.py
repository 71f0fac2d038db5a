"""Where to drill, against trying every set of holes on a ring of candidates."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from core.base.errors import Cancelled
from core.mount.seat.season.drilling import Drilling
from core.mount.seat.season.placed import placed
from tests.core.mount.seat.season.seasons import drawn_season, season_of


def apart_deg(offsets):
    return min(
        (abs((one - other + 180.0) % 360.0 - 180.0) for one, other in combinations(offsets, 2)), default=360.0
    )


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("keyways", [None, (30.0, 150.0, 200.0)])
def test_no_set_on_a_ring_does_better(seed, keyways):
    """Every set of two and of three holes at multiples of 15 deg, asked through another door."""
    season = drawn_season(seed, evenings=8, arcs=5)
    given = None if keyways is None else np.array(keyways)
    drilling = Drilling(season, 5.0, given, 10.0, 20.0)
    for count, step in ((1, 15), (2, 15), (3, 30)):
        found = drilling.offsets_deg(count)
        assert len(found) == count
        assert apart_deg(found) >= 20.0
        ring = 10.0 + np.arange(0.0, 360.0, step)
        sets = [np.array(one) for one in combinations(ring, count) if apart_deg(one) >= 20.0]
        if keyways is None:
            sets = [one for one in sets if one[0] == 10.0]
        best = min(placed(season, one, 5.0, given).mean_share for one in sets)
        assert placed(season, found, 5.0, given).mean_share <= best + 0.01


@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("keyways", [None, np.array([10.0, 100.0])])
def test_never_worse_than_evenly_spaced_and_never_too_close(count, keyways):
    season = drawn_season(9, evenings=10)
    drilling = Drilling(season, 0.0, keyways, 0.0, 70.0)
    found, evenly = drilling.offsets_deg(count), drilling.evenly_spaced_deg(count)
    assert apart_deg(found) >= 70.0
    assert apart_deg(evenly) == pytest.approx(360.0 / count)
    shares = [placed(season, offsets, 0.0, keyways).mean_share for offsets in (found, evenly)]
    assert shares[0] <= shares[1] + 0.003


def test_where_every_bearing_is_alike_the_first_hole_stays_where_there_is_one():
    season = drawn_season(2, evenings=6)
    found = Drilling(season, 0.0, None, -37.5, 20.0).offsets_deg(3)
    assert found[0] == -37.5
    drilled = np.mod(-found + found[0], 360.0)
    assert drilled.tolist() == sorted(drilled), "clockwise from the first"


def test_a_given_keyway_gets_the_one_hole_that_loses_nothing():
    """One pass is clear over 20 deg of zeta alone, about 100; the keyway is at 30."""
    season = season_of((1, [(110.0, 340.0)]))
    found = Drilling(season, 0.0, np.array([30.0]), 0.0, 20.0).offsets_deg(1)
    assert 60.0 <= found[0] <= 80.0
    assert placed(season, found, 0.0, np.array([30.0])).mean_share == 0.0


def test_an_end_asked_for_ends_it():
    drilling = Drilling(drawn_season(1, evenings=3), 0.0, None, 0.0, 20.0)
    with pytest.raises(Cancelled):
        drilling.offsets_deg(2, lambda *_: False)


def test_of_sets_that_are_as_good_the_wider_spaced_is_taken():
    """Nothing is lost anywhere: only the spacing is left to choose by."""
    drilling = Drilling(season_of((3, []), (2, [])), 0.0, None, 0.0, 20.0)
    for count in (2, 3, 4):
        assert apart_deg(drilling.offsets_deg(count)) == pytest.approx(360.0 / count)
