"""Where to drill one, two, ... index holes: a search over whole degrees of offset.

A set is worth what its best hole does on each evening, at each bearing that the ground gives the keyway. All
sets on a coarse ring of offsets are tried, and from the best of them one hole after the other is moved to
where it serves best, until none gains. With every keyway bearing alike only the spacing of the holes counts;
the first one then stays where the adapter has one.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats, wrap_180, wrap_360
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.base.words import counted
from core.mount.seat.season.not_clear import NotClear

#: Candidates round the circle, and how many of them one of the coarse ring stands for.
_ROUND = 360
_COARSE = 12
#: So many of the best coarse sets are improved.
_STARTS = 2
#: Keyway bearings asked where all are alike: every so many degrees.
_KEYWAY_STEP = 5

_Shares = NDArray[np.float32]


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
        season: NotClear,
        zero_deg: float,
        keyways_deg: Floats | None,
        first_deg: float,
        apart_deg: float,
    ) -> None:
        self._shares: _Shares = season.shares_round(_ROUND).astype(np.float32)
        self._fixed = keyways_deg is None
        self._first_deg = first_deg if self._fixed else 0.0
        keyways = np.arange(0, _ROUND, _KEYWAY_STEP) if keyways_deg is None else keyways_deg
        zetas = zero_deg + self._first_deg + np.asarray(keyways, dtype=float)
        self._places = np.round(wrap_360(zetas)).astype(np.intp)
        self._apart = apart_deg

    def offsets_deg(self, count: int, progress: Progress = no_progress) -> Floats:
        """(count,) the best offsets found, each -180 to 180; never worse than holes evenly spaced.

        Raises:
            Cancelled: ``progress`` returned False.
        """
        starts = [*sorted(self._coarse_sets(count, progress))[:_STARTS], self._even(count)]
        best = min(self._improved(list(holes)) for _, holes in starts)[1]
        return self._offsets(best)

    def evenly_spaced_deg(self, count: int) -> Floats:
        """(count,) offsets of holes all round, turned together to where they serve best."""
        return self._offsets(list(self._even(count)[1]))

    def _offsets(self, holes: list[int]) -> Floats:
        """By where they are drilled, clockwise from the first, which is counter to their offsets."""
        falling = np.sort(-np.array(holes, dtype=float) % _ROUND)
        return np.asarray(wrap_180(self._first_deg - falling))

    @cached_property
    def _seen(self) -> _Shares:
        """(360, E, K) the share at each place through a hole so many degrees on."""
        holes = np.arange(_ROUND)[:, None]
        return np.ascontiguousarray(np.moveaxis(self._shares[:, (self._places + holes) % _ROUND], 0, 1))

    def _fits(self, hole: int, others: list[int]) -> bool:
        return all(min((hole - one) % _ROUND, (one - hole) % _ROUND) >= self._apart for one in others)

    def _even(self, count: int) -> tuple[float, tuple[int, ...]]:
        """The best of the evenly spaced sets, with its share."""
        step = _ROUND // count
        sets = [tuple(range(first, _ROUND, step)) for first in range(1 if self._fixed else step)]
        return min((float(self._least(list(holes)).mean()), holes) for holes in sets)

    def _coarse_sets(self, count: int, progress: Progress) -> Iterator[tuple[float, tuple[int, ...]]]:
        """Every set on the coarse ring whose holes are far enough apart, with its share."""
        firsts = range(1 if self._fixed else _ROUND)[::_COARSE]
        for first in reported(firsts, f"placing {counted(count, 'hole')}", progress, every=1):
            yield from self._grown([first], self._seen[first], count)

    def _grown(self, holes: list[int], least: _Shares, count: int) -> Iterator[tuple[float, tuple[int, ...]]]:
        if len(holes) == count:
            yield float(least.mean()), tuple(holes)
            return
        for hole in range(holes[-1] + _COARSE, _ROUND, _COARSE):
            if self._fits(hole, holes):
                yield from self._grown([*holes, hole], np.minimum(least, self._seen[hole]), count)

    def _improved(self, holes: list[int]) -> tuple[float, list[int]]:
        """The holes moved one by one to where each serves best, the first too unless it is to stay."""
        share = float(self._least(holes).mean())
        while True:
            before = share
            for which in range(1 if self._fixed else 0, len(holes)):
                found = self._best_for(which, holes[:which] + holes[which + 1 :])
                share, holes = min((share, holes), found)
            if share >= before - 1e-9:
                return share, holes

    def _best_for(self, which: int, others: list[int]) -> tuple[float, list[int]]:
        rest = self._least(others) if others else np.ones_like(self._seen[0])
        share, hole = min(
            (float(np.minimum(rest, self._seen[hole]).mean()), hole)
            for hole in range(_ROUND)
            if self._fits(hole, others)
        )
        return share, [*others[:which], hole, *others[which:]]

    def _least(self, holes: list[int]) -> _Shares:
        return np.asarray(self._seen[holes].min(axis=0))
