"""Paths laid through exact states.

A low satellite sweeps half a radian a pass, and over so little of a circle a polynomial through ten exact
positions is as good as exact: over a day of 75 amateur satellites it was 0.2 mm off at worst in low orbits,
1 cm in the others. So most passes cost ten states of SGP4; crossings, peaks and samples are then read off the
polynomial. A piece whose last coefficients say that ten were too few (near the perigee of an eccentric orbit)
is cut in two and asked again.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.polynomial import chebyshev

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import parted
from core.passes.exact import ExactStates
from core.passes.paths import Paths

#: Exact states of a piece, at the roots of the Chebyshev polynomial of this degree.
_STATES = 10
#: Angle over the ground, at mean pace, that a piece is first given at most.
_PIECE_RAD = 1.2
#: A piece is cut in two while its last coefficient is above this (km); what lies beyond it is far smaller.
_TAIL_KM = 3e-6
#: No piece is cut below this length (s): a jump in SGP4 itself would be halved for ever.
_SHORTEST_PIECE_S = 4.0

_NODES = np.cos(np.pi * (np.arange(_STATES) + 0.5) / _STATES)
#: Takes values at the nodes to coefficients (Mason and Handscomb, Chebyshev Polynomials, 2003, section 6.3).
_TO_COEFFICIENTS = 2.0 / _STATES * chebyshev.chebvander(_NODES, _STATES - 1)
_TO_COEFFICIENTS[:, 0] /= 2.0


class Spans(NamedTuple):
    """Stretches of time of some satellites, (S,) each, by satellite and time.

    Attributes:
        which: position of the satellite's element set.
        low, high: start and end, POSIX seconds.
    """

    which: Indices
    low: Floats
    high: Floats


def lay_paths(states: ExactStates, spans: Spans) -> Paths:
    """The paths of satellites over some spans, which own their pieces.

    A satellite that fails within a span (an orbit that dips into the ground between two samples of the
    search) is given up from that span on: neither it nor a later one has pieces.
    """
    angle = states.orbits.mean_rad_s[spans.which] * (spans.high - spans.low)
    parts = np.maximum(np.ceil(angle / _PIECE_RAD), 1.0).astype(np.intp)
    span, share = parted(parts)
    length_s = (spans.high - spans.low)[span]
    half_s = 0.5 * length_s / parts[span]
    middle = spans.low[span] + share * length_s + half_s
    done: list[Paths] = []
    while span.size:
        code, coefficients = _coefficients(states, spans.which[span], middle, half_s)
        _give_up(states, spans, span, code)
        long = np.abs(coefficients[:, :, -1]).max(axis=1) > _TAIL_KM
        long &= (half_s > _SHORTEST_PIECE_S) & (code == 0)
        kept, cut = np.flatnonzero(~long), np.repeat(np.flatnonzero(long), 2)
        done.append(Paths(span[kept], middle[kept], half_s[kept], coefficients[kept]))
        half_s = 0.5 * half_s[cut]
        middle, span = middle[cut], span[cut]
        middle[::2] -= half_s[::2]
        middle[1::2] += half_s[1::2]
    return _in_order(done, spans, states.followed(spans.which, spans.low))


def _coefficients(
    states: ExactStates, which: Indices, middle: Floats, half_s: Floats
) -> tuple[Indices, Floats]:
    """SGP4's worst code (P,) and the coefficients (P, 3, 10) of pieces about these middles."""
    code, position = states.positions(which, middle[:, None], half_s[:, None] * _NODES)
    worst = code.max(axis=1)
    if worst.any():
        position[code != 0] = 0.0
    return worst, position.swapaxes(1, 2) @ _TO_COEFFICIENTS


def _give_up(states: ExactStates, spans: Spans, span: Indices, code: Indices) -> None:
    """Satellites that fail within a span are followed up to its start, the earliest such one."""
    for broken in np.flatnonzero(code):
        which, low = spans.which[span[broken]], spans.low[span[broken]]
        if states.followed(which, low):
            states.give_up(which, low, code[broken])


def _in_order(pieces: list[Paths], spans: Spans, kept: Flags) -> Paths:
    """All pieces in one, by span and time, of the spans that are kept (S,)."""
    every = Paths.joined(pieces, [0] * len(pieces))
    share = (every.middle_utc_s - spans.low[every.owner]) / (spans.high - spans.low)[every.owner]
    # One key sorts in a fifth of the time of two, since each round's pieces are in order.
    order = np.argsort(every.owner + share, kind="stable")
    order = order[kept[every.owner[order]]]
    return every.taken(order, every.owner[order])
