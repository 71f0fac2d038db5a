"""Which of a curve's samples is the best seat, which the second best.

The sample that loses least may lie on the very end of an arc, where half a degree of error in placing the
tripod costs a pass. So samples that are equally good in passes and seconds are told apart by how far off the
keyway may be placed, and only then by where it points now. If every bearing is forbidden, the best is chosen
as if none were, and says so.

The second best is for the day when a rock or a wall that nobody listed forbids the best. The next sample
beside the best would meet the same rock, and so would another hole at the same bearing, since the legs stand
by the keyway: it must lie more than `ANOTHER_PLACE_DEG` away, whichever hole it uses.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180
from core.base.units import INSIDE_DEG
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.model.station import Mount
from core.mount.seat.curve import LossCurve
from core.mount.seat.limits import SeatLimit, forbidden_at

#: Keyway bearings closer together than this are the same place for a tripod's legs.
ANOTHER_PLACE_DEG = 20.0
#: Margins are compared to so many digits: told finer, they would turn the adapter for nothing.
MARGIN_DIGITS = 3
#: Room beyond this does not make one resting seat better than another.
_ENOUGH_ROOM_DEG = 10.0


@dataclass(frozen=True)
class BestSeat:
    """The best sample of a curve.

    Attributes:
        keyway_bearing_deg, index_hole: the seat.
        place_within_deg: how far counter-clockwise (negative) and clockwise the keyway may be placed off it,
            if it is then measured and the dials corrected, before a verdict worsens or an arc is forbidden.
        know_to_deg: how far the bearing then may be misjudged before a pass that is held leaves the beam.
        seconds_lost, splits, parts, out_of_reach: at this seat.
        forbidden: it lies in a forbidden arc, as every bearing does.
    """

    keyway_bearing_deg: float
    index_hole: str
    place_within_deg: tuple[float, float]
    know_to_deg: float
    seconds_lost: float
    splits: int
    parts: int
    out_of_reach: int
    forbidden: bool = False


#: Degrees to which a keyway bearing (with the hole of this name) must be known.
Known = Callable[[float, str], float]


def rank(seat: BestSeat) -> tuple[bool, int, int, float, float]:
    """Seats in order: fewest out of reach, fewest splits and parts, least seconds lost, widest margin."""
    margin = min(-seat.place_within_deg[0], seat.place_within_deg[1])
    lost_s = round(seat.seconds_lost)
    return seat.forbidden, seat.out_of_reach, seat.splits + seat.parts, lost_s, -round(margin, MARGIN_DIGITS)


def best_seat(
    hole: str, curve: LossCurve, present_deg: float, limits: tuple[SeatLimit, ...], known: Known
) -> BestSeat:
    """The best seat with one hole; in a forbidden arc only where nothing else is left."""
    shut = forbidden_at(curve.bearing_deg, limits)
    if shut.all():
        none = np.zeros_like(shut)
        return _seat(hole, curve, present_deg, none, none, known, forbidden=True)
    return _seat(hole, curve, present_deg, shut, shut, known)


def best_of_all(seats: tuple[BestSeat, ...], hole_in_use: str) -> BestSeat:
    """The best over all holes; the hole in use wins ties.

    Every hole reaches the same zetas, so that most are ties, and no nearness may decide them: the adapter
    would be turned for nothing.
    """
    return min(seats, key=lambda seat: (*rank(seat), seat.index_hole != hole_in_use))


def second_best(
    curves: dict[str, LossCurve],
    best: BestSeat,
    mount: Mount,
    limits: tuple[SeatLimit, ...],
    known: Known,
) -> BestSeat | None:
    """The best seat in another place than the best, of curves by hole; None where nothing is left open."""
    seats = []
    for hole, curve in curves.items():
        bearing = curve.bearing_deg
        shut = forbidden_at(bearing, limits)
        near = np.abs(wrap_180(bearing - best.keyway_bearing_deg)) <= ANOTHER_PLACE_DEG + INSIDE_DEG
        if not (shut | near).all():
            seats.append(_seat(hole, curve, mount.keyway_bearing_deg, shut | near, shut, _asked_later))
    if not seats:
        return None
    second = best_of_all(tuple(seats), mount.index_hole)
    return replace(second, know_to_deg=known(second.keyway_bearing_deg, second.index_hole))


def _asked_later(_bearing_deg: float, _hole: str) -> float:
    return math.nan


def elsewhere(best: BestSeat, second: BestSeat | None, present_deg: float) -> BestSeat | None:
    """The better of the two that may be used and is another place than the seat planned; None where none."""
    for seat in (best, second):
        if (
            seat is not None
            and not seat.forbidden
            and abs(wrap_180(seat.keyway_bearing_deg - present_deg)) > ANOTHER_PLACE_DEG
        ):
            return seat
    return None


def _seat(
    hole: str,
    curve: LossCurve,
    present_deg: float,
    passed_over: Flags,
    shut: Flags,
    known: Known,
    forbidden: bool = False,
) -> BestSeat:
    k, within = _best_sample(curve, present_deg, passed_over, shut)
    bearing = float(curve.bearing_deg[k])
    return BestSeat(
        keyway_bearing_deg=bearing,
        index_hole=hole,
        place_within_deg=within,
        know_to_deg=known(bearing, hole),
        seconds_lost=float(curve.lost_s[k]),
        splits=int(curve.splits[k]),
        parts=int(curve.parts[k]),
        out_of_reach=int(curve.out_of_reach[k]),
        forbidden=forbidden,
    )


def worse_than(curve: LossCurve, out_of_reach: float, moved: float, lost_s: float) -> Flags:
    """(M,) samples at which more passes are out of reach, or split or in part, or 5 s more are lost."""
    away, turned = curve.out_of_reach, curve.splits + curve.parts
    worse = (away > out_of_reach) | ((away == out_of_reach) & (turned > moved))
    return np.asarray(worse | (curve.lost_s > lost_s + NEAR_ENOUGH_S))


def _best_sample(
    curve: LossCurve, present_deg: float, passed_over: Flags, shut: Flags
) -> tuple[int, tuple[float, float]]:
    """Index of the best sample and how far off it the keyway may be placed.

    Fewest out of reach, then fewest splits and parts, then least seconds lost (to a second, which
    the curve is good to), then widest margin, then nearest the present seat. The margin is first that of
    placing, then (where the keyway may be placed as freely) that of knowing: how far the hardest resting
    pass is from leaving the beam, counted up to the 10 deg that no finding of north should need.
    """
    away, moved = curve.out_of_reach, curve.splits + curve.parts
    order = np.column_stack([passed_over, away, moved, np.round(curve.lost_s)])
    first = np.lexsort(order.T[::-1])[0]
    tied = np.flatnonzero((order == order[first]).all(axis=1))
    worse = shut | worse_than(curve, away[first], moved[first], curve.lost_s[first])
    within = dict(zip(tied.tolist(), _rooms(curve, worse, tied), strict=True))
    best = min(
        within,
        key=lambda k: (
            -round(min(-within[k][0], within[k][1]), MARGIN_DIGITS),
            -round(min(float(curve.rest_room_deg[k]), _ENOUGH_ROOM_DEG), 3),
            abs(wrap_180(float(curve.bearing_deg[k]) - present_deg)),
            k,
        ),
    )
    return best, within[best]


def _rooms(curve: LossCurve, worse: Flags, samples: Indices) -> list[tuple[float, float]]:
    """Of each sample, minus degrees counter-clockwise and plus clockwise to where it gets worse.

    180 where it never does.
    """
    bad = np.flatnonzero(worse)
    if bad.size == 0:
        return [(-180.0, 180.0)] * samples.size
    before = bad[np.searchsorted(bad, samples, side="left") - 1]
    after = bad[np.searchsorted(bad, samples, side="right") % bad.size]
    minus, plus = (
        _to_edge(curve, samples, first_bad, sense) for first_bad, sense in ((before, -1), (after, 1))
    )
    return list(zip((-minus).tolist(), plus.tolist(), strict=True))


def _to_edge(curve: LossCurve, samples: Indices, first_bad: Indices, sense: int) -> Floats:
    """(M,) degrees from samples to where the first bad one that way begins to tell."""
    last_good = (first_bad - sense) % curve.bearing_deg.size
    # A bad middle spoils its whole piece, back to the end before it.
    edge = np.where(curve.is_end[first_bad], first_bad, last_good)
    return np.asarray((sense * (curve.bearing_deg[edge] - curve.bearing_deg[samples])) % 360.0)
