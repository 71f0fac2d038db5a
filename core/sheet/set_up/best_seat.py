"""Whether this seat is the best: by the evening with both worths, else by the passes alone, else unknown."""

from __future__ import annotations

from core.base.words import bearing_text
from core.evaluate import Result
from core.mount.model.chain import zeta_deg
from core.mount.seat.evening_saving import evening_of_order, evening_saving
from core.mount.seat.outcome import outcome_from_checks, outcome_from_study, pass_id
from core.mount.seat.saving import saving, saving_sentence
from core.mount.seat.study import SeatStudy
from core.plan.document import Plan
from core.sheet.words import clean
from core.studies import SeatByEvening

#: How the evenings of other seats are asked for.
_HOW = "northkey sheet --weigh-seats does"


def best_seat_words(
    plan: Plan, result: Result, by_evening: SeatByEvening | None, study: SeatStudy | None = None
) -> str:
    """The sentence, such as that the best seat is 266.6 deg true, hole A: worth 9,021 s, this one 8,653 s.

    Empty where no evening is worth anything, whatever the seat.
    """
    if by_evening is None:
        return _by_the_passes(plan, result, study)
    if by_evening.best is None:
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


def _by_the_passes(plan: Plan, result: Result, study: SeatStudy | None) -> str:
    if study is None:
        return f"Not compared with other seats; {_HOW}."
    checks = {pass_id(check.pass_): check for check in result.checks}
    here = outcome_from_checks(study.passes, checks)
    if here is None:
        here = outcome_from_study(study, zeta_deg(plan.mount), plan.mount.index_hole)
    told = clean(saving_sentence(saving(study, plan.mount, here, plan.seat_limits)), 400)
    return f"By the passes alone: {told[:1].lower()}{told[1:]} By the evening not compared; {_HOW}."
