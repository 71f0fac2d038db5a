"""The study of the seat: what every keyway bearing and every index hole would do to the passes.

All of it is done once over zeta, since a hole only shifts the keyway's bearing. Counts of clear ways are
constant between arc ends and are computed there exactly; the seconds lost are sampled at the ends and the
middle of every piece, where a pass beginning to rest is an end too.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.angles import Flags, Floats, wrap_180, wrap_360
from core.errors import Cancelled
from core.mount.arcs import (
    Arcs,
    clear_arcs,
    ends_deg,
    holds,
    middles_deg,
    no_wider,
    resting_arcs,
    room_deg,
)
from core.mount.motion import Steered, Steering, aim, seconds_off, steer, unstopped_off_deg
from core.mount.nouns import PassCheck
from core.mount.reach import reach_of
from core.mount.seat_choice import (
    BestSeat,
    HoleCurve,
    Known,
    SeatLimit,
    best_of_all,
    best_seat,
    limit_arcs,
    second_best,
)
from core.mount.splits import possible_postures, turns_in_travel
from core.mount.stack import (
    OVER_THE_TOP,
    POSTURES,
    UPRIGHT,
    Antenna,
    IndexHole,
    Mount,
    Posture,
    beam_limit_deg,
    fixed_offset_deg,
    posture_shift_deg,
)
from core.mount.tracks import MountTrack, thinned
from core.mount.verdict import NEAR_ENOUGH_S, check_passes, decide, weigh
from core.track import Pass
from core.units import INSIDE_DEG, Progress, no_progress

#: Samples of a pass in the study, seconds apart at most.
_STUDY_STEP_S = 2.0
#: Seconds lost are a curve inside a piece: wider pieces are sampled as several.
_WIDEST_PIECE_DEG = 5.0
#: Seats simulated at once for one pass.
_CHUNK = 256


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
        word, lost_s: (M, P) index of the verdict's word, and seconds lost.
        rest_room_deg: (M,) how far the pass that rests hardest is from leaving the beam; 180 if none rests.
    """

    zeta_deg: Floats
    is_end: Flags
    word: Floats
    lost_s: Floats
    rest_room_deg: Floats

    def table(self) -> Floats:
        """(M, 4): seconds lost, splits, parts, out of reach."""
        counts = [(self.word == index).sum(axis=1) for index in (2, 3, 4)]
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
        clear, rest: per posture the arcs of zeta in which each pass is clear, or holds at least by resting.
        motion: "full": as measured, acceleration, deadbands and the rest counted where they are told.
    """

    passes: tuple[Pass, ...]
    left_out: tuple[Pass, ...]
    holes: tuple[HoleStudy, ...]
    hole_in_use: HoleStudy
    best: BestSeat
    samples: SeatSamples
    clear: dict[Posture, Arcs]
    rest: dict[Posture, Arcs]
    second_best: BestSeat | None = None
    second_checks: tuple[PassCheck, ...] = ()
    limits: tuple[SeatLimit, ...] = ()
    motion: str = "full"


def study_seat(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    mount: Mount,
    antennas: tuple[Antenna, ...],
    steering: Steering = "led",
    progress: Progress = no_progress,
    limits: tuple[SeatLimit, ...] = (),
) -> SeatStudy:
    """The study of the seat, without tonight's correction: that is void anywhere but where it was fitted.

    Args:
        passes, tracks: the passes and `mount_tracks` of them.
        mount: all but its keyway bearing and hole in use is kept.
        antennas: for the beam.
        steering: the plan's.
        progress: called per pass.
        limits: forbidden keyway bearings; the study covers them, best and second best avoid them.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    rises = [index for index, pass_ in enumerate(passes) if pass_.cut != "both"]
    studied = tuple(passes[index] for index in rises)
    kept = tuple(tracks[index] for index in rises)
    limit = beam_limit_deg(antennas)
    clear = {
        p: clear_arcs(tuple(reach_of(t, p, mount.elevation, limit) for t in kept), mount.azimuth)
        for p in POSTURES
    }
    rest = {
        p: resting_arcs(tuple(reach_of(t, p, mount.elevation, limit) for t in kept), mount.azimuth)
        for p in POSTURES
    }
    samples = _sample(kept, mount, limit, steering, clear, rest, progress, limit_arcs(limits, mount))

    def checks_in(bearing_deg: float, hole: str) -> tuple[PassCheck, ...]:
        return check_passes(studied, kept, seated(mount, bearing_deg, hole), antennas, steering)

    def known(bearing_deg: float, hole: str) -> float:
        return know_to_deg(checks_in(bearing_deg, hole), limit)

    both = [_hole_study(hole, samples, clear, mount, limits, known) for hole in mount.index_holes]
    holes, curves = tuple(study for study, _ in both), tuple(curve for _, curve in both)
    in_use = next(study for study in holes if study.hole.name == mount.index_hole)
    best = best_of_all(tuple(study.best for study in holes), mount.index_hole)
    second = second_best(curves, best, mount, limits, known) if studied else None
    there = checks_in(second.keyway_bearing_deg, second.index_hole) if second is not None else ()
    left_out = tuple(pass_ for pass_ in passes if pass_.cut == "both")
    return SeatStudy(studied, left_out, holes, in_use, best, samples, clear, rest, second, there, limits)


def seated(mount: Mount, keyway_bearing_deg: float, hole: str) -> Mount:
    """The mount in another seat, where no sighting has been taken yet."""
    return mount.model_copy(
        update={
            "keyway_bearing_deg": keyway_bearing_deg,
            "index_hole": hole,
            "sighting_correction": None,
        }
    )


@dataclass(frozen=True, eq=False)
class SeatGlance:
    """What the study knows of one seat at once, for a keyway that is being dragged.

    Attributes:
        word: (P,) index of each studied pass' verdict word, that of the middle of its piece.
        lost_s: (P,) seconds lost, likewise.
        clear: (P,) bool, clear in some posture; exact.
        resting: (P,) bool, the way of that word holds by resting only.
    """

    word: Floats
    lost_s: Floats
    clear: Flags
    resting: Flags


def glance(study: SeatStudy, zeta_deg: float) -> SeatGlance:
    """The seat at zeta by looking it up, without simulating anything."""
    zeta = np.array([wrap_360(zeta_deg)])
    clear = np.logical_or.reduce([holds(study.clear[p], zeta)[0] for p in POSTURES])
    rests = {p: holds(study.rest[p], zeta)[0] & ~holds(study.clear[p], zeta)[0] for p in POSTURES}
    bearing, is_end = study.samples.zeta_deg, study.samples.is_end
    nearest = int(np.argmin(np.abs(wrap_180(bearing - zeta[0]))))
    if is_end[nearest] and abs(wrap_180(float(bearing[nearest]) - float(zeta[0]))) > INSIDE_DEG:
        # Inside a piece its middle speaks: ends and middles alternate, so it is the next one on this side.
        step = 1 if wrap_180(float(zeta[0]) - float(bearing[nearest])) > 0.0 else -1
        nearest = (nearest + step) % bearing.size
    word = study.samples.word[nearest]
    resting = ((word == 0.0) & rests[UPRIGHT]) | ((word == 1.0) & rests[OVER_THE_TOP])
    return SeatGlance(word, study.samples.lost_s[nearest], clear, resting)


def _sample(
    tracks: tuple[MountTrack, ...],
    mount: Mount,
    limit: float,
    steering: Steering,
    clear: dict[Posture, Arcs],
    rest: dict[Posture, Arcs],
    progress: Progress,
    shut: Arcs,
) -> SeatSamples:
    """Word and seconds lost of every pass at the ends and middles of all pieces, those of ``shut`` too."""
    ends = no_wider(ends_deg(*clear.values(), *rest.values(), shut), _WIDEST_PIECE_DEG)
    zeta = np.concatenate([ends, middles_deg(ends)])
    is_end = np.concatenate([np.ones(ends.size, dtype=bool), np.zeros(zeta.size - ends.size, dtype=bool)])
    order = np.argsort(zeta, kind="stable")
    zeta, is_end = zeta[order], is_end[order]
    free = {p: holds(clear[p], zeta) for p in POSTURES}
    held = {p: free[p] | holds(rest[p], zeta) for p in POSTURES}
    word = np.zeros((zeta.size, len(tracks)))
    lost = np.zeros((zeta.size, len(tracks)))
    for index, track in enumerate(tracks):
        if not progress(index, len(tracks), "study of the seat"):
            raise Cancelled
        coarse = thinned(track, _STUDY_STEP_S)
        flags = {p: (held[p][:, index], free[p][:, index]) for p in POSTURES}
        word[:, index], lost[:, index] = _over_bearings(coarse, mount, limit, steering, zeta, flags)
    return SeatSamples(zeta, is_end, word, lost, _rest_room(zeta, clear, rest))


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


def _over_bearings(
    track: MountTrack,
    mount: Mount,
    limit: float,
    steering: Steering,
    zeta: Floats,
    flags: dict[Posture, tuple[Flags, Flags]],
) -> tuple[Floats, Floats]:
    """One pass at many zetas: (M,) word index, (M,) seconds lost; flags: where it holds, and is clear."""
    steered = steer(track, mount, steering)
    held_loss = {p: np.where(flags[p][0], 0.0, np.inf) for p in POSTURES}
    if steered.slow.any():
        held_loss = {p: _slow_loss(track, steered, mount, zeta, flags[p], p, limit) for p in POSTURES}
    word = np.where(held_loss[UPRIGHT] <= NEAR_ENOUGH_S, 0.0, 1.0)
    lost = np.where(word == 0.0, held_loss[UPRIGHT], held_loss[OVER_THE_TOP])
    hard = np.flatnonzero(np.minimum(held_loss[UPRIGHT], held_loss[OVER_THE_TOP]) > NEAR_ENOUGH_S)
    for start in range(0, hard.size, _CHUNK):
        some = hard[start : start + _CHUNK]
        here: dict[Posture, Floats] = dict.fromkeys(POSTURES, zeta[some])
        means = weigh(track, steered, mount, here, {p: held_loss[p][some] for p in POSTURES}, limit)
        word[some], lost[some] = decide(means, track.seconds_in_all)
    return word, lost


def _slow_loss(
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    zeta: Floats,
    flags: tuple[Flags, Flags],
    posture: Posture,
    limit: float,
) -> Floats:
    """(M,) least seconds lost of the ways that hold, for a pass an axis is too slow for.

    A clear way loses the same at every seat, where only the mount's own motion counts.
    """
    least = np.full(zeta.size, np.inf)
    if posture not in possible_postures(mount):
        return least
    held, clear = flags
    least[clear] = seconds_off(track, unstopped_off_deg(track, steered, mount, posture), limit)
    where = np.flatnonzero(held & ~clear)
    for start in range(0, where.size, _CHUNK):
        some = where[start : start + _CHUNK]
        for k in turns_in_travel(track, mount, zeta[some], posture):
            offsets = posture_shift_deg(posture) - zeta[some] + 360.0 * k
            off = aim(track, steered, posture, offsets, mount).off_deg
            least[some] = np.minimum(least[some], seconds_off(track, off, limit))
    return least


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
