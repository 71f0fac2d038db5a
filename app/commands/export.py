"""`northkey export`: the evening in other formats."""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from pathlib import Path

from app.commands.now_words import add_now_words, now_of, planned_again
from app.commands.output import say
from app.commands.plan_input import add_dial_words, answered, evaluated
from core.base.errors import ValueRangeError
from core.base.whole_files import refuse_source, write_bytes
from core.evaluate import Result
from core.plan.document import Plan


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "export",
        help="the evening as a table for other programs, as the pocket page for a phone, or the log",
        description="Writes the evening's readings, one line every few seconds of each contact (csv), the "
        "pocket page (html): one file that a phone opens in the field, without a network, or the log: what "
        "was noted of each contact beside what was printed.",
    )
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json)")
    parser.add_argument("--as", dest="form", choices=tuple(_FORMS), required=True, help="the format")
    parser.add_argument("-o", "--output", required=True, metavar="FILE", help="where to write it")
    parser.add_argument(
        "--step", type=float, default=10.0, metavar="S", help="csv: seconds between lines (default: 10)"
    )
    add_dial_words(parser)
    add_now_words(parser)
    parser.add_argument("--force", action="store_true", help="replace a file that is there already")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if the file was written."""
    refuse_source(options.output, [options.plan])
    now = now_of(options)
    if now is not None and options.form == "log":
        raise ValueRangeError("--now", "given with --as log", "given for what is still to come")
    plan, result, memo = evaluated(options)
    if now is not None:
        again = planned_again(plan, now, memo)
        plan, result = again.plan, again.result
    code = answered(result, plan)
    if code == 0:
        text, what = _FORMS[options.form](plan, result, options)
        write_bytes(Path(options.output), text.encode("utf-8"), force=options.force)
        say(f"{options.output}: {what}")
    return code


def _readings(plan: Plan, result: Result, options: argparse.Namespace) -> tuple[str, str]:
    """The evening's readings, and what is told of them."""
    from core.export.readings_csv import readings_csv

    return readings_csv(plan, result, time.time(), options.step), _told("readings", result)


def _page(plan: Plan, result: Result, _options: argparse.Namespace) -> tuple[str, str]:
    """The sheet's content as one page, and what is told of it."""
    from core.export.pocket.page import pocket_page
    from core.sheet.content import sheet_content

    return pocket_page(sheet_content(plan, result, time.time())), _told("pocket page", result)


def _log(plan: Plan, result: Result, _options: argparse.Namespace) -> tuple[str, str]:
    """The log beside the evening, and what is told of it."""
    from core.afterwards.rows import evening_log
    from core.afterwards.words import summary_words
    from core.export.log_csv import log_csv

    log = evening_log(plan, result)
    told = f"log of plan {result.identity}. {summary_words(log)}"
    return log_csv(plan, result, log, time.time()), told


def _told(what: str, result: Result) -> str:
    return f"{what} of plan {result.identity}, {len(result.order.contacts)} passes"


#: What is written, and what is told of it, by the name of the format.
_FORMS: dict[str, Callable[[Plan, Result, argparse.Namespace], tuple[str, str]]] = {
    "csv": _readings,
    "html": _page,
    "log": _log,
}
