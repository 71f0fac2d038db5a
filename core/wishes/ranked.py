"""The seats ranked by all wishes together: a study beside the evaluation.

Every wish has its worth in seconds of signal, so that they add up with the seconds that passes lose. A
forbidden bearing is never chosen. What each costs is straight between its bends or bulges up (`wish`), so the
least of the sum is found exactly by asking at all bends; what the passes lose is as exact as the study's
table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, wrap_180, wrap_360
from core.base.memo import Memo
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.clearance.lengths import Clearance
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.station import IndexHole, Mount
from core.mount.seat.limits import SeatLimit, forbidden_at
from core.mount.seat.study import SeatStudy, good_tenth_deg
from core.plan.document import Plan
from core.setup.level import level_of
from core.stand.answer import stand_tipping
from core.stand.body import feet_of
from core.stand.model import Stand
from core.wishes.evening import EveningLost
from core.wishes.wish import GRANTED, CableSide, Lee, LegDownhill, Wish, WishName, cost_s

#: Seats nearer than this are one row of the list, whichever the hole; the list has so many rows.
APART_DEG, MOST_ROWS = 15.0, 6
#: Costs within this are alike, s: then what is granted decides by how well it is met.
_ALIKE_S = 1e-6
#: A tenth of a degree that costs no more than this beyond the exact bearing is told instead.
_TENTH_S = 1.0


@dataclass(frozen=True)
class Met:
    """How one wish is met at a seat.

    Attributes:
        name, worth_s: of the wish; of the seconds lost it is what one of them counts.
        cost_s: of its worth what is lost; 0 where it is granted.
        granted: the wish is.
        words: one sentence, number first.
    """

    name: WishName
    worth_s: float
    cost_s: float
    granted: bool
    words: str


@dataclass(frozen=True)
class RankedSeat:
    """One row of the list.

    Attributes:
        keyway_bearing_deg, index_hole: the seat.
        cost_s: of all wishes.
        seconds_lost: of the passes at this very bearing.
        met: every wish, the seconds lost first.
    """

    keyway_bearing_deg: float
    index_hole: str
    cost_s: float
    seconds_lost: float
    met: tuple[Met, ...]

    @property
    def given_up(self) -> tuple[WishName, ...]:
        """The wishes not granted here."""
        return tuple(one.name for one in self.met if not one.granted)


@dataclass(frozen=True)
class Wished:
    """The ranked seats.

    Attributes:
        seats: best first; none where every bearing is forbidden.
        grants_all: some bearing grants every wish.
        not_wished: why a wish is not counted, one sentence each.
    """

    seats: tuple[RankedSeat, ...]
    grants_all: bool
    not_wished: tuple[str, ...]


def rank_wishes(plan: Plan, study: SeatStudy, memo: Memo | None = None) -> Wished:
    """The seats by all wishes of the plan's stand; without a stand by the seconds lost alone.

    Args:
        plan: its stand, clearance, level readings, mount and forbidden bearings.
        study: `core.studies.orient` of it.
        memo: the document owner's memo.

    Raises:
        ValueRangeError: the lee is wished of a stand without feet, mass or area.
    """
    memo = Memo() if memo is None else memo
    evening = memo.call("evening lost", EveningLost, study.table, study.over_zeta)
    stand = Stand() if plan.stand is None else plan.stand
    wishes, not_wished = _wishes(plan, stand, plan.clearance)
    asked = _Asked(evening, plan.mount, stand.wishes.lost_weight, wishes, plan.seat_limits)
    candidates = [asked.hole(hole) for hole in plan.mount.index_holes]
    return Wished(
        seats=_listed(asked, candidates),
        grants_all=any(bool(one.grants_all.any()) for one in candidates),
        not_wished=not_wished,
    )


def _wishes(plan: Plan, stand: Stand, lengths: Clearance | None) -> tuple[tuple[Wish, ...], tuple[str, ...]]:
    """The wishes that there are, and why others are not."""
    told = stand.wishes
    wished: list[Wish] = []
    missing: list[str] = []
    legs = tuple(foot.from_keyway_deg for foot in feet_of(stand, lengths))
    downhill = _downhill_deg(plan, stand)
    if told.leg_downhill_s > 0.0:
        if downhill is None:
            missing.append(
                "A leg downhill is not wished: say where the ground falls (downhill_deg), or read the level."
            )
        elif not legs:
            missing.append("A leg downhill is not wished: no legs are typed.")
        else:
            wished.append(LegDownhill(told.leg_downhill_s, legs, downhill))
    if told.lee_s > 0.0:
        if told.wind_from_deg is None:
            missing.append("The lee is not wished: say where the wind comes from (wind_from_deg).")
        else:
            wished.append(
                Lee(told.lee_s, stand_tipping(stand, lengths), told.wind_from_deg, stand.gust_factor)
            )
    if told.cable_s > 0.0:
        if told.cable_toward_deg is None:
            missing.append("The cable's side is not wished: say where it should leave to (cable_toward_deg).")
        elif lengths is None or lengths.cable is None:
            missing.append("The cable's side is not wished: where it leaves (clearance.cable) is not typed.")
        else:
            wished.append(CableSide(told.cable_s, lengths.cable.from_keyway_deg, told.cable_toward_deg))
    return tuple(wished), tuple(missing)


def _downhill_deg(plan: Plan, stand: Stand) -> float | None:
    """As typed, else where the plate is low by the level readings; None where they do not say."""
    if stand.wishes.downhill_deg is not None:
        return stand.wishes.downhill_deg
    level = level_of(plan.level_readings, plan.pointing.level_deg, plan.pointing.level_zero_deg)
    return None if level is None or level.lean_deg <= level.sigma_deg else level.toward_deg


@dataclass(frozen=True, eq=False)
class _Candidates:
    """The bearings asked of one hole: (N,) each, forbidden ones left out.

    Attributes:
        hole: which.
        keyway_deg, cost_s: where, and what all wishes cost there.
        raw_s: the same without anything granted for nothing, to tell alike ones apart.
        grants_all: every wish is granted.
    """

    hole: IndexHole
    keyway_deg: Floats
    cost_s: Floats
    raw_s: Floats
    grants_all: Flags


class _Asked:
    """What all wishes cost at any seat."""

    def __init__(
        self,
        evening: EveningLost,
        mount: Mount,
        lost_weight: float,
        wishes: Sequence[Wish],
        limits: tuple[SeatLimit, ...],
    ) -> None:
        self.evening, self.mount, self.lost_weight = evening, mount, lost_weight
        self.wishes, self.limits = wishes, limits
        self.bends_deg = evening.bends_deg
        self.least_s = self._least_s()

    def _least_s(self) -> float:
        """The least that the passes lose at any seat that is not forbidden."""
        least = np.inf
        for hole in self.mount.index_holes:
            shift = fixed_offset_deg(self.mount, hole)
            open_ = ~forbidden_at(np.asarray(wrap_360(self.bends_deg - shift)), self.limits)
            least = min(least, float(self.evening.placed(self.bends_deg[open_]).min(initial=np.inf)))
        return least if np.isfinite(least) else 0.0

    def lost_s(self, keyway_deg: Floats, hole: IndexHole) -> Floats:
        """(N,) seconds lost with the keyway placed a little off."""
        return self.evening.placed(keyway_deg + fixed_offset_deg(self.mount, hole))

    def cost_s(self, keyway_deg: Floats, hole: IndexHole) -> Floats:
        """(N,) of all wishes; seconds within 5 s of the least are as good as the least."""
        cost = self._lost_cost_s(self.lost_s(keyway_deg, hole))
        for wish in self.wishes:
            cost = cost + cost_s(wish, keyway_deg)
        return cost

    def _lost_cost_s(self, lost_s: Floats) -> Floats:
        return np.asarray(self.lost_weight * np.maximum(lost_s - self.least_s - NEAR_ENOUGH_S, 0.0))

    def hole(self, hole: IndexHole) -> _Candidates:
        """Everything of one hole, at all bends and at the ends of what is forbidden."""
        shift = fixed_offset_deg(self.mount, hole)
        ends = [np.array([one.from_deg, one.to_deg]) for one in self.limits]
        at = [self.bends_deg - shift, *(wish.bends_deg() for wish in self.wishes), *ends]
        keyway = np.unique(np.asarray(wrap_360(np.concatenate(at))))
        keyway = keyway[~forbidden_at(keyway, self.limits)]
        lost = self.lost_s(keyway, hole)
        raw = self.lost_weight * lost
        cost, all_ = self._lost_cost_s(lost), self._lost_granted(lost)
        for wish in self.wishes:
            short = wish.shortfall(keyway)
            raw, cost = raw + wish.worth_s * short, cost + cost_s(wish, keyway)
            all_ = all_ & (short <= GRANTED + 1e-9)
        return _Candidates(hole, keyway, cost, raw, all_)

    def _lost_granted(self, lost_s: Floats) -> Flags:
        if self.lost_weight == 0.0:  # nobody asked
            return np.ones(lost_s.shape, dtype=bool)
        return np.asarray(lost_s <= self.least_s + NEAR_ENOUGH_S + _ALIKE_S)

    def seat(self, exact_deg: float, hole: IndexHole) -> RankedSeat:
        """A row of the list, at a tenth of a degree where that is as good."""
        limit_s = float(self.cost_s(np.array([exact_deg]), hole)[0]) + _TENTH_S

        def is_as_good(bearing_deg: float) -> bool:
            at = np.array([wrap_360(bearing_deg)])
            return not forbidden_at(at, self.limits)[0] and float(self.cost_s(at, hole)[0]) <= limit_s

        keyway_deg = good_tenth_deg(exact_deg, is_as_good)
        at = np.array([keyway_deg])
        lost = self.lost_s(at, hole)
        here_s = float(self.evening.at(at + fixed_offset_deg(self.mount, hole))[0])
        told = f"{here_s:.0f} s lost by the passes, {float(lost[0]):.0f} s at most when placed 2 deg off."
        cost, granted = float(self._lost_cost_s(lost)[0]), bool(self._lost_granted(lost)[0])
        met = [Met("seconds lost", self.lost_weight, cost, granted, told)]
        for wish in self.wishes:
            cost = float(cost_s(wish, at)[0])
            granted = float(wish.shortfall(at)[0]) <= GRANTED + 5e-3  # a tenth of a degree is no refusal
            met.append(Met(wish.name, wish.worth_s, cost, granted, wish.words(keyway_deg)))
        return RankedSeat(keyway_deg, hole.name, sum(one.cost_s for one in met), here_s, tuple(met))


def _listed(asked: _Asked, candidates: Sequence[_Candidates]) -> tuple[RankedSeat, ...]:
    """Best first: least cost, then what is best met, then the hole in use, then nearest to the present."""
    mount = asked.mount
    keys = [
        np.column_stack(
            [
                np.round(one.cost_s / _ALIKE_S) * _ALIKE_S,
                np.round(one.raw_s, 6),
                np.full(one.keyway_deg.size, one.hole.name != mount.index_hole),
                np.abs(wrap_180(one.keyway_deg - mount.keyway_bearing_deg)),
                one.keyway_deg,
                np.full(one.keyway_deg.size, float(place)),
            ]
        )
        for place, one in enumerate(candidates)
    ]
    table = np.concatenate(keys)
    order = np.lexsort(table.T[::-1])
    taken: list[tuple[float, int]] = []
    for keyway, place in table[order][:, 4:].tolist():
        if len(taken) == MOST_ROWS:
            break
        if all(abs(wrap_180(keyway - at)) > APART_DEG for at, _ in taken):
            taken.append((keyway, int(place)))
    return tuple(asked.seat(keyway, candidates[place].hole) for keyway, place in taken)
