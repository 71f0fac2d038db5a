"""Curves over a circle of bearings that are smooth but for known breaks: sampled as finely as they need.

Between two breaks a curve is taken as straight from sample to sample; where the middle of two samples shows
that it is not, it is sampled again. A jump that no break tells of is closed in on until it is narrow.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.angles import Floats

#: Stands for infinite: nothing is lost between two of these, and no finite loss comes near it.
NEVER = 1e12
#: Samples of a piece are no further apart than this at first; every middle is tried as well.
_WIDEST_DEG = 5.0
#: No pair of samples nearer than this is split again.
_NEAREST_DEG = 0.01

#: (C, Z) curves at (Z,) bearings, in degrees.
Curves = Callable[[Floats], Floats]
#: (C, Z) curves as far as they matter: what is compared to say whether a straight line will do.
Relevant = Callable[[Floats], Floats]


def sampled(
    pieces: tuple[tuple[float, float], ...],
    curves: Curves,
    relevant: Relevant,
    tolerance: float,
    tick: Callable[[], None],
) -> tuple[Floats, Floats]:
    """The curves on each piece (its ends included), until straight lines between the samples will do.

    Args:
        pieces: (from, to) each, inside which the curves have no known break.
        curves: asked for many bearings at once.
        relevant: applied to values and to straight lines before they are compared.
        tolerance: what a straight line may be out by, in the middle of two samples.
        tick: called between rounds; what it raises goes through.

    Returns:
        (K,) bearings, rising, and (C, K) values.
    """
    left, right = _first_pairs(pieces)
    at = np.unique(np.concatenate([left, right]))
    values = curves(at)
    while left.size:
        tick()
        middle = (left + right) / 2.0
        seen = curves(middle)
        straight = (values[:, np.searchsorted(at, left)] + values[:, np.searchsorted(at, right)]) / 2.0
        bent = np.abs(relevant(seen) - relevant(straight)).max(axis=0) > tolerance
        bent &= right - left > 2.0 * _NEAREST_DEG
        at = np.concatenate([at, middle])
        order = np.argsort(at, kind="stable")
        at, values = at[order], np.concatenate([values, seen], axis=1)[:, order]
        left, right = np.concatenate([left[bent], middle[bent]]), np.concatenate([middle[bent], right[bent]])
    return at, values


def _first_pairs(pieces: tuple[tuple[float, float], ...]) -> tuple[Floats, Floats]:
    left, right = [np.zeros(0)], [np.zeros(0)]
    for start, end in pieces:
        edges = np.linspace(start, end, max(int(np.ceil((end - start) / _WIDEST_DEG)), 1) + 1)
        left.append(edges[:-1])
        right.append(edges[1:])
    return np.concatenate(left), np.concatenate(right)
