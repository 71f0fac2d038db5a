"""The seat by its evening: which of the seats asked is the best, and where an evening is asked.

The passes alone say which bearings lose least if every pass could be worked. An evening works some of them,
and what it is worth (`core.mount.evening.order.worth`) decides between seats that are alike for the passes
alone. It is asked at candidates, the ends and middles of the pieces between arcs' ends: in each stretch of
two degrees at the one at which the passes alone fare best; then at every sample of the study beside the best
of those; then at every candidate within the margin that would be told of it, until that margin holds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from core.base.angles import Flags, Floats, wrap_180
from core.base.units import INSIDE_DEG, Progress, no_progress
from core.mount.evening.question import EveningQuestion
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.station import IndexHole, Mount
from core.mount.seat.choice import MARGIN_DIGITS
from core.mount.seat.curve import LossCurve
from core.mount.seat.evenings import EveningCurve, evenings_at, with_candidates
from core.mount.seat.limits import SeatLimit, forbidden_at, limit_arcs
from core.mount.seat.losses.table import SeatTable
from core.mount.seat.study import good_tenth_deg, sampled

#: Pieces between the ends of arcs have candidates at their ends and middles; wider ones count as several.
_WIDEST_DEG = 10.0
#: Of candidates in one stretch of zeta only the best is asked at first.
_STRETCH_DEG = 2.0
#: Evenings worth as much to within this are as good.
AS_GOOD_S = 30.0
#: A seat that may be placed and known no closer than this is a good one.
_PLACED_DEG, _KNOWN_DEG = 5.0, 2.0


@dataclass(frozen=True)
class BestEvening:
    """The seat whose evening is best.

    Attributes:
        keyway_bearing_deg, index_hole: the seat.
        place_within_deg: how far counter-clockwise (negative) and clockwise the keyway may be placed off it,
            if it is then measured and the dials corrected, with every candidate in between worth no more than
            `AS_GOOD_S` less than the best.
        know_to_deg: how far the bearing then may be misjudged before a contact that is held leaves the beam.
        worth_s, signal_s, seconds_lost, contacts, turned_back, over_the_top: as in `EveningCurve`.
        forbidden: it lies in a forbidden arc, as every bearing does.
    """

    keyway_bearing_deg: float
    index_hole: str
    place_within_deg: tuple[float, float]
    know_to_deg: float
    worth_s: float
    signal_s: float
    seconds_lost: float
    contacts: int
    turned_back: int
    over_the_top: int
    forbidden: bool = False


def evening_curve(
    question: EveningQuestion,
    table: SeatTable,
    limits: tuple[SeatLimit, ...],
    progress: Progress = no_progress,
) -> EveningCurve:
    """The evening at as many candidates as tell the best seat and its margin.

    Args:
        question: of the evening as the mount stands; what is wanted, rules and drive are kept.
        table: what the passes alone lose, `SeatStudy.table`.
        limits: forbidden bearings, whose ends are candidates too.
        progress: called per candidate.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    mount = question.station.mount
    shut = limit_arcs(limits, mount)
    over_zeta = sampled(table, shut, _WIDEST_DEG)
    _worst, best_first = _by_stretch(over_zeta)
    curve = evenings_at(question, best_first, progress)
    best, finely = curve.zeta_deg[curve.worth_s.argmax()], sampled(table, shut).bearing_deg
    curve = with_candidates(
        curve, question, finely[np.abs(wrap_180(finely - best)) <= _STRETCH_DEG], progress
    )
    return with_margin(curve, question, table, limits, mount, progress)


def with_margin(
    curve: EveningCurve,
    question: EveningQuestion,
    table: SeatTable,
    limits: tuple[SeatLimit, ...],
    mount: Mount,
    progress: Progress = no_progress,
    most_s: float = -math.inf,
) -> EveningCurve:
    """The curve with more candidates, until all within the best seat's margin are asked, its tenth too.

    Those at which the passes alone fare worst are asked first: where the evening is worth less there, the
    margin is less, and what lies beyond is not asked.

    Args:
        curve: the evening at some candidates.
        question, table, limits, progress: as in `evening_curve`.
        mount: whose best seat it is.
        most_s: what the best evening is worth through other holes, which have curves of their own.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    over_zeta = sampled(table, limit_arcs(limits, mount), _WIDEST_DEG)
    while (best := best_evening(curve, mount, limits, most_s)) is not None:
        shift, (minus, plus) = shift_of(best, mount), best.place_within_deg
        off = wrap_180(over_zeta.bearing_deg - shift - best.keyway_bearing_deg)
        waiting = (off >= minus) & (off <= plus) & (curve.off_deg(over_zeta.bearing_deg) > INSIDE_DEG)
        wanted, _best = _by_stretch(over_zeta.some(np.flatnonzero(waiting)))
        wanted = np.append(wanted, tenth_of(best) + shift)
        if (curve.off_deg(wanted) <= INSIDE_DEG).all():
            break
        curve = with_candidates(curve, question, wanted, progress)
    return curve


def _by_stretch(over_zeta: LossCurve) -> tuple[Floats, Floats]:
    """The zeta of every stretch at which the passes alone fare worst, and that at which they fare best."""
    stretch = np.floor(over_zeta.bearing_deg / _STRETCH_DEG)
    moved = over_zeta.splits + over_zeta.parts
    order = np.lexsort((-over_zeta.rest_room_deg, over_zeta.lost_s, moved, over_zeta.out_of_reach, stretch))
    along = stretch[order]
    first, last = np.diff(along, prepend=-1.0) > 0.0, np.diff(along, append=np.inf) > 0.0
    return over_zeta.bearing_deg[order[last]], over_zeta.bearing_deg[order[first]]


def best_evening(
    curve: EveningCurve, mount: Mount, limits: tuple[SeatLimit, ...] = (), most_s: float = -math.inf
) -> BestEvening | None:
    """The best seat by its evening over all holes; None where no evening is worth anything.

    Of the seats whose evening is worth the best to within 30 s: nothing turned back in mid-pass, fewer over
    the top, a margin of 5 deg in placing and 2 deg in knowing, then the wider margin, then the hole in use,
    which saves turning the adapter for nothing, then the nearest to the present seat.

    Args:
        curve: over zeta, of all holes of the mount.
        mount, limits: as it stands, and the bearings that are forbidden.
        most_s: what the evening of the best seat is worth through other holes: none worth less is best.
    """
    return _best_through({hole.name: curve for hole in mount.index_holes}, mount, limits, most_s)


def best_through(
    curves: Mapping[str, EveningCurve], mount: Mount, limits: tuple[SeatLimit, ...] = ()
) -> BestEvening | None:
    """`best_evening` where every hole of the mount has a curve of its own."""
    return _best_through(curves, mount, limits, -math.inf)


def most_worth_s(
    curves: Mapping[str, EveningCurve], mount: Mount, limits: tuple[SeatLimit, ...] = ()
) -> float:
    """What the evening of the best seat is worth through any hole, each with a curve of its own."""
    seats = (seat for name, curve in curves.items() for seat in _as_good(curve, mount, name, limits))
    return max((seat.worth_s for seat in seats), default=-math.inf)


def _best_through(
    curves: Mapping[str, EveningCurve], mount: Mount, limits: tuple[SeatLimit, ...], most_s: float
) -> BestEvening | None:
    seats = [seat for name, curve in curves.items() for seat in _as_good(curve, mount, name, limits)]
    if not seats or max(curve.worth_s.max() for curve in curves.values()) <= 0.0:
        return None
    most_s = max(most_s, *(seat.worth_s for seat in seats))
    good = (seat for seat in seats if seat.worth_s >= most_s - AS_GOOD_S)
    return min(good, key=_rank(mount), default=None)


def tenth_of(best: BestEvening) -> float:
    """The nearest tenth of a degree that is as good, wrapped; the seat's own bearing where none is."""
    minus, plus = best.place_within_deg

    def is_as_good(bearing_deg: float) -> bool:
        return minus <= wrap_180(bearing_deg - best.keyway_bearing_deg) <= plus

    return good_tenth_deg(best.keyway_bearing_deg, is_as_good)


def at_a_tenth(best: BestEvening, curve: EveningCurve, mount: Mount) -> BestEvening:
    """The best seat put on its tenth of a degree, told as it is there; as it is where that is not as good.

    Args:
        curve: of the evenings, that at the tenth among them (`tenth_of`, `with_candidate`).
        mount: as the best was asked with.
    """
    tenth = tenth_of(best)
    shift = shift_of(best, mount)
    k, off = curve.nearest(tenth + shift), float(wrap_180(tenth - best.keyway_bearing_deg))
    as_good = curve.worth_s[k] >= best.worth_s - AS_GOOD_S and curve.turned_back[k] <= best.turned_back
    if not as_good or curve.over_the_top[k] > best.over_the_top:
        return best
    minus, plus = best.place_within_deg
    return replace(
        best,
        keyway_bearing_deg=tenth,
        place_within_deg=(minus, plus) if plus >= 180.0 else (min(minus - off, 0.0), max(plus - off, 0.0)),
        **_told_at(curve, k),
    )


def shift_of(best: BestEvening, mount: Mount) -> float:
    """What to add to the best seat's keyway bearing to have its zeta."""
    return fixed_offset_deg(mount, _hole(mount, best.index_hole))


def _hole(mount: Mount, name: str) -> IndexHole:
    return next(hole for hole in mount.index_holes if hole.name == name)


def _told_at(curve: EveningCurve, k: int) -> dict[str, Any]:
    return {
        "know_to_deg": float(curve.know_to_deg[k]),
        "worth_s": float(curve.worth_s[k]),
        "signal_s": float(curve.signal_s[k]),
        "seconds_lost": float(curve.lost_s[k]),
        "contacts": int(curve.contacts[k]),
        "turned_back": int(curve.turned_back[k]),
        "over_the_top": int(curve.over_the_top[k]),
    }


def _rank(mount: Mount) -> Callable[[BestEvening], tuple[object, ...]]:
    def key(seat: BestEvening) -> tuple[object, ...]:
        margin = min(-seat.place_within_deg[0], seat.place_within_deg[1])
        good = margin >= _PLACED_DEG and seat.know_to_deg >= _KNOWN_DEG
        away = abs(wrap_180(seat.keyway_bearing_deg - mount.keyway_bearing_deg))
        told = seat.turned_back, seat.over_the_top, not good, -round(margin, MARGIN_DIGITS)
        return *told, seat.index_hole != mount.index_hole, round(away, 6)

    return key


def _as_good(
    curve: EveningCurve, mount: Mount, hole: str, limits: tuple[SeatLimit, ...]
) -> list[BestEvening]:
    """The seats with one hole that are open and worth the best open one to within 30 s."""
    shift = fixed_offset_deg(mount, _hole(mount, hole))
    here = curve.turned(-shift)
    shut = forbidden_at(here.zeta_deg, limits)
    forbidden = bool(shut.all())
    open_ = np.ones_like(shut) if forbidden else ~shut
    good = open_ & (here.worth_s >= here.worth_s[open_].max(initial=-np.inf) - AS_GOOD_S)
    return [
        BestEvening(
            keyway_bearing_deg=float(here.zeta_deg[k]),
            index_hole=hole,
            place_within_deg=_room(here, good, k),
            forbidden=forbidden,
            **_told_at(here, k),
        )
        for k in np.flatnonzero(good).tolist()
    ]


def _room(curve: EveningCurve, good: Flags, index: int) -> tuple[float, float]:
    """Minus degrees counter-clockwise and plus clockwise to the last candidate as good; 180 all round."""
    if good.all():
        return -180.0, 180.0
    count, room = good.size, []
    for sense in (-1, 1):
        step = 0
        while good[(index + sense * (step + 1)) % count]:
            step += 1
        last = (index + sense * step) % count
        room.append(float((sense * (curve.zeta_deg[last] - curve.zeta_deg[index])) % 360.0))
    return -room[0], room[1]
