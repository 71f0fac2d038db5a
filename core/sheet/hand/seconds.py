"""At which seconds a stretch has a line: stepped by the angle on the sky, no closer than the hand can set.

Lines are chosen by sky angle, not by time: the boresight's path is divided into equal pieces, so that the
beam never has further to go from one line to the next than the step.
"""

from __future__ import annotations

import math

import numpy as np

from core.base.angles import Floats
from core.mount.evening.drawn import DrawnPass

#: To read a line and set both dials takes a hand about so long, and at the least so long. Common practice,
#: no source.
HAND_S, QUICKEST_S = 8.0, 4.0


def boresight_path_deg(m_deg: Floats, e_deg: Floats) -> Floats:
    """(N,) degrees the boresight has moved on the sky since the first sample."""
    m, e = np.radians(m_deg), np.radians(e_deg)
    looks = np.stack([np.cos(e) * np.sin(m), np.cos(e) * np.cos(m), np.sin(e)])
    chord = np.linalg.norm(np.diff(looks, axis=1), axis=0)
    steps = np.degrees(2.0 * np.arcsin(np.clip(chord / 2.0, 0.0, 1.0)))
    return np.concatenate([[0.0], np.cumsum(steps)])


def stepped_seconds(
    drawn: DrawnPass, path_deg: Floats, start_s: float, end_s: float, step_deg: float
) -> Floats:
    """(K,) whole seconds after ``start_s`` and before ``end_s``: equal pieces of the path.

    Args:
        drawn: the pass.
        path_deg: (N,) its boresight's path, as `boresight_path_deg` gives it.
        start_s, end_s: whole seconds that have lines of their own.
        step_deg: a piece is no longer, but where the hand needs more time: then twice as long at most,
            unless even the quickest hand has none.
    """
    start, end = (float(np.interp(t, drawn.utc_s, path_deg)) for t in (start_s, end_s))
    pieces = max(math.ceil((end - start) / step_deg - 1e-9), 1)
    marks = start + (end - start) * np.arange(1, pieces) / pieces
    seconds = np.unique(np.floor(np.interp(marks, path_deg, drawn.utc_s) + 0.5))
    seconds = seconds[(seconds > start_s) & (seconds < end_s)]
    gone = np.interp(seconds, drawn.utc_s, path_deg) - start
    return _no_closer(seconds, gone, start_s, end_s, 2.0 * step_deg)


def _no_closer(
    seconds: Floats, gone_deg: Floats, start_s: float, end_s: float, furthest_deg: float
) -> Floats:
    """Without those that the hand has no time for.

    Two lines are `HAND_S` apart where the satellite goes no further than ``furthest_deg`` in that time, and
    `QUICKEST_S` in any case, the one that ends the stretch included.
    """
    kept, last_s, last_deg = [], start_s, 0.0
    for second, gone in zip(seconds.tolist(), gone_deg.tolist(), strict=True):
        late = second - last_s >= HAND_S or (
            second - last_s >= QUICKEST_S and gone - last_deg >= furthest_deg
        )
        if late and end_s - second >= QUICKEST_S:
            kept.append(second)
            last_s, last_deg = second, gone
    return np.array(kept, dtype=np.float64)
