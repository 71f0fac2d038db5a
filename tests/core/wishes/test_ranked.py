"""The seats by all wishes together, against every bearing of a fine grid asked one by one."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from core.base.angles import wrap_180
from core.mount.model.chain import fixed_offset_deg
from core.mount.seat.limits import forbidden_at
from core.mount.seat.losses.table import verdicts_at
from core.plan.document import Plan
from core.stand.model import Stand
from core.wishes.evening import PLACED_DEG, EveningLost
from core.wishes.ranked import APART_DEG, MOST_ROWS, Wished, rank_wishes
from core.wishes.words import reason_sentence, wished_sentence
from tests.core.stand.stands import holding_moments, place, ring, wind_moment, worked_stand
from tests.seat_evening import seat_evening, seat_plan

STEP_DEG = 0.25
STAND = worked_stand(legs=ring(3, 750.0, 20.0)).model_dump(mode="json")
#: So little that the seconds lost do not decide.
FREE = {"lost_weight": 0.0}
CABLE = {"cable": {"from_keyway_deg": 200.0}, "booms": []}


def plan_with(wishes: dict[str, float], **changes: object) -> Plan:
    return seat_plan(stand=STAND | {"wishes": wishes}, clearance=CABLE, **changes)


def ranked(plan: Plan) -> Wished:
    return rank_wishes(plan, seat_evening()[2])


@cache
def lost_on_the_grid() -> np.ndarray:
    """Seconds lost at every grid bearing of zeta, then the most within the placing."""
    table = seat_evening()[2].table
    lost = np.array([verdicts_at(table, zeta).lost_s.sum() for zeta in np.arange(0.0, 360.0, STEP_DEG)])
    reach = round(PLACED_DEG / STEP_DEG)
    return np.max([np.roll(lost, by) for by in range(-reach, reach + 1)], axis=0)


def tips_m_s(stand: Stand, toward_deg: float) -> float:
    """The gust that tips it, mass by mass."""
    u = place(toward_deg, 1000.0)
    return min(
        math.sqrt(held / (wind_moment(stand, 1.0) * along))
        for outward, held in holding_moments(stand)
        if (along := float(u @ outward)) > 1e-9
    )


def over(short: float) -> float:
    """A quarter of a shortfall is granted."""
    return max(short - 0.25, 0.0) / 0.75


def grid_costs(plan: Plan) -> dict[tuple[float, str], float]:
    """What every bearing of the grid costs with every hole, added up by hand."""
    assert plan.stand is not None
    told = plan.stand.wishes
    every = [tips_m_s(plan.stand, at) for at in np.arange(0.0, 360.0, STEP_DEG)]
    weak, strong = min(every), max(every)
    bearings = np.arange(0.0, 360.0, STEP_DEG)
    shut = forbidden_at(bearings, plan.seat_limits)
    costs: dict[tuple[float, str], float] = {}
    for hole in plan.mount.index_holes:
        shift = round(fixed_offset_deg(plan.mount, hole) / STEP_DEG)
        lost = np.roll(lost_on_the_grid(), -shift)
        for k in np.flatnonzero(~shut):
            costs[float(bearings[k]), hole.name] = float(lost[k])
    least = min(costs.values())
    for (keyway, hole_name), lost_s in costs.items():
        cost = told.lost_weight * max(lost_s - least - 5.0, 0.0)
        if told.downhill_deg is not None:
            off = min(
                abs((keyway + leg.from_keyway_deg - told.downhill_deg + 180.0) % 360.0 - 180.0)
                for leg in plan.stand.legs
            )
            cost += told.leg_downhill_s * over(off / 60.0)
        if told.wind_from_deg is not None:
            tips = every[round((told.wind_from_deg + 180.0 - keyway) / STEP_DEG) % len(every)]
            cost += told.lee_s * over((strong - tips) / (strong - weak))
        if told.cable_toward_deg is not None:
            off = abs((keyway + 200.0 - told.cable_toward_deg + 180.0) % 360.0 - 180.0)
            cost += told.cable_s * over(off / 180.0)
        costs[keyway, hole_name] = cost
    return costs


ALL = {"downhill_deg": 77.0, "wind_from_deg": 250.0, "cable_toward_deg": 10.0}


@pytest.mark.parametrize(
    ("wishes", "limits"),
    [
        (ALL, []),
        (ALL | {"leg_downhill_s": 900.0, "lee_s": 20.0}, []),
        (ALL | {"lost_weight": 0.1, "cable_s": 700.0}, [{"from_deg": 100.0, "to_deg": 200.0}]),
        (ALL | FREE, [{"from_deg": 300.0, "to_deg": 60.0}]),
        ({"downhill_deg": 77.0, "lee_s": 0.0}, []),
        ({}, [{"from_deg": 20.0, "to_deg": 90.0}]),
    ],
)
def test_the_best_is_that_of_every_bearing_asked_one_by_one(wishes, limits):
    plan = plan_with(wishes, seat_limits=limits)
    best = ranked(plan).seats[0]
    costs = grid_costs(plan)
    least = min(costs.values())
    # A tenth of a degree may cost a second, the grid is a quarter wide and sees no step between its bearings.
    assert best.cost_s <= least + 1.0 + 1e-6
    near = [
        cost
        for (keyway, hole), cost in costs.items()
        if hole == best.index_hole and abs(wrap_180(keyway - best.keyway_bearing_deg)) <= STEP_DEG
    ]
    assert min(near) <= least + 8.0
    assert best.cost_s >= least - 8.0


def conflict(leg_downhill_s: float, lee_s: float) -> Wished:
    """The wind blows square to the edge that faces away from a leg downhill: one of the two has to go."""
    wishes = {"downhill_deg": 90.0, "wind_from_deg": 330.0, "leg_downhill_s": leg_downhill_s, "lee_s": lee_s}
    return ranked(plan_with(wishes | FREE))


def test_where_no_bearing_grants_all_the_wish_given_up_is_named_and_its_weight_turns_it():
    first, other = conflict(200.0, 100.0), conflict(200.0, 500.0)
    assert not first.grants_all
    assert not other.grants_all
    assert (first.seats[0].given_up, other.seats[0].given_up) == (("the lee",), ("a leg downhill",))
    assert "no bearing grants all, and it gives up the lee." in wished_sentence(first)
    assert "it gives up a leg downhill." in wished_sentence(other)
    apart = wrap_180(first.seats[0].keyway_bearing_deg - other.seats[0].keyway_bearing_deg)
    assert abs(apart) > 20.0


def test_where_a_bearing_grants_all_it_is_the_best():
    found = ranked(
        plan_with({"downhill_deg": 90.0, "wind_from_deg": 270.0, "cable_toward_deg": 270.0} | FREE)
    )
    best = found.seats[0]
    assert found.grants_all
    assert (best.given_up, best.cost_s) == ((), 0.0)
    assert best.keyway_bearing_deg == pytest.approx(70.0)  # the leg at 20 stands downhill and to leeward
    assert wished_sentence(found).endswith("every wish is granted.")


def test_the_list_is_in_order_and_its_rows_are_apart():
    for wishes in (ALL, ALL | FREE):
        seats = ranked(plan_with(wishes)).seats
        assert 2 <= len(seats) <= MOST_ROWS
        costs = [seat.cost_s for seat in seats]
        assert costs == pytest.approx(sorted(costs), abs=1.0)
        for k, seat in enumerate(seats):
            for other in seats[:k]:
                apart = abs(wrap_180(seat.keyway_bearing_deg - other.keyway_bearing_deg))
                assert apart > APART_DEG - 0.2


def test_every_row_says_why():
    found = ranked(plan_with(ALL))
    for rank, seat in enumerate(found.seats):
        told = reason_sentence(found, rank)
        assert "s lost by the passes" in told
        assert "deg from downhill to the nearest leg" in told
        assert all(name in told for name in seat.given_up)
        assert ("the first" in told) == (rank > 0)


def test_a_forbidden_bearing_is_never_chosen():
    free = ranked(plan_with(ALL)).seats[0].keyway_bearing_deg
    limit = {"from_deg": (free - 30.0) % 360.0, "to_deg": (free + 30.0) % 360.0}
    plan = plan_with(ALL, seat_limits=[limit])
    for seat in ranked(plan).seats:
        assert not forbidden_at(np.array([seat.keyway_bearing_deg]), plan.seat_limits)[0]
    nowhere = ranked(plan_with(ALL, seat_limits=[{"from_deg": 0.0, "to_deg": 360.0}]))
    assert nowhere.seats == ()
    assert wished_sentence(nowhere).startswith("Every keyway bearing is forbidden")


def test_the_least_that_is_lost_is_that_of_the_bearings_left_open():
    plan = plan_with({})
    shifts = [round(fixed_offset_deg(plan.mount, hole) / STEP_DEG) for hole in plan.mount.index_holes]
    least = np.min([np.roll(lost_on_the_grid(), -shift) for shift in shifts], axis=0)
    worst = float(np.argmax(least)) * STEP_DEG
    limit = {"from_deg": (worst + 1.0) % 360.0, "to_deg": (worst - 1.0) % 360.0}
    best = ranked(plan_with({}, seat_limits=[limit])).seats[0]
    assert least.max() > least.min() + 10.0
    assert best.seconds_lost > 10.0
    assert (best.cost_s, best.given_up) == (0.0, ())


def test_the_same_question_has_the_same_answer():
    assert ranked(plan_with(ALL)) == ranked(plan_with(ALL))


def test_wishes_without_a_bearing_are_told_and_not_counted():
    found = ranked(plan_with({}))
    assert [one.name for one in found.seats[0].met] == ["seconds lost"]
    assert len(found.not_wished) == 3
    no_cable = seat_plan(stand=STAND | {"wishes": {"cable_toward_deg": 10.0}})
    assert any("clearance.cable" in why for why in ranked(no_cable).not_wished)
    assert [one.name for one in ranked(seat_plan()).seats[0].met] == ["seconds lost"]


def test_the_slope_left_out_is_where_the_plate_is_low():
    readings = [{"bearing_deg": 0.0, "rise_deg": 2.0}, {"bearing_deg": 90.0, "rise_deg": 0.0}]
    found = ranked(plan_with(FREE | {"lee_s": 0.0}, level_readings=readings)).seats[0]
    assert [one.name for one in found.met] == ["seconds lost", "a leg downhill"]
    legs = [found.keyway_bearing_deg + at for at in (20.0, 140.0, 260.0)]
    assert min(abs(wrap_180(leg - 180.0)) for leg in legs) < 0.1  # low in the south


def test_the_seconds_are_the_most_of_all_bearings_within_the_placing():
    _plan, _result, study = seat_evening()
    lost = EveningLost(study.table, study.over_zeta)
    for zeta in np.random.default_rng(3).uniform(0.0, 360.0, 40):
        around = np.concatenate([np.linspace(zeta - PLACED_DEG, zeta + PLACED_DEG, 401), lost.zeta_deg])
        around = around[np.abs(wrap_180(around - zeta)) <= PLACED_DEG]
        assert lost.placed(np.array([zeta]))[0] == pytest.approx(lost.at(around).max(), abs=1.0)


class Valley(EveningLost):
    """Seconds that fall by 1 a degree to 180 and rise by 3 from there."""

    def __init__(self) -> None:
        self.zeta_deg = np.array([0.0, 180.0])

    def at(self, zeta_deg: np.ndarray) -> np.ndarray:
        zeta = np.mod(zeta_deg, 360.0)
        return np.where(zeta < 180.0, 180.0 - zeta, 3.0 * (zeta - 180.0))


def test_the_least_lies_on_a_bend_where_both_ends_of_the_placing_cross():
    # 182 - zeta on the left, 3 zeta - 534 on the right: alike at 179.
    lost = Valley()
    least = lost.bends_deg[np.argmin(lost.placed(lost.bends_deg))]
    assert least == pytest.approx(179.0)
    assert lost.placed(np.arange(0.0, 360.0, 0.01)).min() >= lost.placed(np.array([least]))[0] - 1e-9


def test_where_the_seconds_come_to_be_as_good_as_the_least_is_a_bend():
    lost = Valley()  # 3 + 5 s: at 174 on the left, at 180.67 on the right
    for at in (174.0, (534.0 + 8.0) / 3.0):
        assert np.abs(lost.bends_deg - at).min() < 1e-9
