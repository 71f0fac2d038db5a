"""`northkey compare`: the same evening from several fields."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from app.commands.compare_shapes import compare_shape
from app.commands.output import say, say_json, say_table, shown_progress, tell, tell_all
from app.commands.plan_input import told_of
from app.commands.words import to_the_second
from core.base.errors import PlanError, ValueRangeError
from core.base.memo import Memo
from core.base.words import bearing_text, figure
from core.compare import FEWEST, MOST, Comparison, compare, with_same_evening
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat
from core.place.position import describe_position
from core.place.zones import resolve_time_zone
from core.plan.document import Plan
from core.plan.storage import read_plan


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "compare",
        help="the same evening from several fields, to see where to drive",
        description=f"Sets {FEWEST} to {MOST} plans side by side: minutes over mask and minimum elevation, "
        "minutes that the mask hides, contacts and worth of the evening as the keyway stands, and the best "
        "seat. Plans of other hours, satellites, picks or mounts are told to be other evenings.",
    )
    parser.add_argument("plans", nargs="+", metavar="PLAN", help="plan files, one for each field")
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")
    parser.add_argument(
        "--same-evening",
        action="store_true",
        help="hours, satellites, picks, minimum elevation, mount and rules of the first plan at every field; "
        "of the others only place, mask and what belongs to the ground",
    )
    parser.add_argument(
        "--weigh-seats",
        action="store_true",
        help="the best seat by the evening too (takes some two hundred evenings a plan)",
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if anything was answered, 2 if nothing."""
    files: list[str] = options.plans
    if not FEWEST <= len(files) <= MOST:
        raise ValueRangeError("the number of plans", len(files), f"{FEWEST} to {MOST}")
    read = _read(files, options.same_evening)
    if len(read) < FEWEST:
        tell(f"{len(read)} of {len(files)} plans can be read: nothing to compare")
        return 2
    plans = [plan for _, plan in read]
    if options.same_evening:
        plans = list(with_same_evening(plans))
    with shown_progress() as progress:
        compared = compare(plans, Memo(), progress, options.weigh_seats)
    _tell_of(compared)
    if options.json:
        say_json(compare_shape(compared, [file for file, _ in read]))
    else:
        _say(compared)
    gave = [len(compared.refused[place]) < len(plan.satellites) for place, plan in enumerate(plans)]
    return 0 if any(gave) else 2


def _read(files: Sequence[str], same_evening: bool) -> list[tuple[str, Plan]]:
    """The plans that can be read; those that cannot are told.

    Raises:
        PlanError: the first one cannot, and the evening is to be taken from it.
    """
    read = []
    for place, file in enumerate(files):
        try:
            read.append((file, _sound(file)))
        except PlanError as error:
            if same_evening and place == 0:
                raise
            tell(str(error))
    return read


def _sound(file: str) -> Plan:
    plan = read_plan(file)
    try:
        resolve_time_zone(plan.site)
    except ValueRangeError as error:
        raise PlanError(file, "site.time_zone", str(error)) from None
    return plan


def _tell_of(compared: Comparison) -> None:
    """What is to be known of all the plans, once, and what of one of them, with its field's name."""
    told = [
        [
            *told_of(plan, compared.element_ages[place], compared.refused[place]),
            *compared.unmatched[place],
        ]
        for place, plan in enumerate(compared.plans)
    ]
    of_all = [line for line in told[0] if all(line in lines for lines in told)]
    tell_all(of_all)
    for name, lines in zip(compared.names, told, strict=True):
        tell_all(f"{name}: {line}" for line in lines if line not in of_all)
    if not any(plan.satellites for plan in compared.plans):
        tell("no plan has satellites; nothing to answer")


def _say(compared: Comparison) -> None:
    hours = [_hours(plan) for plan in compared.plans]
    alike = len(set(hours)) == 1
    if alike:
        say(f"{hours[0]}; times UTC")
    for place, plan in enumerate(compared.plans):
        own = "" if alike else f"; {hours[place]} UTC"
        identity = compared.identities[place]
        say(f"{compared.names[place]}: {describe_position(plan.site)}{own} (plan {identity})")
    say()
    heads = [
        "field",
        "usable min",
        "hidden min",
        "contacts",
        "worth s",
        "best keyway",
        "hole",
        "s off the beam",
    ]
    rows = [_row(compared, place) for place in range(len(compared.plans))]
    if compared.weighed:
        heads += ["best by the evening", "hole", "worth s there"]
        rows = [row + _weighed(best) for row, best in zip(rows, compared.best_evening, strict=True)]
    say_table(heads, rows)
    say()
    for sentence in compared.sentences:
        say(sentence)


def _hours(plan: Plan) -> str:
    return f"{to_the_second(plan.evening.start)} to {to_the_second(plan.evening.end)}"


def _row(compared: Comparison, place: int) -> list[str]:
    best: BestSeat | None = compared.best[place] if compared.studied[place] else None
    return [
        compared.names[place],
        figure(compared.usable_s[place] / 60.0),
        figure(compared.hidden_s[place] / 60.0),
        str(compared.contacts[place]),
        f"{compared.worth_s[place]:.0f}",
        *(("", "", "") if best is None else (*_seat(best), f"{best.seconds_lost:.0f}")),
    ]


def _weighed(best: BestEvening | None) -> list[str]:
    return ["", "", ""] if best is None else [*_seat(best), f"{best.worth_s:.0f}"]


def _seat(best: BestSeat | BestEvening) -> tuple[str, str]:
    return bearing_text(best.keyway_bearing_deg), best.index_hole
