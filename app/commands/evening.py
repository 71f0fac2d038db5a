"""`northkey evening`: the evening in order."""

from __future__ import annotations

import argparse

from app.commands.evening_shapes import evening_shape, now_shape
from app.commands.now_words import add_now_words, now_of, planned_again, say_now
from app.commands.output import say, say_json, say_table, shown_progress
from app.commands.plan_input import add_plan_words, answered, evaluated
from app.commands.shapes import plan_head
from app.commands.words import moment, seat_lines, start_dial
from core.base.words import counted, cut_words
from core.evaluate import Result
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.joining import idle_place
from core.mount.evening.lost import lost_in, lost_of
from core.mount.evening.results import Contact, EveningReasons, EveningWorth, Halt, Move
from core.plan.document import Plan
from core.studies import explain


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "evening",
        help="the ordered evening: picks, ways, moves between, wrap",
        description="The best evening of the picked passes (without picks, of all that are long enough): "
        "which to work, each in which way and from when to when, with the moves between them, and why. "
        "Times are UTC.",
    )
    add_plan_words(parser)
    add_now_words(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if anything was answered, 2 if nothing."""
    now = now_of(options)
    plan, result, memo = evaluated(options)
    again = planned_again(plan, now, memo) if now is not None else None
    if again is not None:
        plan, result = again.plan, again.result
    with shown_progress() as progress:
        told = explain(plan, result, memo, progress)
    if options.json:
        idle = idle_place(plan.mount, plan.evening_rules.idle_m_deg)
        say_json(
            plan_head(result)
            | {"now": None if again is None else now_shape(again)}
            | evening_shape(result.order, told, plan.station, idle)
        )
    else:
        say_evening(plan, result, told)
        if again is not None:
            say()
            say_now(again)
    return answered(result, plan)


def say_evening(plan: Plan, result: Result, told: EveningReasons) -> None:
    """The evening as a table."""
    for line in seat_lines(plan, result):
        say(line)
    order = result.order
    say()
    if order.contacts:
        heads = [
            "satellite",
            "from",
            "to",
            "peak",
            "verdict",
            "dial az / el",
            "move before",
            "wrap",
            "lost",
            "",
        ]
        say_table(heads, [_row(contact, plan) for contact in order.contacts], left=(0, 4, 6, 8, 9))
    else:
        say(_why_nothing(plan, result))
    if order.contacts:
        say()
        for contact, why in zip(order.contacts, told.why_so, strict=True):
            say(f"{contact.check.pass_.satellite} {moment(contact.start_utc_s, plan)}: {why}")
        say()
    for rest in order.rests:
        say(_rest_words(rest, plan))
    for (check, _), why in zip(order.left_out, told.why_left, strict=True):
        cut = f" ({cut_words(check.pass_.cut)})" if check.pass_.cut else ""
        say(f"Left out: {check.pass_.satellite} {moment(check.pass_.aos.utc_s, plan)}{cut}, {why}.")
    late = sum(1 for contact in order.contacts if contact.move_before and not contact.move_before.feasible)
    for caution in order.cautions:
        say(f"Caution: {caution.text}")
    if late:
        verb = "does" if late == 1 else "do"
        say(f"{counted(late, 'move')} {verb} not fit.")
    if order.contacts:
        say(worth_words(order.worth))
        lost = lost_in(order.contacts, plan.station.beam_limit_deg)
        say(f"Of the contacts' passes: {lost.words}.")


def worth_words(worth: EveningWorth) -> str:
    """What the evening is worth, what that comes of, and what may be missing."""
    costs = (
        ("changes of satellite", worth.changes_s),
        ("changes of posture", worth.postures_s),
        ("turning azimuth", worth.turning_s),
    )
    less = "".join(f", less {cost_s:.0f} s for {name}" for name, cost_s in costs if cost_s >= 0.5)
    short = f" {worth.short_words}." if worth.short_words else ""
    return (
        f"Worth {worth.worth_s:.0f} s: {worth.signal_s:.0f} weighted seconds of signal{less}. "
        f"Azimuth turns {worth.turned_deg:.0f} deg.{short}"
    )


def _rest_words(rest: Halt, plan: Plan) -> str:
    """Where the mount stands idle or stowed."""
    dial = azimuth_dial(rest.m_deg, plan.mount.azimuth).text
    level = elevation_dial(rest.e_deg, plan.mount.elevation).text
    where = f"at dial {dial}, elevation dial {level}"
    if rest.kind == "stow" or rest.end_utc_s is None:
        return f"Stowed {where} from {moment(rest.start_utc_s, plan)}."
    return f"Idle {where} from {moment(rest.start_utc_s, plan)} to {moment(rest.end_utc_s, plan)}."


def _why_nothing(plan: Plan, result: Result) -> str:
    if not plan.satellites:
        return "Nothing to work: the plan has no satellites."
    if not result.passes:
        return "Nothing to work: nothing rises over the minimum elevation and the mask in these hours."
    if plan.picks and not result.order.left_out:
        return f"Nothing to work: no pick names one of the {counted(len(result.passes), 'pass')} found."
    return f"Nothing to work: of {counted(len(result.passes), 'pass')} none can be, as told below."


def _row(contact: Contact, plan: Plan) -> list[str]:
    check = contact.check
    return [
        check.pass_.satellite,
        moment(contact.start_utc_s, plan),
        moment(contact.end_utc_s, plan),
        f"{check.pass_.peak.elevation_deg:.0f}",
        check.verdict_words,
        start_dial(check, plan.mount),
        _move_words(contact.move_before),
        f"{contact.wrap_after_deg:+.0f}",
        lost_of(contact, plan.station.beam_limit_deg).words,
        cut_words(check.pass_.cut),
    ]


def _move_words(move: Move | None) -> str:
    if move is None:
        return ""
    if move.seconds_there < 0.0:
        return f"does not fit: {move.seconds_needed:.0f} s, overlaps by {-move.seconds_there:.0f} s"
    fits = "" if move.feasible else "does not fit: "
    return f"{fits}{move.seconds_needed:.0f} s of {move.seconds_there:.0f} s"
