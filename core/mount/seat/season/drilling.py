"""Where to drill one, two, ... index holes: a search over whole degrees of offset.

A set is worth what its best hole does on each evening, at each bearing that the ground gives the keyway. All
sets on a coarse ring of offsets are tried, and from the best of them one hole after the other is moved to
where it serves best, until none gains. With every keyway bearing alike only the spacing of the holes counts;
the first one then stays where the adapter has one.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats, wrap_180, wrap_360
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.base.words import counted
from core.mount.seat.season.struck_season import AnySeason

#: Candidates round the circle, and how many of them one of the coarse ring stands for.
_ROUND = 360
_COARSE = 12
#: So many of the best coarse sets are improved.
_STARTS = 2
#: Keyway bearings asked where all are alike: every so many degrees.
_KEYWAY_STEP = 5

#: Shares that are equal to a hundredth of a point are equal: then the wider spaced holes are better.
_DECIMALS = 4

_Shares = NDArray[np.float32]
_Holes = tuple[int, ...]


class _Weighed(NamedTuple):
    """A set of holes; of two the lesser one is better.

    Attributes:
        share: mean share through the best hole, rounded.
        crowded: less the least distance of two holes.
        holes: degrees past the first candidate.
    """

    share: float
    crowded: int
    holes: _Holes


class Drilling:
    """Looks for sets of holes on some evenings.

    Args (of the constructor):
        season: the evenings.
        zero_deg: zeta of a hole without offset where the keyway points north.
        keyways_deg: bearings that the keyway may be given; None: every bearing.
        first_deg: offset of the hole that stays, where every bearing is alike.
        apart_deg: least distance of two holes.
    """

    def __init__(
        self,
        season: AnySeason,
        zero_deg: float,
        keyways_deg: Floats | None,
        first_deg: float,
        apart_deg: float,
    ) -> None:
        self._season = season
        self._fixed = keyways_deg is None
        self._first_deg = first_deg if self._fixed else 0.0
        keyways = np.arange(0, _ROUND, _KEYWAY_STEP) if keyways_deg is None else keyways_deg
        self._keyways_deg = np.asarray(keyways, dtype=float)
        zetas = zero_deg + self._first_deg + self._keyways_deg
        self._places = np.round(wrap_360(zetas)).astype(np.intp)
        self._apart = apart_deg

    def offsets_deg(self, count: int, progress: Progress = no_progress) -> Floats:
        """(count,) the best offsets found, each -180 to 180; as good as holes evenly spaced, or better.

        Raises:
            Cancelled: ``progress`` returned False.
        """
        starts = [*sorted(self._coarse_sets(count, progress))[:_STARTS], self._even(count)]
        what = f"placing {counted(count, 'hole')}"
        best = min(self._improved(start) for start in reported(starts, what, progress, every=1))
        return self._offsets(best.holes)

    def evenly_spaced_deg(self, count: int) -> Floats:
        """(count,) offsets of holes all round, turned together to where they serve best."""
        return self._offsets(self._even(count).holes)

    def _offsets(self, holes: _Holes) -> Floats:
        """By where they are drilled, clockwise from the first, which is counter to their offsets."""
        falling = np.sort(-np.array(holes, dtype=float) % _ROUND)
        return np.asarray(wrap_180(self._first_deg - falling))

    @cached_property
    def _seen(self) -> _Shares:
        """(360, E, K) the share at each place through a hole so many degrees on."""
        return self._season.seen(self._places, self._keyways_deg)

    def _weighed(self, holes: _Holes, least: _Shares) -> _Weighed:
        return _Weighed(round(float(least.mean()), _DECIMALS), -_least_gap(holes), holes)

    def _even(self, count: int) -> _Weighed:
        """The best of the evenly spaced sets."""
        step = _ROUND // count
        sets = [tuple(range(first, _ROUND, step)) for first in range(1 if self._fixed else step)]
        return min(self._weighed(holes, self._least(holes)) for holes in sets)

    def _coarse_sets(self, count: int, progress: Progress) -> Iterator[_Weighed]:
        """Every set on the coarse ring whose holes are far enough apart."""
        firsts = range(1 if self._fixed else _ROUND)[::_COARSE]
        for first in reported(firsts, f"placing {counted(count, 'hole')}", progress, every=1):
            yield from self._grown((first,), self._seen[first], count)

    def _grown(self, holes: _Holes, least: _Shares, count: int) -> Iterator[_Weighed]:
        if len(holes) == count:
            yield self._weighed(holes, least)
            return
        for hole in range(holes[-1] + _COARSE, _ROUND, _COARSE):
            if _gap(hole, holes) >= self._apart:
                yield from self._grown((*holes, hole), np.minimum(least, self._seen[hole]), count)

    def _improved(self, best: _Weighed) -> _Weighed:
        """The holes moved one by one to where each serves best, the first too unless it is to stay."""
        while True:
            before = best
            for which in range(1 if self._fixed else 0, len(best.holes)):
                best = min(best, self._moved(which, best.holes))
            if best == before:
                return best

    def _moved(self, which: int, holes: _Holes) -> _Weighed:
        others = holes[:which] + holes[which + 1 :]
        rest = self._least(others) if others else np.ones_like(self._seen[0])
        return min(
            self._weighed((*others[:which], hole, *others[which:]), np.minimum(rest, self._seen[hole]))
            for hole in range(_ROUND)
            if _gap(hole, others) >= self._apart
        )

    def _least(self, holes: _Holes) -> _Shares:
        return np.asarray(self._seen[list(holes)].min(axis=0))


def _gap(hole: int, others: _Holes) -> int:
    """Degrees to the nearest of the others."""
    half = _ROUND // 2
    return min((half - abs(half - (hole - one) % _ROUND) for one in others), default=_ROUND)


def _least_gap(holes: _Holes) -> int:
    return min(_gap(hole, holes[:number]) for number, hole in enumerate(holes))
