"""`northkey season`: where the stops are met least over many evenings, and where to drill."""

from __future__ import annotations

import argparse

import numpy as np

from app.commands.output import say, say_json, say_table, shown_progress, tell, tell_all
from app.commands.season_shapes import season_shape
from app.commands.words import refusal_words
from core.base.errors import PlanError, ValueRangeError
from core.base.words import counted
from core.evaluate import identity
from core.mount.seat.season.study import MOST_HOLES, HoleSeason, SeasonQuestion, SeasonStudy
from core.mount.seat.season.words import (
    STATISTICS_ONLY,
    curve_sentence,
    drilled_cells,
    halves_sentence,
    hole_cells,
    percent,
    placing_sentence,
    present_sentence,
    saved_sentence,
)
from core.place.local_hours import local_hours
from core.place.position import describe_position
from core.plan.assumed import assumed
from core.plan.document import Plan
from core.plan.storage import read_plan
from core.season import MOST_DAYS, Season, study_plan

#: The printed curve has a line every so many degrees.
_EVERY_DEG = 15.0


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "season",
        help="many evenings: where the stops are met least, and where to drill index holes",
        description="The evening's local hours repeated day after day with the plan's satellites, site and "
        "mount: which bearings of the keyway meet the stops least, and where one, two or more index holes "
        "would serve best. Statistics, no times.",
    )
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json)")
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")
    parser.add_argument("--days", type=int, default=365, metavar="N", help=f"2 to {MOST_DAYS}; 365")
    parser.add_argument("--seed", type=int, default=1, metavar="S", help="draws the two halves compared; 1")
    parser.add_argument(
        "--holes",
        type=int,
        default=MOST_HOLES,
        metavar="N",
        help=f"look for sets of up to so many holes; {MOST_HOLES}",
    )
    parser.add_argument(
        "--apart", type=float, default=20.0, metavar="DEG", help="least distance of two holes; 20"
    )
    parser.add_argument(
        "--keyways",
        metavar="B,B",
        help="true bearings that the ground gives the keyway, alike often; without it, every bearing",
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if anything was answered, 2 if nothing."""
    question = SeasonQuestion(options.holes, options.apart, _keyways(options.keyways), options.seed)
    plan = read_plan(options.plan)
    if not plan.satellites:
        tell("the plan has no satellites; nothing to answer")
        return 2
    try:
        with shown_progress() as progress:
            season = study_plan(plan, options.days, question, progress=progress)
    except ValueRangeError as error:
        if error.field == "days":
            raise
        raise PlanError(options.plan, "", str(error)) from None
    tell_all(refusal_words(error) for error in season.refused)
    if options.json:
        say_json({"identity": identity(plan), "assumed": list(assumed(plan))} | season_shape(season))
    else:
        _say(season, plan)
    return 0


def _keyways(text: str | None) -> tuple[float, ...]:
    """Bearings as typed, 0 to below 360.

    Raises:
        ValueRangeError: no list of bearings.
    """
    if text is None:
        return ()
    try:
        bearings = [float(part) for part in text.split(",")]
    except ValueError:
        bearings = [float("nan")]
    if not all(-360.0 <= bearing <= 360.0 for bearing in bearings):
        raise ValueRangeError(
            "--keyways", repr(text), "true bearings with commas between, such as 30,150,200"
        )
    return tuple(bearing % 360.0 for bearing in bearings)


def _say(season: Season, plan: Plan) -> None:
    study = season.study
    say(f"{plan.title}  (plan {identity(plan)})")
    say((f"{plan.site.name}: " if plan.site.name else "") + describe_position(plan.site))
    hours = local_hours(plan.evening.start_utc_s, plan.evening.end_utc_s, season.zone)
    say(
        f"{counted(season.days, 'evening')} from {hours.day}, {hours.start} to {hours.end} on the clocks of "
        f"{season.zone}; {counted(study.passes, 'pass')} on {study.evenings} of them"
    )
    phrases = assumed(plan)
    if phrases:
        say("assumed: " + ", ".join(phrases))
    say(STATISTICS_ONLY)
    say()
    _say_holes(study)
    say()
    _say_curve(study)
    say()
    _say_drilling(study)


def _say_holes(study: SeasonStudy) -> None:
    say("Passes that are not clear in any posture, of an evening's, with the keyway at its best bearing:")
    heads = ["hole", "offset", "drilled", "keyway true", "as good over", "10 % of evenings", "half", "90 %"]
    rows = [hole_cells(hole) for hole in study.holes]
    say_table(heads, rows)
    say(halves_sentence(study))
    if any(hole.forbidden for hole in study.holes):
        say("Every bearing is forbidden: the best is told as if none were.")


def _say_curve(study: SeasonStudy) -> None:
    for hole in study.holes:
        say(curve_sentence(hole))
    bearings = np.arange(0.0, 360.0, _EVERY_DEG)
    columns = [_percents(hole, bearings) for hole in study.holes]
    heads = ["keyway true", *(f"hole {hole.hole.name}" for hole in study.holes)]
    rows = zip([f"{bearing:.0f}" for bearing in bearings], *columns, strict=True)
    say_table(heads, [list(row) for row in rows], left=())


def _percents(hole: HoleSeason, bearings: np.ndarray) -> list[str]:
    return [percent(float(share)) for share in hole.curve.at(bearings)]


def _say_drilling(study: SeasonStudy) -> None:
    say("Where to drill, clockwise from the datum mark as seen from above:")
    heads = ["holes", "drilled", "offsets", "not clear", "evenings without loss", "evenly spaced"]
    rows = [drilled_cells(one, study) for one in study.sets]
    say_table(heads, rows, left=(1, 2))
    say(placing_sentence(study))
    say(saved_sentence(study))
    say(present_sentence(study))
