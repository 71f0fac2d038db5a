"""`northkey orient`: the study of the seat."""

from __future__ import annotations

import argparse

from app.commands.output import say, say_json, say_table, shown_progress, tell
from app.commands.plan_input import add_plan_words, answered, evaluated
from app.commands.shapes import by_evening_shape, orient_shape, plan_head
from app.commands.words import moment, seat_lines, start_dial
from core.base.words import bearing_text, counted, first_few
from core.evaluate import Result
from core.mount.model.results import PassCheck
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat
from core.mount.seat.study import HoleStudy, SeatStudy
from core.mount.seat.words import tolerance_sentence
from core.plan.document import Plan
from core.studies import SeatByEvening, orient, orient_by_evening, orient_checks


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "orient",
        help="the study of the seat: which way the keyway should point, and through which hole",
        description="What every bearing of the keyway and every index hole would do to the picked passes "
        "(or to all, without picks).",
    )
    add_plan_words(parser)
    parser.add_argument(
        "--passes-alone",
        action="store_true",
        help="only what the passes alone lose, at once, without the evenings of other seats",
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if anything was answered, 2 if nothing."""
    plan, result, memo = evaluated(options)
    with shown_progress() as progress:
        study = orient(plan, result, memo, progress)
        second = study.second_best
        there = () if second is None else orient_checks(plan, result, second, memo, progress)
        evenings = None if options.passes_alone else orient_by_evening(plan, result, study, memo, progress)
    if options.json:
        shape = orient_shape(study, there, plan.mount) | by_evening_shape(evenings, plan.mount)
        say_json(plan_head(result) | shape)
    else:
        for line in seat_lines(plan, result):
            say(line)
        _say(study, there, evenings, result, plan)
    if not study.passes:
        tell("no pass to study: there is none in these hours that rises or sets and, with picks, is picked")
    return answered(result, plan)


def _say(
    study: SeatStudy,
    there: tuple[PassCheck, ...],
    evenings: SeatByEvening | None,
    result: Result,
    plan: Plan,
) -> None:
    say()
    always = f"; {len(study.left_out)} neither rising nor setting left out" if study.left_out else ""
    say(f"{counted(len(study.passes), 'pass')} studied{always}.")
    if not study.passes:
        return
    if evenings is not None and evenings.best is not None:
        say("Best by the evening: " + best_evening_words(evenings.best))
        say(f"The present seat's evening is worth {result.order.worth.worth_s:.0f} s.")
        say()
    say("Best by the passes alone: " + best_words(study.best))
    others = [hole for hole in study.holes if hole.hole.name != study.best.index_hole]
    for hole in others:
        say(f"With hole {hole.hole.name}: " + best_words(hole.best))
    _say_limits(study)
    _say_second(study, there, plan)
    _say_hole(study.hole_in_use, study, plan)


def best_words(best: BestSeat) -> str:
    """One sentence about a best seat, with both tolerances."""
    counts = [
        f"{count} {word}"
        for count, word in (
            (best.splits, "split"),
            (best.parts, "in part"),
            (best.out_of_reach, "out of reach"),
        )
        if count
    ]
    lost = f"{best.seconds_lost:.0f} s off the beam" + (f" ({', '.join(counts)})" if counts else "")
    return (
        f"keyway at {bearing_text(best.keyway_bearing_deg)} deg true, hole {best.index_hole}: {lost}. "
        f"{tolerance_sentence(best)}"
    )


def best_evening_words(best: BestEvening) -> str:
    """One sentence about the seat whose evening is best, with both tolerances."""
    counts = [
        f"{count} {word}"
        for count, word in ((best.turned_back, "turned back"), (best.over_the_top, "over the top"))
        if count
    ]
    return (
        f"keyway at {bearing_text(best.keyway_bearing_deg)} deg true, hole {best.index_hole}: "
        f"the evening is worth {best.worth_s:.0f} s with {counted(best.contacts, 'contact')}"
        f"{' (' + ', '.join(counts) + ')' if counts else ''}. "
        f"{tolerance_sentence(best)}"
    )


def _say_limits(study: SeatStudy) -> None:
    for limit in study.limits:
        why = f" ({limit.why})" if limit.why else ""
        say(f"Forbidden: {bearing_text(limit.from_deg)} to {bearing_text(limit.to_deg)} deg true{why}.")
    if study.best.forbidden:
        say("Every bearing is forbidden: the best is told as if none were.")


def _say_second(study: SeatStudy, there: tuple[PassCheck, ...], plan: Plan) -> None:
    """The best seat in another place, and where each pass starts there."""
    second = study.second_best
    if second is None:
        say("No second best: the forbidden bearings leave no other place.")
        return
    say("Second best, if the ground forbids the best: " + best_words(second))
    say()
    say("Dials at the second best:")
    rows = [
        [
            check.pass_.satellite,
            moment(check.pass_.aos.utc_s, plan),
            check.verdict_words,
            start_dial(check, plan.mount),
            f"{check.seconds_lost:.0f}",
        ]
        for check in there
    ]
    say_table(["satellite", "AOS", "verdict", "dial az / el", "s off the beam"], rows, left=(0, 2))


def _say_hole(study: HoleStudy, whole: SeatStudy, plan: Plan) -> None:
    say()
    say(f"Hole {study.hole.name} (in use), keyway bearing against clear ways:")
    rows = [
        [
            bearing_text(piece.from_deg),
            "all round" if piece.to_deg - piece.from_deg >= 360.0 else bearing_text(piece.to_deg),
            str(piece.counts.clear_upright),
            str(piece.counts.clear_over_the_top_only),
            str(piece.counts.not_clear),
            _lost_words(piece.counts.not_clear_indices, whole, plan),
        ]
        for piece in study.intervals
    ]
    heads = ["from", "to", "upright", "only over the top", "not clear", "which are not clear"]
    say_table(heads, rows, left=(5,))
    for point in study.isolated:
        at = bearing_text(point.keyway_bearing_deg)
        say(f"At exactly {at} deg only {point.counts.not_clear} are not clear.")


def _lost_words(lost: tuple[int, ...], study: SeatStudy, plan: Plan) -> str:
    named = [
        f"{study.passes[index].satellite} {moment(study.passes[index].aos.utc_s, plan)}" for index in lost
    ]
    return first_few(named, 4)
