"""The sweep cut into blocks of time: all of it that does not depend on what anything is worth.

No contact being shorter than the least, what ends within a block of that length began before it. Of each
block it is known beforehand which samples end and start in it, which runs of ends lie near, and which end of
each is the last before each moment; the sweep fills in values alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats, Indices
from core.mount.evening.order.changes import bits_of
from core.mount.evening.order.last_ends import LastEnds
from core.mount.evening.order.rows import Rows
from core.mount.evening.order.rules import GRID_S
from core.mount.evening.order.runs import Runs
from core.mount.evening.order.tables import EndTable, LongEnds, Starts, StartTable, long_ends, start_table

#: A block is no longer, so that what it needs stays in the processor's cache.
_LONGEST_BLOCK_S = 36.0 * GRID_S
#: Moments closer than this are taken for one.
SAME_S = 1e-6


@dataclass(frozen=True, eq=False)
class Block:
    """The samples from one moment up to another, that not included.

    Its starts stand in a table, row by moment, and so does `StartTable` all in one: ``table`` are its places.

    Attributes:
        number: which of all blocks.
        begin_s, stop_s: the moments.
        ends: places in `EndTable`.
        row: (A,) rows that have starts.
        table: places in `StartTable`, A x T of them.
        starts, kinds: which of `Starts`, and which kinds.
        moments: (T,) which moments, a stretch of all there are.
        over: so many runs are so long over that any start here is in time after them.
        near: (X,) those after them that have an end before some start.
        growth: (X,) for each second by which a move from one of their ends is late, one in time for the same
            start is worth so much less at least, in whole numbers.
        reminded: the remembered passes that can still be started, a bit each.
    """

    number: int
    begin_s: float
    stop_s: float
    ends: slice
    row: Indices
    table: slice
    starts: slice
    kinds: slice
    moments: slice
    over: int
    near: Indices
    growth: NDArray[np.float32]
    reminded: int

    def kinds_of(self, starts: Starts) -> tuple[Indices, Flags]:
        """(K,) row and posture of its kinds."""
        return starts.kind_row[self.kinds], starts.kind_over[self.kinds]


@dataclass(frozen=True, eq=False)
class Blocks:
    """All blocks by time, with what they have places in."""

    blocks: tuple[Block, ...]
    ends: EndTable
    long: LongEnds
    table: StartTable
    starts: Starts


class _Span(NamedTuple):
    begin_s: float
    stop_s: float


def blocks_of(rows: Rows, runs: Runs, last: LastEnds, longest_s: float) -> Blocks:
    """The blocks of some rows.

    Args:
        rows: laid out.
        runs, last: of their ends.
        longest_s: a gap that long has room for any move.
    """
    spans = list(_spans(rows))
    at = np.searchsorted([one.stop_s for one in spans], rows.moments_s, side="right")
    block_of = at[rows.moment]
    numbers = np.arange(len(spans) + 1)
    starts, block = _by_block(np.flatnonzero(rows.may_start), block_of)
    row, moment, over = rows.row_of[starts], rows.moment[starts], rows.over[starts]
    new = np.append(True, (block[1:] != block[:-1]) | (row[1:] != row[:-1]))[: starts.size]
    lane = np.flatnonzero(new)
    kind = np.flatnonzero(new | np.append(True, over[1:] != over[:-1])[: starts.size])
    upto = np.searchsorted(block, numbers)
    lane_row, lane_block, kind_block = row[lane], block[lane], block[kind]
    lanes, kinds = np.searchsorted(lane_block, numbers), np.searchsorted(kind_block, numbers)
    first, beyond = _moments_of(moment, upto)
    width = beyond - first
    offsets = np.concatenate([[0], np.cumsum(width * np.diff(lanes))])
    of_lane = (np.arange(lane.size) - lanes[lane_block]) * width[lane_block]
    moment -= np.repeat(first, np.diff(upto))
    cell = np.repeat(of_lane, np.diff(lane, append=starts.size)) + moment
    place = cell + np.repeat(offsets[:-1], np.diff(upto))
    table = start_table(rows, starts, place, int(offsets[-1]))
    every = Starts(
        sample=starts,
        cell=cell,
        moment=moment,
        kind=np.repeat(np.arange(kind.size) - kinds[kind_block], np.diff(kind, append=starts.size)),
        azimuth_s=runs.start_azimuth_s[starts].astype(np.float32),
        elevation_s=runs.start_elevation_s[starts].astype(np.float32),
        kind_row=row[kind],
        kind_over=over[kind],
    )
    ends, end_block = _by_block(runs.sample, block_of)
    ends_upto = np.searchsorted(end_block, numbers)
    begins_s = np.array([one.begin_s for one in spans])
    past = np.searchsorted(runs.last_s, begins_s - longest_s)
    near = [past[k] + np.flatnonzero(runs.first_s[past[k] :] < span.stop_s) for k, span in enumerate(spans)]
    growth = _growth(rows, runs, last, spans, near, longest_s)
    reminded = bits_of(rows.remembered_until_s >= begins_s[:, None]).tolist()
    row_in = [lane_row[lanes[k] : lanes[k + 1]] for k in range(len(spans))]
    blocks = tuple(
        Block(
            k,
            *span,
            ends=slice(ends_upto[k], ends_upto[k + 1]),
            row=row_in[k],
            table=slice(offsets[k], offsets[k + 1]),
            starts=slice(upto[k], upto[k + 1]),
            kinds=slice(kinds[k], kinds[k + 1]),
            moments=slice(first[k], beyond[k]),
            over=int(past[k]),
            near=near[k],
            growth=growth[k].astype(np.float32),
            reminded=reminded[k],
        )
        for k, span in enumerate(spans)
    )
    end_table = EndTable(ends, table.place[rows.latest_start[ends]], rows.whole[ends])
    return Blocks(blocks, end_table, long_ends(rows, end_table, table, ends_upto), table, every)


def _spans(rows: Rows) -> Iterator[_Span]:
    """From when to when each block is."""
    order = np.argsort(rows.last_s)
    first_s, last_s, least_s = rows.first_s[order], rows.last_s[order], rows.least_s[order]
    remembered_until_s = (rows.remembered_until_s + 2.0 * SAME_S).tolist()
    begin_s, end_s = 0.0, float(last_s[-1])
    while begin_s <= end_s:
        open_ = slice(int(np.searchsorted(last_s, begin_s)), None)
        # No contact that ends before then begins in the block.
        shortest_s = float((np.maximum(first_s[open_], begin_s) + least_s[open_]).min()) - 2.0 * SAME_S
        # What must be remembered is the same all through a block.
        later_s = (until_s for until_s in remembered_until_s if until_s > begin_s)
        stop_s = min(begin_s + _LONGEST_BLOCK_S, shortest_s, *later_s)
        yield _Span(begin_s, stop_s)
        # Where nothing is open before its end, the next block begins with what opens next.
        begin_s = max(stop_s, float(first_s[open_].min()))


def _growth(
    rows: Rows,
    runs: Runs,
    last: LastEnds,
    spans: list[_Span],
    near: list[Indices],
    longest_s: float,
) -> list[Floats]:
    """``growth`` of each block: the least between ends that may be the last in time for any of its starts."""
    counts = np.array([one.size for one in near])
    run = np.concatenate(near)
    limits_s = np.array([(span.begin_s - longest_s - SAME_S, span.stop_s) for span in spans]).T
    upto = np.repeat(np.searchsorted(rows.moments_s, limits_s, side="right") - 1, counts, axis=1)
    first, final = last.place[last.entries(run, upto)]
    first = np.maximum(first, runs.first[run])
    # Row after row backward, so that nothing is gone through between them.
    order = np.argsort(-first)
    bounds = np.column_stack([first[order] + 1, final[order] + 1]).ravel()
    found = np.full(run.size, np.inf)
    found[order] = np.minimum.reduceat(np.append(runs.growth, [np.inf, np.inf]), bounds)[::2]
    found = np.where((final > first) & (found > 0.0), found, 0.0) / (1.0 + runs.speed[run])
    return np.split(found, np.cumsum(counts)[:-1])


def _by_block(samples: Indices, block_of: Indices) -> tuple[Indices, Indices]:
    """Samples by block, in each as they come, and the block of each."""
    block = block_of[samples]
    # Numbers of 16 bits are put in order at once.
    few = block.size == 0 or int(block.max()) < 2**15
    order = np.argsort(block.astype(np.int16) if few else block, kind="stable")
    return samples[order], block[order]


def _moments_of(moment: Indices, upto: Indices) -> tuple[Indices, Indices]:
    """The first moment of the samples of each block, and the one beyond their last; both 0 without any."""
    real = np.flatnonzero(np.diff(upto))
    first, beyond = np.zeros((2, upto.size - 1), dtype=np.intp)
    if real.size:
        first[real] = np.minimum.reduceat(moment, upto[real])
        beyond[real] = np.maximum.reduceat(moment, upto[real]) + 1
    return first, beyond
