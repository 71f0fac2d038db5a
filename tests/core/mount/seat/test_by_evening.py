"""The seat by its evening: its curve is `evaluate`'s, nothing better is missed, the rule chooses as told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from core.base.angles import Floats, wrap_180, wrap_360
from core.base.edits import changed
from core.base.times import format_iso
from core.mount.evening.question import EveningQuestion
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.station import IndexHole, Mount
from core.mount.seat.arcs import ends_deg
from core.mount.seat.by_evening import (
    AS_GOOD_S,
    BestEvening,
    at_a_tenth,
    best_evening,
    best_through,
    evening_curve,
    most_worth_s,
    shift_of,
    tenth_of,
)
from core.mount.seat.evenings import EveningCurve
from core.mount.seat.limits import SeatLimit
from core.plan.document import Plan
from core.studies import SeatByEvening, evening_question, orient, orient_by_evening
from tests.core.mount.clearance.samples import TWO_YAGIS
from tests.core.mount.seat.evenings_by_seat import made_up_curve
from tests.lasting import MEMO, result_of
from tests.seat_evening import seat_plan

#: Short hours, so that an evening is quickly chosen: four to six passes.
HOURS = {"evening__end": "2024-11-01T19:20:00Z"}


def _picked(plan: Plan, worths: tuple[float, ...]) -> Plan:
    """The first passes picked, each with a worth of its own."""
    passes = result_of(plan).passes[: len(worths)]
    picks = [
        {"norad_id": pass_.norad_id, "near": format_iso(pass_.peak.utc_s), "worth": worth}
        for pass_, worth in zip(passes, worths, strict=True)
    ]
    return changed(plan, "picks", picks)


@cache
def _plan(name: str) -> Plan:
    if name == "no picks":
        return seat_plan(**HOURS)
    if name == "picks":
        return _picked(seat_plan(mount__azimuth__travel_deg=330.0), (1.0, 3.0, 1.0, 2.0))
    over = seat_plan(mount__elevation__maximum_deg=180.0, mount__azimuth__travel_deg=300.0, **HOURS)
    return _picked(over, (2.0, 1.0, 1.0))


PLANS = ("no picks", "picks", "over the top")


@cache
def _answer(name: str) -> SeatByEvening:
    plan = _plan(name)
    result = result_of(plan)
    return orient_by_evening(plan, result, orient(plan, result, MEMO), MEMO)


def _turned(plan: Plan, bearing_deg: float) -> Plan:
    return plan.model_copy(
        update={"mount": plan.mount.model_copy(update={"keyway_bearing_deg": wrap_360(bearing_deg)})}
    )


def _worth_at(plan: Plan, bearing_deg: float) -> float:
    return result_of(_turned(plan, bearing_deg)).order.worth.worth_s


@pytest.mark.parametrize("name", PLANS)
def test_the_curve_s_values_are_those_of_the_plan_turned_there(name: str) -> None:
    plan, curve = _plan(name), _answer(name).curve
    shift = fixed_offset_deg(plan.mount)
    some = {0, curve.zeta_deg.size // 3, int(curve.worth_s.argmax()), int(curve.worth_s.argmin())}
    for k in some:
        order = result_of(_turned(plan, float(curve.zeta_deg[k]) - shift)).order
        checks = [contact.check for contact in order.contacts]
        assert order.worth.worth_s == pytest.approx(curve.worth_s[k], abs=1e-6)
        assert len(checks) == curve.contacts[k]
        assert sum(check.split is not None for check in checks) == curve.turned_back[k]
        lost_s = sum(check.seconds_lost for check in checks)
        assert lost_s == pytest.approx(curve.lost_s[k], abs=1e-6)
        assert sum(check.seconds_in_all for check in checks) - lost_s == pytest.approx(curve.signal_s[k])


@pytest.mark.parametrize("name", PLANS)
def test_what_is_told_of_the_best_is_the_evening_there(name: str) -> None:
    plan, best = _plan(name), _answer(name).best
    assert best is not None
    mount = plan.mount.model_copy(
        update={"keyway_bearing_deg": best.keyway_bearing_deg, "index_hole": best.index_hole}
    )
    order = result_of(plan.model_copy(update={"mount": mount})).order
    assert order.worth.worth_s == pytest.approx(best.worth_s, abs=1e-6)
    assert len(order.contacts) == best.contacts


def _nothing_missed(name: str, step_deg: float) -> None:
    plan, best = _plan(name), _answer(name).best
    assert best is not None
    worths = [_worth_at(plan, bearing) for bearing in np.arange(0.0, 360.0, step_deg)]
    assert max(worths) <= best.worth_s + AS_GOOD_S


@pytest.mark.parametrize("name", PLANS)
def test_no_other_seat_s_evening_is_worth_much_more(name: str) -> None:
    _nothing_missed(name, 15.0)


@pytest.mark.long
@pytest.mark.parametrize("name", PLANS)
def test_no_other_seat_s_evening_is_worth_much_more_at_every_fifth_degree(name: str) -> None:
    _nothing_missed(name, 5.0)


@pytest.mark.parametrize("name", PLANS)
def test_the_present_seat_is_always_a_candidate(name: str) -> None:
    plan, curve = _plan(name), _answer(name).curve
    zeta = wrap_360(plan.mount.keyway_bearing_deg + fixed_offset_deg(plan.mount))
    k = curve.nearest(zeta)
    assert abs(wrap_180(curve.zeta_deg[k] - zeta)) <= 1e-6
    assert curve.worth_s[k] == pytest.approx(result_of(plan).order.worth.worth_s, abs=1e-6)


def test_a_turned_keyway_finds_the_evenings_made() -> None:
    """The study is anew for each seat; the evenings are not, and only the present seat's is asked for."""
    plan, memo = _plan("picks"), MEMO
    first, before = _answer("picks"), memo.computed["seat by evening"]
    turned = _turned(plan, 123.4)
    result = result_of(turned)
    again = orient_by_evening(turned, result, orient(turned, result, memo), memo)
    assert evening_question(turned) == evening_question(plan)
    assert memo.computed["seat by evening"] == before
    zeta = wrap_360(123.4 + fixed_offset_deg(turned.mount))
    assert abs(wrap_180(again.curve.zeta_deg[again.curve.nearest(zeta)] - zeta)) <= 1e-6
    assert again.curve.worth_s.max() >= first.curve.worth_s.max() - 1e-6


def test_forbidden_arcs_are_kept_to() -> None:
    free = _answer("picks").best
    assert free is not None
    low, high = (wrap_360(free.keyway_bearing_deg + by) for by in (-25.0, 25.0))
    limit = SeatLimit(from_deg=low, to_deg=high, why="a rock")
    plan = _plan("picks")
    best = best_evening(_answer("picks").curve, plan.mount, (limit,))
    assert best is not None
    assert not limit.holds(best.keyway_bearing_deg)
    assert not best.forbidden
    minus, plus = best.place_within_deg
    for end in (best.keyway_bearing_deg + minus, best.keyway_bearing_deg + plus):
        assert not limit.holds(wrap_360(end))
    everywhere = (SeatLimit(from_deg=0.0, to_deg=360.0),)
    shut = best_evening(_answer("picks").curve, plan.mount, everywhere)
    assert shut is not None
    assert shut.forbidden
    assert replace(shut, forbidden=False) == best_evening(_answer("picks").curve, plan.mount)


# --- the rule, against a loop of its own ----------------------------------------------------------------


def _open(bearing: float, limits: tuple[SeatLimit, ...]) -> bool:
    return not any(limit.holds(bearing) for limit in limits)


def _by_loops(curve: EveningCurve, mount: Mount, limits: tuple[SeatLimit, ...]) -> set[tuple[float, str]]:
    """Every seat in words of the rule, one after the other; more than one where they tie."""
    seats = []
    for hole in mount.index_holes:
        shift = fixed_offset_deg(mount, hole)
        rows = sorted(((float(z) - shift) % 360.0, k) for k, z in enumerate(curve.zeta_deg))
        most = max(float(curve.worth_s[k]) for bearing, k in rows if _open(bearing, limits))
        fit = [_open(b, limits) and curve.worth_s[k] >= most - 30.0 for b, k in rows]
        for at, (bearing, k) in enumerate(rows):
            if not fit[at]:
                continue
            margins = []
            for sense in (1, -1):
                reached = 0.0
                for step in range(1, len(rows)):
                    there = (at + sense * step) % len(rows)
                    if not fit[there]:
                        break
                    reached = (sense * (rows[there][0] - bearing)) % 360.0
                margins.append(180.0 if all(fit) else reached)
            margin = min(margins)
            good = margin >= 5.0 and curve.know_to_deg[k] >= 2.0
            away = abs((bearing - mount.keyway_bearing_deg + 180.0) % 360.0 - 180.0)
            in_use = hole.name == mount.index_hole
            seats.append(
                (
                    float(curve.worth_s[k]),
                    (int(curve.turned_back[k]), int(curve.over_the_top[k]), not good, -round(margin, 3)),
                    (not in_use, round(away, 6)),
                    (round(bearing, 6), hole.name),
                )
            )
    most = max(seat[0] for seat in seats)
    left = [seat for seat in seats if seat[0] >= most - 30.0]
    first = min(seat[1:3] for seat in left)
    return {seat[3] for seat in left if seat[1:3] == first}


def _drawn(seed: int) -> tuple[EveningCurve, Mount, tuple[SeatLimit, ...]]:
    random = np.random.default_rng(seed)
    count = int(random.integers(3, 30))
    zeta = np.sort(random.choice(3600, count, replace=False)) / 10.0
    levels = random.choice([0.0, 10.0, 25.0, 60.0, 400.0], count)
    curve = EveningCurve(
        zeta_deg=zeta,
        worth_s=3000.0 - levels,
        signal_s=3000.0 - levels,
        lost_s=levels,
        contacts=np.full(count, 5),
        turned_back=random.integers(0, 2, count),
        over_the_top=random.integers(0, 3, count),
        know_to_deg=random.choice([1.0, 2.0, 9.0], count),
    )
    holes = (IndexHole(name="A"), IndexHole(name="B", offset_deg=-45.0))[: int(random.integers(1, 3))]
    mount = Mount(keyway_bearing_deg=float(random.integers(0, 360)), index_holes=holes, index_hole="A")
    limit = SeatLimit(from_deg=float(random.integers(0, 180)), to_deg=float(random.integers(181, 300)))
    return curve, mount, (limit,) if random.integers(0, 2) else ()


def test_among_seats_as_good_the_rule_chooses() -> None:
    chosen = 0
    for seed in range(300):
        curve, mount, limits = _drawn(seed)
        bearings = [
            float(z) - fixed_offset_deg(mount, hole) for z in curve.zeta_deg for hole in mount.index_holes
        ]
        per_hole = len(bearings) // len(mount.index_holes)
        shut = [not _open(wrap_360(bearing), limits) for bearing in bearings]
        if any(all(shut[i :: len(mount.index_holes)]) for i in range(len(mount.index_holes))) or per_hole < 2:
            continue
        best = best_evening(curve, mount, limits)
        assert best is not None
        assert (round(best.keyway_bearing_deg, 6), best.index_hole) in _by_loops(curve, mount, limits), seed
        chosen += 1
    assert chosen > 200


def test_the_hole_in_use_wins_before_nearness() -> None:
    """At the same zeta the other hole's bearing is the nearer one: no reason to turn the adapter."""
    holes = (IndexHole(name="A"), IndexHole(name="B", offset_deg=-45.0))
    curve = made_up_curve([2000.0] * 5 + [3000.0] * 3 + [2000.0] * 64)
    zeta = float(curve.zeta_deg[6])
    for in_use, other in (holes, holes[::-1]):
        mount = Mount(index_holes=holes, index_hole=in_use.name)
        nearer = wrap_360(zeta - fixed_offset_deg(mount, other))
        best = best_evening(curve, mount.model_copy(update={"keyway_bearing_deg": nearer}))
        assert best is not None
        assert best.index_hole == in_use.name
        assert wrap_360(best.keyway_bearing_deg + fixed_offset_deg(mount, in_use)) == pytest.approx(zeta)


def test_where_no_evening_is_worth_anything_there_is_no_best() -> None:
    mount = seat_plan().mount
    assert best_evening(made_up_curve([0.0] * 8), mount) is None


# --- how far off it may be placed -----------------------------------------------------------------------


@pytest.mark.parametrize("name", PLANS)
def test_within_the_margin_no_evening_is_worth_much_less(name: str) -> None:
    plan, answer = _plan(name), _answer(name)
    best, most = answer.best, answer.curve.worth_s.max()
    assert best is not None
    there = plan.model_copy(update={"mount": plan.mount.model_copy(update={"index_hole": best.index_hole})})
    for off in np.linspace(*best.place_within_deg, 9):
        assert _worth_at(there, best.keyway_bearing_deg + float(off)) >= most - AS_GOOD_S - 1e-6


def _made_up_evenings(worth_at: Callable[[Floats], Floats]) -> Callable[..., EveningCurve]:
    """In the place of `evenings_at`."""

    def at(_question: object, zetas: Floats, _progress: object) -> EveningCurve:
        zetas = np.unique(wrap_360(zetas))
        return replace(made_up_curve(worth_at(zetas).tolist()), zeta_deg=zetas)

    return at


def test_no_dip_between_arcs_ends_is_within_the_margin(monkeypatch: pytest.MonkeyPatch) -> None:
    """Evenings that are as good from zeta 20 to 340 but for one narrow piece between the ends of arcs."""
    plan = _plan("no picks")
    result = result_of(plan)
    table = orient(plan, result, MEMO).table
    question = EveningQuestion(result.checks, result.tracks, plan.station, plan.shortest_contact_s)
    ends = ends_deg(*table.clear.values(), *table.rest.values())
    narrow = [(a, b) for a, b in pairwise(ends[(ends > 20.0) & (ends < 340.0)].tolist()) if b - a < 5.0]
    assert len(narrow) > 5
    for low, high in narrow:

        def worth_at(zeta: Floats, low: float = low, high: float = high) -> Floats:
            dip = (zeta > low) & (zeta < high)
            return np.where(dip | (zeta < 20.0) | (zeta > 340.0), 2000.0, 3000.0)

        for room in ("by_evening", "evenings"):
            monkeypatch.setattr(f"core.mount.seat.{room}.evenings_at", _made_up_evenings(worth_at))
        best = best_evening(evening_curve(question, table, ()), plan.mount)
        assert best is not None
        scanned = best.keyway_bearing_deg + np.linspace(*best.place_within_deg, 4000)
        assert worth_at(wrap_360(scanned + shift_of(best, plan.mount))).min() == 3000.0


# --- to a tenth -----------------------------------------------------------------------------------------


def _best(**changes: object) -> BestEvening:
    known = BestEvening(100.04, "A", (-3.0, 3.0), 9.0, 3000.0, 3000.0, 0.0, 6, 0, 0)
    return replace(known, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("within", "tenth"),
    [((-3.0, 3.0), 100.0), ((0.0, 3.0), 100.1), ((-3.0, 0.0), 100.0), ((0.0, 0.0), 100.04)],
)
def test_the_tenth_is_the_nearest_that_is_as_good(within: tuple[float, float], tenth: float) -> None:
    assert tenth_of(_best(place_within_deg=within)) == pytest.approx(tenth)


def test_the_best_is_told_as_it_is_at_its_tenth_unless_that_is_worse() -> None:
    mount = Mount(keyway_bearing_deg=0.0, index_holes=(IndexHole(name="A"),), index_hole="A")
    shift = fixed_offset_deg(mount, mount.index_holes[0])
    curve = replace(
        made_up_curve([2990.0, 3000.0, 2000.0]), zeta_deg=np.array([100.0, 100.04, 200.0]) + shift
    )
    told = at_a_tenth(_best(), curve, mount)
    assert told.keyway_bearing_deg == 100.0
    assert told.worth_s == 2990.0
    assert told.place_within_deg == pytest.approx((-2.96, 3.04))
    worse = replace(curve, worth_s=np.array([2960.0, 3000.0, 2000.0]))
    assert at_a_tenth(_best(), worse, mount) == _best()
    calmer = replace(curve, turned_back=np.array([1, 0, 0]))
    assert at_a_tenth(_best(), calmer, mount) == _best()


# --- with lengths for clearance -------------------------------------------------------------------------


@cache
def _cleared() -> tuple[Plan, SeatByEvening]:
    plan = _picked(seat_plan(mount__azimuth__travel_deg=330.0, clearance=TWO_YAGIS, **HOURS), (1.0,))
    result = result_of(plan)
    return plan, orient_by_evening(plan, result, orient(plan, result, MEMO), MEMO)


def test_with_lengths_every_hole_is_weighed_by_evenings_of_its_own() -> None:
    plan, found = _cleared()
    assert set(found.curves) == {"A", "B"}
    assert found.curve_of("A") is found.curve
    for name, curve in found.curves.items():
        hole = next(hole for hole in plan.mount.index_holes if hole.name == name)
        through = plan.model_copy(update={"mount": plan.mount.model_copy(update={"index_hole": name})})
        shift = fixed_offset_deg(plan.mount, hole)
        for k in {0, int(curve.worth_s.argmax()), int(curve.worth_s.argmin())}:
            worth_s = _worth_at(through, float(curve.zeta_deg[k]) - shift)
            assert worth_s == pytest.approx(curve.worth_s[k], abs=1e-6)
    assert evening_question(through) == evening_question(plan)


def test_lengths_make_the_holes_differ_at_one_zeta() -> None:
    _plan, found = _cleared()
    one, other = found.curves["A"], found.curves["B"]
    differ = 0
    for zeta, worth_s in zip(one.zeta_deg.tolist(), one.worth_s.tolist(), strict=True):
        k = other.nearest(zeta)
        differ += abs(wrap_180(other.zeta_deg[k] - zeta)) < 0.01 and abs(other.worth_s[k] - worth_s) > 1.0
    assert differ > 0


def test_where_holes_have_curves_of_their_own_the_best_is_the_best_of_all() -> None:
    mount = seat_plan().mount
    worths = {"A": [100.0, 400.0, 420.0, 90.0], "B": [100.0, 700.0, 680.0, 90.0]}
    curves = {name: made_up_curve(list(values)) for name, values in worths.items()}
    best = best_through(curves, mount)
    assert best is not None
    assert best.index_hole == "B"
    assert most_worth_s(curves, mount) == 700.0
    # Alone, the other hole has a best, but none where so much is worth more elsewhere.
    alone = mount.model_copy(update={"index_holes": (mount.index_holes[0],)})
    assert best_evening(curves["A"], alone) is not None
    assert best_evening(curves["A"], alone, (), 700.0) is None
    # As good through both: nothing is turned for nothing.
    again = best_through(curves | {"A": curves["B"]}, mount)
    assert again is not None
    assert again.index_hole == "A"
