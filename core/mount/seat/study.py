"""The study of the seat: what every keyway bearing and every index hole would do to the passes.

All of it is done once over zeta, the bearing of boresight on the counter-clockwise stop: another hole only
turns the adapter, so its curve is the same one over bearings shifted by the difference of the holes. Which
ways are clear is told by arcs, exactly (`intervals`); seconds lost are taken from the passes' table at the
ends and in the middle of every piece between arcs' ends (`losses`, `curve`); the best of those samples is the
best seat (`choice`).

Tonight's correction from sightings is left out: it is void anywhere but where it was fitted.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import compress

import numpy as np

from core.base.angles import Floats, wrap_360
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.mount.check.verdict import held_easily
from core.mount.drive.motion import Steered, steer_all
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import fixed_offset_deg, zeta_deg
from core.mount.model.results import NOT_HELD, PassCheck
from core.mount.model.station import POSTURES, UPRIGHT, IndexHole, Mount, Posture, Station
from core.mount.seat.arcs import Arcs, ends_deg, holds, holds_own, middles_deg, no_wider, room_deg
from core.mount.seat.choice import BestSeat, Known, best_of_all, best_seat, second_best
from core.mount.seat.curve import LossCurve
from core.mount.seat.intervals import Interval, IsolatedBearing, clear_intervals
from core.mount.seat.limits import SeatLimit, limit_arcs
from core.mount.seat.losses.table import SeatTable, seat_table, verdicts_at
from core.passes.track import Pass

#: Seconds lost are a curve inside a piece: wider pieces are sampled as several.
_WIDEST_PIECE_DEG = 1.0
#: A rounded bearing is as good if it loses no more than this above the exact one, seconds.
_AS_GOOD_S = 0.5


@dataclass(frozen=True, eq=False)
class HoleStudy:
    """What one hole offers.

    Attributes:
        hole: the hole.
        intervals: cover the circle once.
        isolated: isolated better bearings.
        curve: samples over the keyway's bearing.
        best: the best seat with this hole.
        best_rounded_deg: its bearing to a tenth where that is as good: what a compass card can be set to.
        table: what every pass loses at every zeta; with lengths for clearance each hole has its own.
    """

    hole: IndexHole
    intervals: tuple[Interval, ...]
    isolated: tuple[IsolatedBearing, ...]
    curve: LossCurve
    best: BestSeat
    best_rounded_deg: float
    table: SeatTable


@dataclass(frozen=True, eq=False)
class SeatStudy:
    """The study over all holes.

    Attributes:
        passes: the passes studied; satellites that never rise or set are left out.
        left_out: passes left out.
        holes: one study each, in the mount's order.
        hole_in_use: the study of tonight's hole.
        best: best over all holes; the hole in use wins ties.
        over_zeta: the curve of the hole in use before it is turned to it.
        table: what every pass loses at every zeta, through the hole in use.
        second_best: the best seat in another place, or None.
        limits: the forbidden keyway bearings that both keep to.
    """

    passes: tuple[Pass, ...]
    left_out: tuple[Pass, ...]
    holes: tuple[HoleStudy, ...]
    hole_in_use: HoleStudy
    best: BestSeat
    over_zeta: LossCurve
    table: SeatTable
    second_best: BestSeat | None = None
    limits: tuple[SeatLimit, ...] = ()

    @property
    def hole_of_best(self) -> HoleStudy:
        """The study of the hole that the best seat uses."""
        return next(study for study in self.holes if study.hole.name == self.best.index_hole)

    def table_of(self, hole: str) -> SeatTable:
        """What every pass loses at every zeta through that hole; of one unknown, through the one in use."""
        return next((study.table for study in self.holes if study.hole.name == hole), self.table)


def study_seat(
    passes: tuple[Pass, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    progress: Progress = no_progress,
    limits: tuple[SeatLimit, ...] = (),
    table: SeatTable | None = None,
    steered: tuple[Steered, ...] | None = None,
    tables: Mapping[str, SeatTable] | None = None,
) -> SeatStudy:
    """The study of the seat, without tonight's correction: that is void anywhere but where it was fitted.

    Args:
        passes, tracks: the passes and `mount_tracks` of them.
        station: all but its mount's keyway bearing and hole in use is kept.
        progress: called per pass.
        limits: forbidden keyway bearings; the study covers them, best and second best avoid them.
        table: `seat_table` of the passes that are studied (`studied_of`), where it is at hand.
        steered: `steer_all` of the tracks of those, where it is at hand.
        tables: by hole, where each has its own (`seat_table` with that hole in use).

    Raises:
        Cancelled: ``progress`` returned False.
    """
    mount, rises = station.mount, studied_of(passes)
    studied = tuple(passes[index] for index in rises)
    kept = tuple(tracks[index] for index in rises)
    steered = steer_all(kept, mount, station.steering, progress) if steered is None else steered
    if tables is None and station.clearance is not None:
        tables = {
            hole.name: seat_table(
                kept, replace(station, mount=seated(mount, 0.0, hole.name)), progress, steered
            )
            for hole in mount.index_holes
        }
    if table is None:
        table = tables[mount.index_hole] if tables else seat_table(kept, station, progress, steered)
    over_zeta = sampled(table, limit_arcs(limits, mount))
    known_at: dict[tuple[float, str], float] = {}
    exactly = np.array([one.is_exactly(track) for one, track in zip(steered, kept, strict=True)], dtype=bool)

    def known(bearing_deg: float, hole: str) -> float:
        there = replace(station, mount=seated(mount, bearing_deg, hole))
        # One hole's best is mostly another's too, at the same zeta.
        zeta = round(zeta_deg(there.mount), 9), hole if tables else ""
        if zeta not in known_at:
            own = tables[hole] if tables else table
            # A pass that is clear and followed exactly is never off, and so allows the whole limit.
            asked = ~(exactly & holds(own.clear[UPRIGHT], np.array([zeta[0]]))[0])
            each = tuple(compress(zip(studied, kept, steered, table.reaches, strict=True), asked))
            held = (
                held_easily(pass_, track, there, followed, reaches)
                for pass_, track, followed, reaches in reported(each, "finding ways", progress)
            )
            known_at[zeta] = know_to_deg(tuple(check for check in held if check), station.beam_limit_deg)
        return known_at[zeta]

    found = []
    for hole in mount.index_holes:
        own, over = table, over_zeta
        if tables and hole.name != mount.index_hole:
            own = tables[hole.name]
            over = sampled(own, limit_arcs(limits, mount))
        found.append(_hole_study(hole, over, own, mount, limits, known))
    holes = tuple(found)
    in_use = next(study for study in holes if study.hole.name == mount.index_hole)
    best = best_of_all(tuple(study.best for study in holes), mount.index_hole)
    curves = {study.hole.name: study.curve for study in holes}
    second = second_best(curves, best, mount, limits, known) if studied else None
    left_out = tuple(pass_ for pass_ in passes if pass_.cut == "both")
    return SeatStudy(studied, left_out, holes, in_use, best, over_zeta, table, second, limits)


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


def sampled(table: SeatTable, shut: Arcs, widest_deg: float = _WIDEST_PIECE_DEG) -> LossCurve:
    """The passes' losses over zeta at the ends and middles of all pieces, those of ``shut`` too.

    Args:
        table: of the passes.
        shut: further arcs whose ends are ends of pieces.
        widest_deg: wider pieces are sampled as several.
    """
    clear, rest = table.clear, table.rest
    ends = no_wider(ends_deg(*clear.values(), *rest.values(), shut), widest_deg)
    zeta = np.concatenate([ends, middles_deg(ends)])
    order = np.argsort(zeta, kind="stable")
    is_end = order < ends.size
    zeta = zeta[order]
    code, lost = table.decided_at(zeta)
    splits, parts, out_of_reach = ((code == verdict.code).sum(axis=1) for verdict in NOT_HELD)
    rest_room = _rest_room(zeta, clear, rest)
    return LossCurve(zeta, lost.sum(axis=1), splits, parts, out_of_reach, is_end, rest_room)


def _rest_room(zeta: Floats, clear: dict[Posture, Arcs], rest: dict[Posture, Arcs]) -> Floats:
    """(M,) the least room of the passes that rest: those not clear in the first posture that holds them."""
    room = np.full(zeta.size, 180.0)
    # Most are clear upright: what is left is asked one by one.
    bearing, of_pass = np.nonzero(~holds(clear[UPRIGHT], zeta))
    for posture in POSTURES:
        place = of_pass, zeta[bearing]
        open_, held = ~holds_own(clear[posture], *place), holds_own(rest[posture], *place)
        rests, left = np.flatnonzero(open_ & held), np.flatnonzero(open_ & ~held)
        np.minimum.at(room, bearing[rests], room_deg(rest[posture], of_pass[rests], place[1][rests]))
        bearing, of_pass = bearing[left], of_pass[left]
    return room


def _hole_study(
    hole: IndexHole,
    over_zeta: LossCurve,
    table: SeatTable,
    mount: Mount,
    limits: tuple[SeatLimit, ...],
    known: Known,
) -> HoleStudy:
    """Everything of one hole, turned from zeta to keyway bearings."""
    shift = fixed_offset_deg(mount, hole)
    intervals, isolated = clear_intervals(table.clear, shift)
    curve = over_zeta.turned(-shift)
    best = best_seat(hole.name, curve, mount.keyway_bearing_deg, limits, known)
    rounded = _rounded_deg(table, best.keyway_bearing_deg, shift)
    return HoleStudy(hole, intervals, isolated, curve, best, rounded, table)


def _rounded_deg(table: SeatTable, exact_deg: float, shift_deg: float) -> float:
    """A keyway bearing to a tenth, if no fewer passes are clear there and none loses more.

    The best may lie on the very end of an arc, so that only one of the two neighbouring tenths is as good;
    where neither is, it stays as it is.
    """
    there = verdicts_at(table, exact_deg + shift_deg)

    def is_as_good(bearing_deg: float) -> bool:
        here = verdicts_at(table, bearing_deg + shift_deg)
        as_clear = here.clear.sum() >= there.clear.sum()
        return bool(as_clear and here.lost_s.sum() <= there.lost_s.sum() + _AS_GOOD_S)

    return good_tenth_deg(exact_deg, is_as_good)


def good_tenth_deg(exact_deg: float, is_as_good: Callable[[float], bool]) -> float:
    """The nearer of the two neighbouring tenths that is as good, wrapped; else the bearing as it is."""
    tenths = (math.floor(exact_deg * 10.0) / 10.0, math.ceil(exact_deg * 10.0) / 10.0)
    for tenth in sorted(tenths, key=lambda tenth: abs(tenth - exact_deg)):
        if is_as_good(tenth):
            return wrap_360(tenth)
    return exact_deg


def know_to_deg(checks: tuple[PassCheck, ...], beam_limit: float) -> float:
    """How far the azimuth may be misjudged before a pass that loses nothing leaves the beam, degrees.

    Turning boresight by d in azimuth at elevation e moves it on the sky by theta, where sin(theta / 2) =
    cos(e) sin(d / 2) (the haversine formula between two points of one elevation), so theta is at most
    d cos(e). A moment that is ``off`` the satellite already therefore allows d = (limit - off) / cos(e); the
    answer is the least over all moments of all passes held without loss. It is never above the limit itself,
    which is what a pass at the horizon allows.
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
