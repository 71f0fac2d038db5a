"""What the best split of one pass loses over zeta, and where a split is worth while at all.

A split counts only where it loses less than staying in one way does by more than 5 s, so its curve comes and
goes: between two *edges* it is there, elsewhere it is not to be had. The search for a split is the costliest
question of the study (every moment of the pass, both senses, both postures), and what a split loses bends
little, so it is asked on a grid of `_GRID_DEG` where staying in one way is asked every degree or two.

Sampling alone then goes wrong in three places:

- *Edges.* Between a sample with a split and one without there is nothing to draw a line through. Where the
  curve, carried on straight, meets what staying loses less 5 s is where the edge should be; it is tried on
  both sides, and looked for in eighths where it is not there.
- *A bend beside an edge.* A real pass lost 53 s level for 2.6 deg from the edge on and then 10 s less every
  degree; the even grid has one sample on the level and the next one half way down, and its line was 8 s out.
  So stretches next to an edge are halved until a sample shows them straight.
- *A ramp whose middle lies on the line.* Level, steep, level, sampled at both ends and in the middle of the
  ramp, is a straight line to the sampler. So what falls by more than `_MUCH_S` is halved once more.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.seat.losses.sampling import (
    BESIDE_DEG,
    NONE_S,
    OUT_BY_S,
    Pieces,
    merged,
    piece_of,
    sample_curves,
)

#: Splits are looked for no further apart than this at first, degrees.
_GRID_DEG = 20.0
#: Edges are known to twice this, degrees.
_EDGE_DEG = 0.03
#: Rounds of looking for an edge that is not where it was predicted.
_EDGE_ROUNDS = 3
#: Where a loss changes by this much, seconds, over more than so much bearing, it is tried once more.
_MUCH_S, _WIDE_DEG = 6.0, 1.0
#: Of the peaks of a jagged bound so near to each other the highest is tried, degrees.
_ABOUT_DEG = 2.5


class SplitLosses:
    """Where on a pass' pieces a split is worth while, and what it loses there.

    Args:
        loss: seconds lost by the best split at zetas (Z,), `NONE_S` where none loses less than the
            bound (Z,) given with them.
        pieces: of zeta, degrees, inside which no way begins or ceases to hold and no turn comes or goes.
        fine_deg: (K,) zetas, rising, at which staying in one way is sampled.
        bound_s: (K,) what a split must lose less than: seconds lost by staying, less the 5 s it must gain.
        jumps: splits may come and go inside a piece, and the bound is jagged, as what strikes makes them.
    """

    def __init__(
        self,
        loss: Callable[[Floats, Floats], Floats],
        pieces: Pieces,
        fine_deg: Floats,
        bound_s: Floats,
        jumps: bool = False,
    ) -> None:
        self._loss, self._pieces, self._fine_deg, self._bound_s = loss, pieces, fine_deg, bound_s
        # A jump is in one half only: to halve costs fewer samples than to quarter.
        self._jumps, self._cut_into = jumps, 2 if jumps else 4

    def sample(self, tick: Callable[[], None]) -> tuple[Floats, Floats]:
        """(K,) zetas in degrees, rising, and (K,) seconds lost, `NONE_S` where no split is worth while."""
        at, rows = sample_curves(
            self._cut_at_peaks(), self._row, _line_error, OUT_BY_S, tick, _GRID_DEG, self._cut_into
        )
        split, round_ = rows[0], 0
        wanted = [
            self._middles_of_bent(at, split, self._next_to_none(at, split)),
            self._middles_of_steep(at, split),
        ]
        while True:
            fresh = np.setdiff1d(np.concatenate([self._edge_guesses(at, split, round_), *wanted]), at)
            if not fresh.size:
                return self._with_steps(at, split)
            tick()
            at, rows = merged(at, split[None, :], fresh, self._row(fresh))
            split, round_ = rows[0], round_ + 1
            wanted = [self._middles_of_bent(at, split, np.isin(at, fresh))]

    def _row(self, zeta: Floats) -> Floats:
        return self._loss(zeta, np.interp(zeta, self._fine_deg, self._bound_s))[None, :]

    def _cut_at_peaks(self) -> Pieces:
        """The pieces, cut where staying loses most: a split may be worth while there and nowhere near."""
        cut: list[tuple[float, float]] = []
        fine, bound = self._fine_deg, self._bound_s
        higher = np.zeros(fine.size, dtype=bool)
        higher[1:-1] = (bound[1:-1] >= bound[:-2]) & (bound[1:-1] > bound[2:])
        if self._jumps:
            higher &= _highest_about(fine, bound)
        for start, end in self._pieces:
            # Strictly inside: a piece's own ends are told anyway.
            first, beyond = np.searchsorted(fine, start, side="right"), np.searchsorted(fine, end)
            ends = [start, *fine[first:beyond][higher[first:beyond]].tolist(), end]
            cut += pairwise(ends)
        return tuple(cut)

    # --- edges --------------------------------------------------------------------------------------------

    def _edge_guesses(self, at: Floats, split: Floats, round_: int) -> Floats:
        """Where to look for edges in this round; nowhere if all are known or the rounds are spent."""
        there, none = self._edges(at, split)
        if not there.size or round_ >= _EDGE_ROUNDS:
            return np.zeros(0)
        return self._predicted(at, split, there, none) if round_ == 0 else _eighths(at, there, none)

    def _edges(self, at: Floats, split: Floats) -> tuple[Indices, Indices]:
        """Neighbouring samples of one piece, a split at one and none at the other, still wide apart."""
        here = split < NONE_S
        wide = (np.diff(at) > 2.5 * _EDGE_DEG) & self._same_piece(at) & (here[1:] != here[:-1])
        left = np.flatnonzero(wide)
        return np.where(here[left], left, left + 1), np.where(here[left], left + 1, left)

    def _predicted(self, at: Floats, split: Floats, there: Indices, none: Indices) -> Floats:
        """Both sides of where a split carried on straight would meet the bound, and half way to it."""
        before = 2 * there - none
        beside = np.clip(before, 0, at.size - 1)
        known = (beside == before) & (split[beside] < NONE_S) & (np.abs(at[beside] - at[there]) < 10.0)
        apart = np.where(known, at[there] - at[beside], 1.0)
        slope = np.where(known, split[there] - split[beside], 0.0) / apart
        steps = np.linspace(at[there], at[none], 65, axis=1)
        bound = np.interp(steps.ravel(), self._fine_deg, self._bound_s).reshape(steps.shape)
        edge = _first_zeros(steps, bound - (split[there, None] + slope[:, None] * (steps - at[there, None])))
        low, high = np.minimum(at[there], at[none]), np.maximum(at[there], at[none])
        sides = [np.clip(edge + by, low, high) for by in (-_EDGE_DEG, _EDGE_DEG)]
        return np.concatenate([*sides, (at[there] + edge) / 2.0])

    def _with_steps(self, at: Floats, split: Floats) -> tuple[Floats, Floats]:
        """A step in the middle of every edge, on whose one side a split goes on as found."""
        here = split < NONE_S
        left = np.flatnonzero((here[1:] != here[:-1]) & self._same_piece(at))
        middle = (at[left] + at[left + 1]) / 2.0
        steps = np.concatenate([middle - BESIDE_DEG / 2.0, middle + BESIDE_DEG / 2.0])
        losses = np.concatenate([split[left], split[left + 1]])
        every, rows = merged(at, split[None, :], steps, losses[None, :])
        return every, rows[0]

    # --- bends --------------------------------------------------------------------------------------------

    def _same_piece(self, at: Floats) -> Flags:
        """(K-1,) stretches that lie in one piece."""
        piece = piece_of(self._pieces, at)
        return np.asarray(piece[1:] == piece[:-1])

    def _joined(self, at: Floats, split: Floats) -> Flags:
        """(K-1,) stretches of one piece with a split at both ends."""
        here = split < NONE_S
        return here[1:] & here[:-1] & self._same_piece(at)

    def _next_to_none(self, at: Floats, split: Floats) -> Flags:
        """(K,) samples with a split of which the next one, or the one after that, has none."""
        here, same = split < NONE_S, self._same_piece(at)
        near = ~here
        for _ in range(2):
            near = near | np.append(near[1:] & same, False) | np.insert(near[:-1] & same, 0, False)
        return near & here

    def _middles_of_bent(self, at: Floats, split: Floats, fresh: Flags) -> Floats:
        """Middles of the stretches beside ``fresh`` samples (K,) of which no sample shows them straight."""
        joined = self._joined(at, split)
        inner = np.zeros(at.size, dtype=bool)
        inner[1:-1] = fresh[1:-1] & joined[1:] & joined[:-1]
        k = np.flatnonzero(inner)
        share = (at[k] - at[k - 1]) / (at[k + 1] - at[k - 1])
        off = np.zeros(at.size)
        off[k] = np.abs(split[k] - split[k - 1] - share * (split[k + 1] - split[k - 1]))
        bent, straight = inner & (off > OUT_BY_S), inner & (off <= OUT_BY_S)
        shown = (straight[1:] | straight[:-1]) & ~bent[1:] & ~bent[:-1]
        beside = (fresh[1:] | fresh[:-1]) & joined & ~shown & (np.diff(at) > 2.5 * _EDGE_DEG)
        return np.asarray((at[:-1] + at[1:])[beside] / 2.0)

    def _middles_of_steep(self, at: Floats, split: Floats) -> Floats:
        """Middles of the wide stretches on which the loss changes much."""
        steep = self._joined(at, split) & (np.abs(np.diff(split)) > _MUCH_S) & (np.diff(at) > _WIDE_DEG)
        return np.asarray((at[:-1] + at[1:])[steep] / 2.0)


def _highest_about(fine: Floats, bound: Floats) -> Flags:
    """(K,) no bound nearer than `_ABOUT_DEG` is higher."""
    first = np.searchsorted(fine, fine - _ABOUT_DEG)
    beyond = np.searchsorted(fine, fine + _ABOUT_DEG, side="right")
    spans = np.stack([first, beyond], axis=1).ravel()
    return np.asarray(bound >= np.maximum.reduceat(np.append(bound, -np.inf), spans)[::2])


def _eighths(at: Floats, there: Indices, none: Indices) -> Floats:
    """Seven bearings evenly between each two."""
    return np.asarray((at[there, None] + (at[none] - at[there])[:, None] * np.arange(1.0, 8.0) / 8.0).ravel())


def _first_zeros(at: Floats, spare: Floats) -> Floats:
    """(R,) where curves (R, K) that start above nothing first come down to it; their ends where none does."""
    below, row = spare <= 0.0, np.arange(at.shape[0])
    k = np.where(below.any(axis=1), np.argmax(below, axis=1), -1)
    ends, k = at[row, k], np.maximum(k, 1)
    before, beyond = spare[row, k - 1], spare[row, k]
    crosses = (before > 0.0) & (beyond <= 0.0)
    share = np.divide(before, before - beyond, out=np.zeros(row.size), where=crosses)
    return np.where(crosses, at[row, k - 1] + share * (at[row, k] - at[row, k - 1]), ends)


def _line_error(left: Floats, middle: Floats, right: Floats) -> Floats:
    """(Z,) the error of a straight line where splits are found; edges are looked for otherwise."""
    here = np.maximum(np.maximum(left, right), middle)[0] < NONE_S
    return np.where(here, np.abs(middle - (left + right) / 2.0)[0], 0.0)
