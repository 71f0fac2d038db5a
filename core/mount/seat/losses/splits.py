"""What splits lose over zeta: sampled where they are worth while, with the edges where they begin to be.

Splits cost most to look for and bend least, so they are looked for on a wide grid, and where they begin to be
worth while is foretold from the other means' losses and then tried.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from core.base.angles import Flags, Floats
from core.mount.seat.losses.sampling import (
    BESIDE_DEG,
    NEVER,
    OUT_BY_S,
    Indices,
    Pieces,
    crossing,
    merged,
    piece_of,
    sampled,
)

#: Splits are looked for no further apart than this at first.
_SPLITS_DEG = 10.0
#: Where splits begin to be worth while is known to twice this, in bearing.
_EDGE_DEG = 0.03
#: Rounds of looking for that edge where it is not where it was foretold.
_EDGE_ROUNDS = 3
#: Where a loss changes by this much, seconds, over more than so much bearing, it is tried once more.
_MUCH_S, _WIDE_DEG = 6.0, 1.0


class SplitCurve:
    """Where on a pass' pieces splits are worth while, and what they lose there.

    Args:
        loss: seconds lost by the best split at zetas (Z,), `NEVER` where none loses less than others (Z,).
        pieces: of zeta, degrees, inside which no way begins or ceases to hold and no turn comes or goes.
        fine: (K,) zetas, rising, at which the other means are sampled.
        others: (K,) seconds lost by those, less what a split must gain.
    """

    def __init__(
        self, loss: Callable[[Floats, Floats], Floats], pieces: Pieces, fine: Floats, others: Floats
    ) -> None:
        self._loss, self._pieces, self._fine, self._others = loss, pieces, fine, others

    def sampled(self, tick: Callable[[], None]) -> tuple[Floats, Floats]:
        """(K,) zetas in degrees, rising, and (K,) seconds lost by split, `NEVER` where there is none.

        What is sampled evenly is tried for bends between samples that all found a split. The stretch from the
        last of those to the edge, where none is found, is tried while the edge is closed in on. So is what
        is steep, since a fall from one level to another can have its middle just on the line.
        """
        at, loss = sampled(self._cut_at_peaks(), self._row, _split_error, OUT_BY_S, tick, _SPLITS_DEG, 4)
        split, number = loss[0], 0
        bent = self._middles_of_bent(at, split, self._by_edges(at, split))
        middles = np.concatenate([bent, self._middles_of_steep(at, split)])
        while True:
            fresh = np.setdiff1d(np.concatenate([self._at_edges(at, split, number), middles]), at)
            if not fresh.size:
                return self._with_steps(at, split)
            tick()
            at, rows = merged(at, split[None, :], fresh, self._row(fresh))
            split, number = rows[0], number + 1
            middles = self._middles_of_bent(at, split, np.isin(at, fresh))

    def _at_edges(self, at: Floats, split: Floats, number: int) -> Floats:
        """Where to look for edges in round ``number``; nowhere if all are known or the rounds are spent."""
        found, absent = self._edges(at, split)
        if not found.size or number >= _EDGE_ROUNDS:
            return np.zeros(0)
        return self._foretold(at, split, found, absent) if number == 0 else _seven(at, found, absent)

    def _by_edges(self, at: Floats, split: Floats) -> Flags:
        """(K,) where a split is found, and at the next sample, or the one after that, none."""
        here, piece = split < NEVER, piece_of(self._pieces, at)
        near = ~here
        for _ in range(2):
            joined = piece[1:] == piece[:-1]
            near = near | np.append(near[1:] & joined, False) | np.insert(near[:-1] & joined, 0, False)
        return np.asarray(near & here)

    def _joined(self, at: Floats, split: Floats) -> Flags:
        """(K-1,) stretches of one piece with a split found at both ends."""
        here, piece = split < NEVER, piece_of(self._pieces, at)
        return np.asarray(here[1:] & here[:-1] & (piece[1:] == piece[:-1]))

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

    def _row(self, zeta: Floats) -> Floats:
        return self._loss(zeta, np.interp(zeta, self._fine, self._others))[None, :]

    def _cut_at_peaks(self) -> Pieces:
        """The pieces, cut where the other means lose most: there a split gains most."""
        cut = []
        for start, end in self._pieces:
            inside = np.flatnonzero((self._fine >= start) & (self._fine <= end))
            others = self._others[inside]
            peak = (others[1:-1] >= others[:-2]) & (others[1:-1] > others[2:])
            bounds = [start, *self._fine[inside][1:-1][peak], end]
            cut += [(float(a), float(b)) for a, b in pairwise(bounds)]
        return tuple(cut)

    def _edges(self, at: Floats, split: Floats) -> tuple[Indices, Indices]:
        """Neighbouring samples of one piece, a split found at one and none at the other, still wide apart."""
        here = split < NEVER
        piece = piece_of(self._pieces, at)
        wide = (np.diff(at) > 2.5 * _EDGE_DEG) & (piece[1:] == piece[:-1]) & (here[1:] != here[:-1])
        left = np.flatnonzero(wide)
        return np.where(here[left], left, left + 1), np.where(here[left], left + 1, left)

    def _foretold(self, at: Floats, split: Floats, found: Indices, absent: Indices) -> Floats:
        """Both sides of where a split that goes on so would lose what the others do, and half way to it."""
        fresh = []
        for f, a in zip(found, absent, strict=True):
            before = 2 * f - a
            known = 0 <= before < at.size and split[before] < NEVER and abs(at[before] - at[f]) < 10.0
            slope = (split[f] - split[before]) / (at[f] - at[before]) if known else 0.0
            steps = np.linspace(at[f], at[a], 65)
            spare = np.interp(steps, self._fine, self._others) - (split[f] + slope * (steps - at[f]))
            edge = crossing(steps, spare)
            low, high = sorted((at[f], at[a]))
            fresh += [float(np.clip(edge + by, low, high)) for by in (-_EDGE_DEG, _EDGE_DEG)]
            fresh.append(float(at[f] + edge) / 2.0)
        return np.array(fresh)

    def _with_steps(self, at: Floats, split: Floats) -> tuple[Floats, Floats]:
        """A step in the middle of every edge, on whose one side a split goes on as found."""
        here, piece = split < NEVER, piece_of(self._pieces, at)
        left = np.flatnonzero((here[1:] != here[:-1]) & (piece[1:] == piece[:-1]))
        middle = (at[left] + at[left + 1]) / 2.0
        steps = np.concatenate([middle - BESIDE_DEG / 2.0, middle + BESIDE_DEG / 2.0])
        losses = np.concatenate([split[left], split[left + 1]])
        every, rows = merged(at, split[None, :], steps, losses[None, :])
        return every, rows[0]


def _seven(at: Floats, found: Indices, absent: Indices) -> Floats:
    """Seven bearings evenly between each two."""
    return np.asarray(
        (at[found, None] + (at[absent] - at[found])[:, None] * np.arange(1.0, 8.0) / 8.0).ravel()
    )


def _split_error(left: Floats, middle: Floats, right: Floats) -> Floats:
    """(Z,) the error of a straight line where splits are found; their edges are looked for otherwise."""
    here = np.maximum(np.maximum(left, right), middle)[0] < NEVER
    return np.where(here, np.abs(middle - (left + right) / 2.0)[0], 0.0)
