"""What an evening's worth is made of."""

from __future__ import annotations

from collections.abc import Iterable

from core.mount.evening.order.chains import ChoiceProblem, ContactChoice, Solution
from core.mount.evening.order.samples import TIE_S
from core.mount.evening.order.spans import ContactSpan
from core.mount.evening.order.worth import SPARE_SHARE
from core.mount.evening.results import EveningWorth


def worth_of(problem: ChoiceProblem, contacts: Iterable[ContactChoice]) -> EveningWorth:
    """The worth of some contacts by time, told apart; not rounded to units as the choice counts it."""
    spans = [ContactSpan(problem.options[one.option], one.first, one.last) for one in contacts]
    rules, mover, start = problem.units.rules, problem.mover, problem.mount_start
    signal_s, turned_deg, changes, flips = 0.0, 0.0, 0, 0
    place, left_s = (None, 0.0) if start is None else (start.axes, start.utc_s)
    for number, span in enumerate(spans):
        signal_s += span.option.worth * counted_s(span.signal_s, rules.enough_s)
        turned_deg += float(span.option.turned_deg[span.last] - span.option.turned_deg[span.first])
        flips += span.flips
        if place is not None:
            away = place.m_deg, span.start.m_deg, place.e_deg, span.start.e_deg
            turned_deg += float(mover.turn_deg(*away, span.start_utc_s - left_s))
        if number:
            before = spans[number - 1]
            changes += before.option.satellite != span.option.satellite
            flips += bool(before.option.over[before.last] != span.option.over[span.first])
        place, left_s = span.end, span.end_utc_s
    return EveningWorth(
        signal_s=signal_s,
        changes_s=changes * rules.change_cost_s,
        postures_s=flips * rules.posture_change_cost_s,
        turning_s=turned_deg * rules.turn_cost_s / 360.0,
        turned_deg=turned_deg,
    )


def short_s(problem: ChoiceProblem, solution: Solution) -> float:
    """By how many weighted seconds the best evening may be worth more at most."""
    return problem.units.score(solution.short).worth * problem.units.worth_s


def counted_s(signal_s: float, enough_s: float) -> float:
    """Seconds of one contact as they count: those beyond enough a tenth."""
    spare_s = signal_s - enough_s
    return signal_s if spare_s <= TIE_S else enough_s + SPARE_SHARE * spare_s
