"""The least worst error of a pass by plain search over a grid of both axes and time. No tubes, no formulae.

Dynamic programming: the least worst error with which each (m, e) of the grid can be reached, from moment to
moment, every cell being reached from all cells that the two rates allow. Cells worse than a limit that the
caller knows to be enough are left out, which changes nothing. Imports nothing of the project.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

#: Degrees and seconds of the grid.
CELL_DEG, STEP_S = 0.25, 0.5


@dataclass(frozen=True)
class Axes:
    """What the search may do: degrees, degrees a second."""

    m_low: float
    m_high: float
    e_low: float
    e_high: float
    m_rate: float
    e_rate: float


def least_worst_error(
    utc_s: np.ndarray,
    unit: np.ndarray,
    counts: np.ndarray,
    axes: Axes,
    start: tuple[float, float],
    enough: float,
) -> float:
    """Degrees; infinite where it is more than ``enough``.

    Args:
        utc_s: (N,) rising by half a second.
        unit: (N, 3) where the satellite is: to the right of m = 0 upright at e = 0, ahead, up.
        counts: (N,) bool, whether an error at that moment counts.
        axes: ranges and rates; rates are taken down to whole cells a step.
        start: m and e about which the path begins, within ``enough`` on both sides on either axis.
        enough: degrees.
    """
    m_all = np.arange(math.ceil(axes.m_low / CELL_DEG), math.floor(axes.m_high / CELL_DEG) + 1) * CELL_DEG
    e_all = np.arange(math.ceil(axes.e_low / CELL_DEG), math.floor(axes.e_high / CELL_DEG) + 1) * CELL_DEG
    m_cells = math.floor(axes.m_rate * STEP_S / CELL_DEG + 1e-9)
    e_cells = math.floor(axes.e_rate * STEP_S / CELL_DEG + 1e-9)
    sin_m, cos_m = np.sin(np.radians(m_all)), np.cos(np.radians(m_all))
    sin_e, cos_e = np.sin(np.radians(e_all)), np.cos(np.radians(e_all))

    def error(moment: int, rows: slice, columns: slice) -> np.ndarray:
        right, ahead, up = unit[moment]
        across = right * sin_m[columns] + ahead * cos_m[columns]
        dot = up * sin_e[rows, None] + cos_e[rows, None] * across[None, :]
        return np.degrees(np.arccos(np.clip(dot, -1.0, 1.0)))

    everywhere = slice(0, e_all.size), slice(0, m_all.size)
    worst = error(0, *everywhere)
    around = np.abs(m_all - start[0])[None, :] <= 90.0
    worst[~(around & (np.abs(e_all - start[1])[:, None] <= 2.0 * enough) & (worst <= enough))] = np.inf
    corner = (0, 0)
    for moment in range(1, utc_s.size):
        live = np.isfinite(worst)
        if not live.any():
            return math.inf
        rows, columns = np.flatnonzero(live.any(axis=1)), np.flatnonzero(live.any(axis=0))
        small = worst[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
        r0, c0 = corner[0] + int(rows[0]), corner[1] + int(columns[0])
        small = _reached(small, e_cells, m_cells)
        r1, c1 = max(r0 - e_cells, 0), max(c0 - m_cells, 0)
        small = small[r1 - (r0 - e_cells) :, c1 - (c0 - m_cells) :]
        small = small[: e_all.size - r1, : m_all.size - c1]
        corner = (r1, c1)
        if counts[moment]:
            here = error(moment, slice(r1, r1 + small.shape[0]), slice(c1, c1 + small.shape[1]))
            worst = np.where(here <= enough, np.maximum(small, here), np.inf)
        else:
            worst = small
    return float(worst.min())


def _reached(values: np.ndarray, e_cells: int, m_cells: int) -> np.ndarray:
    """Least of all cells within so many rows and columns; the array grows by as many on every side."""
    grown = np.full((values.shape[0] + 2 * e_cells, values.shape[1] + 2 * m_cells), np.inf)
    grown[e_cells : e_cells + values.shape[0], m_cells : m_cells + values.shape[1]] = values
    return _least_within(_least_within(grown, m_cells, 1), e_cells, 0)


def _least_within(values: np.ndarray, cells: int, axis: int) -> np.ndarray:
    """By doubling: the least of a run of 2 ** k, until runs of 2 * cells + 1 are had from two of them."""
    values = np.moveaxis(values, axis, -1)
    edge = [(0, 0)] * (values.ndim - 1) + [(cells, cells)]
    run, length = np.pad(values, edge, constant_values=np.inf), 1
    whole = 2 * cells + 1
    while 2 * length <= whole:
        run = np.minimum(run[..., :-length], run[..., length:])
        length *= 2
    rest = whole - length
    if rest:
        run = np.minimum(run[..., :-rest], run[..., rest:])
    return np.moveaxis(run, -1, axis)
