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

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.clearance.gaps import Gaps
from core.mount.clearance.lengths import Clearance

#: The finest cells, and by how much each round of dividing divides them, from 10 deg on.
CELL_DEG = 0.25
_COARSEST_DEG, _DIVIDED_BY = 10.0, (2, 5, 2, 2)
#: Points of a path lie no further apart on either axis.
STEP_DEG = 0.25
#: A path that is taken as straight between samples bends by no more than this.
BEND_DEG = 0.1
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
        rows, columns = self.struck.shape
        row = np.floor((np.asarray(e_deg) - E_LOW_DEG) / CELL_DEG).astype(np.intp)
        column = np.floor(np.asarray(boom_deg) / CELL_DEG).astype(np.intp) % columns
        return np.asarray(self.struck[np.clip(row, 0, rows - 1), column])

    def steps(self, boom_deg: Floats, e_deg: Floats) -> Flags:
        """(..., N - 1) the steps of paths (..., N) on which something may come too near.

        The bearing is continuous along the path; it may be of any turn.
        """
        boom_deg, e_deg = np.broadcast_arrays(boom_deg, e_deg)
        shape = (*boom_deg.shape[:-1], max(boom_deg.shape[-1] - 1, 0))
        if not self.any or 0 in shape:
            return np.zeros(shape, dtype=bool)
        turned, tipped = (np.diff(along, axis=-1).ravel() for along in (boom_deg, e_deg))
        begin = [along[..., :-1].ravel() for along in (boom_deg, e_deg)]
        longest = np.maximum(np.abs(turned), np.abs(tipped))
        number = np.maximum(np.ceil(longest / STEP_DEG - 1e-9), 1.0).astype(np.intp)
        step = np.repeat(np.arange(number.size), number)
        nth = np.arange(step.size) - np.repeat(np.cumsum(number) - number, number)
        share = (nth + 0.5) / number[step]
        hit = self.holds(begin[0][step] + share * turned[step], begin[1][step] + share * tipped[step])
        return np.asarray(np.logical_or.reduceat(hit, np.cumsum(number) - number).reshape(shape))


def keep_out_of(lengths: Clearance) -> KeepOut:
    """The cells of a station's lengths."""
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
