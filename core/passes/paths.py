"""Paths over the station: polynomials in time, piece by piece, of many stays or spans in one table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import ranges

#: States read off at once: the coefficients of more would not stay in the processor's cache.
_AT_ONCE = 8192


@dataclass(frozen=True, eq=False)
class Paths:
    """Pieces of paths, (P,), in order of owner and time.

    Attributes:
        owner: (P,) row of the stay or span each belongs to, rising.
        middle_utc_s, half_s: (P,) its middle and half its length; the next piece begins where it ends.
        coefficients: (P, 3, D) Chebyshev coefficients of topocentric position (east, north, up), km; velocity
            as seen from the turning ground is its derivative.
    """

    owner: Indices
    middle_utc_s: Floats
    half_s: Floats
    coefficients: Floats

    @classmethod
    def joined(cls, parts: Sequence[Paths], owners: Sequence[int]) -> Paths:
        """The pieces of several tables, ``owners`` rows each, which are numbered on from table to table."""
        if len(parts) == 1:
            return parts[0]
        if not parts:
            return cls(np.zeros(0, dtype=np.intp), np.zeros(0), np.zeros(0), np.zeros((0, 3, 1)))
        most = max(part.coefficients.shape[2] for part in parts)
        firsts = np.cumsum([0, *owners[:-1]])
        return cls(
            np.concatenate([part.owner + first for part, first in zip(parts, firsts, strict=True)]),
            np.concatenate([part.middle_utc_s for part in parts]),
            np.concatenate([part.half_s for part in parts]),
            np.concatenate([_padded(part.coefficients, most) for part in parts]),
        )

    def taken(self, pieces: Indices | Flags | slice, owner: Indices) -> Paths:
        """Some of the pieces, for these owners."""
        return Paths(owner, self.middle_utc_s[pieces], self.half_s[pieces], self.coefficients[pieces])

    def of_owners(self, rows: Indices, count: int) -> Paths:
        """The pieces of some of ``count`` owners, numbered anew in that order."""
        offsets = np.concatenate([[0], np.cumsum(np.bincount(self.owner, minlength=count))])
        owner, pieces = ranges(offsets[rows], offsets[rows + 1])
        return self.taken(pieces, owner)

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

    @cached_property
    def rates(self) -> Floats:
        """(P, 3, D) coefficients of velocity, km/s."""
        # Piece by piece: what is told of one must not depend on its neighbours, not even in the last bit.
        slopes = self.coefficients @ _derivation(self.coefficients.shape[2])
        return np.asarray(slopes / self.half_s[:, None, None])

    def at(self, piece: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        """Topocentric positions (N, 3) km and velocities (N, 3) km/s on pieces ``piece`` (N,)."""
        position, velocity = self._read_off(piece, utc_s, self.coefficients, self.rates)
        return position, velocity

    def up_at(self, piece: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        """What of `at` points up: heights over the tangent plane (N,) km and their rates (N,) km/s."""
        height, rate = self._read_off(piece, utc_s, self.coefficients[:, 2:], self.rates[:, 2:])
        return height[:, 0], rate[:, 0]

    def position(self, piece: Indices, utc_s: Floats) -> Floats:
        """The positions alone."""
        return np.asarray(self._read_off(piece, utc_s, self.coefficients)[0])

    def looks(self, count: int) -> tuple[Floats, Floats, Floats, Floats]:
        """Every piece looked at ``count`` times, evenly, both ends included.

        Returns:
            Moments (P, count), and positions, velocities and accelerations (P, count, 3).
        """
        half_s = self.half_s[:, None]
        places, basis, bend = _even_basis(count, self.coefficients.shape[2])
        position, velocity, acceleration = (
            np.swapaxes(looked, 1, 2)
            for looked in (self.coefficients @ basis, self.rates @ basis, self.rates @ bend / half_s[:, None])
        )
        return self.middle_utc_s[:, None] + half_s * places, position, velocity, acceleration

    def _read_off(self, piece: Indices, utc_s: Floats, *curves: Floats) -> Floats:
        """What some coefficients (P, K, D) say at moments (N,) on pieces (N,): (curves, N, K)."""
        found = np.empty((len(curves), piece.size, curves[0].shape[1]))
        for first in range(0, piece.size, _AT_ONCE):
            some = slice(first, first + _AT_ONCE)
            on = piece[some]
            places = (utc_s[some] - self.middle_utc_s[on]) / self.half_s[on]
            basis = chebyshev_at(places, self.coefficients.shape[2])
            for row, coefficients in enumerate(curves):
                np.einsum("nd,nkd->nk", basis, coefficients.take(on, axis=0), out=found[row, some])
        return found


def chebyshev_at(places: Floats, count: int) -> Floats:
    """The first so many Chebyshev polynomials at places (N,): (N, count), column by column.

    As `numpy.polynomial.chebyshev.chebvander` gives them, whose module need not be imported for it.
    """
    basis = np.ones((count, places.size))
    basis[1:2] = places
    twice = 2.0 * places
    for last_but_one, last, following in zip(basis, basis[1:], basis[2:], strict=False):
        np.multiply(last, twice, out=following)
        np.subtract(following, last_but_one, out=following)
    return basis.T


@cache
def _derivation(count: int) -> Floats:
    """(count, count) takes Chebyshev coefficients, on their right, to those of the derivative."""
    from numpy.polynomial.chebyshev import chebder

    square = np.zeros((count, count))
    square[:, : max(count - 1, 1)] = chebder(np.eye(count)).T
    return square


@lru_cache(32)
def _even_basis(looks: int, count: int) -> tuple[Floats, Floats, Floats]:
    """Places (looks,) from -1 to 1; what takes coefficients to values and slopes there, (count, looks)."""
    places = np.linspace(-1.0, 1.0, looks)
    basis = chebyshev_at(places, count).T
    return places, basis, _derivation(count) @ basis


def _padded(coefficients: Floats, count: int) -> Floats:
    lacking = count - coefficients.shape[2]
    return np.pad(coefficients, ((0, 0), (0, 0), (0, lacking))) if lacking else coefficients
