"""`northkey stand`: stability by direction, ballast and guys, go or stop."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.output import say, say_json, say_table, shown_progress
from app.commands.plan_input import evaluated
from app.commands.stand_shapes import stand_shape, wished_shape
from core.base.errors import PlanError, ValueRangeError
from core.base.whole_files import refuse_source, write_bytes
from core.base.words import bearing_text
from core.evaluate import identity
from core.plan.document import Plan
from core.plan.storage import read_plan
from core.stand.answer import StandAnswer, stand_answer
from core.stand.sheet import direction_rows
from core.stand.words import advice_sentence, cautions, stand_lines
from core.studies import orient
from core.wishes.ranked import Wished, rank_wishes
from core.wishes.words import reason_sentence, wished_sentence


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "stand",
        help="stability by direction, ballast and guys, go or stop",
        description="Load, the wind that tips the stand in every direction, what holds it, and what it could "
        "fall on. Advice for planning, not a structural certificate.",
    )
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json)")
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")
    parser.add_argument("--mean-wind", type=float, metavar="M_S", help="forecast mean wind, m/s")
    parser.add_argument("--gust", type=float, metavar="M_S", help="forecast gusts, m/s")
    parser.add_argument(
        "--wishes",
        action="store_true",
        help="rank the seats by all wishes together: seconds lost, a leg downhill, the lee, the cable's side",
    )
    parser.add_argument("-o", "--output", metavar="FILE.pdf", help="put it on a page of paper, too")
    parser.add_argument("--force", action="store_true", help="replace a file that is there already")
    parser.set_defaults(run=run, reads_true=None)


def run(options: argparse.Namespace) -> int:
    """Exit code 0: a plan without a stand is refused."""
    plan = read_plan(options.plan)
    found = _answer(plan, options)
    if options.output is not None:
        _write(found, plan, options)
    wished = _wished(options) if options.wishes else None
    if options.json:
        told = None if wished is None else wished_shape(wished)
        say_json({"identity": identity(plan)} | stand_shape(found) | {"wishes": told})
    else:
        _say(found, plan)
        if wished is not None:
            _say_wished(wished)
    return 0


def _write(found: StandAnswer, plan: Plan, options: argparse.Namespace) -> None:
    from core.stand.sheet import stand_pdf

    refuse_source(Path(options.output), [Path(options.plan)])
    write_bytes(Path(options.output), stand_pdf(found, plan.title, identity(plan)), force=options.force)


def _wished(options: argparse.Namespace) -> Wished:
    """The seats by all wishes; this takes the plan's evaluation and the study of its seat."""
    plan, result, memo = evaluated(options)
    with shown_progress() as progress:
        return rank_wishes(plan, orient(plan, result, memo, progress), memo)


def _answer(plan: Plan, options: argparse.Namespace) -> StandAnswer:
    """The stand's answer; what is missing of it in the plan is told with the file's name.

    Raises:
        PlanError: no stand, or too little said of it.
        ValueRangeError: no such wind.
    """
    if plan.stand is None:
        raise PlanError(options.plan, "stand", "the plan says nothing of it: give legs, masses and areas")
    try:
        return stand_answer(
            plan.stand, plan.clearance, plan.mount.keyway_bearing_deg, options.mean_wind, options.gust
        )
    except ValueRangeError as error:
        if error.field.startswith("stand."):
            raise PlanError(options.plan, "", str(error)) from None
        raise


def _say_wished(wished: Wished) -> None:
    say()
    say("Wishes: " + wished_sentence(wished))
    heads = ["", "keyway", "hole", "worth lost", "why"]
    rows = [
        [
            str(rank + 1),
            bearing_text(seat.keyway_bearing_deg),
            seat.index_hole,
            f"{seat.cost_s:.0f} s",
            reason_sentence(wished, rank),
        ]
        for rank, seat in enumerate(wished.seats)
    ]
    say_table(heads, rows, left=(0, 4))
    for line in wished.not_wished:
        say(line)


def _say(found: StandAnswer, plan: Plan) -> None:
    say(f"{plan.title}  (plan {identity(plan)})")
    say(f"keyway {bearing_text(found.keyway_deg)} deg true")
    say()
    (wind, *others) = stand_lines(found)
    for head, words in (wind, ("Advice", advice_sentence(found)), *others):
        say(f"{head}: {words}")
    say()
    say_table(["blows toward", "from", "tips at mean", "in gusts", ""], direction_rows(found))
    say()
    for line in cautions(found):
        say(line)
