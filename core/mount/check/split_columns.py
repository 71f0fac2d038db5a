"""The columns of the search for a split: ways, and starts of a move from one to another."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Self

import numpy as np

from core.base.angles import Floats, Indices

#: Starts that keep the same to this much, seconds, are level.
LEVEL_S = 1e-6


@dataclass(frozen=True, eq=False)
class Columns:
    """Columns of one length."""

    def some(self, which: Indices | slice) -> Self:
        """Some of the rows."""
        columns = [getattr(self, field.name) for field in fields(self)]
        if isinstance(which, slice):
            return type(self)(*(column[which] for column in columns))
        return type(self)(*(column.take(which) for column in columns))

    def and_more(self, more: Self) -> Self:
        """These rows, and more of them."""
        pairs = [(getattr(self, field.name), getattr(more, field.name)) for field in fields(self)]
        return type(self)(*(np.concatenate(pair) for pair in pairs))

    def mended(self, where: Indices, better: Self) -> Self:
        """These with the rows ``where`` (S,) taken from others (S,)."""
        mended = [getattr(self, field.name).copy() for field in fields(self)]
        for values, field in zip(mended, fields(self), strict=True):
            values[where] = getattr(better, field.name)
        return type(self)(*mended)


@dataclass(frozen=True, eq=False)
class Ways(Columns):
    """W ways: each at which seat, in which posture (as index into `POSTURES`) and turn; what to add for m."""

    seat: Indices
    posture_row: Indices
    k: Indices
    offset_deg: Floats


@dataclass(frozen=True, eq=False)
class Starts(Columns):
    """Candidates, each a pair of ways and a start (R,), with what they keep."""

    first: Indices
    second: Indices
    start_s: Floats
    kept_s: Floats
