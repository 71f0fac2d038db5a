"""A season of such evenings with changed mounts side by side: where each meets its stops least.

The evenings are searched once for all of them; each figure is what `core.season` says of the plan with that
change, through its hole in use.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.mount.seat.season.study import HoleSeason, SeasonQuestion
from core.plan.document import Plan
from core.season import study_plan, without_seat
from core.what_if.changes import Change, with_change
from core.what_if.evening import of_row, refuse_many, row_name

#: Where holes would best be drilled is the season's own question; here one hole is the least to ask for.
_ASKED = SeasonQuestion(most_holes=1)


@dataclass(frozen=True, eq=False)
class SeasonRow:
    """The season with one change.

    Attributes:
        change: None: the plan as it is.
        through: the hole in use: its curve, its best bearing and the evenings' shares there.
    """

    change: Change | None
    through: HoleSeason

    @property
    def name(self) -> str:
        """What the row is called."""
        return row_name(self.change)

    @property
    def mean_share(self) -> float:
        """Of an evening's passes so many are not clear at the best bearing, in the mean."""
        return float(self.through.shares.mean())

    @property
    def free_evenings(self) -> int:
        """Evenings on which every pass is clear at the best bearing."""
        return int(np.count_nonzero(self.through.shares == 0.0))


@dataclass(frozen=True, eq=False)
class WhatIfSeason:
    """A season with changed mounts.

    Attributes:
        rows: the plan as it is first, then each change as it was asked.
        days: the hours repeated on so many days.
        evenings, passes: evenings that have passes, and how many.
    """

    rows: tuple[SeasonRow, ...]
    days: int
    evenings: int
    passes: int


def what_if_season(
    plan: Plan,
    changes: Sequence[Change],
    days: int,
    memo: Memo | None = None,
    progress: Progress = no_progress,
) -> WhatIfSeason:
    """The season of a plan, and with each change of its mount.

    Args:
        plan: as it is; it stays so.
        changes: up to `MOST_CHANGES`.
        days: 2 to 1100.
        memo: the document owner's memo; without one everything is computed.
        progress: called with the number of evenings done, then with the row it is at.

    Raises:
        Cancelled: ``progress`` returned False.
        NorthkeyError: fewer than two evenings have passes.
        ValueRangeError: too many changes, the mount cannot be so, or so many days cannot be asked for.
    """
    refuse_many(changes)
    memo = Memo() if memo is None else memo
    plans = [plan, *(with_change(plan, change) for change in changes)]
    rows, evenings, passes = [], 0, 0
    for place, (change, one) in enumerate(zip((None, *changes), plans, strict=True), start=1):
        # The first row searches the evenings, and tells how many are done.
        told = progress if place == 1 else of_row(place, len(plans), progress)
        study = study_plan(one, days, _ASKED, memo, told).study
        through = next(hole for hole in study.holes if hole.hole.name == one.mount.index_hole)
        rows.append(SeasonRow(change, through))
        evenings, passes = study.evenings, study.passes
    return WhatIfSeason(tuple(rows), days, evenings, passes)


def of_season(plan: Plan) -> tuple[object, ...]:
    """All of a plan that the answer depends on: equal ones, equal answers, wherever the keyway points."""
    mount = without_seat(plan.mount)
    return plan.orbits, plan.site, plan.evening, mount, plan.mount.index_hole, plan.seat_limits
