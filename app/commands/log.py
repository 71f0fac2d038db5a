"""`northkey log`: what came back from the field, and what its dials say of north."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.log_shapes import log_shape
from app.commands.output import say, say_json, say_table, tell, tell_all
from app.commands.plan_input import add_plan_words, answered, evaluated
from core.afterwards.edits import ReadBack, with_read_back
from core.afterwards.effect import effect_sentence
from core.afterwards.rows import EveningLog, LogRow, evening_log
from core.afterwards.sightings import from_log, with_sightings
from core.afterwards.typed import cell_texts
from core.afterwards.words import (
    other_identity_words,
    planned_words,
    row_words,
    summary_words,
    unmatched_words,
    worked_words,
)
from core.base.errors import FileProblem
from core.base.times import span_words
from core.base.whole_files import refuse_source, write_bytes
from core.base.words import counted
from core.evaluate import Result
from core.log.pocket_file import read_pocket_log
from core.plan.document import Plan
from core.plan.storage import plan_to_text


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "log",
        help="afterwards: what was worked, and what the dials say of north",
        description="Each contact with what was noted of it beside what was printed. Reads back the file "
        "that the pocket page saved; the dials at the best signal become sightings, which setup fits.",
    )
    add_plan_words(parser)
    parser.add_argument("--read", metavar="FILE", help="the file that the pocket page saved")
    parser.add_argument(
        "--any-plan", action="store_true", help="read it even if it was noted on another plan's page"
    )
    parser.add_argument(
        "--make-sightings", action="store_true", help="put the dials into the plan's sightings, each once"
    )
    parser.add_argument("-o", "--output", metavar="PLAN", help="where to write the plan with all that")
    parser.add_argument("--force", action="store_true", help="replace a file that is there already")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if the log was answered, and written where asked for."""
    if options.output is not None and options.read is not None:
        refuse_source(options.output, [options.read])
    plan, result, memo = evaluated(options)
    back = None if options.read is None else _read_back(plan, result, options)
    noted = plan if back is None else back.plan
    log = evening_log(noted, result)
    sighted = with_sightings(noted, from_log(noted, log)) if options.make_sightings else noted
    effect = None if sighted is noted else effect_sentence(noted, sighted, memo)
    if options.output is not None:
        write_bytes(Path(options.output), plan_to_text(sighted).encode("utf-8"), force=options.force)
    if options.json:
        say_json(log_shape(sighted, result, log, back, len(sighted.sightings) - len(noted.sightings), effect))
    else:
        _say(sighted, log, back, effect)
    tell_all(unmatched_words(log, noted))
    if options.output is None and sighted is not plan:
        tell("nothing was written: name a plan file with -o")
    return answered(result, plan)


def _read_back(plan: Plan, result: Result, options: argparse.Namespace) -> ReadBack:
    """The plan with what the file says.

    Raises:
        FileProblem: it is no such file, or of another plan and that was not allowed.
    """
    read = read_pocket_log(options.read)
    if read.identity != result.identity and not options.any_plan:
        why = other_identity_words(read.identity, read.title, result.identity)
        raise FileProblem(options.read, "identity", f"{why} --any-plan reads it")
    return with_read_back(plan, result.passes, read.entries)


def _say(plan: Plan, log: EveningLog, back: ReadBack | None, effect: str | None) -> None:
    if back is not None:
        say(back.sentence)
    say(summary_words(log))
    heads = ["no.", "satellite", "UTC", "worked", "azimuth", "elevation", "at", "last heard", "printed"]
    say_table(
        [*heads, "against what was printed", "note"],
        [_cells(row, plan) for row in log.rows],
        left=(1, 2, 3, 9, 10),
    )
    found = [one for one in from_log(plan, log) if one.to_make]
    if effect is not None:
        say(effect)
    elif found:
        say(f"{counted(len(found), 'dial')} can become sightings: --make-sightings")


def _cells(row: LogRow, plan: Plan) -> list[str]:
    entry = row.entry
    *dials_and_times, note = cell_texts(entry)
    return [
        "" if row.number is None else str(row.number),
        row.pass_.satellite,
        span_words(row.start_utc_s, row.end_utc_s),
        "" if entry is None else worked_words(entry.worked),
        *dials_and_times,
        planned_words(row, plan.mount),
        row_words(row, plan.mount)[0],
        note,
    ]
