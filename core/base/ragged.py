"""Ragged tables: rows of differing length in flat columns, each entry with the number of its row.

A column of row numbers (N,) rises; the entries of a row lie side by side.
"""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats, Indices

_Number = TypeVar("_Number", bound=np.generic)


def distinct(values: NDArray[_Number]) -> NDArray[_Number]:
    """The different values (K,) among those (N,), rising.

    What `numpy.unique` gives for plain numbers; that one imports the whole of masked arrays when it is first
    called, which at a start takes longer than all that is asked of it.
    """
    rising = np.sort(values)
    return rising[np.concatenate([[True], rising[1:] != rising[:-1]])] if rising.size else rising


def parted(parts: Indices) -> tuple[Indices, Floats]:
    """Cut each of (S,) stretches into so many equal parts.

    Returns:
        Of every part (N,): its stretch, and where it starts as a share of the stretch.
    """
    row = np.repeat(np.arange(parts.size), parts)
    return row, places_in(parts) / parts[row]


def places_in(counts: Indices) -> Indices:
    """0, 1, 2 ... within every row, for rows of so many entries (S,)."""
    return np.asarray(np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts))


def ranges(first: Indices, beyond: Indices) -> tuple[Indices, Indices]:
    """The numbers from ``first`` to ``beyond`` of every row (S,), half open: row and number, (N,) each."""
    return np.repeat(np.arange(first.size), beyond - first), _numbers(first, beyond)


def entries_of(rows: Indices, offsets: Indices) -> Indices:
    """Where the entries of some rows are, row after row.

    Args:
        rows: row numbers in any order.
        offsets: (S + 1,) where each row of the table begins, and where the last one ends.
    """
    return _numbers(offsets[rows], offsets[rows + 1])


def _numbers(first: Indices, beyond: Indices) -> Indices:
    """The numbers of `ranges`."""
    counts = beyond - first
    ends = np.cumsum(counts)
    total = int(ends[-1]) if ends.size else 0
    return np.asarray(np.arange(total) + np.repeat(first - (ends - counts), counts))


def first_least(row: Indices, cost: Floats | NDArray[np.int64]) -> Indices:
    """The entry of least cost of every row that has any, the first of equals."""
    if not row.size:
        return np.zeros(0, dtype=np.intp)
    begins = _begins(row)
    least = np.minimum.reduceat(cost, np.flatnonzero(begins))
    found = np.flatnonzero(cost == least[np.cumsum(begins) - 1])
    return found[_begins(row[found])]


def joined(row: Indices, start: Floats, end: Floats, gap: float) -> tuple[Indices, Indices]:
    """Stretches (N,), by row and start, joined where those of a row are less than a gap apart.

    Returns:
        Of each joined one the first and the last stretch in it.
    """
    edges = np.ones(row.size + 1, dtype=bool)
    edges[1:-1] = (row[1:] != row[:-1]) | (start[1:] - end[:-1] >= gap)
    return np.flatnonzero(edges[:-1]), np.flatnonzero(edges[1:])


def _begins(row: Indices) -> Flags:
    """Where another row begins."""
    begins = np.ones(row.size, dtype=bool)
    begins[1:] = row[1:] != row[:-1]
    return begins
