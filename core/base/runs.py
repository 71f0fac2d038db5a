"""Runs: stretches of samples side by side that are alike.

Every run is a pair (first, beyond) of indices, half open as in ``range`` and in slices: the samples
``values[first:beyond]`` are alike, and ``values[beyond]``, where there is one, is not like them.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Indices


def runs_alike(values: NDArray[np.generic]) -> list[tuple[int, int]]:
    """The runs of equal values of a column (N,), in order; together they cover it. None of no values."""
    if not values.size:
        return []
    changes = np.flatnonzero(values[1:] != values[:-1]) + 1
    return list(pairwise([0, *changes.tolist(), values.size]))


def runs_of(flags: Flags) -> list[tuple[int, int]]:
    """The runs of true flags of a column (N,), in order; none where none is true."""
    if not flags.any():
        return []
    return [(first, beyond) for first, beyond in runs_alike(flags) if flags[first]]


def run_ends_in_rows(flags: Flags, touching: Flags) -> tuple[Indices, Indices]:
    """The first and the last flag of every run in rows (N, k) read one after another.

    Args:
        flags: the rows.
        touching: (N - 1,) whether a row goes on where the one before it ends.

    Returns:
        Places in a table (N, k + 1), which has room between rows.
    """
    count, length = flags.shape
    spaced = np.zeros(1 + count * (length + 1), dtype=bool)
    rows = spaced[1:].reshape(count, length + 1)
    rows[:, :-1] = flags
    # A run that goes on into the next row fills the room between them.
    rows[:-1, -1] = flags[:-1, -1] & flags[1:, 0] & touching
    changes = np.flatnonzero(spaced[1:] != spaced[:-1])
    return changes[::2], changes[1::2] - 1
