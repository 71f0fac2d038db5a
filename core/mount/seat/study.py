"""The study of the seat: what every keyway bearing and every index hole would do to the passes.

All of it is done once over zeta, since a hole only shifts the keyway's bearing. Counts of clear ways are
constant between arc ends and are computed there exactly; the seconds lost are taken from the passes' table
at the ends and the middle of every piece, where a pass beginning to rest is an end too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, wrap_360
from core.base.units import Progress, no_progress
from core.mount.check.verdict import check_passes, decide
from core.mount.drive.motion import Steered, steer_all
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import fixed_offset_deg, zeta_deg
from core.mount.model.results import NOT_HELD, PassCheck, VerdictCodes
from core.mount.model.station import OVER_THE_TOP, POSTURES, UPRIGHT, IndexHole, Mount, Posture, Station
from core.mount.seat.arcs import Arcs, ends_deg, holds, middles_deg, no_wider, room_deg
from core.mount.seat.choice import (
    BestSeat,
    HoleCurve,
    Known,
    SeatLimit,
    best_of_all,
    best_seat,
    limit_arcs,
    second_best,
)
from core.mount.seat.losses.table import SeatGlance, SeatTable, seat_table, verdicts_at
from core.passes.track import Pass

#: Seconds lost are a curve inside a piece: wider pieces are sampled as several.
_WIDEST_PIECE_DEG = 1.0


@dataclass(frozen=True)
class Interval:
    """A stretch of keyway bearings over which the clear ways do not change.

    Attributes:
        from_deg: start, 0 to 360.
        to_deg: end, above ``from_deg``; may run past 360.
        clear_upright, clear_over_the_top_only, not_clear: how many passes.
        lost: indices (into the passes studied) of those not clear.
    """

    from_deg: float
    to_deg: float
    clear_upright: int
    clear_over_the_top_only: int
    not_clear: int
    lost: tuple[int, ...]


@dataclass(frozen=True)
class LonePoint:
    """A single bearing, where closed arcs meet, better than both sides of it; attributes as `Interval`'s."""

    keyway_bearing_deg: float
    clear_upright: int
    clear_over_the_top_only: int
    not_clear: int
    lost: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class HoleStudy:
    """What one hole offers.

    Attributes:
        hole: the hole.
        intervals: cover the circle once.
        points: isolated better bearings.
        curve: (M, 5) rising keyway bearing: bearing, seconds lost, splits, parts, out of reach.
        best: the best seat with this hole.
    """

    hole: IndexHole
    intervals: tuple[Interval, ...]
    points: tuple[LonePoint, ...]
    curve: Floats
    best: BestSeat


@dataclass(frozen=True, eq=False)
class SeatSamples:
    """What every pass does at every sampled zeta.

    Attributes:
        zeta_deg: (M,) rising.
        is_end: (M,) an end of a piece, not a middle.
        verdict_code, lost_s: (M, P) the verdicts, and seconds lost.
        rest_room_deg: (M,) how far the pass that rests hardest is from leaving the beam; 180 if none rests.
    """

    zeta_deg: Floats
    is_end: Flags
    verdict_code: VerdictCodes
    lost_s: Floats
    rest_room_deg: Floats

    def table(self) -> Floats:
        """(M, 4): seconds lost, splits, parts, out of reach."""
        counts = [(self.verdict_code == verdict.code).sum(axis=1) for verdict in NOT_HELD]
        return np.stack([self.lost_s.sum(axis=1), *counts], axis=1)


@dataclass(frozen=True, eq=False)
class SeatStudy:
    """The study over all holes.

    Attributes:
        passes: the passes studied; satellites that never rise or set are left out.
        left_out: passes left out.
        holes: one study each, in the mount's order.
        hole_in_use: the study of tonight's hole.
        best: best over all holes; the hole in use wins ties.
        second_best: the best seat in another place, or None.
        second_checks: every studied pass there; empty where there is none.
        limits: the forbidden keyway bearings that both keep to.
        samples: what every pass does at every sampled zeta.
        table: what every pass loses at every zeta.
        motion: "full": as measured, acceleration, deadbands and the rest counted where they are told.
    """

    passes: tuple[Pass, ...]
    left_out: tuple[Pass, ...]
    holes: tuple[HoleStudy, ...]
    hole_in_use: HoleStudy
    best: BestSeat
    samples: SeatSamples
    table: SeatTable
    second_best: BestSeat | None = None
    second_checks: tuple[PassCheck, ...] = ()
    limits: tuple[SeatLimit, ...] = ()
    motion: str = "full"


def study_seat(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    progress: Progress = no_progress,
    limits: tuple[SeatLimit, ...] = (),
    table: SeatTable | None = None,
    steered: tuple[Steered, ...] | None = None,
) -> SeatStudy:
    """The study of the seat, without tonight's correction: that is void anywhere but where it was fitted.

    Args:
        passes, tracks: the passes and `mount_tracks` of them.
        station: all but its mount's keyway bearing and hole in use is kept.
        progress: called per pass.
        limits: forbidden keyway bearings; the study covers them, best and second best avoid them.
        table: `seat_table` of the passes that are studied (`studied_of`), where it is at hand.
        steered: `steer_all` of the tracks of those, where it is at hand.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    mount, rises = station.mount, studied_of(passes)
    studied = tuple(passes[index] for index in rises)
    kept = tuple(tracks[index] for index in rises)
    steered = steer_all(kept, mount, station.steering, progress) if steered is None else steered
    if table is None:
        table = seat_table(kept, station, progress, steered)
    samples = _sample(table, limit_arcs(limits, mount))
    checked: dict[float, tuple[PassCheck, ...]] = {}

    def checks_in(bearing_deg: float, hole: str) -> tuple[PassCheck, ...]:
        there = seated(mount, bearing_deg, hole)
        # One hole's best is mostly another's too, at the same zeta.
        zeta = round(zeta_deg(there), 9)
        if zeta not in checked:
            checked[zeta] = check_passes(studied, kept, replace(station, mount=there), progress, steered)
        return checked[zeta]

    def known(bearing_deg: float, hole: str) -> float:
        return know_to_deg(checks_in(bearing_deg, hole), station.beam_limit_deg)

    both = [_hole_study(hole, samples, table.clear, mount, limits, known) for hole in mount.index_holes]
    holes, curves = tuple(study for study, _ in both), tuple(curve for _, curve in both)
    in_use = next(study for study in holes if study.hole.name == mount.index_hole)
    best = best_of_all(tuple(study.best for study in holes), mount.index_hole)
    second = second_best(curves, best, mount, limits, known) if studied else None
    there = checks_in(second.keyway_bearing_deg, second.index_hole) if second is not None else ()
    left_out = tuple(pass_ for pass_ in passes if pass_.cut == "both")
    return SeatStudy(studied, left_out, holes, in_use, best, samples, table, second, there, limits)


def studied_of(passes: tuple[Pass, ...]) -> tuple[int, ...]:
    """Indices of the passes that are studied: satellites that never rise or set are left out."""
    return tuple(index for index, pass_ in enumerate(passes) if pass_.cut != "both")


def seated(mount: Mount, keyway_bearing_deg: float, hole: str) -> Mount:
    """The mount in another seat, where no sighting has been taken yet."""
    return mount.model_copy(
        update={
            "keyway_bearing_deg": keyway_bearing_deg,
            "index_hole": hole,
            "sighting_correction": None,
        }
    )


def turned_to(mount: Mount, keyway_bearing_deg: float) -> Mount:
    """The mount with its keyway pointing elsewhere; a correction is kept, and void there."""
    return mount.model_copy(update={"keyway_bearing_deg": wrap_360(keyway_bearing_deg)})


def glance(study: SeatStudy, zeta_deg: float) -> SeatGlance:
    """The seat at zeta from the study's table, without simulating anything."""
    return verdicts_at(study.table, zeta_deg)


def _sample(table: SeatTable, shut: Arcs) -> SeatSamples:
    """Word and seconds lost of every pass at the ends and middles of all pieces, those of ``shut`` too."""
    clear, rest = table.clear, table.rest
    ends = no_wider(ends_deg(*clear.values(), *rest.values(), shut), _WIDEST_PIECE_DEG)
    zeta = np.concatenate([ends, middles_deg(ends)])
    is_end = np.concatenate([np.ones(ends.size, dtype=bool), np.zeros(zeta.size - ends.size, dtype=bool)])
    order = np.argsort(zeta, kind="stable")
    zeta, is_end = zeta[order], is_end[order]
    code, lost = decide(table.losses_at(zeta), table.seconds_in_all)
    return SeatSamples(zeta, is_end, code, lost, _rest_room(zeta, clear, rest))


def _rest_room(zeta: Floats, clear: dict[Posture, Arcs], rest: dict[Posture, Arcs]) -> Floats:
    """(M,) the least room of the passes that rest: those not clear in the first posture that holds them."""
    room = np.full(zeta.size, 180.0)
    undecided = np.ones((zeta.size, clear[UPRIGHT].start_deg.size), dtype=bool)
    for posture in POSTURES:
        is_clear, is_held = holds(clear[posture], zeta), holds(rest[posture], zeta)
        resting = undecided & is_held & ~is_clear
        rooms = np.where(resting, room_deg(rest[posture], zeta), 180.0)
        room = np.minimum(room, rooms.min(axis=1, initial=180.0))
        undecided &= ~(is_clear | is_held)
    return np.asarray(room)


def _hole_study(
    hole: IndexHole,
    samples: SeatSamples,
    clear: dict[Posture, Arcs],
    mount: Mount,
    limits: tuple[SeatLimit, ...],
    known: Known,
) -> tuple[HoleStudy, HoleCurve]:
    """Everything of one hole, turned from zeta to keyway bearings."""
    shift = fixed_offset_deg(mount, hole)
    intervals, points = _intervals(clear, shift)
    bearing = wrap_360(samples.zeta_deg - shift)
    order = np.argsort(bearing, kind="stable")
    curve = np.column_stack([bearing[order], samples.table()[order]])
    samples_here = HoleCurve(hole, curve, samples.is_end[order], samples.rest_room_deg[order])
    best = best_seat(samples_here, mount.keyway_bearing_deg, limits, known)
    return HoleStudy(hole, intervals, points, curve, best), samples_here


def _intervals(
    clear: dict[Posture, Arcs], shift: float
) -> tuple[tuple[Interval, ...], tuple[LonePoint, ...]]:
    """Pieces between clear arcs' ends with the counts of their interior, and isolated better bearings."""
    ends = ends_deg(*clear.values())
    middles = middles_deg(ends)
    inner = {p: holds(clear[p], middles, 0.0) for p in POSTURES}
    if ends.size == 0:
        return (Interval(0.0, 360.0, *_counts(inner, 0)),), ()
    at_ends = {p: holds(clear[p], ends) for p in POSTURES}
    order = np.argsort(wrap_360(ends - shift), kind="stable")
    lengths = np.diff(ends, append=ends[0] + 360.0)
    intervals: list[Interval] = []
    points: list[LonePoint] = []
    for k in order:
        start = wrap_360(float(ends[k] - shift))
        here, before, at = _counts(inner, int(k)), _counts(inner, int(k) - 1), _counts(at_ends, int(k))
        if _badness(at) < min(_badness(here), _badness(before)):
            points.append(LonePoint(start, *at))
        if intervals and before == here == at:
            intervals[-1] = Interval(intervals[-1].from_deg, start + float(lengths[k]), *here)
        else:
            intervals.append(Interval(start, start + float(lengths[k]), *here))
    return tuple(intervals), tuple(points)


def _badness(counts: tuple[int, int, int, tuple[int, ...]]) -> tuple[int, int]:
    """Fewest not clear is best, then fewest that need the other posture."""
    return counts[2], counts[1]


def _counts(inside: dict[Posture, Flags], row: int) -> tuple[int, int, int, tuple[int, ...]]:
    """Clear upright, clear over the top only, not clear, and which are not clear."""
    upright, over = inside[UPRIGHT][row], inside[OVER_THE_TOP][row]
    lost = np.flatnonzero(~upright & ~over)
    return int(upright.sum()), int((over & ~upright).sum()), lost.size, tuple(int(i) for i in lost)


def know_to_deg(checks: tuple[PassCheck, ...], beam_limit: float) -> float:
    """How far the azimuth may be misjudged before a pass that loses nothing leaves the beam, degrees.

    An azimuth error d moves boresight by at most d cos(e), so a moment that is off by ``off`` allows
    (limit - off) / cos(e); the least over all moments of all passes held without loss. Never above the
    limit itself, which is what a pass at the horizon allows.
    """
    least = beam_limit
    for check in checks:
        if check.pointing is None or check.seconds_lost > 0.0 or check.verdict not in POSTURES:
            continue
        here = check.pointing.worked
        spare = beam_limit - check.pointing.off_deg[here]
        reach = np.abs(np.cos(np.radians(check.pointing.e_deg[here])))
        least = min(least, float((spare / np.maximum(reach, 1e-3)).min(initial=beam_limit)))
    return max(least, 0.0)
