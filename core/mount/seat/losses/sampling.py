"""Sampling curves over bearings: as few samples as keep straight lines between them within a tolerance.

One sample of what a pass loses costs a simulation of the pass, and over the circle there are some hundred
passes by four means, so an even grid fine enough for the steepest stretch is out of the question. The curves
bend nowhere for most of the circle and sharply in a few places:

    loss                      .---o---.                 samples at both ends and in the middle of every
        o-------o-------o----'         '---o----        stretch: one whose middle lies off the straight line
                         ^ cut again here               between its ends is cut and tried again

Where a way begins or ceases to hold, the curves jump. A line laid across a jump is wrong however finely it is
cut, so the known jumps (*breaks*) divide the circle into pieces beforehand, and both sides of each are
sampled. A jump that nobody told of is closed in on until it is `_NEAREST_DEG` wide.

A middle may lie on its line by chance, where the curve is below it on one side and bends up on the other. A
line that such a bend could hide in is told by its neighbours: they are steeper or less steep by more than the
tolerance over its width. It is cut once more, until it is too narrow to hide anything.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import places_in
from core.base.units import INSIDE_DEG

#: Stands for the seconds lost by a means that is not to be had. Not infinite, since a straight line between
#: two infinite values is no number; no true loss comes near it.
NONE_S = 1e12
#: What a straight line between samples may be out by, seconds lost.
OUT_BY_S = 0.4
#: Both sides of a break are sampled this far from it, beyond the tolerance of "inside".
BESIDE_DEG = 2.0 * INSIDE_DEG
#: No pair of samples nearer than this is cut again.
_NEAREST_DEG = 0.04

#: Stretches of bearing without a known break inside, (from, to) in degrees each.
Pieces = tuple[tuple[float, float], ...]
#: (C, Z) values of C curves at (Z,) bearings, in degrees.
Curves = Callable[[Floats], Floats]
#: (Z,) how wrong a straight line is, of values (C, Z) at its left end, in its middle and at its right end.
LineError = Callable[[Floats, Floats, Floats], Floats]


def sample_curves(
    pieces: Pieces,
    curves: Curves,
    line_error: LineError,
    tolerance: float,
    tick: Callable[[], None],
    widest_deg: float = 8.0,
    cut_into: int = 2,
) -> tuple[Floats, Floats]:
    """The curves on each piece (its ends included), until straight lines between the samples will do.

    Args:
        pieces: where to sample.
        curves: asked for many bearings at once.
        line_error: of straight lines.
        tolerance: what that may be.
        tick: called between rounds; what it raises goes through.
        widest_deg: samples are no further apart than this at first; every middle is tried as well.
        cut_into: into how many a line that will not do is cut, an even number; more than two where few
            bearings cost as much as many.

    Returns:
        (K,) bearings, rising, and (C, K) values.
    """
    left, right = _first_pairs(pieces, widest_deg)
    middle = (left + right) / 2.0
    at = np.unique(np.concatenate([left, middle, right]))
    values = curves(at)
    while True:
        tick()
        seen = [values[:, np.searchsorted(at, where)] for where in (left, middle, right)]
        bent = line_error(*seen) > tolerance
        bent &= right - left > 2.0 * _NEAREST_DEG
        if not bent.any():
            hiding = _hiding(pieces, at, values, line_error, tolerance)
            if not hiding.size:
                return at, values
            left, right = at[hiding], at[hiding + 1]
            middle = (left + right) / 2.0
            at, values = merged(at, values, middle, curves(middle))
            continue
        steps = np.arange(2.0 * cut_into + 1.0) / (2.0 * cut_into)
        points = left[bent][:, None] + (right - left)[bent][:, None] * steps
        points[:, cut_into], points[:, -1] = middle[bent], right[bent]
        fresh = np.setdiff1d(points, at)
        left, middle, right = points[:, :-2:2].ravel(), points[:, 1::2].ravel(), points[:, 2::2].ravel()
        at, values = merged(at, values, fresh, curves(fresh))


def _hiding(pieces: Pieces, at: Floats, values: Floats, line_error: LineError, tolerance: float) -> Indices:
    """Which lines (from sample k to the next) lie beside one so much steeper that they may hide a bend."""
    width = np.diff(at)
    middle = at[:-1] + width / 2.0
    piece = piece_of(pieces, middle)
    lines = np.flatnonzero(middle < np.array([end for _, end in pieces])[piece])
    one, next_ = lines[:-1], lines[1:]
    # Across a break curves may bend as well; those that jump there tell nothing of each other.
    touch = at[next_] - at[one + 1] <= 3.0 * BESIDE_DEG
    one, next_ = one[touch], next_[touch]
    slope = np.diff(values, axis=1) / width
    steeper = slope[:, next_] - slope[:, one]
    steeper[np.abs(values[:, next_] - values[:, one + 1]) > tolerance] = 0.0
    steeper[np.maximum(values[:, one], values[:, next_ + 1]) >= NONE_S] = 0.0
    hides = np.zeros(width.size, dtype=bool)
    for line, end in ((one, one + 1), (next_, next_)):
        off = steeper * width[line]
        # A curve that bends evenly is off its line by an eighth of this, as its middle has told already.
        far = np.flatnonzero((np.abs(off) / 8.0 > tolerance).any(axis=0))
        here, half = values[:, end[far]], off[:, far] / 2.0
        hides[line[far]] |= line_error(here - half, here, here - half) / 4.0 > tolerance
    return np.flatnonzero(hides & (width > 2.0 * _NEAREST_DEG))


def merged(at: Floats, values: Floats, more_at: Floats, more: Floats) -> tuple[Floats, Floats]:
    """Samples (K,), (C, K) and more of them as one, rising."""
    every = np.concatenate([at, more_at])
    order = np.argsort(every, kind="stable")
    return every[order], np.concatenate([values, more], axis=1)[:, order]


def piece_of(pieces: Pieces, at: Floats) -> Indices:
    """(K,) index of the piece that each bearing lies in; pieces rise and do not overlap."""
    return np.searchsorted(np.array([start for start, _ in pieces]), at, side="right") - 1


def _first_pairs(pieces: Pieces, widest_deg: float) -> tuple[Floats, Floats]:
    start, end = np.array(pieces).reshape(-1, 2).T
    parts = np.maximum(np.ceil((end - start) / widest_deg), 1.0).astype(np.intp)
    piece, place = np.repeat(np.arange(parts.size), parts), places_in(parts)
    width = ((end - start) / parts)[piece]
    right = start[piece] + (place + 1.0) * width
    right[np.cumsum(parts) - 1] = end
    return start[piece] + place * width, right
