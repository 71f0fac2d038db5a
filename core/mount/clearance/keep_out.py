"""Where the boom must not be: cells of bearing and elevation in which something may come too near.

A cell counts as free only where that is sure. Turning by da and tipping by de moves no point of a line by
more than its reach from either axis times da and de (`TurningLines.reach_mm`), and a gap changes by no more
than the line moves: so a gap at the middle of a cell, less what the line may move to its edge, is a bound
over all of it. Cells that are neither surely free nor surely struck are divided, down to `CELL_DEG`; what is
unsure then is kept out of. So the map forbids a seam about what strikes (some mm of gap wide), and never
calls free what strikes.

A path is asked for at points at most `STEP_DEG` apart on either axis; half of that, and `BEND_DEG` by which
the path bends between its samples, is added to every cell's edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import places_in, ranges
from core.base.units import INSIDE_DEG
from core.mount.clearance.gaps import Gaps
from core.mount.clearance.lengths import Clearance

#: The finest cells, and by how much each round of dividing divides them, from 10 deg on.
CELL_DEG = 0.25
_COARSEST_DEG, _DIVIDED_BY = 10.0, (2, 5, 2, 2)
#: Points of a path lie no further apart on either axis.
STEP_DEG = 0.25
#: A path that is taken as straight between samples bends by no more than this.
BEND_DEG = 0.1
#: Cells of a block, on a side; of points of a path, so many are asked together at first.
_BLOCK = 8
#: More than a turn: it keeps paths apart in one column of bearings.
_APART_DEG = 1024.0
#: The elevation axis' whole range.
E_LOW_DEG, E_HIGH_DEG = -90.0, 180.0


@dataclass(frozen=True, eq=False)
class KeepOut:
    """Cells of a quarter of a degree.

    Attributes:
        struck: (E, B) bool: rows of elevation from -90 deg up, columns of the boom's bearing from the keyway.
        any: some cell is.
    """

    struck: Flags
    any: bool

    def holds(self, boom_deg: Floats, e_deg: Floats) -> Flags:
        """(...) the places of the axes that are to be kept out of."""
        column = np.floor(np.asarray(boom_deg) / CELL_DEG).astype(np.intp) % self.struck.shape[1]
        return np.asarray(self.struck[self.row(np.asarray(e_deg)), column])

    def steps(self, boom_deg: Floats, e_deg: Floats, joined: Flags | None = None) -> Flags:
        """(..., N - 1) the steps of paths (..., N) on which something may come too near.

        The bearing is continuous along the path; it may be of any turn. Where paths follow one another in one
        column, ``joined`` (N - 1,) tells the steps of a path from those to the next one, which never strike.
        """
        boom_deg, e_deg = np.broadcast_arrays(boom_deg, e_deg)
        shape = (*boom_deg.shape[:-1], max(boom_deg.shape[-1] - 1, 0))
        if not self.any or 0 in shape:
            return np.zeros(shape, dtype=bool)
        turned, tipped = (np.diff(along, axis=-1).ravel() for along in (boom_deg, e_deg))
        if joined is not None:
            turned, tipped = np.where(joined, turned, 0.0), np.where(joined, tipped, 0.0)
        begins = boom_deg[..., :-1].ravel(), e_deg[..., :-1].ravel()
        struck = self._struck_steps(*begins, turned, tipped)
        return np.asarray((struck if joined is None else struck & joined).reshape(shape))

    def _struck_steps(self, boom_deg: Floats, e_deg: Floats, turned_deg: Floats, tipped_deg: Floats) -> Flags:
        """(S,) the steps that strike.

        Few have a cell that strikes in the rectangle about them; of those eight points are told at once where
        blocks say that none of them does.
        """
        ends = boom_deg + turned_deg, e_deg + tipped_deg
        low_row, high_row = self.row(np.minimum(e_deg, ends[1])), self.row(np.maximum(e_deg, ends[1]))
        low_deg, high_deg = np.minimum(boom_deg, ends[0]), np.maximum(boom_deg, ends[0])
        found = np.zeros(boom_deg.size, dtype=bool)
        near = np.flatnonzero(self.somewhere(low_deg, high_deg, low_row, high_row))
        columns = boom_deg, e_deg, turned_deg, tipped_deg
        found[near] = self._struck_near(*(column[near] for column in columns))
        return found

    def _struck_near(self, boom_deg: Floats, e_deg: Floats, turned_deg: Floats, tipped_deg: Floats) -> Flags:
        """(S,) the same, point by point."""
        number = _points_of(turned_deg, tipped_deg)
        eights = -(-number // _BLOCK)
        step = np.repeat(np.arange(number.size), eights)
        first = _BLOCK * places_in(eights)
        beyond = np.minimum(first + _BLOCK, number[step])
        share = (first + beyond - 1) / (2.0 * (number[step] - 1))
        boom, e = boom_deg[step] + share * turned_deg[step], e_deg[step] + share * tipped_deg[step]
        near = np.flatnonzero(
            self._blocks[
                self.row(e) // _BLOCK,
                np.floor(boom / CELL_DEG).astype(np.intp) % self.struck.shape[1] // _BLOCK,
            ]
        )
        which, nth = ranges(first[near], beyond[near])
        step = step[near][which]
        share = nth / (number[step] - 1)
        hit = self.holds(boom_deg[step] + share * turned_deg[step], e_deg[step] + share * tipped_deg[step])
        found = np.zeros(number.size, dtype=bool)
        found[step[hit]] = True
        return found

    @cached_property
    def _blocks(self) -> Flags:
        """Blocks of eight by eight cells: whether some cell of it, or of a block beside it, is struck."""
        rows, columns = (side // _BLOCK for side in self.struck.shape)
        own = self.struck.reshape(rows, _BLOCK, columns, _BLOCK).any(axis=(1, 3))
        wide = own | np.roll(own, 1, axis=1) | np.roll(own, -1, axis=1)
        above = np.pad(wide, ((1, 1), (0, 0)))
        return np.asarray(wide | above[:-2] | above[2:])

    def struck_turns(self, boom_deg: Floats, e_deg: Floats) -> tuple[Floats, Floats]:
        """By which turns back a path (N,) strikes: with the boom at ``boom_deg`` less the turn.

        Returns:
            (K,) where each arc of turns starts, 0 to 360 and rising, and (K,) its width: asked of the same
            points as `steps`, so that a turn lies in no arc where, and only where, no step strikes.
        """
        if not self.any or boom_deg.size < 2:
            return np.zeros(0), np.zeros(0)
        _point, start, width = self._turns(points_along(boom_deg, e_deg, np.arange(boom_deg.size - 1)))
        return _joined(start, width)

    def struck_turns_each(
        self, boom_deg: Floats, e_deg: Floats, steps: Indices, of_path: Indices
    ) -> tuple[Indices, Floats, Floats]:
        """As `struck_turns`, of paths that follow one another.

        Args:
            boom_deg, e_deg: (N,) of all paths.
            steps: the samples from which a path goes on to the next one.
            of_path: (N,) the path of each sample, rising.

        Returns:
            (K,) of which path each arc is, where it starts and how wide it is, cut at 0.
        """
        along = points_along(boom_deg, e_deg, steps)
        point, start, width = self._turns(along)
        path, end = of_path[along.step[point]], start + np.minimum(width, 360.0)
        over = end > 360.0
        path = np.concatenate([path, path[over]])
        start = np.concatenate([start, np.zeros(int(over.sum()))])
        end = np.concatenate([np.minimum(end, 360.0), end[over] - 360.0])
        base = path * _APART_DEG
        order = np.argsort(base + start)
        start, reach, path = (base + start)[order], np.maximum.accumulate((base + end)[order]), path[order]
        first = np.flatnonzero(np.append(True, start[1:] > reach[:-1] + INSIDE_DEG)[: start.size])
        last = np.append(first[1:] - 1, reach.size - 1)[: first.size]
        return path[first], start[first] - path[first] * _APART_DEG, reach[last] - start[first]

    def _turns(self, along: Along) -> tuple[Indices, Floats, Floats]:
        """Arcs (K,) of turns by which points strike: which point, start from 0 to 360, width."""
        offsets, begin, beyond = self._runs
        row = self.row(along.e_deg)
        point, run = ranges(offsets[row], offsets[row + 1])
        start = np.mod(along.boom_deg[point] - beyond[run] * CELL_DEG, 360.0)
        return point, np.asarray(start), np.asarray((beyond - begin)[run] * CELL_DEG, dtype=np.float64)

    def somewhere(self, low_deg: Floats, high_deg: Floats, low_row: Indices, high_row: Indices) -> Flags:
        """(R,) some cell is to be kept out of between two bearings, the lower first, and two rows."""
        columns = self.struck.shape[1]
        first = np.floor(low_deg / CELL_DEG).astype(np.intp)
        width = np.minimum(np.floor(high_deg / CELL_DEG).astype(np.intp) - first + 1, columns)
        first %= columns
        beyond, above, across = first + width, high_row + 1, self._sums.shape[1]
        sums = self._sums.ravel()
        inside = sums.take(above * across + beyond) - sums.take(low_row * across + beyond)
        inside -= sums.take(above * across + first) - sums.take(low_row * across + first)
        return np.asarray(inside > 0)

    @cached_property
    def _sums(self) -> NDArray[np.int32]:
        """(E + 1, 2 B + 1) how many cells of rows below and columns before are struck, twice round."""
        twice = np.tile(self.struck, (1, 2)).astype(np.int32)
        return np.pad(twice.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32), ((1, 0), (1, 0)))

    def row(self, e_deg: Floats) -> Indices:
        """(...) the row of cells of each elevation."""
        row = np.floor((e_deg - E_LOW_DEG) / CELL_DEG).astype(np.intp)
        return np.clip(row, 0, self.struck.shape[0] - 1)

    @cached_property
    def _runs(self) -> tuple[Indices, Indices, Indices]:
        """(E + 1,) where the runs of struck cells of each row begin; their first columns, those beyond."""
        edges = np.diff(np.pad(self.struck.astype(np.int8), ((0, 0), (1, 1))), axis=1)
        row, begin = np.nonzero(edges > 0)
        _row, beyond = np.nonzero(edges < 0)
        return np.searchsorted(row, np.arange(self.struck.shape[0] + 1)), begin, beyond


def _points_of(turned_deg: Floats, tipped_deg: Floats) -> Indices:
    """(S,) how many points a step is asked at, its ends among them."""
    longest = np.maximum(np.abs(turned_deg), np.abs(tipped_deg))
    return np.maximum(np.ceil(longest / STEP_DEG - 1e-9), 1.0).astype(np.intp) + 1


class Along(NamedTuple):
    """Points along steps (E,): which step, at what share of it, how many follow its first; where they are."""

    step: Indices
    share: Floats
    of: Indices
    boom_deg: Floats
    e_deg: Floats


def points_along(boom_deg: Floats, e_deg: Floats, steps: Indices) -> Along:
    """Points along steps, each from the sample (N,) of its number to the next one.

    Every point of a step lies within half of `STEP_DEG` of one of them on both axes. The ends are among them,
    so that what is held still at the end of a free step is free.
    """
    turned, tipped = boom_deg[steps + 1] - boom_deg[steps], e_deg[steps + 1] - e_deg[steps]
    number = _points_of(turned, tipped)
    nth, which = places_in(number), np.repeat(np.arange(steps.size), number)
    of, step = (number - 1)[which], steps[which]
    share = nth / of
    return Along(step, share, of, boom_deg[step] + share * turned[which], e_deg[step] + share * tipped[which])


def _joined(start_deg: Floats, width_deg: Floats) -> tuple[Floats, Floats]:
    """Arcs (K,), starts from 0 to 360, as few that neither touch nor overlap; 360 wide is the circle."""
    if not start_deg.size:
        return start_deg, width_deg
    end_deg = start_deg + np.minimum(width_deg, 360.0)
    over = end_deg > 360.0
    start = np.concatenate([start_deg, np.zeros(int(over.sum()))])
    end = np.concatenate([np.minimum(end_deg, 360.0), end_deg[over] - 360.0])
    order = np.argsort(start, kind="stable")
    start, reach = start[order], np.maximum.accumulate(end[order])
    first = np.flatnonzero(np.append(True, start[1:] > reach[:-1] + INSIDE_DEG))
    start, end = start[first], reach[np.append(first[1:] - 1, reach.size - 1)]
    if start[0] <= INSIDE_DEG and end[-1] >= 360.0 - INSIDE_DEG:
        if start.size == 1:
            return np.zeros(1), np.full(1, 360.0)
        end = np.append(end[1:-1], end[0] + 360.0)
        start = start[1:]
    return start, end - start


@lru_cache(maxsize=8)
def keep_out_of(lengths: Clearance) -> KeepOut:
    """The cells of a station's lengths; equal lengths, read anew or changed back, have one map."""
    rows, columns = round((E_HIGH_DEG - E_LOW_DEG) / CELL_DEG), round(360.0 / CELL_DEG)
    struck = np.zeros((rows, columns), dtype=bool)
    gaps = Gaps(lengths)
    for line in range(len(gaps.turning.names)):
        _strike(struck, gaps, line, lengths.gap_mm)
    return KeepOut(struck, bool(struck.any()))


def _strike(struck: Flags, gaps: Gaps, line: int, wanted_mm: float) -> None:
    """Mark what one turning line strikes."""
    turned_mm, tipped_mm = (float(reach[line]) for reach in gaps.turning.reach_mm())
    cells = round(_COARSEST_DEG / CELL_DEG)
    row, column = (side.ravel() for side in np.indices((struck.shape[0] // cells, struck.shape[1] // cells)))
    for divided in (*_DIVIDED_BY, 0):
        width_deg = cells * CELL_DEG
        boom = (column + 0.5) * width_deg
        e = E_LOW_DEG + (row + 0.5) * width_deg
        gap = gaps.of_line(line, boom, e).min(axis=1)
        spare_mm = np.radians(width_deg / 2.0 + STEP_DEG / 2.0 + BEND_DEG) * (turned_mm + tipped_mm)
        within_mm = np.radians(width_deg / 2.0) * (turned_mm + tipped_mm)
        open_ = gap - spare_mm < wanted_mm
        sure = open_ & ((gap + within_mm < wanted_mm) | (divided == 0))
        _fill(struck, row[sure], column[sure], cells)
        left = open_ & ~sure
        if divided == 0 or not left.any():
            return
        row, column = _divided(row[left], column[left], divided)
        cells //= divided


def _fill(struck: Flags, row: Indices, column: Indices, cells: int) -> None:
    for at_row in range(cells):
        for at_column in range(cells):
            struck[row * cells + at_row, column * cells + at_column] = True


def _divided(row: Indices, column: Indices, by: int) -> tuple[Indices, Indices]:
    """The cells that cells (C,) are divided into, (C * by * by,)."""
    of_row, of_column = np.indices((by, by))
    rows = row[:, None] * by + of_row.ravel()
    columns = column[:, None] * by + of_column.ravel()
    return rows.ravel(), columns.ravel()
