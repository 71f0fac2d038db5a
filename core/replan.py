"""The rest of the evening from now: from the present dials, the seat as found, and what was missed.

Pure: the present moment and readings are arguments. What is over or missed goes, the seat becomes what it
was found to be, the hours begin now, and the first move starts from the present dials. Two steps: the plan
for the rest (`rest_of_evening`, which needs the passes and nothing evaluated), then its evaluation.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.base.angles import wrap_360
from core.base.edits import changed
from core.base.errors import DialTwiceError, ValueRangeError
from core.base.memo import Memo
from core.base.times import format_iso
from core.base.units import Progress, no_progress
from core.evaluate import Result, evaluate, identity, passes_of
from core.mount.dial.readings import azimuth_dial, azimuth_from_dial, elevation_from_dial
from core.mount.evening.joining import AxisAngles, idle_place, joined_at
from core.mount.evening.order.rules import MountStart
from core.mount.model.chain import ground_bearing_deg, zeta_deg
from core.mount.model.station import Mount
from core.passes.track import Pass
from core.plan.document import Pick, Plan
from core.plan.picks import passes_meant, picked_indices

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
class RestOfEvening:
    """What is left to do, not evaluated yet.

    Attributes:
        plan: for the rest of the evening.
        place: where the mount stands now.
        over: passes that were wanted and are over. missed: those given up.
    """

    plan: Plan
    place: AxisAngles
    over: tuple[Pass, ...]
    missed: tuple[Pass, ...]


@dataclass(frozen=True, eq=False)
class Replanned:
    """The rest of the evening.

    Attributes:
        plan, place, over, missed: as in `RestOfEvening`.
        result: the plan's evaluation, the first contact's move starting from the present place.
        now: as given.
        bearing_deg: true bearing of boresight (upright, level), tilt counted.
        on_first_utc_s: when the first contact is joined by moving at once; None where it cannot be.
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
        ValueRangeError, DialTwiceError: as `rest_of_evening`.
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    rest = rest_of_evening(plan, now, passes_of(plan, memo, progress))
    again = evaluate(rest.plan, memo, progress, MountStart(rest.place, now.utc_s))
    result = replace(again, identity_before=identity(plan))
    mount, contacts = rest.plan.mount, result.order.contacts
    return Replanned(
        plan=rest.plan,
        result=result,
        now=now,
        place=rest.place,
        bearing_deg=boresight_bearing_deg(mount, rest.place.m_deg),
        on_first_utc_s=joined_at(contacts[0].check, mount, (rest.place,), now.utc_s) if contacts else None,
        over=rest.over,
        missed=rest.missed,
    )


def rest_of_evening(plan: Plan, now: Now, passes: tuple[Pass, ...]) -> RestOfEvening:
    """The plan for the rest of the evening, where the mount stands, and what is over or missed.

    Args:
        plan: as it was made before.
        now: what is read and found.
        passes: `core.evaluate.passes_of` the plan.

    Raises:
        ValueRangeError: a dial reading is outside the travel, a missed pass does not exist, nothing is left
            of the evening, or the seat is none of the mount's.
        DialTwiceError: the azimuth dial reads so at several places and none is named.
    """
    if now.utc_s >= plan.evening.end_utc_s:
        raise ValueRangeError("now", format_iso(now.utc_s), f"before the evening's end, {plan.evening.end}")
    seated = with_seat(plan, now.keyway_bearing_deg, now.index_hole)
    place = present_place(seated.mount, now)
    missed = _missed_indices(plan, now.missed, passes)
    picks = _picks_left(plan, now.utc_s, missed, passes)
    wanted = _wanted(plan, passes, plan.evening.start_utc_s)
    over = sorted(index for index in set(wanted) - missed if passes[index].los.utc_s <= now.utc_s)
    return RestOfEvening(
        plan=_with_rest(seated, now.utc_s, picks),
        place=place,
        over=tuple(passes[index] for index in over),
        missed=tuple(passes[index] for index in sorted(missed)),
    )


def still_meant(plan: Plan, now: Now, passes: tuple[Pass, ...]) -> Now:
    """The same moment after the plan was edited: what was missed and is no pass of it any more is left out.

    Args:
        plan: as it is now.
        now: as it was read for the plan before.
        passes: `core.evaluate.passes_of` the plan.
    """
    meant = passes_meant(_as_picks(now.missed), plan.satellites, passes)
    kept = tuple(one for one, index in zip(now.missed, meant, strict=True) if index is not None)
    return now if kept == now.missed else replace(now, missed=kept)


def wanted_passes(plan: Plan, result: Result) -> tuple[Pass, ...]:
    """What the evening was to be, by AOS: its picks, else the passes of its contacts."""
    if plan.picks:
        return tuple(result.passes[i] for i in picked_indices(plan.picks, plan.satellites, result.passes))
    worked = {contact.check.pass_ for contact in result.order.contacts}
    return tuple(one for one in result.passes if one in worked)


def boresight_bearing_deg(mount: Mount, m_deg: float) -> float:
    """True bearing of boresight, upright and level, at a mechanical azimuth; tilt counted, 0 to 360."""
    bearing_deg, _elevation = ground_bearing_deg(zeta_deg(mount) + m_deg, 0.0, mount.tilt)
    return wrap_360(bearing_deg)


def present_place(mount: Mount, now: Now) -> AxisAngles:
    """Mechanical azimuth and elevation axis angle of the present dials.

    Raises:
        ValueRangeError: no place shows them.
        DialTwiceError: several do and none is named.
    """
    m_deg = _present_m(mount, now)
    if now.elevation_dial_deg is None:
        return AxisAngles(m_deg, idle_place(mount).e_deg)
    return AxisAngles(m_deg, elevation_place(mount, now.elevation_dial_deg))


def elevation_place(mount: Mount, elevation_dial_deg: float) -> float:
    """The elevation axis angle at which the dial reads so.

    Raises:
        ValueRangeError: there is none.
    """
    e_deg = elevation_from_dial(elevation_dial_deg, mount.elevation)
    if e_deg is None:
        low, high = mount.elevation.minimum_deg, mount.elevation.maximum_deg
        raise ValueRangeError(
            "elevation dial",
            f"{elevation_dial_deg:g}",
            f"what the dial shows between {low:g} and {high:g} deg",
        )
    return e_deg


def azimuth_places(mount: Mount, azimuth_dial_deg: float) -> tuple[float, ...]:
    """Every mechanical azimuth at which the dial reads so, rising from the counter-clockwise stop.

    Raises:
        ValueRangeError: there is none.
    """
    places = azimuth_from_dial(azimuth_dial_deg, mount.azimuth)
    if not places:
        ends = [azimuth_dial(m, mount.azimuth).text for m in (0.0, mount.azimuth.travel_deg)]
        allowed = f"what the dial shows between {ends[0]} and {ends[1]}"
        raise ValueRangeError("azimuth dial", f"{azimuth_dial_deg:g}", allowed)
    return places


def _present_m(mount: Mount, now: Now) -> float:
    places = azimuth_places(mount, now.azimuth_dial_deg)
    if now.time_round is not None:
        if not 1 <= now.time_round <= len(places):
            allowed = f"1 to {len(places)} for dial {now.azimuth_dial_deg:g}"
            raise ValueRangeError("time round", now.time_round, allowed)
        return places[now.time_round - 1]
    if len(places) > 1:
        raise DialTwiceError(now.azimuth_dial_deg, places)
    return places[0]


def with_seat(plan: Plan, keyway_bearing_deg: float | None, index_hole: str | None) -> Plan:
    """The plan with the seat as found; what is None stays as planned.

    Raises:
        ValueRangeError: the mount has no such hole.
    """
    if keyway_bearing_deg is not None:
        plan = changed(plan, "mount.keyway_bearing_deg", keyway_bearing_deg)
    if index_hole is None:
        return plan
    names = [hole.name for hole in plan.mount.index_holes]
    if index_hole not in names:
        raise ValueRangeError("index hole", repr(index_hole), f"one of the mount's: {', '.join(names)}")
    return changed(plan, "mount.index_hole", index_hole)


def _missed_indices(plan: Plan, missed: tuple[Missed, ...], passes: tuple[Pass, ...]) -> set[int]:
    """The passes that were missed: matched as picks are.

    Raises:
        ValueRangeError: a missed pass names none.
    """
    names = _as_picks(missed)
    found = set()
    for name, index in zip(names, passes_meant(names, plan.satellites, passes), strict=True):
        if index is None:
            raise ValueRangeError("missed", f"{name.norad_id}@{name.near}", "a pass of this evening")
        found.add(index)
    return found


def _as_picks(missed: tuple[Missed, ...]) -> tuple[Pick, ...]:
    return tuple(Pick(norad_id=norad_id, near=format_iso(near_s)) for norad_id, near_s in missed)


def _wanted(plan: Plan, passes: tuple[Pass, ...], from_s: float) -> tuple[int, ...]:
    """Indices of the passes the plan wants: its picks, else all that are long enough from a moment on.

    One that is under way at that moment is wanted to its end: the mount may be on it.
    """
    if plan.picks:
        return picked_indices(plan.picks, plan.satellites, passes)
    least = plan.shortest_contact_s
    return tuple(
        i
        for i, one in enumerate(passes)
        if one.los.utc_s - max(one.aos.utc_s, from_s) >= least or one.aos.utc_s < from_s < one.los.utc_s
    )


def _picks_left(plan: Plan, now_s: float, missed: set[int], passes: tuple[Pass, ...]) -> tuple[Pick, ...]:
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
        meant = zip(plan.picks, passes_meant(plan.picks, plan.satellites, passes), strict=True)
        return tuple(pick for pick, index in meant if index is None or index in left)
    if not missed:
        return ()
    return tuple(
        Pick(norad_id=passes[i].norad_id, near=format_iso(passes[i].peak.utc_s), worth=1.0) for i in left
    )


def _with_rest(plan: Plan, now_s: float, picks: tuple[Pick, ...]) -> Plan:
    if now_s > plan.evening.start_utc_s:
        plan = changed(plan, "evening.start", format_iso(now_s))
    return changed(plan, "picks", picks) if picks != plan.picks else plan
