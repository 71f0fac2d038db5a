"""`northkey plan`: a plan file from element sets, a site and hours."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.elements_input import add_elements_words, sets_of, site_of
from app.commands.output import say
from core.base.errors import ValueRangeError
from core.base.words import counted


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "plan",
        help="a plan file from element files, a site and hours",
        description="Writes a plan of the satellites in element files (two-line sets, or OMM as KVN, XML, "
        "JSON or CSV), a site and hours; mount and rules are left to their defaults, to be set in the window "
        "or in the file. Times are UTC.",
    )
    add_elements_words(parser)
    parser.add_argument("--title", metavar="TEXT", help="what the plan is called")
    parser.add_argument("-o", "--output", required=True, metavar="PLAN", help="where to write it")
    parser.add_argument("--force", action="store_true", help="replace a file that is there already")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if the plan was written."""
    from core.base.edits import changed
    from core.base.times import parse_moment
    from core.base.whole_files import write_bytes
    from core.place.position import describe_position
    from core.plan.assumed import assumed
    from core.plan.from_elements import plan_of_elements
    from core.plan.storage import plan_to_text

    site = site_of(options)
    start = parse_moment(options.start, "--start")
    try:
        plan = plan_of_elements((), site, start, options.hours)  # refused before the files are read
    except ValueRangeError as error:
        raise ValueRangeError("--hours", error.value, error.allowed) from None
    plan = plan_of_elements(sets_of(options, start), site, start, options.hours)
    if options.max_age is not None:
        plan = changed(plan, "maximum_element_age_days", options.max_age)
    if options.title is not None:
        plan = changed(plan, "title", options.title)
    write_bytes(Path(options.output), plan_to_text(plan).encode("utf-8"), force=options.force)
    many = counted(len(plan.satellites), "satellite")
    say(f"{options.output}: {many}, {options.hours:g} h from {plan.evening.start}")
    say(describe_position(plan.site))
    say("assumed: " + ", ".join(assumed(plan)))
    say(f"Go on with: northkey check {options.output}")
    return 0
