"""When stays stand over mask and minimum elevation, all stays at once.

These moments are found one limit at a time and then intersected, since each limit alone is smooth where the
higher of both, taken as one, would have corners.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from core.base.angles import Floats, Indices
from core.passes.cones import over_cone
from core.passes.looks import Looks
from core.passes.masks import MaskPieces, over_mask
from core.passes.stays import SHORTEST_S, TIME_TOLERANCE_S, StayTable
from core.place.site import HorizonPoint


class Stretches(NamedTuple):
    """Stretches of time (N,) in stays, by stay and time, POSIX seconds."""

    stay: Indices
    start_utc_s: Floats
    end_utc_s: Floats


def stretches_in_sight(
    table: StayTable, horizon: Sequence[HorizonPoint], minimum_elevation_deg: float
) -> Stretches:
    """When the stays are over mask and minimum elevation; touches of a millisecond are left out."""
    if not table.satellites:
        return Stretches(np.zeros(0, dtype=np.intp), np.zeros(0), np.zeros(0))
    over = Stretches(np.arange(table.start_utc_s.size), table.start_utc_s, table.end_utc_s)
    walled = any(point.elevation_deg > minimum_elevation_deg for point in horizon)
    if not walled and minimum_elevation_deg <= table.floor_deg:
        return over
    looks = Looks.along(table.paths)
    if minimum_elevation_deg > table.floor_deg:
        low_piece, low, _, high = over_cone(looks, minimum_elevation_deg)
        stay = table.paths.owner[low_piece]
        # The search's own crossings, found once more, are the stay's ends.
        low = np.where(np.abs(low - table.start_utc_s[stay]) < TIME_TOLERANCE_S, -np.inf, low)
        high = np.where(np.abs(high - table.end_utc_s[stay]) < TIME_TOLERANCE_S, np.inf, high)
        over = _both(over, Stretches(stay, low, high))
    if walled:
        over = _both(over, Stretches(*over_mask(table, looks, MaskPieces.of(horizon))))
    return _without_touches(over)


def _both(one: Stretches, other: Stretches) -> Stretches:
    """Where both are."""
    stay = np.concatenate([one.stay, one.stay, other.stay, other.stay])
    utc_s = np.concatenate([one.start_utc_s, one.end_utc_s, other.start_utc_s, other.end_utc_s])
    step = np.repeat([1, -1, 1, -1], [one.stay.size, one.stay.size, other.stay.size, other.stay.size])
    order = np.lexsort((utc_s, stay))
    first = np.flatnonzero(np.cumsum(step[order]) == 2)
    low, high = order[first], order[first + 1]
    lasting = utc_s[high] > utc_s[low]
    return Stretches(stay[low][lasting], utc_s[low][lasting], utc_s[high][lasting])


def _without_touches(over: Stretches) -> Stretches:
    """Joined over gaps of less than a millisecond; without what is as short."""
    if not over.stay.size:
        return over
    apart = (np.diff(over.stay) != 0) | (over.start_utc_s[1:] - over.end_utc_s[:-1] >= SHORTEST_S)
    first, last = np.flatnonzero(np.append(True, apart)), np.flatnonzero(np.append(apart, True))
    stay, start, end = over.stay[first], over.start_utc_s[first], over.end_utc_s[last]
    lasting = end - start >= SHORTEST_S
    return Stretches(stay[lasting], start[lasting], end[lasting])
