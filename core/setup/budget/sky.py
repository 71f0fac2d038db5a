"""What the terms do on the sky, to first order, at all moments of all passes at once.

An azimuth axis that is off by d shows on the sky as d cos E, an elevation axis as d. A lean of the azimuth
axis' top by t toward b carries the antennas by -t sin(A - b) sin E clockwise and -t cos(A - b) upward, t at
most. Seconds along the track count by how fast the satellite moves on the sky. All are small rotations, and
those of one draw add as vectors: crosswise (clockwise) and upward.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats
from core.setup.budget.terms.term import BOUND, DEVIATION, Absorbed, Channel, Part, Term, Turns
from core.setup.budget.worked import Moments

#: How much of a gear's play shows: half where it may lie on either flank, all of it on the other flank than
#: the one on which the dial was sighted.
_UNKNOWN_FLANK, _OTHER_FLANK = 0.5, 1.0
#: What turns the antennas sideways; the other axes raise or lower them.
_CROSSWISE: tuple[Turns, ...] = ("azimuth", "azimuth gear", "boom across")


def reach_on_sky(turns: Turns, moments: Moments, absorbed: Absorbed | None) -> tuple[Floats, Floats]:
    """(N,) clockwise and (N,) upward on the sky, degrees, of one degree (or second) of an axis' error."""
    if turns.startswith("lean"):
        return _lean_reach(turns, moments)
    if turns.startswith("track"):
        return _track_reach(turns, moments)
    size = np.where(moments.over, -1.0, 1.0)
    if turns.startswith("azimuth"):
        size = np.cos(np.radians(moments.elevation_deg))
    if turns.endswith("gear"):
        size = size * play_shown(turns, moments, absorbed)
    nothing = np.zeros_like(size)
    return (size, nothing) if turns in _CROSSWISE else (nothing, size)


def _lean_reach(turns: Turns, moments: Moments) -> tuple[Floats, Floats]:
    el = np.radians(moments.elevation_deg)
    beside = np.radians(moments.azimuth_deg - (90.0 if turns == "lean east" else 0.0))
    return -np.sin(beside) * np.sin(el), -np.cos(beside)


def _track_reach(turns: Turns, moments: Moments) -> tuple[Floats, Floats]:
    across, up = moments.across_deg_s, moments.up_deg_s
    if turns == "track, seconds":
        return across, up
    rate = np.maximum(np.hypot(across, up), 1e-12)
    return across / rate, up / rate


def play_shown(turns: Turns, moments: Moments, absorbed: Absorbed | None) -> Floats:
    """(N,) how much of the whole play an axis is off by: 0, a half or 1.

    Half where it is not known from which side its dial was sighted; else nothing while the axis turns that
    way, and all while it turns the other.
    """
    if turns == "azimuth gear":
        side = None if absorbed is None else absorbed.came_from
        forward = None if side is None else side == "left"
        rate = moments.across_deg_s
    else:
        forward = None if absorbed is None else absorbed.rose
        rate = np.where(moments.over, -moments.up_deg_s, moments.up_deg_s)
    if forward is None:
        return np.full(moments.utc_s.shape, _UNKNOWN_FLANK)
    return np.where(rate < 0.0 if forward else rate > 0.0, _OTHER_FLANK, 0.0)


def sizes_at(part: Part, moments: Moments) -> Floats:
    """(N,) a part's size at every moment; a step is no longer than the way that there is to go."""
    size = np.broadcast_to(np.array(part.sizes, dtype=float), (moments.count,))
    if part.turns == "track, degrees":
        size = np.minimum(size, moments.arc_deg / 2.0)
    return np.asarray(size[moments.row])


def squares(term: Term, moments: Moments, absorbed: Absorbed | None) -> Floats:
    """(N,) degrees squared on the sky of one size of every channel, added in squares."""
    total = np.zeros_like(moments.utc_s)
    for channel in term.channels:
        across, up = _carried(channel, moments, absorbed)
        total += across**2 + up**2
    return total


def variance(term: Term, moments: Moments, absorbed: Absorbed | None) -> Floats:
    """(N,) mean square of a term on the sky, degrees squared."""
    return DEVIATION[term.distribution] ** 2 * squares(term, moments, absorbed)


def bound_deg(term: Term, moments: Moments, absorbed: Absorbed | None) -> Floats:
    """(N,) how far a term can carry the antennas on the sky: its channels at their bounds, crosswise."""
    return np.asarray(BOUND[term.distribution] * np.sqrt(squares(term, moments, absorbed)))


def _carried(channel: Channel, moments: Moments, absorbed: Absorbed | None) -> tuple[Floats, Floats]:
    across, up = np.zeros_like(moments.utc_s), np.zeros_like(moments.utc_s)
    for part in channel:
        size = sizes_at(part, moments)
        one_across, one_up = reach_on_sky(part.turns, moments, absorbed)
        across, up = across + size * one_across, up + size * one_up
    return across, up
