"""What lies near the starts of a block: the last ends of runs, and what going on from them costs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Indices
from core.mount.evening.order.blocks import Block
from core.mount.evening.order.cells import Following
from core.mount.evening.order.rows import HOPELESS
from core.mount.evening.order.worth import Ints

Singles = NDArray[np.float32]

#: Seconds by which single precision may be wrong, and more.
_SINGLE_S = 0.05


@dataclass(frozen=True, eq=False)
class NearEnds:
    """Of the runs near a block, at each of its moments, the last end that comes into question.

    Attributes:
        run: (X,) the runs.
        change: (K, X) minus what changes cost from each run to each kind of starts.
        place: (T, X) its place among those of all runs; one below the run's first where there is none.
        worth: (T, X) E of it.
        base: the greatest of all.
        gap_s: (T, X) seconds there are to move from it, and those by which single precision may be wrong.
        azimuth_s, elevation_s: (T, X) as in `Runs`.
    """

    run: Indices
    change: Ints
    place: Indices
    worth: Ints
    base: int
    gap_s: Singles
    azimuth_s: Singles
    elevation_s: Singles


def near_ends(following: Following, block: Block) -> NearEnds:
    """Those of a block."""
    runs, last, near, moments = following.runs, following.last, block.near, block.moments
    entries = last.entries(near, following.upto[moments, None])
    place, worth = last.place.take(entries), following.end_value.take(last.sample.take(entries))
    gap_s = following.rows.moments_s[moments, None] - (following.mover.margin_s - _SINGLE_S)
    return NearEnds(
        run=near,
        change=following.before(runs.sample[runs.first[near]], block),
        place=place,
        worth=worth,
        base=max(int(worth.max()), HOPELESS),
        gap_s=(gap_s - runs.since_s.take(place)).astype(np.float32),
        azimuth_s=runs.azimuth_single.take(place),
        elevation_s=runs.elevation_single.take(place),
    )
