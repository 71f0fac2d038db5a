"""What an evening is worth, and that it is chosen by that."""

from __future__ import annotations

import pytest

from core.mount.evening.order.parts import counted_s
from core.mount.evening.order.rules import EveningRules, Wanted
from core.mount.evening.question import choose
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, Mount, Station
from core.passes.track import Pass
from tests.core.mount.evening.order.evenings import a_pass, order_of, question_of, random_evening
from tests.oracles.evening_exhaustive import best_evening

STATION = Station(
    Mount(azimuth=AzimuthAxis(travel_deg=450.0), elevation=ElevationAxis(maximum_deg=180.0)), (Antenna(),)
)


def test_seconds_beyond_enough_count_a_tenth() -> None:
    assert [counted_s(s, 900.0) for s in (0.0, 900.0, 1000.0)] == [0.0, 900.0, pytest.approx(910.0)]


def all_at_once() -> tuple[Pass, ...]:
    """A pass of an hour and twenty minutes, and four short ones within it."""
    long_ = a_pass(1, 0.0, 60.0, 4800.0)
    return long_, *(a_pass(2 + k, 300.0 + 1100.0 * k, 200.0 + 20.0 * k, 500.0) for k in range(4))


def test_no_evening_is_spent_on_one_long_pass_unless_its_worth_says_so() -> None:
    order = order_of(question_of(all_at_once(), STATION))
    assert {2, 3, 4, 5} <= {contact.check.pass_.norad_id for contact in order.contacts}
    picks = tuple(Wanted(i, 30.0 if i == 0 else 1.0) for i in range(5))
    dear = order_of(question_of(all_at_once(), STATION, picks=picks))
    assert [contact.check.pass_.norad_id for contact in dear.contacts] == [1]
    endless = EveningRules(enough_s=86400.0)
    whole = order_of(question_of(all_at_once(), STATION, rules=endless))
    assert max(c.end_utc_s - c.start_utc_s for c in whole.contacts) > 900.0


def test_the_posture_is_not_changed_for_less_than_that_costs() -> None:
    passes = tuple(a_pass(k, 800.0 * k, 37.0 * k) for k in range(8))
    free = order_of(question_of(passes, STATION, rules=EveningRules(posture_change_cost_s=0.0)))
    told = order_of(question_of(passes, STATION))
    assert told.worth.postures_s <= 60.0 * 8
    assert told.worth.signal_s >= free.worth.signal_s - free.worth.turning_s - 60.0 * 8
    dear = order_of(question_of(passes, STATION, rules=EveningRules(posture_change_cost_s=600.0)))
    assert dear.worth.postures_s == 0.0


def test_turning_that_costs_more_is_done_less() -> None:
    passes = tuple(a_pass(k, 700.0 * k, 97.0 * k) for k in range(8))
    turned = [
        order_of(question_of(passes, STATION, rules=EveningRules(turn_cost_s=cost))).worth.turned_deg
        for cost in (0.0, 60.0, 600.0)
    ]
    assert turned == sorted(turned, reverse=True)
    assert turned[2] < turned[0]


@pytest.mark.parametrize("seed", range(6))
def test_the_parts_told_come_to_what_was_chosen_by(seed: int) -> None:
    evening = random_evening(seed)
    best = best_evening(evening.plain)
    assert best is not None
    question = question_of(all_at_once()[: 2 + seed % 4], STATION)
    choice = choose(question)
    order = order_of(question)
    unit = choice.problem.units.worth_s
    assert order.worth.worth_s == pytest.approx(choice.solution.score.worth * unit, abs=0.2)
