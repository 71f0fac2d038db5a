"""What a pass loses with azimuth held by a stop, told at once for wherever the stop points.

A pass that is followed exactly, but where a stop holds azimuth, is off the beam while it is further beyond
the stop than the lag that the beam allows at its elevation. Beyond the clockwise stop, at x on the sky, that
is while azimuth less lag is more than x; so the seconds lost there are a function of x alone:

    azimuth - lag                           seconds off
      |        .-'''-.                      ----.
    x |------.'-------'.------     -->           '-.
      |    .'  seconds  '.                          '----.___
      +----------------------- time         -----------------o--- x

Straight between samples the first is straight between their values the second, with a corner at each. So a
pass is summed up once, and any number of seats are looked up.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.check.followed import FollowedPasses
from core.mount.check.ways import possible_postures

#: Rows lie so far apart on one line of keys, degrees, and reach so far to both sides.
_APART_DEG, _FAR_DEG = 1000.0, 400.0
#: A pass that turns further might be in the beam a full turn on.
_WIDEST_DEG = 180.0
#: Less than this is taken as this, so that no slope is without end.
_LEAST_DEG = 1e-6


class LossesAtStops:
    """Seconds off the beam at the stops, of P passes in the postures that the mount has.

    Args:
        passes: the passes.

    Attributes:
        told: (P,) or (2 P,) bool, upright and then over the top: the pass is followed exactly and turns so
            little that it can be told.
    """

    def __init__(self, passes: FollowedPasses) -> None:
        self._passes, postures = passes, len(possible_postures(passes.mount))
        some = slice(postures * passes.samples)
        first = np.concatenate([passes.first, passes.first + passes.samples])[: postures * passes.first.size]
        followed = passes.turned_deg.values[some] == np.tile(passes.azimuth_deg.values, postures)
        followed &= passes.axis_deg.values[some] == passes.wanted_deg.values[some]
        self.told = np.logical_and.reduceat(followed, first)
        self.told &= np.tile(passes.high_deg - passes.low_deg <= _WIDEST_DEG, postures)
        row = np.repeat(np.arange(first.size), np.tile(passes.count, postures))
        past = np.tile(passes.azimuth_deg.values - np.repeat(passes.low_deg, passes.count), postures)
        seconds, lag = np.tile(passes.interval_s, postures), passes.lag_deg.values[some]
        # Beyond the counter-clockwise stop it is the other way round.
        self._beyond = _SecondsAbove(row, past - lag, seconds), _SecondsAbove(row, -past - lag, seconds)

    def seconds_off(self, of_pass: Indices, posture_row: Indices, offset_deg: Floats) -> Floats:
        """(W,) seconds over the mask off the beam along ways that can be told."""
        row = of_pass + posture_row * self._passes.count.size
        low, high = (guard - offset_deg - self._passes.low_deg[of_pass] for guard in self._passes.guards_deg)
        return self._beyond[0].at(row, high) + self._beyond[1].at(row, -low)


class _SecondsAbove:
    """For how many seconds a curve of its samples is above any value.

    Args:
        row: (E,) of which row each sample is, rising.
        values: (E,) degrees, straight from each to the next of its row.
        seconds: (E,) counted from each to the next.
    """

    def __init__(self, row: Indices, values: Floats, seconds: Floats) -> None:
        rows, same = np.arange(row[-1] + 1), row[1:] == row[:-1]
        low, high = np.minimum(values[1:], values[:-1])[same], np.maximum(values[1:], values[:-1])[same]
        row, seconds = row[:-1][same], seconds[:-1][same]
        high = np.maximum(high, low + _LEAST_DEG)
        falls = seconds / (high - low)
        begins = np.full(rows.size, -_FAR_DEG)
        row_of = np.concatenate([rows, row, row, rows])
        key = _key(row_of, np.concatenate([begins, low, high, -begins]))
        order = np.argsort(key, kind="stable")
        self._key = key[order]
        bends = np.concatenate([0.0 * begins, falls, -falls, 0.0 * begins])[order]
        fallen = np.concatenate([[0.0], np.cumsum(np.cumsum(bends)[:-1] * np.diff(self._key))])
        begun = fallen[np.searchsorted(self._key, _key(rows, begins))]
        in_all = np.bincount(row, weights=seconds, minlength=rows.size)
        self._seconds = (in_all + begun)[row_of[order]] - fallen

    def at(self, row: Indices, value: Floats) -> Floats:
        """(W,) seconds above values of rows."""
        return np.asarray(np.interp(_key(row, value), self._key, self._seconds))


def _key(row: Indices, value: Floats) -> Floats:
    return np.asarray(row * _APART_DEG + np.clip(value, -_FAR_DEG, _FAR_DEG), dtype=np.float64)
