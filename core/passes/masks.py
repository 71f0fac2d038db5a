"""When stays stand over the horizon mask, all stays at once.

Paths are taken apart into sweeps, from one look to the next. A sweep that is plainly over or under all of the
mask that it passes is done with. The others are cut where azimuth is fast, where it turns and where it meets
corners of the mask, until along each azimuth runs one way over one straight piece of the mask, so that the
clearance over that piece is smooth there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180
from core.base.curves import corrected_roots, near_cubic_roots, turns_of_cubic
from core.passes.frames import angle_rates, azimuth_elevation
from core.passes.looks import Looks
from core.passes.mask_pieces import MaskPieces
from core.passes.over_zero import TIME_TOLERANCE_S, Curve, over_zero
from core.passes.paths import Paths
from core.passes.stays import StayTable

#: Along a sweep azimuth turns by no more than this, unless it is shorter than this in time.
_AZIMUTH_STEP_DEG = 40.0
_FINEST_S = 1e-4
#: Rows of what is seen: time, the beginnings of position and velocity, the angles and their rates.
_UTC, _POSITION, _VELOCITY = 0, 1, 4
_AZIMUTH, _ELEVATION, _AZIMUTH_RATE, _ELEVATION_RATE = range(7, 11)


@dataclass(frozen=True, eq=False)
class _Sweeps:
    """Parts of paths (N,).

    Attributes:
        paths: the paths.
        piece: the piece of path each lies on.
        low, high: (11, N) what is seen at its ends, rows as above.
    """

    paths: Paths
    piece: Indices
    low: Floats
    high: Floats

    @cached_property
    def width_s(self) -> Floats:
        """(N,) how long each lasts."""
        return np.asarray(self.high[_UTC] - self.low[_UTC])

    @cached_property
    def turn_deg(self) -> Floats:
        """(N,) how far azimuth turns, the short way."""
        return np.asarray(wrap_180(self.high[_AZIMUTH] - self.low[_AZIMUTH]))

    def cut(self, which: Indices, share: Floats) -> _Sweeps:
        """All of them, some of which (M,) are cut at shares (M,) of their length."""
        if not which.size:
            return self
        order = np.lexsort((share, which))
        which, share = which[order], share[order]
        utc_s = self.low[_UTC, which] + share * self.width_s[which]
        states = self.paths.at(self.piece[which], utc_s)
        parts = np.repeat(np.arange(self.piece.size), 1 + np.bincount(which, minlength=self.piece.size))
        cut = _Sweeps(
            self.paths, self.piece[parts], self.low.take(parts, axis=1), self.high.take(parts, axis=1)
        )
        ends = which + np.arange(which.size)
        cut.low[:, ends + 1] = cut.high[:, ends] = _sights(utc_s, *states, _angles(*states))
        return cut


def over_mask(table: StayTable, looks: Looks, mask: MaskPieces) -> tuple[Indices, Floats, Floats]:
    """When stays are over a mask: stay, start and end (N,) of parts that make up the stretches, in no order.

    They may reach beyond a stay. Of two parts that meet, one ends at the moment at which the other starts.
    """
    parts, sweeps = _between_looks(table, looks, mask)
    while (fast := np.flatnonzero(_is_fast(sweeps.turn_deg) & (sweeps.width_s > _FINEST_S))).size:
        sweeps = sweeps.cut(fast, np.full(fast.size, 0.5))
    sweeps = _cut_at_turns(sweeps, table)
    sweeps = _cut_at_corners(sweeps, mask)
    over = over_zero(sweeps.paths, _clearance(sweeps, mask))
    both = zip(parts, (over.piece, over.start_utc_s, over.end_utc_s), strict=True)
    piece, start, end = (np.concatenate(column) for column in both)
    return looks.paths.owner[piece], start, end


def _between_looks(
    table: StayTable, looks: Looks, mask: MaskPieces
) -> tuple[tuple[Indices, Floats, Floats], _Sweeps]:
    """What is plainly over the mask (piece, start and end), and the sweeps that are to be looked into."""
    utc_s, angles = looks.utc_s, _angles(looks.position_km, looks.velocity_km_s)
    lowest, highest = _elevations(angles[:, :, :-1], angles[:, :, 1:])
    over = lowest > mask.highest_deg.max()
    asks = ~over & (highest >= mask.lowest_deg.min())
    owner = looks.paths.owner[:, None]
    asks &= (utc_s[:, 1:] > table.start_utc_s[owner]) & (utc_s[:, :-1] < table.end_utc_s[owner])
    asked = np.flatnonzero(asks)
    # In a row there is one more look than there are stretches between looks.
    flat, at = angles.reshape(4, -1), asked + asked // asks.shape[1]
    low_mask, high_mask = _mask_passed(mask, flat.take(at, axis=1), flat.take(at + 1, axis=1))
    lowest, highest = lowest.take(asked), highest.take(asked)
    over.ravel()[asked] = lowest > high_mask
    asks.ravel()[asked] = (lowest <= high_mask) & (highest >= low_mask)
    edges = np.diff(over.astype(np.int8), axis=1, prepend=0, append=0)
    begun, ended = np.nonzero(edges > 0), np.nonzero(edges < 0)
    asked = np.flatnonzero(asks)
    piece = asked // asks.shape[1]
    position, velocity = looks.position_km.reshape(-1, 3), looks.velocity_km_s.reshape(-1, 3)
    low, high = (
        _sights(utc_s.take(at), position.take(at, axis=0), velocity.take(at, axis=0), flat.take(at, axis=1))
        for at in (asked + piece, asked + piece + 1)
    )
    return (begun[0], utc_s[begun], utc_s[ended]), _Sweeps(looks.paths, piece, low, high)


def _angles(position_km: Floats, velocity_km_s: Floats) -> Floats:
    """Azimuth, elevation and the rates of both (4, ...), deg and deg/s."""
    return np.stack([*azimuth_elevation(position_km), *angle_rates(position_km, velocity_km_s)])


def _sights(utc_s: Floats, position_km: Floats, velocity_km_s: Floats, angles: Floats) -> Floats:
    """What is seen at moments (N,): (11, N), rows as above."""
    return np.concatenate([utc_s[None], position_km.T, velocity_km_s.T, angles])


def _elevations(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """The least and the greatest elevation between angles (4, ...) and later ones; at a turn beyond all."""
    rises, still_rises = low[3] > 0.0, high[3] > 0.0
    lowest = np.where(~rises & still_rises, -90.0, np.minimum(low[1], high[1]))
    return lowest, np.where(rises & ~still_rises, 90.0, np.maximum(low[1], high[1]))


def _mask_passed(mask: MaskPieces, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """The lowest and the highest of the mask between angles (4, N) and later ones.

    Of all the mask where azimuth turns, or turns so far that it is not known which way.
    """
    turn_deg = np.asarray(wrap_180(high[0] - low[0]))
    lowest, highest = mask.extremes_between(*_bearings(low[0], turn_deg))
    anywhere = _is_fast(turn_deg) | ((low[2] > 0.0) != (high[2] > 0.0))
    lowest[anywhere], highest[anywhere] = mask.lowest_deg.min(), mask.highest_deg.max()
    return lowest, highest


def _bearings(azimuth_deg: Floats, turn_deg: Floats) -> tuple[Floats, Floats]:
    """The least and the greatest azimuth (N,) of turns from 0 to 360, -180 to 540."""
    return azimuth_deg + np.minimum(turn_deg, 0.0), azimuth_deg + np.maximum(turn_deg, 0.0)


def _is_fast(turn_deg: Floats) -> Flags:
    return np.asarray(np.abs(turn_deg) > _AZIMUTH_STEP_DEG)


def _cut_at_turns(sweeps: _Sweeps, table: StayTable) -> _Sweeps:
    """Cut at the peaks of the stays, and where azimuth begins to run the other way."""
    peak_utc_s = table.peak[sweeps.paths.owner[sweeps.piece], 0]
    peak = (peak_utc_s - sweeps.low[_UTC]) / sweeps.width_s
    at_peak = np.flatnonzero((peak > 0.0) & (peak < 1.0))
    rates = sweeps.low[_AZIMUTH_RATE], sweeps.high[_AZIMUTH_RATE]
    turning, turn = turns_of_cubic(sweeps.width_s, np.zeros(peak.size), sweeps.turn_deg, *rates)
    return sweeps.cut(np.concatenate([at_peak, turning]), np.concatenate([peak[at_peak], turn]))


def _cut_at_corners(sweeps: _Sweeps, mask: MaskPieces) -> _Sweeps:
    """Cut where azimuth meets corners of the mask.

    Azimuth is A where the height over the vertical plane through A is zero.
    """
    which, corner = mask.corners_between(*_bearings(sweeps.low[_AZIMUTH], sweeps.turn_deg))
    bearing_rad = np.radians(mask.start_deg[corner])
    cos, sin = np.cos(bearing_rad), np.sin(bearing_rad)
    low_utc_s, width_s = sweeps.low[_UTC].take(which), sweeps.width_s.take(which)

    def aside(some: Indices, share: Floats) -> tuple[Floats, Floats]:
        moments = low_utc_s[some] + share * width_s[some]
        position, velocity = (
            cos[some] * state[:, 0] - sin[some] * state[:, 1]
            for state in sweeps.paths.at(sweeps.piece[which[some]], moments)
        )
        return position, velocity * width_s[some]

    ends = (
        cos * end[east, which] - sin * end[east + 1, which]
        for east in (_POSITION, _VELOCITY)
        for end in (sweeps.low, sweeps.high)
    )
    guess = near_cubic_roots(width_s, *ends)
    longest_s = max(float(width_s.max(initial=0.0)), 1.0)
    zero, one = np.zeros(guess.size), np.ones(guess.size)
    return sweeps.cut(which, corrected_roots(aside, guess, zero, one, TIME_TOLERANCE_S / longest_s))


def _clearance(sweeps: _Sweeps, mask: MaskPieces) -> Curve:
    """How far sweeps are over the straight piece of mask that each passes, deg and deg/s."""
    low, high, turn_deg = sweeps.low, sweeps.high, sweeps.turn_deg
    middle_deg = low[_AZIMUTH] + 0.5 * turn_deg
    passed = mask.at(middle_deg)
    height_deg, slope = mask.line(passed, middle_deg), mask.slope[passed]

    def at(which: Indices, utc_s: Floats) -> tuple[Floats, Floats]:
        azimuth, elevation, azimuth_rate, rate = _angles(*sweeps.paths.at(sweeps.piece[which], utc_s))
        past = np.asarray(wrap_180(azimuth - middle_deg[which]))
        return elevation - height_deg[which] - slope[which] * past, rate - slope[which] * azimuth_rate

    rise_deg = 0.5 * turn_deg * slope
    ends = (
        low[_ELEVATION] - height_deg + rise_deg,
        high[_ELEVATION] - height_deg - rise_deg,
        low[_ELEVATION_RATE] - slope * low[_AZIMUTH_RATE],
        high[_ELEVATION_RATE] - slope * high[_AZIMUTH_RATE],
    )
    return Curve(sweeps.piece, low[_UTC], high[_UTC], ends, at)
