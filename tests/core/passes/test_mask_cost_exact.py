"""What the mask costs of flights in closed form: to a hundredth of a second, hill by hill, pass by pass."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.passes.mask_cost import (
    MaskCost,
    RaisedPart,
    cost_words,
    mask_cost,
    minutes_words,
    rest_words,
    sky_paths,
)
from core.place.site import HorizonPoint
from tests.stays import arc_stay

SECONDS = 600.0


def points(*pairs: tuple[float, float]) -> tuple[HorizonPoint, ...]:
    return tuple(HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in pairs)


def over_s(peak_deg: float, level_deg: float) -> float:
    """How long a flight on a great circle is over a level: sin(elevation) = sin(peak) sin(angle flown)."""
    share = math.sin(math.radians(level_deg)) / math.sin(math.radians(peak_deg))
    return 0.0 if share >= 1.0 else SECONDS * (1.0 - 2.0 * math.asin(share) / math.pi)


def peak_for(level_deg: float, seconds: float) -> float:
    """The peak of the flight that is so long over a level."""
    angle = 0.5 * math.pi * (1.0 - seconds / SECONDS)
    return math.degrees(math.asin(math.sin(math.radians(level_deg)) / math.sin(angle)))


@given(
    peaks=st.lists(st.floats(15.0, 80.0), min_size=1, max_size=4),
    level=st.floats(1.0, 10.0),
    wall=st.floats(-5.0, 14.0),
)
def test_a_level_mask_costs_what_lies_between_it_and_the_minimum(peaks, level, wall) -> None:
    stays = [arc_stay(n, 1000.0 * n, 77.0 * n, SECONDS, peak) for n, peak in enumerate(peaks)]
    cost = mask_cost(sky_paths(stays), points((10, wall)), level)
    whole = sum(over_s(peak, level) for peak in peaks)
    assert cost.seconds == pytest.approx(whole, abs=0.02 * len(peaks))
    left = sum(over_s(peak, max(wall, level)) for peak in peaks)
    assert cost.hidden_s == pytest.approx(whole - left, abs=0.04 * len(peaks))
    assert (cost.passes, cost.hidden_passes) == (len(peaks), 0)


@pytest.mark.parametrize(("seconds", "counted"), [(0.8, 0), (4.0, 1)])
def test_less_than_a_second_over_the_minimum_is_no_pass(seconds: float, counted: int) -> None:
    stay = arc_stay(1, 0.0, 30.0, SECONDS, peak_for(10.0, seconds))
    cost = mask_cost(sky_paths([stay]), (), 10.0)
    assert (cost.passes, cost.hidden_passes) == (counted, 0)


@pytest.mark.parametrize(("seconds", "hidden"), [(0.8, 1), (4.0, 0)])
def test_less_than_a_second_over_the_mask_is_a_hidden_pass(seconds: float, hidden: int) -> None:
    stay = arc_stay(1, 0.0, 30.0, SECONDS, peak_for(20.0, seconds))
    cost = mask_cost(sky_paths([stay, arc_stay(2, 0.0, 30.0, SECONDS, 4.0)]), points((0, 20)), 5.0)
    assert (cost.passes, cost.hidden_passes) == (1, hidden)


def test_a_pass_that_is_left_out_is_neither_counted_nor_hidden() -> None:
    stays = [arc_stay(1, 0.0, 30.0, SECONDS, 15.0), arc_stay(2, 0.0, 30.0, SECONDS, 60.0)]
    paths, wall = sky_paths(stays), points((0, 20))
    low, high = (mask_cost(paths, wall, 5.0, frozenset({index})) for index in (0, 1))
    assert (low.passes, low.hidden_passes) == (1, 1)
    assert low.hidden_s == pytest.approx(low.seconds, abs=1e-9)
    assert low.seconds == pytest.approx(over_s(15.0, 5.0), abs=0.02)
    assert (high.passes, high.hidden_passes) == (1, 0)
    assert high.hidden_s == pytest.approx(over_s(60.0, 5.0) - over_s(60.0, 20.0), abs=0.04)
    assert mask_cost(paths, wall, 5.0, frozenset()).passes == 0


@settings(max_examples=6, deadline=None)
@given(turned=st.floats(0.0, 360.0), offset=st.floats(0.0, 0.3))
def test_every_hill_has_the_seconds_that_it_hides(turned: float, offset: float) -> None:
    """Two hills that meet in a valley, and thirty flights through both of them, stepped through finely.

    A step of two seconds may fall to the wrong side of the valley, as often to one as to the other.
    """
    corners = ((0.0, 0.0), (40.0, 40.0), (70.0, 20.0), (100.0, 40.0), (160.0, 0.0))
    horizon = points(*(((a + turned) % 360.0, e) for a, e in corners))
    rises_deg = turned + 76.0 + 0.3 * np.arange(30) + offset
    stays = [arc_stay(n, 0.0, rise_deg, SECONDS, 50.0) for n, rise_deg in enumerate(rises_deg)]
    cost = mask_cost(sky_paths(stays), horizon, 5.0)
    expected = np.zeros(2)
    for rise_deg in rises_deg:
        azimuth, elevation = flown(rise_deg, 50.0)
        past = np.mod(azimuth - turned, 360.0)
        mask = np.interp(past, *np.array([*corners, (360.0, 0.0)]).T)
        hidden = (elevation > 5.0) & (elevation <= mask)
        expected += 0.1 * np.array([(hidden & (past < 70.0)).sum(), (hidden & (past >= 70.0)).sum()])
    told = {round((part.from_deg - turned) % 360.0): part.hidden_s for part in cost.parts}
    assert sorted(told) == [5, 70]
    assert told[5] == pytest.approx(expected[0], abs=12.0)
    assert told[70] == pytest.approx(expected[1], abs=12.0)
    assert min(expected) > 500.0
    assert [part.hidden_s for part in cost.parts] == sorted(told.values(), reverse=True)


def flown(azimuth_deg: float, peak_deg: float) -> tuple[np.ndarray, np.ndarray]:
    """The flight of `arc_stay` every tenth of a second: azimuth and elevation."""
    angle = np.pi * np.arange(0.05, SECONDS, 0.1) / SECONDS
    peak = math.radians(peak_deg)
    along, aside, up = np.cos(angle), np.sin(angle) * math.cos(peak), np.sin(angle) * math.sin(peak)
    return azimuth_deg - np.degrees(np.arctan2(aside, along)), np.degrees(np.arcsin(up))


def test_words_of_one_pass_and_of_a_wall_all_round() -> None:
    wall = RaisedPart(12.0, 372.0, 30.0, 600.0)
    cost = MaskCost(1, 1, 600.0, 600.0, (wall,))
    assert cost_words(cost, "the night's") == "The horizon all round costs 10 of the night's 10 minutes."
    assert rest_words(cost) == "1 of 1 pass is hidden altogether."
    hills = tuple(RaisedPart(10.0 * k, 10.0 * k + 5.0, 9.0, 100.0 - k) for k in range(8))
    told = rest_words(MaskCost(3, 1, 900.0, 700.0, hills))
    assert told.startswith("Then from 10 to 15 99 s, from 20 to 25 98 s")
    assert told.endswith("from 50 to 55 95 s. 1 of 3 passes is hidden altogether.")
    assert rest_words(MaskCost(3, 0, 900.0, 700.0, hills[:1])) == ""
    slight = (*hills[:1], RaisedPart(50.0, 60.0, 9.0, 0.9))
    assert rest_words(MaskCost(3, 0, 900.0, 100.9, slight)) == ""
    assert cost_words(MaskCost(3, 0, 900.0, 100.9, slight)).endswith("costs 100 s of tonight's 15 minutes.")
    assert [minutes_words(seconds) for seconds in (0.4, 119.6, 120.0, 151.0)] == [
        "0 s",
        "120 s",
        "2 min",
        "3 min",
    ]
