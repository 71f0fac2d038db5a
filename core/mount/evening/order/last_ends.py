"""Which end of a run is the last one up to a moment, for all runs and all moments at once.

Moments are numbered (`Rows.moments_s`). Of every run there is an entry for each moment from the one before
its first end up to its last; before that there is none, and afterwards it stays the last.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Indices
from core.base.ragged import ranges
from core.mount.evening.order.rows import Rows
from core.mount.evening.order.runs import Runs


@dataclass(frozen=True, eq=False)
class LastEnds:
    """The table: D entries, run after run.

    Attributes:
        base: (G,) the first entry of each run, which stands for no end.
        before: (G,) the moment before its first end.
        reach: (G,) how many more entries it has.
        place: (D,) the place of the end among those of the runs; one below the run's first for none.
        sample: (D,) its flat index; for none the one beyond all samples.
    """

    base: Indices
    before: Indices
    reach: Indices
    place: Indices
    sample: Indices

    def entries(self, runs: Indices, upto: Indices) -> Indices:
        """(...) the entry of some runs for the last end up to some moments."""
        within = upto - self.before[runs]
        np.maximum(within, 0, out=within)
        np.minimum(within, self.reach[runs], out=within)
        within += self.base[runs]
        return within


def last_ends(rows: Rows, runs: Runs) -> LastEnds:
    """The table of some runs."""
    moment = rows.moment[runs.sample]
    before, last = moment[runs.first] - 1, moment[runs.beyond - 1]
    reach = last - before
    base = np.cumsum(reach + 1) - reach - 1
    counts = np.diff(moment, append=0)
    counts[runs.beyond - 1] = 1
    _run, end = ranges(runs.first, runs.beyond)
    none = np.cumsum(runs.beyond - runs.first) - (runs.beyond - runs.first)
    counts = counts[end]
    counts[none] += 1
    place = np.repeat(end, counts)
    sample = runs.sample[place]
    place[base] -= 1
    sample[base] = rows.row_of.size
    return LastEnds(base, before, reach, place, sample)
