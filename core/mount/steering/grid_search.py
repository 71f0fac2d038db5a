"""The least worst error of a pass over a grid of both axes and time, with the path that has it.

Dynamic programming forward: the least worst error with which a cell can be reached is the greater of its own
and the least of all cells that both rates allow it to be reached from. Cells worse than a path already known
are left out, so that a moment away from the zenith costs some thousand cells. Backward the path is read off.
A cell is a whole share of what the axis turns in a step, so that no rate is lost to rounding.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats
from core.mount.drive.aim import off_boresight_deg
from core.mount.model.station import Rates

#: A cell is at most so wide, a step at most so long.
_CELL_DEG, _STEP_S = 0.25, 0.5
_MOST_STEPS = 6000
#: How many times wider in the first search.
_WIDE = 3.0
#: No more cells are kept than this (120 MB): where that is too few, all of them are wider. That is so where
#: even the best path is tens of degrees off, and a quarter of a degree tells nothing.
_MOST_CELLS = 30_000_000


@dataclass(frozen=True, eq=False)
class Target:
    """A pass: (N,) moments, m that looks at it upright, its elevation, whether an error counts."""

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    worked: Flags


@dataclass(frozen=True)
class AxisBounds:
    """Both axes' ranges, and their greatest speeds forward and back."""

    m_deg: tuple[float, float]
    e_deg: tuple[float, float]
    m_rates: Rates
    e_rates: Rates


@dataclass(frozen=True, eq=False)
class _Layer:
    """The reached cells of one moment: errors of a box of cells, and its first row and column.

    Errors are kept in single precision, which is a millionth of a degree here.
    """

    worst: NDArray[np.floating]
    row: int
    column: int


def search_grid(
    target: Target, bounds: AxisBounds, start_m_deg: float, enough_deg: float
) -> tuple[Floats, Floats] | None:
    """The path of least worst error: m and e, (N,) each at the target's moments; None where none is enough.

    A search with wide cells first says how much is enough for the one with narrow cells, and how many of
    those there will be.

    Args:
        target, bounds: the pass and the axes.
        start_m_deg: the path begins within a quarter turn of this.
        enough_deg: no path with a greater error is of use.
    """
    width = max(_WIDE, _width_for(_all_cells(target, bounds)))
    wide = _search(target, bounds, start_m_deg, enough_deg + width, width)
    if wide is None:
        return None
    enough_deg = min(enough_deg, wide.worst_deg + 0.1)
    wide = (
        _search(target, bounds, start_m_deg, enough_deg, width) or wide
    )  # now only the cells that are of use
    narrow = max(width * _width_for(wide.cells), 1.0) if wide.cells * width**3 > _MOST_CELLS else 1.0
    if narrow > 0.8 * width:
        return (wide.m_deg, wide.e_deg) if wide.worst_deg <= enough_deg else None
    found = _search(target, bounds, start_m_deg, enough_deg, narrow)
    return None if found is None else (found.m_deg, found.e_deg)


def _all_cells(target: Target, bounds: AxisBounds) -> float:
    """How many narrow cells there would be if none were left out."""
    spans = [
        target.utc_s[-1] - target.utc_s[0],
        *(ends[1] - ends[0] for ends in (bounds.m_deg, bounds.e_deg)),
    ]
    widths = (_STEP_S, _CELL_DEG, _CELL_DEG)
    return float(math.prod(max(span, width) / width for span, width in zip(spans, widths, strict=True)))


def _width_for(cells: float) -> float:
    """How many times wider (or narrower) cells must be for so many of them to be `_MOST_CELLS`."""
    return math.pow(cells / _MOST_CELLS, 1.0 / 3.0)


@dataclass(frozen=True, eq=False)
class _Path:
    """What a search found: its worst error, m and e (N,) at the target's moments, and the cells it kept."""

    worst_deg: float
    m_deg: Floats
    e_deg: Floats
    cells: int


def _search(
    target: Target, bounds: AxisBounds, start_m_deg: float, enough_deg: float, wider: float
) -> _Path | None:
    """The best path with cells and steps so many times wider; None where none is enough."""
    count = min(max(math.ceil((target.utc_s[-1] - target.utc_s[0]) / (wider * _STEP_S)), 1), _MOST_STEPS)
    moments = np.linspace(target.utc_s[0], target.utc_s[-1], count + 1)
    step_s = float(moments[1] - moments[0])
    m_all, m_reach = _cells(bounds.m_deg, bounds.m_rates, step_s, wider)
    e_all, e_reach = _cells(bounds.e_deg, bounds.e_rates, step_s, wider)
    azimuth = np.interp(moments, target.utc_s, target.azimuth_deg)
    elevation = np.interp(moments, target.utc_s, target.elevation_deg)
    counts = np.interp(moments, target.utc_s, target.worked.astype(float)) > 0.0

    def error(at: int, row: int, column: int, shape: tuple[int, ...]) -> Floats:
        m_deg, e_deg = m_all[column : column + shape[1]], e_all[row : row + shape[0], None]
        off = off_boresight_deg((m_deg - azimuth[at])[None, :], e_deg, np.asarray(elevation[at]))
        return np.where(off <= enough_deg, off, np.inf)

    first = error(0, 0, 0, (e_all.size, m_all.size))
    first[:, np.abs(m_all - start_m_deg) > 90.0] = np.inf
    layers = [_cropped(_Layer(first, 0, 0))]
    for at in range(1, moments.size):
        if not layers[-1].worst.size:
            return None
        grown = _grown(layers[-1], e_reach, m_reach, (e_all.size, m_all.size))
        if counts[at]:
            here = error(at, grown.row, grown.column, grown.worst.shape)
            grown = _Layer(np.maximum(grown.worst, here), grown.row, grown.column)
        layers.append(_cropped(grown))
    if not layers[-1].worst.size:
        return None
    rows, columns = _read_off(layers, e_reach, m_reach)
    m_deg, e_deg = (
        np.interp(target.utc_s, moments, m_all[columns]),
        np.interp(target.utc_s, moments, e_all[rows]),
    )
    return _Path(float(layers[-1].worst.min()), m_deg, e_deg, sum(layer.worst.size for layer in layers))


def _cells(
    ends: tuple[float, float], rates: Rates, step_s: float, wider: float
) -> tuple[Floats, tuple[int, int]]:
    """The axis' angles, and how many cells forward and back it can come in a step."""
    slower = min(rates) * step_s
    share = max(math.ceil(slower / (wider * _CELL_DEG)), 1)
    cell = slower / share
    forward, back = (math.floor(rate * step_s / cell + 1e-9) for rate in rates)
    return np.arange(ends[0], ends[1] + 1e-9, cell), (forward, back)


def _cropped(layer: _Layer) -> _Layer:
    """Without the rows and columns at the rim that nothing reached."""
    live = np.isfinite(layer.worst)
    rows, columns = np.flatnonzero(live.any(axis=1)), np.flatnonzero(live.any(axis=0))
    if not rows.size:
        return _Layer(np.empty((0, 0)), 0, 0)
    part = layer.worst[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    return _Layer(part.astype(np.float32), layer.row + int(rows[0]), layer.column + int(columns[0]))


def _grown(
    layer: _Layer, e_reach: tuple[int, int], m_reach: tuple[int, int], size: tuple[int, int]
) -> _Layer:
    """What each cell can be reached with, one step on."""
    wide = _spread(_spread(layer.worst, *m_reach).T, *e_reach).T
    row, column = layer.row - e_reach[1], layer.column - m_reach[1]
    up, left = max(-row, 0), max(-column, 0)
    part = wide[up : size[0] - row, left : size[1] - column]
    return _Layer(part, row + up, column + left)


def _spread(values: NDArray[np.floating], forward: int, back: int) -> NDArray[np.floating]:
    """(R, C + forward + back): the least of the cells each new column can come from, by doubling runs."""
    whole = forward + back + 1
    edge = np.full((values.shape[0], whole - 1), np.inf, dtype=values.dtype)
    run, length = np.concatenate([edge, values, edge], axis=1), 1
    while 2 * length <= whole:
        run = np.minimum(run[:, :-length], run[:, length:])
        length *= 2
    return np.asarray(np.minimum(run[:, : run.shape[1] - (whole - length)], run[:, whole - length :]))


def _read_off(
    layers: list[_Layer], e_reach: tuple[int, int], m_reach: tuple[int, int]
) -> tuple[list[int], list[int]]:
    """Backward from the best last cell: of the cells that do not raise the error, the nearest."""
    last = layers[-1]
    row, column = (int(i) for i in np.unravel_index(int(np.argmin(last.worst)), last.worst.shape))
    bound = float(last.worst[row, column])
    rows, columns = [row + last.row], [column + last.column]
    for layer in reversed(layers[:-1]):
        top = max(rows[-1] - e_reach[0] - layer.row, 0)
        left = max(columns[-1] - m_reach[0] - layer.column, 0)
        box = layer.worst[
            top : rows[-1] + e_reach[1] - layer.row + 1, left : columns[-1] + m_reach[1] - layer.column + 1
        ]
        here_row, here_column = np.nonzero(box <= bound + 1e-6)
        far = np.abs(here_row + top + layer.row - rows[-1]) + np.abs(
            here_column + left + layer.column - columns[-1]
        )
        nearest = int(np.argmin(far))
        rows.append(int(here_row[nearest]) + top + layer.row)
        columns.append(int(here_column[nearest]) + left + layer.column)
    return rows[::-1], columns[::-1]
