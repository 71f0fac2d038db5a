"""Runs: stretches of samples side by side that are alike.

Every run is a pair (first, beyond) of indices, half open as in ``range`` and in slices: the samples
``values[first:beyond]`` are alike, and ``values[beyond]``, where there is one, is not like them.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags


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
