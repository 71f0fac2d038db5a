"""The whole path of a split, from AOS to LOS, as the axes make it: what is asked whether it strikes.

A move bends where an axis sets off, gets there, or has gained its speed; between these moments and the
track's own samples a path is taken as straight. The search for a split and the split that is told ask at the
same moments, so that what the one lets pass the other does not refuse.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.check.followed import CHUNK, FollowedPasses, Moments, chunks_of, ragged
from core.mount.check.split_moves import Arrivals, Moves, axes_at
from core.mount.clearance.keep_out import BEND_DEG
from core.mount.model.station import Axis

#: Steps of a move, beside where it bends, that are asked whether they strike.
_ASKED = 24
#: While an axis gains or loses speed its path is taken as straight where it bends by no more than this.
_BENT_DEG = BEND_DEG / 2.0
#: Places among a move's moments that are looked at before the whole of it.
_PLACES = slice(2, None, 4), slice(None)
#: Starts are told to this many seconds: POSIX seconds of our time have it exactly.
_TOLD_S = 2.0**-20


class Paths(NamedTuple):
    """Paths laid one after the other: of each moment which move (E,), when on the clock, both axes."""

    row: Indices
    moments_s: Floats
    m_deg: Floats
    e_deg: Floats


def told_s(start_s: Floats) -> Floats:
    """Starts as they are told, none later: POSIX seconds made of them and taken back are the same moments."""
    return np.asarray(np.floor(start_s / _TOLD_S) * _TOLD_S)


def moments_of(passes: FollowedPasses, moves: Moves, there: Arrivals) -> Floats:
    """(R, K) moments of each move, rising, at which its path may bend, and evenly between."""
    over_s = np.minimum(there.there_s, passes.end_s[moves.of_pass]) - moves.start_s
    mount = passes.mount
    bends = [there.elevation_start_s, there.elevation_s, there.azimuth_s]
    bends += _while_speed_changes(moves.start_s, there.azimuth_s, mount.azimuth)
    bends += _while_speed_changes(there.elevation_start_s, there.elevation_s, mount.elevation)
    corners = [np.clip(bend, moves.start_s, moves.start_s + over_s)[:, None] for bend in bends]
    even = moves.start_s[:, None] + np.linspace(0.0, 1.0, _ASKED + 1) * over_s[:, None]
    return np.sort(np.concatenate([even, *corners], axis=1), axis=1)


def _while_speed_changes(begin_s: Floats, end_s: Floats, axis: Axis) -> list[Floats]:
    """Moments (R,) each at which the path of an axis that gains speed, or loses it, is told."""
    gain = axis.acceleration_deg_s2
    if gain is None:
        return []
    most = max(axis.rates_deg_s)
    # A short move never reaches the axis' rate. A parabola over h seconds bends by gain h^2 / 8.
    gaining_s = np.minimum(most / gain, (end_s - begin_s) / 2.0)
    pieces = math.ceil(most / math.sqrt(8.0 * gain * _BENT_DEG))
    shares = [piece / pieces for piece in range(1, pieces + 1)]
    return [begin_s + share * gaining_s for share in shares] + [end_s - share * gaining_s for share in shares]


def whole_paths(passes: FollowedPasses, moves: Moves, there: Arrivals) -> Paths:
    """Moves (R,) from AOS to LOS: at the track's samples, and at their own moments."""
    own = moments_of(passes, moves, there)
    row, sample = ragged(passes.first[moves.of_pass], passes.count[moves.of_pass])
    row = np.concatenate([row, np.repeat(np.arange(own.shape[0]), own.shape[1])])
    moments_s = np.concatenate([passes.clock_s[sample], own.ravel()])
    order = np.lexsort((moments_s, row))
    row, moments_s = row[order], moments_s[order]
    at = passes.at(moments_s)
    m_deg = passes.m_deg(at, moves.from_row[row], moves.from_offset_deg[row])
    e_deg = at.of(passes.axis_deg, moves.from_row[row] * passes.samples)
    left = np.flatnonzero(moments_s > moves.start_s[row])
    after, late = row[left], Moments(at.index[left, None], at.past_s[left, None])
    m_left, e_left = axes_at(passes, moves.some(after), there.some(after), moments_s[left, None], late)
    m_deg[left], e_deg[left] = m_left[:, 0], e_left[:, 0]
    return Paths(row, moments_s, m_deg, e_deg)


def paths_strike(passes: FollowedPasses, moves: Moves, there: Arrivals) -> Flags:
    """(R,) some of the whole path strikes; asked only where there is a barring."""
    barring, struck = passes.barring, np.zeros(moves.start_s.size, dtype=bool)
    assert barring is not None
    for some in chunks_of(passes.count[moves.of_pass] + _ASKED + 4):
        paths = whole_paths(passes, moves.some(some), there.some(some))
        joined = paths.row[1:] == paths.row[:-1]
        hit = barring.along(paths.m_deg, paths.e_deg, joined)
        struck[some.start + paths.row[:-1][hit]] = True
    return struck


def moves_strike(passes: FollowedPasses, moves: Moves, there: Arrivals) -> Flags:
    """(R,) the axes strike something in a move; asked only where there is a barring."""
    struck = np.zeros(moves.start_s.size, dtype=bool)
    for first in range(0, struck.size, CHUNK // (_ASKED + 4)):
        some = slice(first, first + CHUNK // (_ASKED + 4))
        struck[some] = _moves_strike(passes, moves.some(some), there.some(some))
    return struck


def _moves_strike(passes: FollowedPasses, moves: Moves, there: Arrivals) -> Flags:
    barring, struck = passes.barring, np.zeros(moves.start_s.size, dtype=bool)
    assert barring is not None
    left, moments_s = np.arange(struck.size), moments_of(passes, moves, there)
    # Most of those that strike are found at a few places already, and need no further look.
    for few in _PLACES:
        there_s = moments_s[left, few]
        m_deg, e_deg = axes_at(passes, moves.some(left), there.some(left), there_s, passes.at(there_s))
        hit = barring.holds(m_deg, e_deg).any(axis=1)
        struck[left[hit]] = True
        left = left[~hit]
        m_deg, e_deg = m_deg[~hit], e_deg[~hit]
    struck[left] = barring.steps(m_deg, e_deg).any(axis=1)
    return struck
