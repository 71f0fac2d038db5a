"""A keyway as found: how far to turn, which side, and whether tonight tolerates it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.edits import changed
from core.mount.model.station import Mount
from core.mount.seat.choice import BestSeat
from core.setup.placing import enough_sentence, placing, turn_figure, turn_sentence, within_sentence

BEARINGS = st.floats(0.0, 359.99)


def mount(keyway_deg: float, hole: str = "A") -> Mount:
    holes = [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": 90.0}]
    return Mount.model_validate({"keyway_bearing_deg": keyway_deg, "index_holes": holes, "index_hole": hole})


def best(
    at_deg: float, minus: float = -9.0, plus: float = 14.0, hole: str = "A", know: float = 2.04
) -> BestSeat:
    return BestSeat(at_deg, hole, (minus, plus), know, 0.0, 0, 0, 0)


@given(BEARINGS, BEARINGS)
def test_turned_so_far_it_stands_as_planned(found_deg, planned_deg):
    one = placing(found_deg, mount(planned_deg), None)
    assert -180.0 <= one.turn_deg <= 180.0
    off = (found_deg + one.turn_deg - planned_deg + 180.0) % 360.0 - 180.0
    assert off == pytest.approx(0.0, abs=1e-9)


@given(BEARINGS, BEARINGS, st.floats(0.1, 170.0), st.floats(0.1, 170.0))
def test_turned_back_it_is_just_within(found_deg, best_deg, minus, plus):
    seat = best(best_deg, -minus, plus)
    one = placing(found_deg, mount(0.0), seat)
    clockwise = (found_deg - best_deg) % 360.0
    assert one.within == (clockwise <= plus + 1e-6 or clockwise >= 360.0 - minus - 1e-6)
    if not one.within:
        again = placing((found_deg + one.back_deg) % 360.0, mount(0.0), seat)
        assert again.within or abs(again.back_deg) < 1e-6


def test_which_side_is_told():
    one = placing(40.0, mount(43.2), best(41.0))
    assert turn_figure(one) == "3.2 deg clockwise"
    assert "43.2 true" in turn_sentence(one)
    assert turn_figure(placing(46.4, mount(43.2), None)) == "3.2 deg counter-clockwise"
    assert turn_figure(placing(43.2, mount(43.2), None)) == "0.0 deg: it stands"


def test_tolerances_are_told_to_the_safe_side():
    here = mount(43.2)
    seat = best(50.0)
    inside = within_sentence(placing(42.0, here, seat), here, seat)
    assert inside.startswith("Good enough tonight: 8.0 deg counter-clockwise")
    assert "Know it to 2.0 deg" in inside
    outside = within_sentence(placing(40.0, here, seat), here, seat)
    assert outside.startswith("Too far tonight: 10.0 deg counter-clockwise")
    assert "Turn at least 1.0 deg clockwise" in outside


def test_what_is_not_known_is_said():
    here = mount(0.0)
    assert "not known yet" in within_sentence(placing(0.0, here, None), here, None)
    other = best(0.0, hole="B")
    assert "hole B" in within_sentence(placing(0.0, here, other), here, other)
    assert placing(0.0, changed(here, "index_hole", "B"), other).within is True


def test_a_tolerance_all_round_is_always_kept():
    assert placing(200.0, mount(0.0), best(0.0, -180.0, 180.0)).within is True
    assert placing(190.0, mount(0.0), best(0.0, -10.0, 200.0)).within is True


def test_two_sigma_must_lie_within_what_is_needed():
    assert "good enough, 2.0 deg" in enough_sentence(1.0, "the Moon", best(0.0))
    assert "not good enough" in enough_sentence(1.1, "the Moon", best(0.0))
    assert enough_sentence(None, "", best(0.0)) == "" == enough_sentence(1.0, "", None)
