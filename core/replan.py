"""The rest of the evening from now: from the present dials, the seat as found, and what was missed.

Pure: the present moment and readings are arguments. What is over or missed goes, the seat becomes what it
was found to be, the hours begin now, and the first move starts from the present dials.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.base.angles import wrap_360
from core.base.edits import changed
from core.base.errors import ValueRangeError
from core.base.memo import Memo
from core.base.times import format_iso
from core.base.units import Progress, no_progress
from core.base.words import ordinal
from core.evaluate import Result, evaluate
from core.mount.dial.readings import azimuth_dial, azimuth_from_dial, elevation_from_dial
from core.mount.evening.joining import AxisAngles, idle_place, joined_at
from core.mount.evening.order.rules import MountStart
from core.mount.model.chain import ground_bearing_deg, zeta_deg
from core.mount.model.station import Mount
from core.passes.track import Pass
from core.plan.document import Pick, Plan
from core.plan.picks import match_picks

#: A pass somebody missed: catalogue number, and a moment near its peak, POSIX seconds.
Missed = tuple[int, float]


@dataclass(frozen=True)
class Now:
    """What the operator reads and finds.

    Attributes:
        utc_s: the moment.
        azimuth_dial_deg: the azimuth dial.
        elevation_dial_deg: the elevation dial; None for level (or as near as the axis goes).
        time_round: which time round from the counter-clockwise stop, where the dial reads the same twice.
        keyway_bearing_deg, index_hole: the seat as found; None for as planned.
        missed: passes that are not to be worked, over or still to come.
    """

    utc_s: float
    azimuth_dial_deg: float
    elevation_dial_deg: float | None = None
    time_round: int | None = None
    keyway_bearing_deg: float | None = None
    index_hole: str | None = None
    missed: tuple[Missed, ...] = ()


@dataclass(frozen=True, eq=False)
class Replanned:
    """The rest of the evening.

    Attributes:
        plan: for the rest of the evening.
        result: its evaluation, the first contact's move starting from the present place.
        now: as given.
        place: mechanical azimuth and elevation axis angle now.
        bearing_deg: true bearing of boresight (upright, level), tilt counted.
        on_first_utc_s: when the first contact is joined by moving at once; None where it cannot be.
        over: passes that were wanted and are over. missed: those given up.
    """

    plan: Plan
    result: Result
    now: Now
    place: AxisAngles
    bearing_deg: float
    on_first_utc_s: float | None
    over: tuple[Pass, ...]
    missed: tuple[Pass, ...]


def replan(plan: Plan, now: Now, memo: Memo | None = None, progress: Progress = no_progress) -> Replanned:
    """The plan for the rest of the evening, and its next moves.

    Args:
        plan: as it was made before.
        now: what is read and found.
        memo: the document owner's, or None.
        progress: called by every stage that takes long.

    Raises:
        ValueRangeError: a dial reading is outside the travel or ambiguous, a missed pass does not exist,
            nothing is left of the evening, or the seat is none of the mount's.
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    if now.utc_s >= plan.evening.end_utc_s:
        raise ValueRangeError("now", format_iso(now.utc_s), f"before the evening's end, {plan.evening.end}")
    seated = with_seat(plan, now.keyway_bearing_deg, now.index_hole)
    place = present_place(seated.mount, now)
    before = evaluate(plan, memo, progress)
    missed = _missed_indices(plan, now.missed, before.passes)
    rest = _rest_of(seated, now.utc_s, _picks(plan, now.utc_s, missed, before.passes))
    result = evaluate(rest, memo, progress, MountStart(place, now.utc_s))
    on_first = _on_first(result, rest.mount, place, now.utc_s)
    wanted = {
        index
        for index in _wanted(plan, before.passes, plan.evening.start_utc_s)
        if before.passes[index].los.utc_s <= now.utc_s
    }
    bearing_deg, _elevation = ground_bearing_deg(zeta_deg(rest.mount) + place.m_deg, 0.0, rest.mount.tilt)
    return Replanned(
        plan=rest,
        result=result,
        now=now,
        place=place,
        bearing_deg=wrap_360(bearing_deg),
        on_first_utc_s=on_first,
        over=tuple(before.passes[index] for index in sorted(wanted - missed)),
        missed=tuple(before.passes[index] for index in sorted(missed)),
    )


def present_place(mount: Mount, now: Now) -> AxisAngles:
    """Mechanical azimuth and elevation axis angle of the present dials.

    Raises:
        ValueRangeError: no place shows them, or several do and none is named.
    """
    m_deg = _present_m(mount, now)
    if now.elevation_dial_deg is None:
        return AxisAngles(m_deg, idle_place(mount).e_deg)
    e_deg = elevation_from_dial(now.elevation_dial_deg, mount.elevation)
    if e_deg is None:
        low, high = mount.elevation.minimum_deg, mount.elevation.maximum_deg
        raise ValueRangeError(
            "elevation dial",
            f"{now.elevation_dial_deg:g}",
            f"what the dial shows between {low:g} and {high:g} deg",
        )
    return AxisAngles(m_deg, e_deg)


def _present_m(mount: Mount, now: Now) -> float:
    places = azimuth_from_dial(now.azimuth_dial_deg, mount.azimuth)
    shown = f"{now.azimuth_dial_deg:g}"
    if not places:
        ends = [azimuth_dial(m, mount.azimuth).text for m in (0.0, mount.azimuth.travel_deg)]
        raise ValueRangeError("azimuth dial", shown, f"what the dial shows between {ends[0]} and {ends[1]}")
    if now.time_round is not None:
        if not 1 <= now.time_round <= len(places):
            raise ValueRangeError("time round", now.time_round, f"1 to {len(places)} for dial {shown}")
        return places[now.time_round - 1]
    if len(places) > 1:
        told = ", ".join(f"{ordinal(k)} at {m:.0f} deg" for k, m in enumerate(places, start=1))
        raise ValueRangeError(
            "azimuth dial",
            f"{shown}, which it reads {len(places)} times round",
            f"told with its time round from the counter-clockwise stop ({told} of travel)",
        )
    return places[0]


def with_seat(plan: Plan, keyway_bearing_deg: float | None, index_hole: str | None) -> Plan:
    """The plan with the seat as found; what is None stays as planned.

    Raises:
        ValueRangeError: the mount has no such hole.
    """
    if keyway_bearing_deg is not None:
        plan = changed(plan, "mount.keyway_bearing_deg", keyway_bearing_deg)
    return plan if index_hole is None else changed(plan, "mount.index_hole", index_hole)


def _missed_indices(plan: Plan, missed: tuple[Missed, ...], passes: tuple[Pass, ...]) -> set[int]:
    """The passes that were missed: matched as picks are.

    Raises:
        ValueRangeError: a missed pass names none.
    """
    found = set()
    for norad_id, near_s in missed:
        index = _matched(plan, Pick(norad_id=norad_id, near=format_iso(near_s)), passes)
        if index is None:
            raise ValueRangeError("missed", f"{norad_id}@{format_iso(near_s)}", "a pass of this evening")
        found.add(index)
    return found


def _matched(plan: Plan, pick: Pick, passes: tuple[Pass, ...]) -> int | None:
    wanted, _told = match_picks((pick,), plan.satellites, passes)
    return wanted[0].index if wanted else None


def _wanted(plan: Plan, passes: tuple[Pass, ...], from_s: float) -> tuple[int, ...]:
    """Indices of the passes the plan wants: its picks, else all that are long enough from a moment on.

    One that is under way at that moment is wanted to its end: the mount may be on it.
    """
    if plan.picks:
        wanted, _told = match_picks(plan.picks, plan.satellites, passes)
        return tuple(one.index for one in wanted or ())
    least = plan.shortest_contact_s
    return tuple(
        i
        for i, one in enumerate(passes)
        if one.los.utc_s - max(one.aos.utc_s, from_s) >= least or one.aos.utc_s < from_s < one.los.utc_s
    )


def _picks(plan: Plan, now_s: float, missed: set[int], passes: tuple[Pass, ...]) -> tuple[Pick, ...]:
    """The picks of the rest of the evening; none where all that is left is wanted.

    Raises:
        ValueRangeError: nothing is left.
    """
    left = [i for i in _wanted(plan, passes, now_s) if i not in missed and passes[i].los.utc_s > now_s]
    if not left:
        ends = [
            passes[i].los.utc_s for i in _wanted(plan, passes, plan.evening.start_utc_s) if i not in missed
        ]
        until = (
            f"{format_iso(max(ends))}, the end of the last pass that is wanted and not missed" if ends else ""
        )
        raise ValueRangeError(
            "now",
            format_iso(now_s),
            f"before {until or 'the passes that were missed'}: nothing is left of the evening",
        )
    if plan.picks:
        # A pick that names no pass stays: the evening tells of it.
        matched = ((pick, _matched(plan, pick, passes)) for pick in plan.picks)
        return tuple(pick for pick, index in matched if index is None or index in left)
    if not missed:
        return ()
    return tuple(
        Pick(norad_id=passes[i].norad_id, near=format_iso(passes[i].peak.utc_s), worth=1.0) for i in left
    )


def _rest_of(plan: Plan, now_s: float, picks: tuple[Pick, ...]) -> Plan:
    if now_s > plan.evening.start_utc_s:
        plan = changed(plan, "evening.start", format_iso(now_s))
    return changed(plan, "picks", picks) if picks != plan.picks else plan


def _on_first(result: Result, mount: Mount, place: AxisAngles, now_s: float) -> float | None:
    """When the first contact is joined by moving at once from the present place."""
    contacts = result.order.contacts
    return joined_at(contacts[0].check, mount, (place,), now_s) if contacts else None
