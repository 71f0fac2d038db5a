"""Studies: questions beside `evaluate`, memoised alike and cancellable."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from core.base.angles import wrap_360
from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.evaluate import Result, evaluate, question_of, reached, steered, unseated
from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import MountTrack
from core.mount.evening.evening import explain_evening
from core.mount.evening.order.rules import EveningRules, MountStart
from core.mount.evening.question import EveningQuestion
from core.mount.evening.results import EveningReasons
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount, Station
from core.mount.seat.by_evening import (
    BestEvening,
    at_a_tenth,
    best_evening,
    best_through,
    evening_curve,
    most_worth_s,
    with_margin,
)
from core.mount.seat.choice import BestSeat
from core.mount.seat.choice import elsewhere as another_place
from core.mount.seat.evenings import EveningCurve, with_candidates
from core.mount.seat.limits import SeatLimit
from core.mount.seat.losses.table import SeatTable, seat_table
from core.mount.seat.study import SeatStudy, seated, studied_of, study_seat
from core.mount.seat.verdicts_hold import verdicts_hold
from core.mount.steering.pass_steering import PassSteering, pass_steering, peaks_over_keyhole
from core.passes.frames import Observer
from core.passes.track import Pass
from core.plan.document import Pick, Plan, Satellite
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


def explain(
    plan: Plan, result: Result, memo: Memo | None = None, progress: Progress = no_progress
) -> EveningReasons:
    """Why each contact of the result's order is worked so, why each pass is left out, and the costs.

    A study, outside `evaluate`: it takes longer than the order itself.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    return memo.call(
        "explain",
        _explain,
        result.checks,
        result.tracks,
        plan.station,
        plan.shortest_contact_s,
        plan.picks,
        plan.orbits,
        plan.evening_rules,
        result.mount_start,
        memo=memo,
        progress=progress,
    )


def _explain(
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
) -> EveningReasons:
    question = _question(
        checks, tracks, station, shortest_contact_s, picks, satellites, rules, mount_start, memo, progress
    )
    return explain_evening(question, progress)


def _question(
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
) -> EveningQuestion:
    question, _ = question_of(
        checks, tracks, station, shortest_contact_s, picks, satellites, rules, mount_start, memo, progress
    )
    return question


@dataclass(frozen=True, eq=False)
class SeatByEvening:
    """The seats by what their evenings are worth.

    Attributes:
        curve: the evening at every candidate, through the hole in use.
        best: the seat that is recommended, at a tenth of a degree where that is as good; None where no
            evening is worth anything.
        curves: by hole, where lengths for clearance give each its own; else one curve is that of all holes.
    """

    curve: EveningCurve
    best: BestEvening | None
    curves: Mapping[str, EveningCurve] = field(default_factory=dict)

    def curve_of(self, hole: str) -> EveningCurve:
        """The evening at every candidate through that hole."""
        return self.curves.get(hole, self.curve)


def orient_by_evening(
    plan: Plan, result: Result, study: SeatStudy, memo: Memo | None = None, progress: Progress = no_progress
) -> SeatByEvening:
    """The seat whose evening is best; takes an evening's order for each candidate, about one in two degrees.

    At one zeta another hole only turns the adapter, so that the curve of one is the curve of all; but with
    lengths for clearance, what strikes depends on the hole, and every hole is asked by itself.

    Args:
        plan, result: of the present seat.
        study: `orient` of them: its table says at which bearings to ask.
        memo: the document owner's memo; without one everything is computed.
        progress: called per candidate.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    if plan.clearance is None:
        curve = _evenings_through(plan, result, study, plan.mount, "", memo, progress)
        best = best_evening(curve, plan.mount, plan.seat_limits)
        return SeatByEvening(curve, None if best is None else at_a_tenth(best, curve, plan.mount))
    alone = {
        hole.name: plan.mount.model_copy(update={"index_holes": (hole,), "index_hole": hole.name})
        for hole in plan.mount.index_holes
    }
    curves = {
        name: _evenings_through(plan, result, study, mount, f" through hole {place}", memo, progress)
        for place, (name, mount) in enumerate(alone.items(), start=1)
    }
    limits, most_s = plan.seat_limits, most_worth_s(curves, plan.mount, plan.seat_limits)
    for place, (name, mount) in enumerate(alone.items(), start=1):
        asked = _question_elsewhere(plan, result, mount, f" through hole {place}", memo, progress)
        curves[name] = with_margin(curves[name], asked, study.table_of(name), limits, mount, progress, most_s)
    best = best_through(curves, plan.mount, limits)
    if best is not None:
        best = at_a_tenth(best, curves[best.index_hole], plan.mount)
    return SeatByEvening(curves[plan.mount.index_hole], best, curves)


def _question_elsewhere(
    plan: Plan, result: Result, mount: Mount, suffix: str, memo: Memo, progress: Progress
) -> EveningQuestion:
    """What the evening is asked of at other seats of a mount, through the first of its holes."""
    moving = replace(plan.station, mount=seated(mount, 0.0, mount.index_holes[0].name))
    asked = (moving, plan.shortest_contact_s, plan.picks, plan.orbits, plan.evening_rules)
    stage = f"evening elsewhere{suffix}"
    return memo.call(stage, _seatless, result.passes, result.tracks, *asked, memo=memo, progress=progress)


def _evenings_through(
    plan: Plan,
    result: Result,
    study: SeatStudy,
    mount: Mount,
    suffix: str,
    memo: Memo,
    progress: Progress,
) -> EveningCurve:
    """The evening at every candidate through the holes of a mount, which are alike over zeta."""
    question = _question_elsewhere(plan, result, mount, suffix, memo, progress)
    table, limits = study.table_of(mount.index_hole), plan.seat_limits
    # Which seat the mount has now decides little: a keyway that is turned finds nearly all evenings asked.
    curve = memo.call(f"seat by evening{suffix}", evening_curve, question, table, limits, progress=progress)
    stage = f"evenings of this seat{suffix}"
    return memo.call(stage, _with_seat, curve, question, table, limits, mount, progress=progress)


def _with_seat(
    curve: EveningCurve,
    question: EveningQuestion,
    table: SeatTable,
    limits: tuple[SeatLimit, ...],
    mount: Mount,
    progress: Progress,
) -> EveningCurve:
    """The curve with the present seat, and with what tells the best as seen from it."""
    present = np.array([mount.keyway_bearing_deg + fixed_offset_deg(mount)])
    curve = with_candidates(curve, question, present, progress)
    return with_margin(curve, question, table, limits, mount, progress)


def _seatless(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    shortest_contact_s: float,
    picks: tuple[Pick, ...],
    satellites: tuple[Satellite, ...],
    rules: EveningRules,
    memo: Memo,
    progress: Progress,
) -> EveningQuestion:
    """What the evening is asked of, whichever the seat: ways and verdicts are asked anew for each."""
    followed, reaches = steered(tracks, station, memo, progress), reached(tracks, station, memo)
    checks = check_passes(passes, tracks, station, progress, followed, reaches)
    return _question(
        checks, tracks, station, shortest_contact_s, picks, satellites, rules, None, memo, progress
    )


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
        plan.orbits,
        plan.maximum_element_age_days,
        Observer.of_site(site),
        plan.evening,
        site.horizon,
        site.minimum_elevation_deg,
        tuple((pick.norad_id, pick.near) for pick in plan.picks),
        replace(plan.station, mount=_without_seat(plan.mount)),
        plan.seat_limits,
    )


def evening_question(plan: Plan) -> tuple[object, ...]:
    """All that the evenings of other seats depend on, but for the present seat: as `seat_question`.

    The picks' worth and way and the evening's rules count here.
    """
    return (*seat_question(plan), plan.picks, plan.shortest_contact_s, plan.evening_rules)


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
    if station.clearance is None:
        table = memo.call("seat table", seat_table, studied, moving, progress=progress)
        return study_seat(picked, own, station, progress, limits, table, ready)
    # What strikes depends on the hole: all that is asked of it is what lies between keyway and stop.
    tables = {}
    for place, hole in enumerate(station.mount.index_holes):
        turned = moving.mount.model_copy(
            update={"datum_to_stop_deg": wrap_360(fixed_offset_deg(station.mount, hole))}
        )
        through = replace(moving, mount=turned)
        stage = f"seat table through hole {place + 1}"
        tables[hole.name] = memo.call(stage, seat_table, studied, through, progress=progress)
    return study_seat(picked, own, station, progress, limits, None, ready, tables)


def orient_checks(
    plan: Plan,
    result: Result,
    seat: BestSeat,
    memo: Memo | None = None,
    progress: Progress = no_progress,
) -> tuple[PassCheck, ...]:
    """Every pass that `orient` studies, with the mount in a seat of its.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    picked = picked_indices(plan.picks, plan.satellites, result.passes)
    studied = [picked[index] for index in studied_of(tuple(result.passes[index] for index in picked))]
    mount = seated(plan.mount, seat.keyway_bearing_deg, seat.index_hole)
    followed = steered(result.tracks, plan.station, memo, progress)
    return check_passes(
        tuple(result.passes[index] for index in studied),
        tuple(result.tracks[index] for index in studied),
        replace(plan.station, mount=mount),
        progress,
        tuple(followed[index] for index in studied),
    )


@dataclass(frozen=True, eq=False)
class SeatElsewhere:
    """The best seat in another place than the one planned, for when the ground forbids that one.

    Attributes:
        seat: where.
        mount: seated there.
        checks: the contacts of the evening that would be worked there, in its own order.
        joined_utc_s: when that evening joins each.
    """

    seat: BestSeat
    mount: Mount
    checks: tuple[PassCheck, ...]
    joined_utc_s: tuple[float, ...]


def seat_elsewhere(
    plan: Plan, result: Result, memo: Memo | None = None, progress: Progress = no_progress
) -> SeatElsewhere | None:
    """The evening as it would be worked in the best seat elsewhere; None without such a seat or a contact.

    It is chosen anew there: other passes may be worth working, in another order.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    study = orient(plan, result, memo, progress)
    seat = another_place(study.best, study.second_best, plan.mount.keyway_bearing_deg)
    if seat is None or not result.order.contacts:
        return None
    there = seated(plan.mount, seat.keyway_bearing_deg, seat.index_hole)
    order = evaluate(plan.model_copy(update={"mount": there}), memo, progress).order
    contacts = order.contacts
    return SeatElsewhere(
        seat,
        there,
        tuple(one.check for one in contacts),
        tuple(one.start_utc_s for one in contacts),
    )


@dataclass(frozen=True, eq=False)
class BesideEvening:
    """What is studied beside an evening, as far as it is asked for.

    Attributes:
        elsewhere: the best seat in another place.
        reasons: what alternatives to the evening would cost.
        by_evening: the seats by what their evenings are worth.
        study: the seats by the passes alone.
        verdicts_deg: how far off (minus, plus) the keyway may lie with every contact's verdict as it is.
    """

    elsewhere: SeatElsewhere | None = None
    reasons: EveningReasons | None = None
    by_evening: SeatByEvening | None = None
    study: SeatStudy | None = None
    verdicts_deg: tuple[float, float] | None = None


#: Nothing is asked for.
NOT_STUDIED = BesideEvening()


def weigh_seats(
    plan: Plan, result: Result, memo: Memo | None = None, progress: Progress = no_progress
) -> SeatByEvening | None:
    """`orient` and then `orient_by_evening`; None where there is no pass to study.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    study = orient(plan, result, memo, progress)
    return orient_by_evening(plan, result, study, memo, progress) if study.passes else None


def study_beside(
    plan: Plan,
    result: Result,
    memo: Memo | None = None,
    progress: Progress = no_progress,
    by_evening: SeatByEvening | None = None,
) -> BesideEvening:
    """What a sheet tells beside the evening; ``by_evening`` takes long and is handed on where it is known.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    elsewhere = seat_elsewhere(plan, result, memo, progress)
    study = orient(plan, result, memo, progress)
    reasons = explain(plan, result, memo, progress)
    if not study.passes:
        return BesideEvening(elsewhere, reasons, by_evening)
    verdicts_deg = memo.call("verdicts hold", verdicts_hold, study, result.order, plan.mount)
    return BesideEvening(elsewhere, reasons, by_evening, study, verdicts_deg)
