"""`northkey sheet`: the field sheet as PDF."""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from app.commands.now_words import add_now_words, now_of, planned_again
from app.commands.output import say, shown_progress
from app.commands.plan_input import add_dial_words, answered, evaluated
from core.base.errors import ValueRangeError
from core.base.whole_files import refuse_source, write_bytes
from core.sheet.wishes import SHAPES, SheetWishes
from core.studies import study_beside, weigh_seats


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "sheet",
        help="the field sheet as PDF: set-up card, evening, a card per pass",
        description="Writes the field sheet of a plan: set-up card, the evening in order and a card per pass "
        "with the readings of the dial.",
    )
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json)")
    parser.add_argument("-o", "--output", required=True, metavar="FILE.pdf", help="where to write it")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper size (default: a4)")
    parser.add_argument("--force", action="store_true", help="replace a file that is there already")
    parser.add_argument(
        "--weigh-seats",
        action="store_true",
        help="say on the set-up card whether this seat is the best by the evening (takes some two hundred "
        "evenings)",
    )
    parser.add_argument(
        "--shape",
        choices=SHAPES,
        default="cards",
        help="cards, two a page; four small ones; the evening on one page; or strips for a pocket "
        "(default: cards)",
    )
    parser.add_argument(
        "--left-out", action="store_true", help="list the passes that are not worked, and why"
    )
    parser.add_argument(
        "--set-up",
        choices=("yes", "no"),
        help="with or without the set-up card (default: with cards, but not with --now)",
    )
    add_dial_words(parser)
    add_now_words(parser)
    parser.set_defaults(run=run)


def _wishes(options: argparse.Namespace) -> SheetWishes:
    set_up = None if options.set_up is None else options.set_up == "yes"
    return SheetWishes(options.shape, set_up, options.left_out)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if the sheet was written."""
    from core.sheet.render import sheet_pdf

    refuse_source(options.output, [options.plan])
    now = now_of(options)
    if now is not None and options.weigh_seats:
        raise ValueRangeError("--weigh-seats", "given with --now", "given before the station is set up")
    plan, result, memo = evaluated(options)
    if now is not None:
        again = planned_again(plan, now, memo)
        plan, result = again.plan, again.result
    code = answered(result, plan)
    if code == 0:
        with shown_progress() as progress:
            weighed = weigh_seats(plan, result, memo, progress) if options.weigh_seats else None
            beside = study_beside(plan, result, memo, progress, weighed)
        content = sheet_pdf(plan, result, time.time(), options.paper, beside, _wishes(options))
        write_bytes(Path(options.output), content, force=options.force)
        say(f"{options.output}: field sheet of plan {result.identity}, {len(result.order.contacts)} passes")
    return code
