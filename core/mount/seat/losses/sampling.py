"""Curves over a circle of bearings that are smooth but for known breaks: sampled as finely as they need.

Between two breaks a curve is taken as straight from sample to sample; where the middle of two samples shows
that it is not, it is sampled again. A jump that no break tells of is closed in on until it is narrow.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Floats
from core.base.units import INSIDE_DEG

#: Stands for infinite: nothing is lost between two of these, and no finite loss comes near it.
NEVER = 1e12
#: What a straight line between samples may be out by, seconds lost.
OUT_BY_S = 0.4
#: Both sides of a break are sampled this far from it, beyond the tolerance of "inside".
BESIDE_DEG = 2.0 * INSIDE_DEG
#: No pair of samples nearer than this is split again.
_NEAREST_DEG = 0.04

#: (from, to) each, in degrees.
Pieces = tuple[tuple[float, float], ...]
#: Indices into samples.
Indices = NDArray[np.intp]
#: (C, Z) curves at (Z,) bearings, in degrees.
Curves = Callable[[Floats], Floats]
#: (Z,) how wrong a straight line is, of curves (C, Z) at the left, in the middle and at the right.
Error = Callable[[Floats, Floats, Floats], Floats]


def sampled(
    pieces: Pieces,
    curves: Curves,
    error: Error,
    tolerance: float,
    tick: Callable[[], None],
    widest_deg: float = 8.0,
    cut_in: int = 2,
) -> tuple[Floats, Floats]:
    """The curves on each piece (its ends included), until straight lines between the samples will do.

    Args:
        pieces: (from, to) each, inside which the curves have no known break.
        curves: asked for many bearings at once.
        error: of straight lines.
        tolerance: what that may be in the middle of two samples.
        tick: called between rounds; what it raises goes through.
        widest_deg: samples are no further apart than this at first; every middle is tried as well.
        cut_in: where a line will not do, into how many (even); more where few bearings cost as much as many.

    Returns:
        (K,) bearings, rising, and (C, K) values.
    """
    left, right = _first_pairs(pieces, widest_deg)
    tried = (left + right) / 2.0
    at = np.unique(np.concatenate([left, tried, right]))
    values = curves(at)
    while True:
        tick()
        seen = [values[:, np.searchsorted(at, where)] for where in (left, tried, right)]
        bent = error(*seen) > tolerance
        bent &= right - left > 2.0 * _NEAREST_DEG
        if not bent.any():
            return at, values
        steps = np.arange(2.0 * cut_in + 1.0) / (2.0 * cut_in)
        points = left[bent][:, None] + (right - left)[bent][:, None] * steps
        points[:, cut_in], points[:, -1] = tried[bent], right[bent]
        fresh = np.setdiff1d(points, at)
        left, tried, right = points[:, :-2:2].ravel(), points[:, 1::2].ravel(), points[:, 2::2].ravel()
        at, values = merged(at, values, fresh, curves(fresh))


def merged(at: Floats, values: Floats, more_at: Floats, more: Floats) -> tuple[Floats, Floats]:
    """Samples (K,), (C, K) and more of them as one, rising."""
    every = np.concatenate([at, more_at])
    order = np.argsort(every, kind="stable")
    return every[order], np.concatenate([values, more], axis=1)[:, order]


def piece_of(pieces: Pieces, at: Floats) -> Indices:
    """(K,) index of the piece that each bearing lies in; pieces rise and do not overlap."""
    return np.searchsorted(np.array([start for start, _ in pieces]), at, side="right") - 1


def crossing(at: Floats, spare: Floats) -> float:
    """Where a curve that starts above nothing first comes down to it; its end where it never does."""
    below = np.flatnonzero(spare <= 0.0)
    if not below.size or below[0] == 0:
        return float(at[below[0] if below.size else -1])
    k = int(below[0])
    share = spare[k - 1] / (spare[k - 1] - spare[k])
    return float(at[k - 1] + share * (at[k] - at[k - 1]))


def _first_pairs(pieces: Pieces, widest_deg: float) -> tuple[Floats, Floats]:
    left, right = [np.zeros(0)], [np.zeros(0)]
    for start, end in pieces:
        edges = np.linspace(start, end, max(int(np.ceil((end - start) / widest_deg)), 1) + 1)
        left.append(edges[:-1])
        right.append(edges[1:])
    return np.concatenate(left), np.concatenate(right)
