"""The least distance between two straight lines of finite length in space, exactly.

The squared distance of points p1 + s d1 and p2 + t d2 is a convex quadratic in s and t over the unit square,
so its least is either where its gradient is nothing, if that lies inside, or on one of the square's sides,
where it is the distance of an end to the other line. (The closest points of two lines in this form: C.
Ericson, Real-Time Collision Detection, section 5.1.9; D. Eberly, Robust Computation of Distance Between Line
Segments.) Taking the least of all five needs no branches and no tolerance: parallel lines have their least on
a side.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats


def least_distance(first: Floats, second: Floats) -> Floats:
    """(...) least distances of lines (..., 2, 3) and (..., 2, 3), both ends each; shapes broadcast."""
    p1, p2 = first[..., 0, :], second[..., 0, :]
    q1, q2 = first[..., 1, :], second[..., 1, :]
    d1, d2, apart = q1 - p1, q2 - p2, p1 - p2
    a, e, b = _dot(d1, d1), _dot(d2, d2), _dot(d1, d2)
    c, f = _dot(d1, apart), _dot(d2, apart)
    whole = _dot(apart, apart)
    # Ends of the first on the second, then ends of the second on the first, from the quadratic's six terms.
    least = np.minimum(_on_line(whole, f, e), _on_line(whole + 2.0 * c + a, f + b, e))
    least = np.minimum(least, _on_line(whole, -c, a))
    least = np.minimum(least, _on_line(whole - 2.0 * f + e, b - c, a))
    det = a * e - b * b
    safe = np.where(det > 0.0, det, 1.0)
    s, t = (b * f - c * e) / safe, (a * f - b * c) / safe
    inside = (det > 0.0) & (s > 0.0) & (s < 1.0) & (t > 0.0) & (t < 1.0)
    between = whole + s * (a * s - 2.0 * b * t + 2.0 * c) + t * (e * t - 2.0 * f)
    least = np.where(inside, np.minimum(least, between), least)
    return np.asarray(np.sqrt(np.maximum(least, 0.0)))


def _dot(one: Floats, other: Floats) -> Floats:
    return np.asarray((one * other).sum(axis=-1))


def _on_line(square: Floats, along: Floats, length_square: Floats) -> Floats:
    """Squared distance of a point to a line: ``square`` to its start, ``along`` on its direction."""
    share = np.clip(along / np.where(length_square > 0.0, length_square, 1.0), 0.0, 1.0)
    return np.asarray(square - share * (2.0 * along - share * length_square))
