"""`evaluate(plan, memo, progress)`: the list of pure stages from a plan to everything shown of it.

The stages, each a function of just what stands in its call (`core.base.memo`): search (satellites, place,
hours, floor, oldest elements), mask (stays, horizon, minimum elevation), frame (passes, tilt), following
(tracks, axes, drive, steering), reach (tracks, elevation axis, beam), ways (passes, tracks, station), joined
(tracks, elevation axis, beam), reasons (checks, tracks, station), order (checks, reasons, tracks, station,
picks, rules, where the mount starts), support (site, hours, mount, satellites) and clearance (lengths), where
there are any. A warm evaluation equals a cold one to the bit, since a stage is only skipped where its inputs
are equal and every stage is deterministic.

A stage imports what it is made of when it is run: who only looks at results, or finds all stages remembered,
starts without half of the modules.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from core.base.errors import PropagationError
from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.elements.age import age_days
from core.mount.clearance.lengths import Clearance
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack, mount_tracks
from core.mount.evening.order.rules import EveningRules, MountStart
from core.mount.evening.results import EveningOrder
from core.mount.model.chain import hole_in_use, stop_bearings_deg
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import Mount, Posture, Station
from core.passes.frames import Observer
from core.passes.stays import Stay, StaySearch
from core.passes.track import Pass
from core.place.declination import declination_deg, magnetic_from_true
from core.place.site import HorizonPoint, Site, mask_floor_deg
from core.place.zones import resolve_time_zone
from core.plan.assumed import assumed
from core.plan.document import Evening, Pick, Plan, Satellite

if TYPE_CHECKING:
    from core.mount.check.ways import Reach
    from core.mount.evening.order.joined import JoinedTracks
    from core.mount.evening.question import EveningQuestion


@dataclass(frozen=True, eq=False)
class Seat:
    """Where the station sits tonight, in numbers for screen and paper.

    Attributes:
        keyway_true_deg: bearing of the keyway.
        declination_deg: east positive; magnetic = true - declination.
        declination_sigma_deg: its stated standard error.
        declination_model: e.g. "WMM2025".
        declination_note: empty, or what to know of it.
        keyway_magnetic_deg: what a compass shows.
        counter_clockwise_stop_deg, clockwise_stop_deg: true bearings of the stops.
        hole: name of the index hole in use.
        hole_offset_deg, hole_drilled_deg: iota, and where it is drilled from the datum mark.
    """

    keyway_true_deg: float
    declination_deg: float
    declination_sigma_deg: float
    declination_model: str
    declination_note: str
    keyway_magnetic_deg: float
    counter_clockwise_stop_deg: float
    clockwise_stop_deg: float
    hole: str
    hole_offset_deg: float
    hole_drilled_deg: float


@dataclass(frozen=True, eq=False)
class Result:
    """Everything computed from one plan.

    Attributes:
        identity: short hash of what it was computed from.
        passes: over mask and minimum elevation, by AOS.
        tracks: the passes in the mount frame, same order.
        refused: satellites that could not be propagated, with the reason.
        checks: one per pass, same order.
        reasons: one per pass, same order.
        order: the evening.
        seat: the station's bearings.
        time_zone: name of the zone local times are in.
        element_ages: (satellite, norad_id, days at the evening's start) each.
        assumed: what the plan left out and which value was taken, in words.
        stays: everything over the horizon, what mask and minimum elevation hide altogether included.
        mount_start: where the mount stood when the evening began; None: where its first contact starts.
        identity_before: of the plan that this was planned again from, whose sheet has the set-up; else empty.
        struck: arcs (start, width) of the boom's bearing from the keyway at which something strikes.
    """

    identity: str
    passes: tuple[Pass, ...]
    tracks: tuple[MountTrack, ...]
    refused: tuple[PropagationError, ...]
    checks: tuple[PassCheck, ...]
    reasons: tuple[Reason, ...]
    order: EveningOrder
    seat: Seat
    time_zone: str
    element_ages: tuple[tuple[str, int, float], ...]
    assumed: tuple[str, ...]
    stays: tuple[Stay, ...] = ()
    mount_start: MountStart | None = None
    struck: tuple[tuple[float, float], ...] = ()
    identity_before: str = ""


def evaluate(
    plan: Plan,
    memo: Memo | None = None,
    progress: Progress = no_progress,
    mount_start: MountStart | None = None,
) -> Result:
    """Everything computed from one plan. Pure: the same plan gives the same result.

    Args:
        plan: the document.
        memo: the document owner's memo; without one everything is computed.
        progress: called by every stage that takes long.
        mount_start: where the mount stands when the evening begins; None: where its first contact starts.

    Raises:
        Cancelled: ``progress`` returned False.
        ValueRangeError: the time zone does not exist.
    """
    memo = Memo() if memo is None else memo
    search = _search(plan, memo, progress)
    passes = passes_of(plan, memo, progress)
    mount, station = plan.mount, plan.station
    tracks = memo.call("frame", mount_tracks, passes, mount.tilt, progress=progress)
    checks = memo.call("ways", _ways, passes, tracks, station, memo=memo, progress=progress)
    reasons = memo.call("reasons", _reasons, checks, tracks, station, progress=progress)
    order = memo.call(
        "order",
        _order,
        checks,
        reasons,
        tracks,
        station,
        plan.shortest_contact_s,
        plan.picks,
        plan.orbits,
        plan.evening_rules,
        mount_start,
        memo=memo,
        progress=progress,
    )
    seat, zone, ages = memo.call("support", _support, plan.site, plan.evening, mount, plan.orbits)
    return Result(
        identity=identity(plan, memo),
        passes=passes,
        tracks=tracks,
        refused=search.refused,
        checks=checks,
        reasons=reasons,
        order=order,
        seat=seat,
        time_zone=zone,
        element_ages=ages,
        assumed=assumed(plan),
        stays=search.stays,
        mount_start=mount_start,
        struck=() if plan.clearance is None else memo.call("clearance", _struck, plan.clearance),
    )


def _struck(lengths: Clearance) -> tuple[tuple[float, float], ...]:
    from core.mount.check.clear_map import struck_bearings

    return struck_bearings(lengths)


def _search(plan: Plan, memo: Memo, progress: Progress) -> StaySearch:
    """The stays over the horizon: no mask in it, so that editing the mask never propagates again."""
    site, evening = plan.site, plan.evening
    return memo.call(
        "search",
        _stays,
        plan.orbits,
        Observer.of_site(site),
        evening.start_utc_s,
        evening.end_utc_s,
        mask_floor_deg(site.horizon, site.minimum_elevation_deg),
        plan.maximum_element_age_days,
        progress=progress,
    )


def _stays(
    satellites: tuple[Satellite, ...],
    observer: Observer,
    start_utc_s: float,
    end_utc_s: float,
    floor_deg: float,
    maximum_age_days: float,
    progress: Progress,
) -> StaySearch:
    from core.passes.search import find_stays

    elements = [one.elements.model_copy(update={"name": one.name}) for one in satellites]
    return find_stays(
        elements,
        observer,
        start_utc_s,
        end_utc_s,
        floor_deg,
        maximum_age_days=maximum_age_days,
        progress=progress,
    )


def passes_of(plan: Plan, memo: Memo, progress: Progress = no_progress) -> tuple[Pass, ...]:
    """The passes over mask and minimum elevation by AOS: the first two stages alone.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    search, site = _search(plan, memo, progress), plan.site
    return memo.call("mask", _cut, search, site.horizon, site.minimum_elevation_deg, progress=progress)


def _cut(
    search: StaySearch, horizon: tuple[HorizonPoint, ...], minimum_elevation_deg: float, progress: Progress
) -> tuple[Pass, ...]:
    from core.passes.track import cut_passes

    return cut_passes(search.table, horizon, minimum_elevation_deg, progress)


def _ways(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    memo: Memo,
    progress: Progress,
) -> tuple[PassCheck, ...]:
    from core.mount.check.verdict import check_passes

    followed, reaches = steered(tracks, station, memo, progress), reached(tracks, station, memo)
    return check_passes(passes, tracks, station, progress, followed, reaches)


def reached(
    tracks: tuple[MountTrack, ...], station: Station, memo: Memo
) -> tuple[Mapping[Posture, Reach], ...]:
    """What each posture needs for each pass: nothing in it knows the seat or the azimuth axis."""
    from core.mount.check.ways import reaches_of

    return memo.call("reach", reaches_of, tracks, station.mount.elevation, station.beam_limit_deg)


def _reasons(
    checks: tuple[PassCheck, ...], tracks: tuple[MountTrack, ...], station: Station, progress: Progress
) -> tuple[Reason, ...]:
    from core.mount.check.reasons import reasons_for

    return reasons_for(checks, tracks, station, progress)


def steered(
    tracks: tuple[MountTrack, ...], station: Station, memo: Memo, progress: Progress = no_progress
) -> tuple[Steered, ...]:
    """How each pass is followed: nothing in it knows the seat, so that turning the keyway finds it made."""
    from core.mount.drive.motion import steer_all

    moving = unseated(station.mount)
    return memo.call("following", steer_all, tracks, moving, station.steering, progress=progress)


def joined(
    tracks: tuple[MountTrack, ...], station: Station, memo: Memo, progress: Progress = no_progress
) -> JoinedTracks:
    """All passes followed, one after the other, for the evening's options: the seat is not in it either."""
    from core.mount.evening.order.joined import joined_tracks

    followed = steered(tracks, station, memo, progress)
    return memo.call(
        "joined", joined_tracks, tracks, followed, station.mount.elevation, station.beam_limit_deg
    )


def unseated(mount: Mount) -> Mount:
    """What moves of a mount, axes and drive, all else at its default: equal wherever the mount is seated."""
    return Mount(azimuth=mount.azimuth, elevation=mount.elevation, drive=mount.drive)


def _order(
    checks: tuple[PassCheck, ...],
    reasons: tuple[Reason, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    shortest_contact_s: float,
    picks: tuple[Pick, ...],
    satellites: tuple[Satellite, ...],
    rules: EveningRules,
    mount_start: MountStart | None,
    memo: Memo,
    progress: Progress,
) -> EveningOrder:
    from core.mount.evening.evening import order_evening

    question, unmatched = question_of(
        checks, tracks, station, shortest_contact_s, picks, satellites, rules, mount_start, memo, progress
    )
    return order_evening(question, reasons, unmatched, progress)


def question_of(
    checks: tuple[PassCheck, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    shortest_contact_s: float,
    picks: tuple[Pick, ...],
    satellites: tuple[Satellite, ...],
    rules: EveningRules,
    mount_start: MountStart | None,
    memo: Memo,
    progress: Progress,
) -> tuple[EveningQuestion, tuple[str, ...]]:
    """What an evening's order is asked of, and a sentence for every pick that means no pass."""
    from core.mount.evening.question import EveningQuestion
    from core.plan.picks import match_picks

    wanted, unmatched = match_picks(picks, satellites, tuple(check.pass_ for check in checks))
    followed = (
        steered(tracks, station, memo, progress),
        joined(tracks, station, memo, progress),
        reached(tracks, station, memo),
    )
    question = EveningQuestion(
        checks, tracks, station, shortest_contact_s, wanted, rules, mount_start, *followed
    )
    return question, unmatched


def _support(
    site: Site, evening: Evening, mount: Mount, satellites: tuple[Satellite, ...]
) -> tuple[Seat, str, tuple[tuple[str, int, float], ...]]:
    """The station's bearings, the time zone and the elements' ages, counted at the evening's start."""
    start = evening.start_utc_s
    declination = declination_deg(site, start)
    hole = hole_in_use(mount)
    counter_clockwise, clockwise = stop_bearings_deg(mount)
    seat = Seat(
        keyway_true_deg=mount.keyway_bearing_deg,
        declination_deg=declination.deg,
        declination_sigma_deg=declination.sigma_deg,
        declination_model=declination.model,
        declination_note=declination.note,
        keyway_magnetic_deg=magnetic_from_true(mount.keyway_bearing_deg, declination.deg),
        counter_clockwise_stop_deg=counter_clockwise,
        clockwise_stop_deg=clockwise,
        hole=hole.name,
        hole_offset_deg=hole.offset_deg,
        hole_drilled_deg=hole.drilled_deg,
    )
    ages = tuple((s.name, s.elements.norad_id, age_days(s.elements, start)) for s in satellites)
    return seat, resolve_time_zone(site), ages


#: What of a plan no evening depends on: words, what was written down while setting up and afterwards, what
#: stands, and the adapter (its index holes are the mount's).
NOT_COMPUTED_FROM = (
    *("title", "notes", "landmarks", "level_readings", "compass", "sightings", "pointing", "log"),
    *("plate", "stand", "setup_minutes", "checklist"),
)


def identity(plan: Plan, memo: Memo | None = None) -> str:
    """Eight hex digits of what the result is computed from: all of the plan but words and set-up.

    Of a catalogue the satellites take long; with a memo those that no edit has changed are known.
    """
    aside = {*NOT_COMPUTED_FROM, "satellites"}
    if plan.clearance is None:  # a plan that says nothing of it keeps the identity on its papers
        aside.add("clearance")
    parts = plan.model_dump(mode="json", by_alias=True, exclude=aside)
    digest = hashlib.sha256(_canonical(parts))
    memo = Memo() if memo is None else memo
    digest.update(memo.call("satellites told", _told, plan.orbits))
    return digest.hexdigest()[:8]


def _told(satellites: tuple[Satellite, ...]) -> bytes:
    """The identity's part of them, one by one: a catalogue at once would hold Python's lock for long."""
    dumps = (one.model_dump(mode="json", by_alias=True, exclude={"transponders"}) for one in satellites)
    return b"".join(map(_canonical, dumps))


def _canonical(content: dict[str, Any]) -> bytes:
    return json.dumps(content, sort_keys=True, separators=(",", ":")).encode()
