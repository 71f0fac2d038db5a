"""Compared fields: what an evening gives at several places, so that an operator decides where to drive.

A study like those of `core.studies`: pure, memoised by the caller's memo, cancellable. Each figure is the one
that the plan's own evening, study of the seat and mask cost say.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, Indices
from core.base.errors import PropagationError, ValueRangeError
from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.base.words import listed
from core.evaluate import Result, evaluate
from core.mount.evening.lost import SecondsLost, lost_in
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat
from core.passes.mask_cost import MaskCost, mask_cost, sky_paths
from core.plan.document import Plan
from core.plan.picks import picked_stays
from core.plan.same_evening import at_field, difference_words, differences
from core.studies import orient, orient_by_evening

#: How many plans can be compared.
FEWEST, MOST = 2, 5
#: Evenings that are worth as much to within this are told as equal, seconds.
_EQUAL_S = 0.5


@dataclass(frozen=True, eq=False)
class Comparison:
    """Some plans side by side, in columns (F,) in the plans' order.

    Attributes:
        plans: as they were compared.
        names: what to call each field; no two alike.
        identities, motions, assumed, refused, element_ages: as in each plan's result.
        unmatched: a sentence for every pick that means no pass of its own there.
        over_s: seconds of the wanted passes (the picks, or all) over the minimum elevation.
        hidden_s: how many of these the mask hides.
        contacts: of the evening as the keyway stands.
        worth_s: of that evening, weighted seconds.
        lost: of its contacts' passes, told apart.
        studied: passes that the study of the seat is over.
        best: the best seat by the passes alone; says nothing where none is studied.
        best_evening: the seat whose evening is best; None where that was not asked for, or none is worth
            anything.
        weighed: whether it was asked for.
        differs: in what each plan's evening differs from the first's.
    """

    plans: tuple[Plan, ...]
    names: tuple[str, ...]
    identities: tuple[str, ...]
    motions: tuple[str, ...]
    assumed: tuple[tuple[str, ...], ...]
    refused: tuple[tuple[PropagationError, ...], ...]
    element_ages: tuple[tuple[tuple[str, int, float], ...], ...]
    unmatched: tuple[tuple[str, ...], ...]
    over_s: Floats
    hidden_s: Floats
    contacts: Indices
    worth_s: Floats
    lost: tuple[SecondsLost, ...]
    studied: Indices
    best: tuple[BestSeat, ...]
    best_evening: tuple[BestEvening | None, ...]
    weighed: bool
    differs: tuple[tuple[str, ...], ...]

    @property
    def usable_s(self) -> Floats:
        """Seconds (F,) over mask and minimum elevation."""
        return self.over_s - self.hidden_s

    @property
    def same_evening(self) -> bool:
        """The plans differ in nothing but their fields."""
        return not any(self.differs)

    @property
    def sentences(self) -> tuple[str, ...]:
        """Which plans are of another evening; where none is, which field's evening is worth most."""
        others = zip(self.names, self.differs, strict=True)
        told = tuple(difference_words(name, self.names[0], differs) for name, differs in others if differs)
        return told or (_most_words(self),)


def field_names(plans: Sequence[Plan]) -> tuple[str, ...]:
    """What to call each plan's field: the site's name, else the plan's title; no two alike."""
    named = Counter(plan.site.name for plan in plans)
    alone = [plan.site.name if named[plan.site.name] == 1 else "" for plan in plans]
    names = [name or plan.title for name, plan in zip(alone, plans, strict=True)]
    if len(set(names)) == len(names):
        return tuple(names)
    return tuple(f"{name} ({place})" for place, name in enumerate(names, start=1))


def with_same_evening(plans: Sequence[Plan]) -> tuple[Plan, ...]:
    """The first plan's evening at every plan's field."""
    first = plans[0]
    return (first, *(at_field(first, other) for other in plans[1:]))


def compare(
    plans: Sequence[Plan], memo: Memo | None = None, progress: Progress = no_progress, weigh: bool = False
) -> Comparison:
    """Two to five plans side by side.

    Args:
        plans: the first is the one that the others are held against.
        memo: the caller's memo; without one everything is computed.
        progress: called by every stage that takes long, with the field it is at.
        weigh: ask for the seat whose evening is best, too, which takes some two hundred evenings a plan.

    Raises:
        Cancelled: ``progress`` returned False.
        ValueRangeError: too few plans, or too many; or one names a time zone that does not exist.
    """
    if not FEWEST <= len(plans) <= MOST:
        raise ValueRangeError("the number of plans", len(plans), f"{FEWEST} to {MOST}")
    memo = Memo() if memo is None else memo
    return memo.call("compare", _compare, tuple(plans), weigh, memo=memo, progress=progress)


@dataclass(frozen=True, eq=False)
class _Field:
    """What is said of one plan, as in `Comparison`."""

    result: Result
    cost: MaskCost
    lost: SecondsLost
    studied: int
    best: BestSeat
    best_evening: BestEvening | None


def _compare(plans: tuple[Plan, ...], weigh: bool, memo: Memo, progress: Progress) -> Comparison:
    fields = [
        _field(plan, weigh, memo, _of_field(place, len(plans), progress))
        for place, plan in enumerate(plans, start=1)
    ]
    results = [field.result for field in fields]
    return Comparison(
        plans=plans,
        names=field_names(plans),
        identities=tuple(result.identity for result in results),
        motions=tuple(result.order.motion for result in results),
        assumed=tuple(result.assumed for result in results),
        refused=tuple(result.refused for result in results),
        element_ages=tuple(result.element_ages for result in results),
        unmatched=tuple(result.order.unmatched for result in results),
        over_s=np.array([field.cost.seconds for field in fields]),
        hidden_s=np.array([field.cost.hidden_s for field in fields]),
        contacts=np.array([len(result.order.contacts) for result in results], dtype=np.intp),
        worth_s=np.array([result.order.worth.worth_s for result in results]),
        lost=tuple(field.lost for field in fields),
        studied=np.array([field.studied for field in fields], dtype=np.intp),
        best=tuple(field.best for field in fields),
        best_evening=tuple(field.best_evening for field in fields),
        weighed=weigh,
        differs=tuple(differences(plans[0], plan) for plan in plans),
    )


def _field(plan: Plan, weigh: bool, memo: Memo, progress: Progress) -> _Field:
    result = evaluate(plan, memo, progress)
    picked = picked_stays(plan.picks, plan.satellites, result.passes, result.stays)
    paths = memo.call("sky paths", sky_paths, result.stays)
    site = plan.site
    study = orient(plan, result, memo, progress)
    weighs = weigh and bool(study.passes)
    evenings = orient_by_evening(plan, result, study, memo, progress) if weighs else None
    return _Field(
        result=result,
        cost=mask_cost(paths, site.horizon, site.minimum_elevation_deg, picked if plan.picks else None),
        lost=lost_in(result.order.contacts, plan.station.beam_limit_deg),
        studied=len(study.passes),
        best=study.best,
        best_evening=None if evenings is None else evenings.best,
    )


def _of_field(place: int, fields: int, progress: Progress) -> Progress:
    """The progress of one plan's stages, told with which of the fields it is."""

    def told(done: int, total: int, what: str) -> bool:
        return progress(done, total, f"field {place} of {fields}, {what}")

    return told


def _most_words(compared: Comparison) -> str:
    """How much is where, and by how much that is ahead."""
    worth_s, how = compared.worth_s, "as the keyway stands"
    if compared.weighed:
        best = compared.best_evening
        worth_s = np.array([0.0 if one is None else one.worth_s for one in best])
        how = "with each keyway at its best"
    falling = np.argsort(-worth_s, kind="stable")
    most_s = float(worth_s[falling[0]])
    if most_s <= 0.0:
        return "No field's evening is worth anything."
    behind = [int(place) for place in falling if most_s - worth_s[place] >= _EQUAL_S]
    alike = [compared.names[place] for place in falling[: len(worth_s) - len(behind)]]
    said = f"Worth {most_s:.0f} s at {listed(alike)}: "
    if not behind:
        return f"{said}alike {how}."
    ahead_s = most_s - worth_s[behind[0]]
    return f"{said}most of all {how}, {ahead_s:.0f} s more than at {compared.names[behind[0]]}."
