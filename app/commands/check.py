"""`northkey check`: each pass on the mount."""

from __future__ import annotations

import argparse

from app.commands.output import say, say_json, say_table
from app.commands.plan_input import add_plan_words, answered, evaluated
from app.commands.shapes import check_shape, dial_check_shape, plan_head, refused_shape
from app.commands.steering import keyhole_studies, say_steering, steering_shape
from app.commands.words import moment, seat_lines, start_dial
from core.base.words import bearing_text, cut_words
from core.evaluate import Result
from core.mount.dial.summary import dial_checks
from core.plan.document import Plan


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "check",
        help="each pass on the mount: ways, verdict, dial, rates, seconds off the beam, reason",
        description="Each pass of a plan on its mount: in which ways it can be followed, the verdict "
        "and why. Times are UTC.",
    )
    add_plan_words(parser)
    parser.add_argument(
        "--steering",
        action="store_true",
        help="for each pass over a keyhole: chased, led, held, through the zenith and the best path, with "
        "degrees off, seconds off each antenna's beam, loss and motor travel",
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if anything was answered, 2 if nothing."""
    plan, result, memo = evaluated(options)
    studies = keyhole_studies(plan, result, memo) if options.steering else {}
    if options.json:
        pairs = zip(result.checks, result.reasons, strict=True)
        passes = [check_shape(check, reason, plan.mount) for check, reason in pairs]
        if options.steering:
            for index, shape in enumerate(passes):
                told = studies.get(index)
                shape["steering"] = None if told is None else steering_shape(told, plan)
        tests = [dial_check_shape(check) for check in dial_checks(plan.mount)]
        say_json(
            plan_head(result)
            | {"passes": passes, "refused": refused_shape(result.refused), "travel_test": tests}
        )
    else:
        _say(plan, result)
        if options.steering and result.checks:
            say_steering(plan, result, studies)
    return answered(result, plan)


def _say(plan: Plan, result: Result) -> None:
    for line in seat_lines(plan, result):
        say(line)
    _say_travel_test(plan)
    rows = []
    for check in result.checks:
        pass_ = check.pass_
        peak_rate = max((way.peak_azimuth_rate_deg_s for way in check.ways), default=0.0)
        rows.append(
            [
                pass_.satellite,
                moment(pass_.aos.utc_s, plan),
                moment(pass_.los.utc_s, plan),
                f"{pass_.peak.elevation_deg:.0f}",
                check.verdict_words,
                ", ".join(check.clear_postures) or "none",
                start_dial(check, plan.mount),
                f"{peak_rate:.1f}" if check.ways else "",
                f"{check.seconds_lost:.0f}",
                cut_words(pass_.cut),
            ]
        )
    say()
    if not rows:
        say("No passes: nothing rises over the minimum elevation and the mask in these hours.")
        return
    heads = [
        "satellite",
        "AOS",
        "LOS",
        "peak",
        "verdict",
        "clear",
        "dial az / el",
        "deg/s",
        "s off the beam",
        "",
    ]
    say_table(heads, rows, left=(0, 4, 5, 9))
    say()
    say("Why:")
    for check, reason in zip(result.checks, result.reasons, strict=True):
        say(f"  {check.pass_.satellite} {moment(check.pass_.aos.utc_s, plan)}  {reason.text}")


def _say_travel_test(plan: Plan) -> None:
    """What the dials must read at the ends and the middle of the travel."""
    say()
    rows = [
        [
            f"{check.axis}, {check.place}",
            "" if check.bearing_deg is None else bearing_text(check.bearing_deg),
            check.short,
        ]
        for check in dial_checks(plan.mount)
    ]
    say_table(["travel test", "deg true", "dial"], rows)
