"""Reading and evaluating the plan a command is about."""

from __future__ import annotations

import argparse
from collections.abc import Iterable

from app.commands.output import shown_progress, tell, tell_all
from app.commands.words import refusal_words
from core.base.edits import changed
from core.base.errors import PlanError, PropagationError, ValueRangeError
from core.base.memo import Memo
from core.elements.age import far_words
from core.evaluate import Result, evaluate
from core.mount.dial.readings import reading_true
from core.mount.seat.words import forbidden_seat_sentence
from core.plan.document import Plan
from core.plan.storage import read_plan
from core.replan import with_seat


def add_plan_words(parser: argparse.ArgumentParser) -> None:
    """The plan file, and JSON."""
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json)")
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")
    add_dial_words(parser)


def add_dial_words(parser: argparse.ArgumentParser) -> None:
    """A dial that is set tonight."""
    parser.add_argument(
        "--reads-true",
        metavar="BEARING[,EL]",
        help="the azimuth dial is set to read true while sighting along this true bearing (the first of the "
        "places of the travel that point there): every dial printed follows",
    )


def _with_dial_set(plan: Plan, options: argparse.Namespace) -> Plan:
    """The plan with the azimuth dial set to read true at a sighting, in the seat as found.

    Raises:
        ValueRangeError: no bearing, or one the rotator cannot turn to.
    """
    text = options.reads_true
    if text is None:
        return plan
    try:
        figures = [float(part) for part in text.split(",")]
    except ValueError:
        figures = []
    level = figures[1] if len(figures) == 2 else 0.0
    if not 1 <= len(figures) <= 2 or not -360.0 <= figures[0] <= 360.0 or not -10.0 <= level <= 89.0:
        raise ValueRangeError("--reads-true", repr(text), "a true bearing, or BEARING,ELEVATION")
    found = with_seat(plan, getattr(options, "keyway", None), getattr(options, "hole", None))
    return changed(plan, "mount.azimuth", reading_true(found.mount, figures[0] % 360.0, level))


def evaluated(options: argparse.Namespace) -> tuple[Plan, Result, Memo]:
    """The plan, its result and the memo; refusals and unmatched picks are told on standard error."""
    plan = _with_dial_set(read_plan(options.plan), options)
    memo = Memo()
    try:
        with shown_progress() as progress:
            result = evaluate(plan, memo, progress)
    except ValueRangeError as error:
        raise PlanError(options.plan, "", str(error)) from None
    tell_all(told_of(plan, result.element_ages, result.refused))
    tell_all(result.order.unmatched)
    return plan, result, memo


def told_of(
    plan: Plan, element_ages: Iterable[tuple[str, int, float]], refused: Iterable[PropagationError]
) -> list[str]:
    """What is to be known of a plan's answer: old elements, refusals, what the ground or the skew forbids."""
    forbidden = forbidden_seat_sentence(plan.mount, plan.seat_limits)
    lines = [*far_words([(name, days) for name, _number, days in element_ages])]
    lines += [refusal_words(error) for error in refused]
    lines += [forbidden] if forbidden else []
    if any(antenna.skew_deg for antenna in plan.antennas):
        lines.append("an antenna's skew is kept in the plan but not yet counted in the verdicts")
    return lines


def answered(result: Result, plan: Plan) -> int:
    """Exit code: 2 if no satellite gave an answer, else 0."""
    if not plan.satellites:
        tell("the plan has no satellites; nothing to answer")
        return 2
    return 2 if len(result.refused) >= len(plan.satellites) and not result.passes else 0
