"""Reading and evaluating the plan a command is about."""

from __future__ import annotations

import argparse

from app.commands.output import shown_progress, tell, tell_all
from app.commands.words import age_words, refusal_words
from core.errors import PlanError, ValueRangeError
from core.evaluate import Result, evaluate
from core.memo import Memo
from core.plan import Plan
from core.storage import read_plan


def add_plan_words(parser: argparse.ArgumentParser) -> None:
    """The plan file, and JSON."""
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json)")
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")


def evaluated(options: argparse.Namespace) -> tuple[Plan, Result, Memo]:
    """The plan, its result and the memo; refusals and unmatched picks are told on standard error."""
    plan = read_plan(options.plan)
    memo = Memo()
    try:
        with shown_progress() as progress:
            result = evaluate(plan, memo, progress)
    except ValueRangeError as error:
        raise PlanError(options.plan, "", str(error)) from None
    tell_all(age_words([(name, days) for name, _number, days in result.element_ages]))
    tell_all(refusal_words(error) for error in result.refused)
    tell_all(result.order.unmatched)
    if any(antenna.skew_deg for antenna in plan.antennas):
        tell("an antenna's skew is kept in the plan but not yet counted in the verdicts")
    return plan, result, memo


def answered(result: Result, plan: Plan) -> int:
    """Exit code: 2 if no satellite gave an answer, else 0."""
    if not plan.satellites:
        tell("the plan has no satellites; nothing to answer")
        return 2
    return 2 if len(result.refused) >= len(plan.satellites) and not result.passes else 0
