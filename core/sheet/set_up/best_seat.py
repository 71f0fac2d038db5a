"""Whether this seat is the best by the evening, in one sentence with both worths."""

from __future__ import annotations

from core.base.words import bearing_text
from core.evaluate import Result
from core.mount.seat.evening_saving import evening_of_order, evening_saving
from core.plan.document import Plan
from core.sheet.words import clean
from core.studies import SeatByEvening


def best_seat_words(plan: Plan, result: Result, by_evening: SeatByEvening | None) -> str:
    """The sentence, such as that the best seat is 266.6 deg true, hole A: worth 9,021 s, this one 8,653 s.

    Empty where the evenings of other seats are not known, or none is worth anything.
    """
    if by_evening is None or by_evening.best is None:
        return ""
    best = by_evening.best
    told = evening_saving(best, plan.mount, evening_of_order(result.order), plan.seat_limits)
    here, there = f"{told.here.worth_s:,.0f} s", f"{best.worth_s:,.0f} s"
    if told.at_best:
        return f"By the evening this seat is the best: worth {here}."
    where = f"{bearing_text(best.keyway_bearing_deg)} deg true, hole {clean(best.index_hole, 24)}"
    if told.stays:
        return f"By the evening this seat is as good as the best, {where}: worth {here}, that one {there}."
    return f"By the evening the best seat is {where}: worth {there}, this one {here}."
