"""Edits of the log. Each gives a new plan, or a `ValueRangeError` that names the key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.afterwards.rows import LogRow
from core.base.edits import changed, changed_together, reset
from core.base.times import format_iso
from core.base.words import listed
from core.log.model import LogEntry
from core.mount.model.results import PassCheck
from core.passes.track import Pass
from core.plan.document import Plan
from core.plan.picks import passes_meant


def with_noted(plan: Plan, row: LogRow, **noted: object) -> Plan:
    """The plan with something noted of a row; an entry of a contact that says nothing any more goes.

    Raises:
        ValueRangeError: it is not valid, or there are too many entries.
    """
    if row.place is None:
        entry = changed_together(_fresh(row.pass_), noted)
        return plan if entry.says_nothing else changed(plan, "log", (*plan.log, entry))
    entry = changed_together(plan.log[row.place], noted)
    # A row that was asked for stays while it is typed into; a contact's is there without an entry.
    if entry.says_nothing and row.number is not None:
        return without_entries(plan, [row.place])
    return changed(plan, f"log.{row.place}", entry)


def with_pass_worked(plan: Plan, check: PassCheck) -> Plan:
    """The plan with a pass noted as worked that was not planned.

    Raises:
        ValueRangeError: there are too many entries.
    """
    return changed(plan, "log", (*plan.log, changed_together(_fresh(check.pass_), {"worked": True})))


def without_entries(plan: Plan, places: Sequence[int]) -> Plan:
    """The plan without some entries, by their places in the log."""
    left = tuple(entry for place, entry in enumerate(plan.log) if place not in set(places))
    return changed(plan, "log", left) if left else reset(plan, "log")


def _fresh(pass_: Pass) -> LogEntry:
    return LogEntry(norad_id=pass_.norad_id, near=format_iso(pass_.peak.utc_s))


@dataclass(frozen=True)
class ReadBack:
    """A plan with entries that were read back, and what became of them.

    Attributes:
        plan: with them.
        new, changed, same: how many were not there, said other things than what was there, or the same.
        unmatched: how many of them mean no pass of the evening; they are kept.
    """

    plan: Plan
    new: int
    changed: int
    same: int
    unmatched: int

    @property
    def sentence(self) -> str:
        """In words: ``5 entries read: 3 new, 1 changed and 1 as before.``."""
        told = [
            words
            for number, words in (
                (self.new, f"{self.new} new"),
                (self.changed, f"{self.changed} changed"),
                (self.same, f"{self.same} as before"),
            )
            if number
        ]
        total = self.new + self.changed + self.same
        if not total:
            return "The file has no entries: nothing was noted in it."
        read = f"{total} entry read" if total == 1 else f"{total} entries read"
        none = f" No pass of this evening is meant by {self.unmatched} of them." if self.unmatched else ""
        return f"{read}: {listed(told)}.{none}"


def with_read_back(plan: Plan, passes: tuple[Pass, ...], entries: Sequence[LogEntry]) -> ReadBack:
    """The plan with entries from the field; what an entry says goes before what was noted of its pass.

    Args:
        plan: with the log so far.
        passes: of its evening.
        entries: as they were read; the same ones again change nothing.

    Raises:
        ValueRangeError: there would be too many.
    """
    log = list(plan.log)
    keys: dict[tuple[int, str], int] = {}
    for place, (entry, index) in enumerate(_meant(plan, log, passes)):
        keys.setdefault(_key(entry, index), place)
    new = other = same = unmatched = 0
    for entry, index in _meant(plan, entries, passes):
        unmatched += index is None
        there = keys.get(_key(entry, index))
        if there is None:
            keys[_key(entry, index)] = len(log)
            log.append(entry)
            new += 1
            continue
        said = {name: value for name, value in entry if value not in (None, "") and name != "near"}
        noted = changed_together(log[there], said)
        other += noted != log[there]
        same += noted == log[there]
        log[there] = noted
    read = plan if tuple(log) == plan.log else changed(plan, "log", tuple(log))
    return ReadBack(read, new, other, same, unmatched)


def _meant(
    plan: Plan, entries: Sequence[LogEntry], passes: tuple[Pass, ...]
) -> list[tuple[LogEntry, int | None]]:
    return list(zip(entries, passes_meant(entries, plan.satellites, passes), strict=True))


def _key(entry: LogEntry, index: int | None) -> tuple[int, str]:
    """What two entries of one pass have in common: the pass, or the moment where it means none."""
    return entry.norad_id, entry.near if index is None else str(index)
