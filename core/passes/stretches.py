"""When stays stand over mask and minimum elevation, all stays at once.

These moments are found one limit at a time and then intersected, since each limit alone is smooth where the
higher of both, taken as one, would have corners.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import joined
from core.passes.cones import over_cone
from core.passes.looks import Looks
from core.passes.mask_pieces import MaskPieces
from core.passes.masks import over_mask
from core.passes.over_zero import SHORTEST_S, TIME_TOLERANCE_S
from core.passes.stays import StayTable
from core.place.site import HorizonPoint

#: Looks at a piece of path; from one to the next a cubic through both is within a few metres of it.
_LOOKS = 13


class InSight(NamedTuple):
    """Stretches of time (N,) in stays, by stay and time, POSIX seconds."""

    stay: Indices
    start_utc_s: Floats
    end_utc_s: Floats


def stretches_in_sight(
    table: StayTable, horizon: Sequence[HorizonPoint], minimum_elevation_deg: float
) -> InSight:
    """When the stays are over mask and minimum elevation; touches of a millisecond are left out."""
    limits = [InSight(np.arange(len(table.satellites)), table.start_utc_s, table.end_utc_s)]
    walled = any(point.elevation_deg > minimum_elevation_deg for point in horizon)
    if not walled and minimum_elevation_deg <= table.floor_deg:
        return limits[0]
    looks = Looks.along(table.paths, _LOOKS)
    owner = table.paths.owner
    if minimum_elevation_deg > table.floor_deg:
        piece, start, _, end = over_cone(looks, minimum_elevation_deg)
        limits.append(InSight(owner[piece], start, end))
    if walled:
        limits.append(InSight(*over_mask(table, looks, MaskPieces.of(horizon))))
    stay, start, end = _in_all(limits)
    # A crossing that the search has found already is the stay's end, to the bit.
    ends = (start, table.start_utc_s[stay]), (end, table.end_utc_s[stay])
    return InSight(stay, *(np.where(np.abs(new - old) < TIME_TOLERANCE_S, old, new) for new, old in ends))


def _in_all(limits: Sequence[InSight]) -> InSight:
    """Where all are, joined over gaps of less than a millisecond, without what is as short."""
    ends = [
        (limit.stay, moments, step)
        for limit in limits
        for moments, step in ((limit.start_utc_s, 1), (limit.end_utc_s, -1))
    ]
    stay, utc_s = (np.concatenate(column) for column in list(zip(*ends, strict=True))[:2])
    step = np.concatenate([np.full(moments.size, step) for _, moments, step in ends])
    order = np.lexsort((utc_s, stay))
    low = np.flatnonzero(np.cumsum(step[order]) == len(limits))
    stay, start, end = stay[order[low]], utc_s[order[low]], utc_s[order[low + 1]]
    first, last = joined(stay, start, end, SHORTEST_S)
    lasting = end[last] - start[first] >= SHORTEST_S
    first, last = first[lasting], last[lasting]
    return InSight(stay[first], start[first], end[last])
