"""The study of a season: which bearings meet the stops least, and where index holes would serve best.

Holes are chosen on the first half of the evenings and judged on the second, which they have not seen. How far
chance alone goes is told by two halves drawn by lot: what their curves differ by.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, wrap_360
from core.base.errors import NorthkeyError, ValueRangeError
from core.base.units import Progress, no_progress
from core.base.words import counted
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.station import IndexHole, Mount
from core.mount.seat.limits import SeatLimit
from core.mount.seat.season.best import best_stretch
from core.mount.seat.season.drilling import Drilling
from core.mount.seat.season.not_clear import NotClear, StepCurve
from core.mount.seat.season.placed import Placed, placed
from core.mount.seat.season.struck_season import AnySeason

#: Holes that may be asked for.
MOST_HOLES = 4


@dataclass(frozen=True)
class SeasonQuestion:
    """What is asked of a season beside its passes.

    Attributes:
        most_holes: sets of one hole up to so many are looked for, 1 to 4.
        apart_deg: least distance of two holes.
        keyways_deg: bearings that the ground gives the keyway, alike often; none: every bearing alike.
        seed: which halves are drawn by lot.
    """

    most_holes: int = MOST_HOLES
    apart_deg: float = 20.0
    keyways_deg: tuple[float, ...] = ()
    seed: int = 1

    def __post_init__(self) -> None:
        if not 1 <= self.most_holes <= MOST_HOLES:
            raise ValueRangeError("holes", self.most_holes, f"1 to {MOST_HOLES}")
        if self.seed < 0:
            raise ValueRangeError("seed", self.seed, "0 or above")
        widest = 360.0 / self.most_holes
        if not 0.0 < self.apart_deg <= widest:
            holes = counted(self.most_holes, "hole")
            raise ValueRangeError("apart", self.apart_deg, f"above 0 to {widest:g} deg with {holes}")


@dataclass(frozen=True, eq=False)
class HoleSeason:
    """What a season is through one hole.

    Attributes:
        hole: the hole.
        curve: mean share of the passes that are not clear, over the keyway's bearing.
        best_deg: the best bearing: middle of the widest stretch as good as the best.
        best_width_deg: how wide that is.
        shares: (E,) the evenings' shares at the best bearing.
        halves_differ: by how much the two halves' means differ there.
        forbidden: every bearing is forbidden, so that none was left out.
    """

    hole: IndexHole
    curve: StepCurve
    best_deg: float
    best_width_deg: float
    shares: Floats
    halves_differ: float
    forbidden: bool

    @property
    def best_spans(self) -> tuple[tuple[float, float], ...]:
        """The stretch that is as good as the best, from 0 to 360, cut at north."""
        if self.best_width_deg >= 360.0:
            return ((0.0, 360.0),)
        start = wrap_360(self.best_deg - self.best_width_deg / 2.0)
        end = start + self.best_width_deg
        return ((start, end),) if end <= 360.0 else ((0.0, end - 360.0), (start, 360.0))

    def share_at(self, percent: float) -> float:
        """The share that so many percent of the evenings do not exceed, at the best bearing."""
        return float(np.percentile(self.shares, percent))


@dataclass(frozen=True, eq=False)
class DrilledSet:
    """A set of holes chosen on the first half of the evenings, and what the second half makes of it.

    Attributes:
        holes: where to drill; named by their order.
        judged: on the second half.
        evenly: holes evenly spaced, as many.
        evenly_judged: the same of them.
    """

    holes: tuple[IndexHole, ...]
    judged: Placed
    evenly: tuple[IndexHole, ...]
    evenly_judged: Placed


@dataclass(frozen=True, eq=False)
class SeasonStudy:
    """The whole answer.

    Attributes:
        evenings: how many evenings have passes.
        passes: how many passes they have together.
        holes: of the mount's holes, in its order.
        sets: one hole, two, ...
        present: the mount's own holes on the second half of the evenings.
        held_out: how many evenings that half has.
        halves_differ: by how much the curves of two halves drawn by lot differ at most, at any bearing.
        question: what was asked.
    """

    evenings: int
    passes: int
    holes: tuple[HoleSeason, ...]
    sets: tuple[DrilledSet, ...]
    present: Placed
    held_out: int
    halves_differ: float
    question: SeasonQuestion


def study_season(
    season: AnySeason,
    mount: Mount,
    question: SeasonQuestion,
    limits: tuple[SeatLimit, ...] = (),
    progress: Progress = no_progress,
) -> SeasonStudy:
    """The study of a season's evenings.

    Args:
        season: where their passes are not clear, over zeta, and with lengths at which bearings they strike.
        mount: its holes and its constants; where its keyway points does not enter.
        question: what is asked.
        limits: forbidden bearings, which the best bearings keep to.
        progress: called while holes are placed.

    Raises:
        Cancelled: ``progress`` returned False.
        NorthkeyError: fewer than two evenings have passes.
    """
    if season.evenings < 2:
        raise NorthkeyError(
            f"a season wants passes on two evenings or more; {season.evenings} has any in these hours"
        )
    through = [_through(hole, season, question.seed, mount, limits) for hole in mount.index_holes]
    holes = tuple(hole for hole, _differ in through)
    every = np.arange(season.evenings)
    first, second = season.some(every[: every.size // 2]), season.some(every[every.size // 2 :])
    first_hole = mount.index_holes[0]
    zero = fixed_offset_deg(mount, first_hole) - first_hole.offset_deg
    keyways = np.array(question.keyways_deg) if question.keyways_deg else None
    drilling = Drilling(first, zero, keyways, first_hole.offset_deg, question.apart_deg)

    known: dict[tuple[float, ...], Placed] = {}

    def judged(offsets_deg: Floats) -> Placed:
        holes = tuple(offsets_deg.tolist())  # one hole is mostly the one that there is, and evenly spaced
        if holes not in known:
            known[holes] = placed(second, offsets_deg, zero, keyways)
        return known[holes]

    sets = []
    for count in range(1, question.most_holes + 1):
        chosen, evenly = drilling.offsets_deg(count, progress), drilling.evenly_spaced_deg(count)
        sets.append(DrilledSet(_named(chosen), judged(chosen), _named(evenly), judged(evenly)))
    present = np.array([hole.offset_deg for hole in mount.index_holes])
    return SeasonStudy(
        evenings=season.evenings,
        passes=int(season.passes.sum()),
        holes=holes,
        sets=tuple(sets),
        present=judged(present),
        held_out=second.evenings,
        halves_differ=max(differ for _hole, differ in through),
        question=question,
    )


def _halves_apart(season: NotClear, seed: int) -> StepCurve:
    """The mean share of one half of the evenings, drawn by lot, less that of the other."""
    drawn = np.random.default_rng(seed).permutation(season.evenings)
    half = season.evenings // 2
    sign = np.empty(season.evenings)
    sign[drawn[:half]], sign[drawn[half:]] = 1.0 / half, -1.0 / (season.evenings - half)
    return season.weighted(sign / season.passes)


def _through(
    hole: IndexHole, season: AnySeason, seed: int, mount: Mount, limits: tuple[SeatLimit, ...]
) -> tuple[HoleSeason, float]:
    """The season through a hole, and by how much the curves of two halves differ at most, at any bearing."""
    over, turn = season.told(fixed_offset_deg(mount, hole))
    halves = _halves_apart(over, seed)
    curve = over.mean_share().turned(-turn)
    best = best_stretch(curve, limits)
    at = best.middle_deg + turn
    found = HoleSeason(
        hole=hole,
        curve=curve,
        best_deg=best.middle_deg,
        best_width_deg=best.width_deg,
        shares=over.shares_at(at),
        halves_differ=abs(float(halves.at(np.array([at]))[0])),
        forbidden=best.forbidden,
    )
    return found, float(np.abs(halves.value).max())


def _named(offsets_deg: Floats) -> tuple[IndexHole, ...]:
    """Holes 1, 2, ... at these offsets."""
    return tuple(
        IndexHole(name=str(number), offset_deg=float(offset))
        for number, offset in enumerate(offsets_deg, start=1)
    )
