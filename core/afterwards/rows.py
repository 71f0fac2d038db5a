"""The log beside the evening: a row for each contact by its number on the sheet, then what else there was."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from core.base.times import parse_iso
from core.evaluate import Result
from core.log.model import LogEntry
from core.mount.model.results import PassCheck
from core.passes.track import Pass
from core.plan.document import Plan
from core.plan.picks import passes_meant


@dataclass(frozen=True, eq=False)
class LogRow:
    """One contact, or one pass that was worked without being planned.

    Attributes:
        number: its number on the sheet; None for a pass that was not planned.
        check: the pass, followed as it was to be.
        start_utc_s, end_utc_s: of the contact, else of the pass.
        entry: what was noted; None where nothing was.
        place: of the entry in the plan's log.
    """

    number: int | None
    check: PassCheck
    start_utc_s: float
    end_utc_s: float
    entry: LogEntry | None = None
    place: int | None = None

    @property
    def pass_(self) -> Pass:
        """The pass."""
        return self.check.pass_

    @property
    def best_utc_s(self) -> float:
        """When the dials were at their best signal: as noted, else at the peak."""
        noted = None if self.entry is None else self.entry.time
        return self.pass_.peak.utc_s if noted is None else parse_iso(noted)


@dataclass(frozen=True, eq=False)
class EveningLog:
    """The log of an evening.

    Attributes:
        rows: the contacts in the sheet's order, then logged passes that were not planned, by time.
        others: passes without a row, by time: what might have been worked too.
        unmatched: entries that mean none of the passes, by place in the plan's log.
        doubled: entries that mean a pass which another entry before them means, likewise.
    """

    rows: tuple[LogRow, ...]
    others: tuple[PassCheck, ...]
    unmatched: tuple[tuple[int, LogEntry], ...] = ()
    doubled: tuple[tuple[int, LogEntry], ...] = ()


def evening_log(plan: Plan, result: Result) -> EveningLog:
    """The plan's log laid beside its evening; ``result`` is of the plan, as planned and not from now."""
    meant = passes_meant(plan.log, plan.satellites, result.passes)
    first: dict[int, int] = {}
    for place, index in enumerate(meant):
        if index is not None:
            first.setdefault(index, place)
    # By value: a result that was worked out in another process is one of copies.
    index_of = {_which(pass_): index for index, pass_ in enumerate(result.passes)}
    planned = {index_of[_which(one.check.pass_)]: one for one in result.order.contacts}

    def noted(index: int) -> tuple[LogEntry | None, int | None]:
        place = first.get(index)
        return (None, None) if place is None else (plan.log[place], place)

    rows = [
        LogRow(number, one.check, one.start_utc_s, one.end_utc_s, *noted(index_of[_which(one.check.pass_)]))
        for number, one in enumerate(result.order.contacts, start=1)
    ]
    for index, check in enumerate(result.checks):
        if index in first and index not in planned:
            rows.append(LogRow(None, check, check.pass_.aos.utc_s, check.pass_.los.utc_s, *noted(index)))
    shown = planned.keys() | first.keys()
    return EveningLog(
        rows=tuple(rows),
        others=tuple(check for index, check in enumerate(result.checks) if index not in shown),
        unmatched=_entries(plan, (place for place, index in enumerate(meant) if index is None)),
        doubled=_entries(
            plan,
            (place for place, index in enumerate(meant) if index is not None and first[index] != place),
        ),
    )


def _which(pass_: Pass) -> tuple[int, float]:
    return pass_.norad_id, pass_.peak.utc_s


def _entries(plan: Plan, places: Iterable[int]) -> tuple[tuple[int, LogEntry], ...]:
    return tuple((place, plan.log[place]) for place in places)
