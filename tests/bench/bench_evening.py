"""How long the choice of an evening takes: python -m tests.bench.bench_evening [PLAN].

Without a plan file the invented evening of 150 passes. Told: seconds of building the options, of the choice,
of the explanations and of the whole stage; the choice of the first passes also as a ratio to a plain loop in
the same run; and what choosing together changed against each pass in its best way taken alone.
"""

from __future__ import annotations

import sys
from itertools import pairwise
from pathlib import Path
from statistics import mean
from time import perf_counter

from core.evaluate import Result, evaluate
from core.mount.drive.slew import move_seconds
from core.mount.evening.evening import order_evening, worked_span
from core.mount.evening.joining import place_at
from core.mount.evening.order.forced import ForcedChoices
from core.mount.evening.order.moves import mover_of
from core.mount.evening.order.options import options_of
from core.mount.evening.order.rules import Wanted
from core.mount.evening.order.solve import ChoiceProblem, solve
from core.mount.evening.order.worth import units_for
from core.mount.evening.results import EveningOrder
from core.mount.model.results import PassCheck
from core.plan.document import Plan
from core.plan.picks import match_picks
from core.plan.storage import read_plan
from tests.bench.bench_motion import seconds
from tests.core.mount.evening.order.evenings import plain
from tests.evening_plans import full_evening_plan
from tests.oracles.evening_plain import best_chain

#: Options and choice of the whole evening together.
LIMIT_S = 1.0
#: Passes the plain loop is given: it takes minutes for all.
PLAIN_PASSES = 8


def _wanted(plan: Plan, result: Result) -> tuple[Wanted, ...]:
    wanted, _told = match_picks(plan.picks, plan.satellites, result.passes)
    return wanted or tuple(Wanted(index, 1.0) for index in range(len(result.passes)))


def _problem(plan: Plan, result: Result, wanted: tuple[Wanted, ...]) -> ChoiceProblem:
    options = options_of(
        result.checks,
        result.tracks,
        plan.station,
        wanted,
        plan.shortest_contact_s,
        bool(plan.picks),
    )
    rules = plan.evening_rules
    return ChoiceProblem(options, mover_of(plan.mount, rules), rules, units_for(options, plan.mount))


def _order(plan: Plan, result: Result) -> EveningOrder:
    return order_evening(
        result.checks,
        result.reasons,
        result.tracks,
        plan.station,
        plan.shortest_contact_s,
        _wanted(plan, result) if plan.picks else None,
        rules=plan.evening_rules,
    )


def _fits(plan: Plan, before: PassCheck, after: PassCheck) -> bool:
    """The move between two passes, each worked whole in its best way alone."""
    left, due = worked_span(before)[1], worked_span(after)[0]
    assert before.pointing is not None
    assert after.pointing is not None
    (m, e), (to_m, to_e) = place_at(before.pointing, left), place_at(after.pointing, due)
    return float(move_seconds(plan.mount, m, to_m, e, to_e)) <= due - left


def _alone(plan: Plan, result: Result, wanted: tuple[Wanted, ...]) -> str:
    """Each pass alone, by time: how many can follow the one before, and what going by the clock brings."""
    checks = [result.checks[want.index] for want in wanted if result.checks[want.index].pointing is not None]
    checks = [one for one in checks if worked_span(one)[1] - worked_span(one)[0] >= plan.shortest_contact_s]
    worth = {id(result.checks[want.index]): want.worth for want in wanted}
    checks.sort(key=lambda one: worked_span(one)[0])
    fitting = sum(_fits(plan, a, b) for a, b in pairwise(checks)) + bool(checks)
    kept: list[PassCheck] = []
    for one in checks:
        if not kept or _fits(plan, kept[-1], one):
            kept.append(one)
    heard = sum(worth[id(one)] * (one.seconds_in_all - one.seconds_lost) for one in kept)
    return (
        f"each alone: {len(checks)} contacts, {fitting} can follow the one before; "
        f"by the clock {len(kept)} of them, {heard:.0f} weighted s"
    )


def main() -> int:
    """Measure and print; 1 where options and choice take longer than the limit."""
    plan = read_plan(Path(sys.argv[1])) if len(sys.argv) > 1 else full_evening_plan()
    result = evaluate(plan)
    wanted = _wanted(plan, result)
    building = seconds(lambda: _problem(plan, result, wanted))
    problem = _problem(plan, result, wanted)
    choosing = seconds(lambda: solve(problem))
    solution = solve(problem)
    asking = seconds(lambda: ForcedChoices(problem, solution))
    stage = seconds(lambda: _order(plan, result))
    order = _order(plan, result)
    print(f"{len(wanted)} passes, {len(problem.options)} options, {solution.rounds} sweeps forward")
    print(
        f"options {building:.2f} s, choice {choosing:.2f} s, "
        f"sweep backward {asking:.2f} s, stage {stage:.2f} s"
    )
    few = _problem(plan, result, wanted[:PLAIN_PASSES])
    quick = seconds(lambda: solve(few))
    start = perf_counter()
    goals, _passes = best_chain(plain(few))
    slow = perf_counter() - start
    score = solve(few).score
    same = goals == (score.signal, score.clear, score.less_travel)
    print(f"{PLAIN_PASSES} passes against a plain loop: {quick / slow:.4f} of its {slow:.1f} s, same: {same}")
    print(_alone(plan, result, wanted))
    assert order.objective is not None
    late = mean(contact.joined_late_s + contact.left_early_s for contact in order.contacts)
    heard = order.objective.signal_s
    print(
        f"together: {len(order.contacts)} contacts, all following, {heard:.0f} weighted s; "
        f"{late:.0f} s let go of each in the mean"
    )
    return 0 if building + choosing < LIMIT_S else 1


if __name__ == "__main__":
    raise SystemExit(main())
