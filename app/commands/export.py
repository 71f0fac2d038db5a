"""`northkey export`: the evening in other formats."""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from app.commands.output import say
from app.commands.plan_input import add_dial_words, answered, evaluated
from core.base.whole_files import refuse_source, write_bytes
from core.evaluate import Result
from core.plan.document import Plan


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "export",
        help="the evening as a table for other programs, or as the pocket page for a phone",
        description="Writes the evening's readings, one line every few seconds of each contact (csv), or the "
        "pocket page (html): one file that a phone opens in the field, without a network.",
    )
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json)")
    parser.add_argument("--as", dest="form", choices=("csv", "html"), required=True, help="the format")
    parser.add_argument("-o", "--output", required=True, metavar="FILE", help="where to write it")
    parser.add_argument(
        "--step", type=float, default=10.0, metavar="S", help="csv: seconds between lines (default: 10)"
    )
    add_dial_words(parser)
    parser.add_argument("--force", action="store_true", help="replace a file that is there already")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if the file was written."""
    refuse_source(options.output, [options.plan])
    plan, result, _memo = evaluated(options)
    code = answered(result, plan)
    if code == 0:
        if options.form == "html":
            what, text = "pocket page", _page(plan, result)
        else:
            what, text = "readings", _readings(plan, result, options.step)
        write_bytes(Path(options.output), text.encode("utf-8"), force=options.force)
        say(f"{options.output}: {what} of plan {result.identity}, {len(result.order.contacts)} passes")
    return code


def _readings(plan: Plan, result: Result, step_s: float) -> str:
    from core.export.readings_csv import readings_csv

    return readings_csv(plan, result, time.time(), step_s)


def _page(plan: Plan, result: Result) -> str:
    """The sheet's content as one page."""
    from core.export.pocket.page import pocket_page
    from core.sheet.content import sheet_content

    return pocket_page(sheet_content(plan, result, time.time()))
