"""Paths over the station: polynomials in time, piece by piece, of many stays or spans in one table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.polynomial import chebyshev

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import entries_of

#: States read off at once: the coefficients of more would not stay in the processor's cache.
_AT_ONCE = 8192


@dataclass(frozen=True, eq=False)
class Paths:
    """Pieces of paths, (P,), in order of owner and time.

    Attributes:
        owner: (P,) row of the stay or span each belongs to, rising.
        middle_utc_s, half_s: (P,) its middle and half its length; the next piece begins where it ends.
        coefficients: (P, D, 6) Chebyshev coefficients of topocentric position (east, north, up), km, and
            velocity as seen from the turning ground, km/s.
    """

    owner: Indices
    middle_utc_s: Floats
    half_s: Floats
    coefficients: Floats

    @classmethod
    def through(cls, owner: Indices, middle_utc_s: Floats, half_s: Floats, position: Floats) -> Paths:
        """Paths of positions given by Chebyshev coefficients (P, D, 3), km; velocity is their derivative."""
        velocity = np.zeros_like(position)
        velocity[:, :-1] = chebyshev.chebder(position, axis=1) / half_s[:, None, None]
        return cls(owner, middle_utc_s, half_s, np.concatenate([position, velocity], axis=2))

    @classmethod
    def joined(cls, parts: Sequence[Paths], owners: Sequence[int]) -> Paths:
        """The pieces of several tables, ``owners`` rows each, which are numbered on from table to table."""
        firsts = np.cumsum([0, *owners])
        most = max((part.coefficients.shape[1] for part in parts), default=1)
        rows = [part.owner + first for part, first in zip(parts, firsts, strict=False)]
        return cls(
            np.concatenate(rows or [np.zeros(0, dtype=np.intp)]),
            np.concatenate([part.middle_utc_s for part in parts] or [np.zeros(0)]),
            np.concatenate([part.half_s for part in parts] or [np.zeros(0)]),
            np.concatenate([_padded(part.coefficients, most) for part in parts] or [np.zeros((0, most, 6))]),
        )

    def taken(self, pieces: Indices | Flags | slice, owner: Indices) -> Paths:
        """Some of the pieces, for these owners."""
        return Paths(owner, self.middle_utc_s[pieces], self.half_s[pieces], self.coefficients[pieces])

    def of_owners(self, rows: Indices, count: int) -> Paths:
        """The pieces of some of ``count`` owners, numbered anew in that order."""
        offsets = np.searchsorted(self.owner, np.arange(count + 1))
        owner = np.repeat(np.arange(rows.size), np.diff(offsets)[rows])
        return self.taken(entries_of(rows, offsets), owner)

    @cached_property
    def start_utc_s(self) -> Floats:
        """(P,) where each piece begins."""
        return self.middle_utc_s - self.half_s

    def piece_at(self, owner: Indices, utc_s: Floats) -> Indices:
        """The piece of each owner (N,), in any order, that a moment (N,) lies on; the nearest one outside."""
        rows = np.concatenate([self.owner, owner])
        first = np.diff(self.owner, prepend=-1) != 0
        begins = np.where(first, -np.inf, self.start_utc_s)
        order = np.lexsort((np.arange(rows.size), np.concatenate([begins, utc_s]), rows))
        piece = np.empty(rows.size, dtype=np.intp)
        piece[order] = np.cumsum(order < self.owner.size) - 1
        return piece[self.owner.size :]

    def at(self, piece: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        """Topocentric positions (N, 3) km and velocities (N, 3) km/s on pieces ``piece`` (N,)."""
        states = np.empty((piece.size, 6))
        for first in range(0, piece.size, _AT_ONCE):
            some = slice(first, first + _AT_ONCE)
            on = piece[some]
            places = (utc_s[some] - self.middle_utc_s[on]) / self.half_s[on]
            basis = chebyshev.chebvander(places, self.coefficients.shape[1] - 1)
            np.einsum("nd,ndk->nk", basis, self.coefficients[on], out=states[some])
        return states[:, :3], states[:, 3:]

    def looks(self, count: int) -> tuple[Floats, Floats, Floats]:
        """Every piece looked at ``count`` times, evenly, both ends included.

        Returns:
            Moments (P, count), positions and velocities (P, count, 3).
        """
        places = np.linspace(-1.0, 1.0, count)
        states = chebyshev.chebvander(places, self.coefficients.shape[1] - 1) @ self.coefficients
        utc_s = self.middle_utc_s[:, None] + self.half_s[:, None] * places
        return utc_s, states[..., :3], states[..., 3:]


def _padded(coefficients: Floats, count: int) -> Floats:
    lacking = count - coefficients.shape[1]
    return np.pad(coefficients, ((0, 0), (0, lacking), (0, 0))) if lacking else coefficients
