"""Studies: questions beside `evaluate`, memoised alike and cancellable."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.evaluate import Result, steered, unseated
from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import MountTrack
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount, Station
from core.mount.seat.choice import BestSeat, elsewhere
from core.mount.seat.limits import SeatLimit
from core.mount.seat.losses.table import seat_table
from core.mount.seat.study import SeatStudy, seated, studied_of, study_seat
from core.mount.steering.pass_steering import PassSteering, pass_steering, peaks_over_keyhole
from core.passes.frames import Observer
from core.passes.track import Pass
from core.plan.document import Plan
from core.plan.picks import picked_indices


def study_pass(plan: Plan, result: Result, check: PassCheck, memo: Memo | None = None) -> PassSteering | None:
    """Every steering of one pass side by side; None out of reach.

    Args:
        plan, result: what the pass is of.
        check: one of the result's, or of its order's where that works the pass in another way.
        memo: the document owner's memo; without one it is computed.
    """
    memo = Memo() if memo is None else memo
    track = next(t for p, t in zip(result.passes, result.tracks, strict=True) if p is check.pass_)
    return memo.call("steering", pass_steering, check, track, plan.station)


def over_keyhole(plan: Plan, result: Result) -> tuple[int, ...]:
    """Indices of the passes that peak higher than azimuth can follow."""
    pairs = zip(result.checks, result.tracks, strict=True)
    return tuple(i for i, (check, track) in enumerate(pairs) if peaks_over_keyhole(check, track, plan.mount))


def passes_to_study(plan: Plan, result: Result) -> tuple[Pass, ...]:
    """The passes that the study of the seat is over: the picked ones if there are any, else all.

    Satellites that never rise or set in these hours are left out.
    """
    picked = tuple(result.passes[i] for i in picked_indices(plan.picks, plan.satellites, result.passes))
    return tuple(picked[index] for index in studied_of(picked))


def seat_question(plan: Plan) -> tuple[object, ...]:
    """All that the study of the seat depends on, but for the present seat: equal questions, equal studies.

    Sites that differ in their name or zone, picks in their worth or way, and evenings in their rules ask the
    same. So do mounts that differ in keyway, hole in use and tonight's correction: the study covers every
    seat without a correction, and the present one only breaks its ties.
    """
    site = plan.site
    return (
        plan.satellites,
        plan.maximum_element_age_days,
        Observer.of_site(site),
        plan.evening,
        site.horizon,
        site.minimum_elevation_deg,
        tuple((pick.norad_id, pick.near) for pick in plan.picks),
        replace(plan.station, mount=_without_seat(plan.mount)),
        plan.seat_limits,
    )


def _without_seat(mount: Mount) -> Mount:
    no_seat = {"keyway_bearing_deg": 0.0, "index_hole": "", "sighting_correction": None}
    return mount.model_copy(update=no_seat)


def orient(
    plan: Plan, result: Result, memo: Memo | None = None, progress: Progress = no_progress
) -> SeatStudy:
    """The study of the seat: over the picks if there are any, else over all passes.

    A study, outside `evaluate`: memoised alike, cancellable.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    uncorrected = plan.mount.model_copy(update={"sighting_correction": None})
    return memo.call(
        "orient",
        _orient,
        result.passes,
        result.tracks,
        picked_indices(plan.picks, plan.satellites, result.passes),
        replace(plan.station, mount=uncorrected),
        plan.seat_limits,
        memo=memo,
        progress=progress,
    )


def _orient(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    indices: tuple[int, ...],
    station: Station,
    limits: tuple[SeatLimit, ...],
    memo: Memo,
    progress: Progress,
) -> SeatStudy:
    """The study asks about every bearing; only its tie-breaks look at the present one."""
    picked = tuple(passes[index] for index in indices)
    own = tuple(tracks[index] for index in indices)
    rises = studied_of(picked)
    studied = tuple(own[index] for index in rises)
    every = steered(tracks, station, memo, progress)
    ready = tuple(every[indices[index]] for index in rises)
    # What takes long knows nothing of the seat: a keyway that is turned finds it made.
    moving = replace(station, mount=unseated(station.mount))
    table = memo.call("seat table", seat_table, studied, moving, progress=progress)
    return study_seat(picked, own, station, progress, limits, table, ready)


@dataclass(frozen=True, eq=False)
class SeatElsewhere:
    """The best seat in another place than the one planned, for when the ground forbids that one.

    Attributes:
        seat: where.
        mount: seated there.
        checks: the passes of the evening's contacts there, in the order's order.
    """

    seat: BestSeat
    mount: Mount
    checks: tuple[PassCheck, ...]


def seat_elsewhere(
    plan: Plan, result: Result, memo: Memo | None = None, progress: Progress = no_progress
) -> SeatElsewhere | None:
    """The evening's contacts in the best seat elsewhere; None where there is no such seat or no contact.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    study = orient(plan, result, memo, progress)
    seat = elsewhere(study.best, study.second_best, plan.mount.keyway_bearing_deg)
    if seat is None or not result.order.contacts:
        return None
    there = seated(plan.mount, seat.keyway_bearing_deg, seat.index_hole)
    place = {pass_: index for index, pass_ in enumerate(result.passes)}
    indices = tuple(place[contact.check.pass_] for contact in result.order.contacts)
    station = replace(plan.station, mount=there)
    checks = memo.call(
        "seat elsewhere",
        _checks_of,
        result.passes,
        result.tracks,
        indices,
        station,
        memo=memo,
        progress=progress,
    )
    return SeatElsewhere(seat, there, checks)


def _checks_of(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    indices: tuple[int, ...],
    station: Station,
    memo: Memo,
    progress: Progress,
) -> tuple[PassCheck, ...]:
    # The plate's lean is held on the ground, so that tracks and steering are the planned seat's.
    every = steered(tracks, station, memo, progress)
    some = tuple(passes[index] for index in indices)
    own = tuple(tracks[index] for index in indices)
    return check_passes(some, own, station, progress, tuple(every[index] for index in indices))
