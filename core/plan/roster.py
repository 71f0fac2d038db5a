"""The plan's satellites as a roster: sets in and out, names, which are wanted and how much, and rows to show.

Wanting a satellite means picking each of its passes that the result has, with one worth; a pass picked
before keeps its pick. All functions give new values and leave the old ones as they are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from core.base.edits import changed
from core.base.errors import PropagationError, ValueRangeError
from core.base.times import format_iso
from core.base.words import first_few
from core.elements.age import Grade, age_days, grade_age
from core.elements.model import ElementSet
from core.elements.orbit import Orbit, orbit_of
from core.passes.track import Pass
from core.plan.document import Pick, Plan, Satellite
from core.plan.picks import match_picks


@dataclass(frozen=True)
class Intake:
    """What taking element sets into a plan did, by the names the plan has for the satellites.

    Attributes:
        plan: with the sets taken in.
        added: satellites that are new.
        renewed: satellites whose set gave way to a newer one.
        unchanged: satellites whose set has the same epoch, left as it is.
        older: satellites whose own set is newer than the one offered, left as it is.
    """

    plan: Plan
    added: tuple[str, ...] = ()
    renewed: tuple[str, ...] = ()
    unchanged: tuple[str, ...] = ()
    older: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """One sentence, such as: 2 added, 1 renewed by a newer set (ALDER)."""
        parts = [f"{len(self.added)} added"] if self.added else []
        for names, what in (
            (self.renewed, "renewed by a newer set"),
            (self.unchanged, "already there with the same epoch"),
            (self.older, "left as it is, being newer than the file's"),
        ):
            if names:
                parts.append(f"{len(names)} {what} ({first_few(names, 3)})")
        return (", ".join(parts) or "Nothing to take in") + "."


def take_in(plan: Plan, sets: Sequence[ElementSet]) -> Intake:
    """The plan with element sets added, or put in place of older sets of the same object.

    A satellite keeps its place, the operator's name and its transponders when its set is renewed.
    """
    satellites = {satellite.elements.norad_id: satellite for satellite in plan.satellites}
    added: list[str] = []
    renewed: list[str] = []
    unchanged: list[str] = []
    older: list[str] = []
    for elements in sets:
        own = satellites.get(elements.norad_id)
        if own is None:
            satellites[elements.norad_id] = Satellite(name=elements.name, elements=elements)
            added.append(elements.name)
        elif elements.epoch_utc_s > own.elements.epoch_utc_s:
            satellites[elements.norad_id] = own.model_copy(update={"elements": elements})
            renewed.append(own.name)
        else:
            same = elements.epoch_utc_s == own.elements.epoch_utc_s
            (unchanged if same else older).append(own.name)
    after = changed(plan, "satellites", tuple(satellites.values())) if added or renewed else plan
    return Intake(after, tuple(added), tuple(renewed), tuple(unchanged), tuple(older))


def without(plan: Plan, norad_ids: Sequence[int]) -> Plan:
    """The plan without these satellites and their picks."""
    gone = set(norad_ids)
    satellites = tuple(s for s in plan.satellites if s.elements.norad_id not in gone)
    picks = tuple(pick for pick in plan.picks if pick.norad_id not in gone)
    after = changed(plan, "satellites", satellites)
    return after if picks == plan.picks else changed(after, "picks", picks)


def renamed(plan: Plan, norad_id: int, name: str) -> Plan:
    """The plan with another name for one satellite.

    Raises:
        ValueRangeError: the name is empty, or there is no such satellite.
    """
    for index, satellite in enumerate(plan.satellites):
        if satellite.elements.norad_id == norad_id:
            return changed(plan, f"satellites.{index}.name", name.strip())
    raise ValueRangeError("catalogue number", norad_id, "that of a satellite of the plan")


def with_wanted(plan: Plan, passes: Sequence[Pass], norad_id: int, wanted: bool, worth: float = 1.0) -> Plan:
    """The plan with every pass of a satellite picked, or none of them.

    Args:
        plan: the plan; picks of other satellites stay as they are.
        passes: the result's passes, of all satellites.
        norad_id: which satellite.
        wanted: pick all of its passes, or drop all of its picks.
        worth: of the picks that are added; those that are there keep theirs.
    """
    if not wanted:
        return changed(plan, "picks", tuple(pick for pick in plan.picks if pick.norad_id != norad_id))
    own = tuple(pass_ for pass_ in passes if pass_.norad_id == norad_id)
    matched, _told = match_picks(
        tuple(pick for pick in plan.picks if pick.norad_id == norad_id), plan.satellites, own
    )
    there = {want.index for want in matched or ()}
    added = tuple(
        Pick(norad_id=norad_id, near=format_iso(pass_.peak.utc_s), worth=worth)
        for index, pass_ in enumerate(own)
        if index not in there
    )
    return changed(plan, "picks", (*plan.picks, *added)) if added else plan


def with_worth(plan: Plan, norad_id: int, worth: float) -> Plan:
    """The plan with this worth for each pick of a satellite.

    Raises:
        ValueRangeError: the worth is out of range.
    """
    picks = tuple(changed(pick, "worth", worth) if pick.norad_id == norad_id else pick for pick in plan.picks)
    return changed(plan, "picks", picks)


@dataclass(frozen=True)
class RosterRow:
    """One satellite of the plan, to be shown.

    Attributes:
        norad_id: catalogue number.
        name: the operator's.
        epoch: of its set, ISO 8601 UTC to the minute.
        age_days: at the evening's start; negative where the epoch is later.
        grade: of the age.
        orbit: heights, inclination, period.
        passes: over mask and minimum elevation; None where they are not known yet.
        picked: how many of them are picked.
        worth: of its picks, or None where it has none or they differ.
        refusal: why it cannot be propagated, or empty.
    """

    norad_id: int
    name: str
    epoch: str
    age_days: float
    grade: Grade
    orbit: Orbit
    passes: int | None
    picked: int
    worth: float | None
    refusal: str


class Roster:
    """The rows of a plan's satellites, in the plan's order, each made when it is asked for.

    Made row by row, since a plan may hold a whole catalogue and a window shows some forty of its rows.
    """

    def __init__(
        self, plan: Plan, passes: Sequence[Pass] | None, refused: Sequence[PropagationError] = ()
    ) -> None:
        """Count passes and picks.

        Args:
            plan: the plan.
            passes: of a result for these satellites; None where there is none yet.
            refused: of the same result.
        """
        self.satellites = plan.satellites
        self._start_utc_s = plan.evening.start_utc_s
        self._counts = None if passes is None else Counter(pass_.norad_id for pass_ in passes)
        self._worths: dict[int, list[float]] = {}
        for norad_id, worth in _picked(plan, passes):
            self._worths.setdefault(norad_id, []).append(worth)
        self._reasons = {error.norad_id: error.reason for error in refused}

    def __len__(self) -> int:
        return len(self.satellites)

    @property
    def picked_passes(self) -> int:
        """Passes picked, of all satellites."""
        return sum(len(worths) for worths in self._worths.values())

    @property
    def wanted_satellites(self) -> int:
        """Satellites with a pass picked."""
        return len(self._worths)

    def row(self, index: int) -> RosterRow:
        """The row of one satellite."""
        satellite = self.satellites[index]
        elements = satellite.elements
        number, days = elements.norad_id, age_days(elements, self._start_utc_s)
        own = self._worths.get(number, [])
        return RosterRow(
            norad_id=number,
            name=satellite.name,
            epoch=f"{format_iso(elements.epoch_utc_s)[:16]}Z",
            age_days=days,
            grade=grade_age(days),
            orbit=orbit_of(elements),
            passes=None if self._counts is None else self._counts[number],
            picked=len(own),
            worth=own[0] if own and len(set(own)) == 1 else None,
            refusal=self._reasons.get(number, ""),
        )


def _picked(plan: Plan, passes: Sequence[Pass] | None) -> list[tuple[int, float]]:
    """Catalogue number and worth of each pick: of those that name a pass where passes are known."""
    if passes is None:
        return [(pick.norad_id, pick.worth) for pick in plan.picks]
    wanted, _told = match_picks(plan.picks, plan.satellites, tuple(passes))
    return [(passes[want.index].norad_id, want.worth) for want in wanted or ()]
