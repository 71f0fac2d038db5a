"""The same evening with changed mounts side by side: as the keyway stands, and each at its best keyway.

Passes and tracks are searched and laid once, since a change leaves site, hours and tilt alone. Each figure is
what `evaluate` and `core.studies.orient` say of the plan with that change.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.base.errors import NorthkeyError, ValueRangeError
from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.evaluate import NOT_COMPUTED_FROM, Result, evaluate
from core.mount.evening.tally import tally
from core.mount.model.results import NOT_HELD, VERDICTS, Verdict
from core.mount.seat.choice import BestSeat
from core.mount.seat.curve import curve_steps
from core.mount.seat.season.not_clear import StepCurve
from core.mount.seat.study import HoleStudy, seated
from core.plan.document import Plan
from core.studies import orient, passes_to_study
from core.what_if.changes import MOST_CHANGES, Change, with_change


@dataclass(frozen=True)
class AtSeat:
    """An evening at one seat.

    Attributes:
        keyway_bearing_deg, index_hole: the seat.
        contacts, signal_s: of the ordered evening, and seconds on the beam in them.
        worth_s: what the evening is worth, weighted seconds.
        passes: how many have each verdict, by `Verdict.code`, of those that the study of the seat is over.
        lost_s: seconds that these lose, each worked for itself.
    """

    keyway_bearing_deg: float
    index_hole: str
    contacts: int
    signal_s: float
    worth_s: float
    passes: tuple[int, ...]
    lost_s: float

    def count(self, verdict: Verdict) -> int:
        """How many passes have a verdict."""
        return self.passes[verdict.code]

    @property
    def not_held(self) -> int:
        """How many passes are split, worked in part or out of reach."""
        return sum(self.count(verdict) for verdict in NOT_HELD)


@dataclass(frozen=True, eq=False)
class EveningRow:
    """The evening with one change.

    Attributes:
        change: None: the plan as it is.
        stands: where the keyway stands.
        best: the best seat by the passes alone, over all holes; its bearing is exact.
        at_best: there, its bearing to a tenth where that is as good.
        curve: seconds lost against the keyway's bearing through the hole in use.
        best_in_use_deg: the best bearing with that hole.
    """

    change: Change | None
    stands: AtSeat
    best: BestSeat
    at_best: AtSeat
    curve: StepCurve
    best_in_use_deg: float

    @property
    def name(self) -> str:
        """What the row is called."""
        return row_name(self.change)


@dataclass(frozen=True, eq=False)
class WhatIfEvening:
    """An evening with changed mounts.

    Attributes:
        rows: the plan as it is first, then each change as it was asked.
        studied: how many passes the study of the seat is over.
    """

    rows: tuple[EveningRow, ...]
    studied: int


def row_name(change: Change | None) -> str:
    """What a change, or none, is called in tables and legends."""
    return "as it is now" if change is None else change.name


def what_if_evening(
    plan: Plan, changes: Sequence[Change], memo: Memo | None = None, progress: Progress = no_progress
) -> WhatIfEvening:
    """The evening of a plan, and with each change of its mount.

    Args:
        plan: as it is; it stays so.
        changes: up to `MOST_CHANGES`.
        memo: the document owner's memo; without one everything is computed.
        progress: called by every stage that takes long, with the row it is at.

    Raises:
        Cancelled: ``progress`` returned False.
        NorthkeyError: no pass rises or sets in these hours.
        ValueRangeError: too many changes, or the mount cannot be so.
    """
    refuse_many(changes)
    memo = Memo() if memo is None else memo
    asked = of_evening(plan)
    plans = [asked, *(with_change(asked, change) for change in changes)]
    result = evaluate(asked, memo, progress)
    studied = len(orient(asked, result, memo, progress).passes)
    if not studied:
        raise NorthkeyError("no pass rises or sets in these hours: there is nothing to set side by side")
    rows = []
    for place, (change, one) in enumerate(zip((None, *changes), plans, strict=True), start=1):
        told = of_row(place, len(plans), progress)
        stands, best, at_best, hole = memo.call("what if", _figures, one, memo=memo, progress=told)
        rows.append(EveningRow(change, stands, best, at_best, _curve(hole), hole.best_rounded_deg))
    return WhatIfEvening(tuple(rows), studied)


def refuse_many(changes: Sequence[Change]) -> None:
    """Refuse more changes than can be set side by side.

    Raises:
        ValueRangeError: there are more.
    """
    if len(changes) > MOST_CHANGES:
        raise ValueRangeError("the number of changes", len(changes), f"at most {MOST_CHANGES}")


def of_evening(plan: Plan) -> Plan:
    """All of a plan that the answer depends on: equal plans of this kind, equal answers."""
    defaults = Plan.model_fields
    return plan.model_copy(update={key: defaults[key].get_default() for key in NOT_COMPUTED_FROM})


def of_row(place: int, rows: int, progress: Progress) -> Progress:
    """The progress of one row's stages, told with which of the rows it is."""

    def told(_done: int, _total: int, what: str) -> bool:
        return progress(place - 1, rows, f"row {place} of {rows}, {what}")

    return told


def _figures(plan: Plan, memo: Memo, progress: Progress) -> tuple[AtSeat, BestSeat, AtSeat, HoleStudy]:
    """One row's figures; what the memo knows is looked up, and nothing of it is pushed out."""
    aside = Memo()
    aside.take_over(memo)
    result = evaluate(plan, aside, progress)
    study = orient(plan, result, aside, progress)
    stands = _at_seat(plan, result)
    there = seated(plan.mount, study.hole_of_best.best_rounded_deg, study.best.index_hole)
    best_plan = plan.model_copy(update={"mount": there})
    at_best = _at_seat(best_plan, evaluate(best_plan, aside, progress))
    return stands, study.best, at_best, study.hole_in_use


def _at_seat(plan: Plan, result: Result) -> AtSeat:
    studied = set(map(id, passes_to_study(plan, result)))
    checks = [check for check in result.checks if id(check.pass_) in studied]
    sums = tally(result.order)
    return AtSeat(
        keyway_bearing_deg=plan.mount.keyway_bearing_deg,
        index_hole=plan.mount.index_hole,
        contacts=sums.contacts,
        signal_s=sums.seconds_on,
        worth_s=result.order.worth.worth_s,
        passes=tuple(sum(check.verdict == verdict for check in checks) for verdict in VERDICTS),
        lost_s=sum(check.seconds_lost for check in checks),
    )


def _curve(hole: HoleStudy) -> StepCurve:
    steps = curve_steps(hole.curve)
    return StepCurve(steps.from_deg, steps.lost_s)
