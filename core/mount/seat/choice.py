"""Which of the study's samples is the best seat, which the second best, and what the ground forbids.

A forbidden arc is open: its ends may be used. Where arcs touch, the bearing between them is forbidden too.
If every bearing is forbidden, the best is chosen as if none were, and says so.

The second best is for the day when a rock or a wall forbids the best that no list knew of: it lies more
than `ANOTHER_PLACE_DEG` from the best, whichever hole it uses, since the legs stand by the keyway and
another hole at the same bearing would meet the same rock.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Self

import numpy as np
from pydantic import Field, model_validator

from core.base.angles import Flags, Floats, wrap_180
from core.base.model import Model, Real
from core.base.units import INSIDE_DEG
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.station import IndexHole, Mount
from core.mount.seat.arcs import Arcs

#: Keyway bearings closer together than this are the same place for a tripod's legs.
ANOTHER_PLACE_DEG = 20.0
#: Room beyond this does not make one resting seat better than another.
_ENOUGH_ROOM_DEG = 10.0
#: A bearing is shut where the arcs reach past it on both sides by this much.
_BESIDE_DEG = 10.0 * INSIDE_DEG


class SeatLimit(Model):
    """Forbidden keyway bearings, clockwise from one to the other, and why (a rock, a leg, the slope)."""

    from_deg: Real = Field(ge=0.0, le=360.0)
    to_deg: Real = Field(ge=0.0, le=360.0)
    why: str = Field(default="", max_length=200)

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.from_deg == self.to_deg or (self.from_deg, self.to_deg) == (360.0, 0.0):
            raise ValueError("from_deg and to_deg are the same bearing: a forbidden arc needs two")
        return self

    @property
    def width_deg(self) -> float:
        """How wide, above 0 and up to 360."""
        width = (self.to_deg - self.from_deg) % 360.0
        return width or 360.0  # only from 0 to 360 comes out as nothing

    def holds(self, bearing_deg: float) -> bool:
        """The bearing lies strictly inside."""
        past = (bearing_deg - self.from_deg) % 360.0
        return self.width_deg == 360.0 or INSIDE_DEG < past < self.width_deg - INSIDE_DEG


@dataclass(frozen=True)
class BestSeat:
    """The best of the curve's samples.

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


@dataclass(frozen=True, eq=False)
class HoleCurve:
    """The study's samples of one hole.

    Attributes:
        hole: the hole.
        curve: (M, 5) rising keyway bearing: bearing, seconds lost, splits, parts, out of reach.
        is_end: (M,) an end of a piece, not a middle.
        rest_room_deg: (M,) how far the hardest resting pass is from leaving the beam.
    """

    hole: IndexHole
    curve: Floats
    is_end: Flags
    rest_room_deg: Floats


#: Degrees to which a keyway bearing (with the hole of this name) must be known.
Known = Callable[[float, str], float]


def limit_arcs(limits: tuple[SeatLimit, ...], mount: Mount) -> Arcs:
    """The forbidden arcs over zeta, once for every hole: their ends are ends of the study's pieces."""
    shifts = [fixed_offset_deg(mount, hole) for hole in mount.index_holes]
    pairs = [(limit.from_deg + shift, limit.width_deg) for limit in limits for shift in shifts]
    return Arcs(np.array([start for start, _ in pairs]), np.array([width for _, width in pairs]))


def forbidden(bearing_deg: Floats, limits: tuple[SeatLimit, ...]) -> Flags:
    """(M,) keyway bearings that lie in a forbidden arc, or between two that touch."""
    shut = np.zeros((2, bearing_deg.size), dtype=bool)
    for limit in limits:
        past = np.mod(bearing_deg - limit.from_deg + np.array([[-_BESIDE_DEG], [_BESIDE_DEG]]), 360.0)
        shut |= past <= limit.width_deg
    return np.asarray(shut.all(axis=0))


def forbidding(bearing_deg: float, limits: tuple[SeatLimit, ...]) -> tuple[SeatLimit, ...]:
    """The forbidden arcs a keyway bearing lies in, for words about it."""
    return tuple(limit for limit in limits if limit.holds(bearing_deg))


def rank(seat: BestSeat) -> tuple[bool, int, int, float, float]:
    """Seats in order: fewest out of reach, fewest splits and parts, least seconds lost, widest margin."""
    margin = min(-seat.place_within_deg[0], seat.place_within_deg[1])
    lost_s = round(seat.seconds_lost)
    return seat.forbidden, seat.out_of_reach, seat.splits + seat.parts, lost_s, -round(margin, 6)


def best_seat(hole: HoleCurve, present_deg: float, limits: tuple[SeatLimit, ...], known: Known) -> BestSeat:
    """The best seat with one hole; in a forbidden arc only where nothing else is left."""
    shut = forbidden(hole.curve[:, 0], limits)
    if shut.all():
        return _seat(hole, present_deg, np.zeros_like(shut), np.zeros_like(shut), known, forbidden=True)
    return _seat(hole, present_deg, shut, shut, known)


def best_of_all(seats: tuple[BestSeat, ...], hole_in_use: str) -> BestSeat:
    """The best over all holes; the hole in use wins ties."""
    return min(seats, key=lambda seat: (*rank(seat), seat.index_hole != hole_in_use))


def second_best(
    holes: tuple[HoleCurve, ...],
    best: BestSeat,
    mount: Mount,
    limits: tuple[SeatLimit, ...],
    known: Known,
) -> BestSeat | None:
    """The best seat in another place than the best; None where the forbidden arcs leave none."""
    seats = []
    for hole in holes:
        bearing = hole.curve[:, 0]
        shut = forbidden(bearing, limits)
        near = np.abs(wrap_180(bearing - best.keyway_bearing_deg)) <= ANOTHER_PLACE_DEG + INSIDE_DEG
        if not (shut | near).all():
            seats.append(_seat(hole, mount.keyway_bearing_deg, shut | near, shut, known))
    return best_of_all(tuple(seats), mount.index_hole) if seats else None


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
    hole: HoleCurve,
    present_deg: float,
    passed_over: Flags,
    shut: Flags,
    known: Known,
    forbidden: bool = False,
) -> BestSeat:
    index, within = _best_sample(hole, present_deg, passed_over, shut)
    bearing, seconds_lost, splits, parts, out_of_reach = (float(value) for value in hole.curve[index])
    return BestSeat(
        keyway_bearing_deg=bearing,
        index_hole=hole.hole.name,
        place_within_deg=within,
        know_to_deg=known(bearing, hole.hole.name),
        seconds_lost=seconds_lost,
        splits=int(splits),
        parts=int(parts),
        out_of_reach=int(out_of_reach),
        forbidden=forbidden,
    )


def _best_sample(
    hole: HoleCurve, present_deg: float, passed_over: Flags, shut: Flags
) -> tuple[int, tuple[float, float]]:
    """Index of the best sample and how far off it the keyway may be placed.

    Fewest out of reach, then fewest splits and parts, then least seconds lost (to a second, which
    the curve is good to), then widest margin, then nearest the present seat. The margin is first that of
    placing, then (where the keyway may be placed as freely) that of knowing: how far the hardest resting
    pass is from leaving the beam, counted up to the 10 deg that no finding of north should need.
    """
    curve = hole.curve
    bad = np.column_stack([passed_over, curve[:, 4], curve[:, 2] + curve[:, 3], np.round(curve[:, 1])])
    first = np.lexsort((bad[:, 3], bad[:, 2], bad[:, 1], bad[:, 0]))[0]
    tied = np.flatnonzero((bad == bad[first]).all(axis=1))
    worse = (bad[:, 1] > bad[first, 1]) | ((bad[:, 1] == bad[first, 1]) & (bad[:, 2] > bad[first, 2]))
    worse |= shut | (curve[:, 1] > curve[first, 1] + NEAR_ENOUGH_S)
    within = {int(i): _room(curve[:, 0], worse, hole.is_end, int(i)) for i in tied}
    best = min(
        within,
        key=lambda i: (
            -round(min(-within[i][0], within[i][1]), 3),
            -round(min(float(hole.rest_room_deg[i]), _ENOUGH_ROOM_DEG), 3),
            abs(wrap_180(float(curve[i, 0]) - present_deg)),
            i,
        ),
    )
    return best, within[best]


def _room(bearing: Floats, worse: Flags, is_end: Flags, index: int) -> tuple[float, float]:
    """Minus degrees counter-clockwise and plus clockwise to where it gets worse; 180 where it never does."""
    if not worse.any():
        return -180.0, 180.0
    count = bearing.size
    room = []
    for sense in (-1, 1):
        step, last_good = 1, index
        while not worse[(index + sense * step) % count]:
            last_good = (index + sense * step) % count
            step += 1
        first_bad = (index + sense * step) % count
        # A bad middle spoils its whole piece, back to the end before it.
        edge = first_bad if is_end[first_bad] else last_good
        room.append(float((sense * (bearing[edge] - bearing[index])) % 360.0))
    return -room[0], room[1]
