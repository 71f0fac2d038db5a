"""The seat by its evening: what the evening that would be worked is worth, wherever the keyway points.

The passes alone say which bearings lose least if every pass could be worked. An evening works some of them,
and what it is worth (`core.mount.evening.order.worth`) decides between seats that are alike for the passes
alone. It is asked at candidates: of the ends and middles of the pieces between arcs' ends, in each stretch of
two degrees the one at which the passes alone fare best; then every sample of the study beside the best of
those. Over zeta, since another hole only turns the adapter.

How far off the keyway may be placed is told by the candidates alone: between two that are as good the evening
may be worth less.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180, wrap_360
from core.base.errors import Cancelled
from core.base.units import INSIDE_DEG, Progress, no_progress
from core.mount.check.verdict import check_passes
from core.mount.evening.evening import order_evening
from core.mount.evening.question import EveningQuestion
from core.mount.evening.results import EveningOrder
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import OVER_THE_TOP, Mount
from core.mount.seat.arcs import Arcs
from core.mount.seat.curve import LossCurve
from core.mount.seat.limits import SeatLimit, forbidden_at
from core.mount.seat.losses.table import SeatTable
from core.mount.seat.study import good_tenth_deg, know_to_deg, sampled, seated

#: Pieces between the ends of arcs have candidates at their ends and middles; wider ones count as several.
_WIDEST_DEG = 10.0
#: Of candidates in one stretch of zeta only the best is asked.
_STRETCH_DEG = 2.0
#: Evenings worth as much to within this are as good.
AS_GOOD_S = 30.0
#: A seat that may be placed and known no closer than this is a good one.
_PLACED_DEG, _KNOWN_DEG = 5.0, 2.0


@dataclass(frozen=True, eq=False)
class EveningCurve:
    """The evening at M candidates, rising in zeta.

    Attributes:
        zeta_deg: (M,) true bearing of boresight on the counter-clockwise stop.
        worth_s, signal_s: (M,) what the evening is worth, and its seconds of signal, not weighted.
        lost_s: (M,) seconds of its contacts' passes over the mask and off the beam or not worked.
        contacts, turned_back, over_the_top: (M,) how many contacts, with a move in mid-pass, over the top.
        know_to_deg: (M,) how well the keyway must be known.
    """

    zeta_deg: Floats
    worth_s: Floats
    signal_s: Floats
    lost_s: Floats
    contacts: Indices
    turned_back: Indices
    over_the_top: Indices
    know_to_deg: Floats

    def nearest(self, zeta_deg: float) -> int:
        """Index of the candidate nearest to a bearing."""
        return int(np.abs(wrap_180(self.zeta_deg - zeta_deg)).argmin())

    def turned(self, by_deg: float) -> EveningCurve:
        """The same over bearings that are greater by so much."""
        bearing = wrap_360(self.zeta_deg + by_deg)
        order = np.argsort(bearing, kind="stable")
        columns = {name: getattr(self, name)[order] for name in self.__dataclass_fields__}
        return EveningCurve(**(columns | {"zeta_deg": bearing[order]}))


@dataclass(frozen=True)
class BestEvening:
    """The seat whose evening is best.

    Attributes:
        keyway_bearing_deg, index_hole: the seat.
        place_within_deg: how far counter-clockwise (negative) and clockwise the keyway may be placed off it,
            if it is then measured and the dials corrected, with every candidate in between worth no more than
            `AS_GOOD_S` less.
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
    question: EveningQuestion, table: SeatTable, shut: Arcs, progress: Progress = no_progress
) -> EveningCurve:
    """The evening at every candidate.

    Args:
        question: of the evening as the mount stands; what is wanted, rules and drive are kept.
        table: what the passes alone lose, `SeatStudy.table`.
        shut: forbidden arcs of zeta, whose ends are candidates too.
        progress: called per candidate.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    few = wanted_alone(question)
    found: dict[float, _At] = {}

    def ask(zetas: Floats) -> None:
        for done, zeta in enumerate(zetas.tolist()):
            if not progress(done, zetas.size, "evenings of other seats"):
                raise Cancelled
            if zeta not in found:
                found[zeta] = _at(few, zeta, _within(progress, done, zetas.size))

    ask(_candidates(sampled(table, shut, _WIDEST_DEG)))
    best, finely = max(found, key=lambda zeta: found[zeta].worth_s), sampled(table, shut).bearing_deg
    ask(finely[np.abs(wrap_180(finely - best)) <= _STRETCH_DEG])
    zetas = sorted(found)
    columns = {name: np.array([getattr(found[zeta], name) for zeta in zetas]) for name in _At.__annotations__}
    return EveningCurve(zeta_deg=np.array(zetas), **columns)


def _within(progress: Progress, done: int, total: int) -> Progress:
    """Inside one evening, which may take long: how many are done stays, and an end can be asked for."""
    return lambda _done, _total, _what: progress(done, total, "evenings of other seats")


def with_candidate(curve: EveningCurve, question: EveningQuestion, zeta: float) -> EveningCurve:
    """The curve with one more candidate, where it is not there yet."""
    if not curve.zeta_deg.size or np.abs(wrap_180(curve.zeta_deg - zeta)).min() <= INSIDE_DEG:
        return curve
    row, zeta = _at(wanted_alone(question), zeta), wrap_360(zeta)
    place = int(np.searchsorted(curve.zeta_deg, zeta))
    columns = {name: np.insert(getattr(curve, name), place, value) for name, value in vars(row).items()}
    return EveningCurve(zeta_deg=np.insert(curve.zeta_deg, place, zeta), **columns)


def wanted_alone(question: EveningQuestion) -> EveningQuestion:
    """The question with the passes that are wanted, and no others; what is not wanted decides nothing."""
    if question.picks is None:
        return question
    kept = [want.index for want in question.picks]
    steered = question.steered
    return replace(
        question,
        checks=tuple(question.checks[i] for i in kept),
        tracks=tuple(question.tracks[i] for i in kept),
        picks=tuple(replace(want, index=place) for place, want in enumerate(question.picks)),
        steered=None if steered is None else tuple(steered[i] for i in kept),
        joined=None,
    )


def _candidates(over_zeta: LossCurve) -> Floats:
    """The zeta of every stretch at which the passes alone fare best."""
    stretch = np.floor(over_zeta.bearing_deg / _STRETCH_DEG)
    moved = over_zeta.splits + over_zeta.parts
    order = np.lexsort((-over_zeta.rest_room_deg, over_zeta.lost_s, moved, over_zeta.out_of_reach, stretch))
    first = np.flatnonzero(np.diff(stretch[order], prepend=-1.0))
    return np.sort(over_zeta.bearing_deg[order[first]])


@dataclass(frozen=True)
class _At:
    """The evening at one candidate; fields as in `EveningCurve`."""

    worth_s: float
    signal_s: float
    lost_s: float
    contacts: int
    turned_back: int
    over_the_top: int
    know_to_deg: float


def _at(question: EveningQuestion, zeta: float, progress: Progress = no_progress) -> _At:
    order = evening_at(question, zeta, progress)
    checks = [contact.check for contact in order.contacts]
    lost_s = sum(check.seconds_lost for check in checks)
    return _At(
        worth_s=order.worth.worth_s,
        signal_s=sum(check.seconds_in_all for check in checks) - lost_s,
        lost_s=lost_s,
        contacts=len(checks),
        turned_back=turned_back_in(order),
        over_the_top=over_the_top_in(order),
        know_to_deg=know_to_deg(tuple(checks), question.station.beam_limit_deg),
    )


def evening_at(question: EveningQuestion, zeta: float, progress: Progress = no_progress) -> EveningOrder:
    """The evening with boresight, on the counter-clockwise stop, toward ``zeta``; no sighting taken yet.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    mount = question.station.mount
    hole = mount.index_holes[0]
    there = seated(mount, wrap_360(zeta - fixed_offset_deg(mount, hole)), hole.name)
    station = replace(question.station, mount=there)
    passes = tuple(check.pass_ for check in question.checks)
    checks = check_passes(passes, question.tracks, station, progress, question.steered)
    moved = replace(question, checks=checks, station=station, mount_start=None)
    return order_evening(moved, tuple(Reason() for _ in checks), progress=progress)


def turned_back_in(order: EveningOrder) -> int:
    """How many contacts of an evening have a move in mid-pass."""
    return sum(contact.check.split is not None for contact in order.contacts)


def over_the_top_in(order: EveningOrder) -> int:
    """How many contacts of an evening are worked over the top, all through or in part."""
    return sum(_is_over(contact.check) for contact in order.contacts)


def _is_over(check: PassCheck) -> bool:
    """The contact is worked over the top, a split where it begins so or ends so."""
    if check.split is not None:
        return OVER_THE_TOP in {check.split.from_posture, check.split.to_posture}
    if check.part is not None:
        return check.part.posture == OVER_THE_TOP
    return check.chosen is not None and check.chosen.posture == OVER_THE_TOP


def best_evening(curve: EveningCurve, mount: Mount, limits: tuple[SeatLimit, ...] = ()) -> BestEvening | None:
    """The best seat by its evening over all holes; None where no evening is worth anything.

    Of the seats whose evening is worth the best to within 30 s: nothing turned back in mid-pass, fewer over
    the top, a margin of 5 deg in placing and 2 deg in knowing, then the wider margin, then the nearest to the
    present seat; the hole in use wins ties.
    """
    seats = [seat for hole in mount.index_holes for seat in _as_good(curve, mount, hole.name, limits)]
    if not seats or curve.worth_s.max() <= 0.0:
        return None
    most_s = max(seat.worth_s for seat in seats)
    return min((seat for seat in seats if seat.worth_s >= most_s - AS_GOOD_S), key=_rank(mount))


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
    shift = fixed_offset_deg(mount, next(one for one in mount.index_holes if one.name == best.index_hole))
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
        in_use = seat.index_hole == mount.index_hole
        return seat.turned_back, seat.over_the_top, not good, -round(margin, 3), round(away, 6), not in_use

    return key


def _as_good(
    curve: EveningCurve, mount: Mount, hole: str, limits: tuple[SeatLimit, ...]
) -> list[BestEvening]:
    """The seats with one hole that are open and worth the best open one to within 30 s."""
    shift = fixed_offset_deg(mount, next(one for one in mount.index_holes if one.name == hole))
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
