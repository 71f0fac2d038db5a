"""Lines on the evening's grid: every multiple of its step, and the first and the last moment on the beam.

A *line* is one pass followed in one way from AOS to LOS. The samples of a line lie side by side in flat
columns; line l has the entries from offsets[l] to offsets[l + 1].
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import entries_of, ranges

#: A moment this near a grid moment is on it.
ON_GRID_S = 1e-6


class Stretches(NamedTuple):
    """Stretches (L,) of samples, half open."""

    begins: Indices
    ends: Indices


@dataclass(frozen=True, eq=False)
class Clock:
    """The moments of P passes' samples, N in all, and the passes one after the other on one axis of time.

    Attributes:
        offsets: (P + 1,) where the samples of each pass begin, and where the last ends.
        utc_s: (N,) their moments.
        axis_s: (N,) seconds since the pass began, and ``apart_s`` for each pass before it.
        apart_s: longer than any pass.
    """

    offsets: Indices
    utc_s: Floats
    axis_s: Floats
    apart_s: float

    @classmethod
    def of(cls, offsets: Indices, utc_s: Floats) -> Clock:
        """The clock of some passes."""
        sizes = np.diff(offsets)
        since_s = utc_s - np.repeat(utc_s[offsets[:-1]], sizes)
        apart_s = float(since_s.max(initial=0.0)) + 10.0
        return cls(offsets, utc_s, since_s + apart_s * np.repeat(np.arange(sizes.size), sizes), apart_s)

    def samples_of(self, passes: Indices) -> Stretches:
        """All samples of some passes."""
        return Stretches(self.offsets[passes], self.offsets[passes + 1])

    def placed(self, pass_: Indices, moments: Floats) -> tuple[Indices, Floats]:
        """(M,) the sample before each moment of a pass, and the share of the way to the next one."""
        first, utc_s = self.offsets[pass_], self.utc_s
        axis_s = moments - utc_s[first] + self.apart_s * pass_
        before = np.searchsorted(self.axis_s, axis_s, side="right") - 1
        before = np.clip(before, first, self.offsets[pass_ + 1] - 2)
        wide = utc_s[before + 1] - utc_s[before]
        share = (moments - utc_s[before]) / np.where(wide > 0.0, wide, 1.0)
        return before, np.clip(share, 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class Grid:
    """The moments of L lines on the grid, M in all; a line that is never on the beam has none.

    Attributes:
        offsets: (L + 1,) where those of each line begin, and where the last ends.
        line: (M,) of which line each is.
        utc_s: (M,) the moments.
        before, share: (M,) the sample before, and the share of the way to the next one.
        signal_s: (M,) as in `Option`.
    """

    offsets: Indices
    line: Indices
    utc_s: Floats
    before: Indices
    share: Floats
    signal_s: Floats

    def between(self, here: Floats, there: Floats) -> Floats:
        """(M,) what is ``here`` (M,) at the sample before and ``there`` (M,) at the next one."""
        return here + self.share * (there - here)

    def of(self, values: Floats) -> Floats:
        """(M,) what is told at the samples (N,)."""
        return self.between(values[self.before], values[self.before + 1])


def grid_of(clock: Clock, passes: Indices, samples: Stretches, on_s: Floats, step_s: float) -> Grid:
    """The grid of some lines.

    Args:
        clock: of the passes.
        passes: (L,) which of them each line follows.
        samples: (L,) of each line's pass all that are on the beam, and the one after.
        on_s: of these, line after line, the seconds on the beam over the mask until the next one; 0 at the
            last of each.
        step_s: the grid's step.
    """
    begins, sizes = samples.begins, samples.ends - samples.begins
    own = np.cumsum(sizes) - sizes
    on = on_s > 0.0
    numbers = np.arange(on.size)
    first = np.minimum.reduceat(np.where(on, numbers, on.size), own)
    last = np.maximum.reduceat(np.where(on, numbers + 1, -1), own)
    real, moved = last > first, begins - own
    start_s = clock.utc_s[np.where(real, first + moved, 0)]
    end_s = clock.utc_s[np.where(real, last + moved, 0)]
    moments, offsets = _moments(start_s, end_s, real, step_s)
    line = np.repeat(np.arange(passes.size), np.diff(offsets))
    before, share = clock.placed(passes[line], moments)
    at = before - moved[line]
    heard_s = np.concatenate([[0.0], np.cumsum(on_s)])[at] + share * on_s[at]
    return Grid(offsets, line, moments, before, share, since_first(heard_s, offsets))


def _moments(start_s: Floats, end_s: Floats, real: Flags, step_s: float) -> tuple[Floats, Indices]:
    """The moments of lines that run from one moment to another, where they do, and the offsets of each."""
    low = np.floor((start_s + ON_GRID_S) / step_s).astype(np.intp) + 1
    beyond = np.ceil((end_s - ON_GRID_S) / step_s).astype(np.intp)
    sizes = np.where(real, np.maximum(beyond - low, 0) + 2, 0)
    offsets = np.concatenate([[0], np.cumsum(sizes)])
    _, number = ranges(low - 1, low - 1 + sizes)
    moments = np.asarray(number * step_s, dtype=np.float64)
    moments[offsets[:-1][real]], moments[offsets[1:][real] - 1] = start_s[real], end_s[real]
    return moments, offsets


def since_first(running: Floats, offsets: Indices) -> Floats:
    """A running sum over all lines (one entry too many where there is none), from each line's first on."""
    if offsets[-1] == 0:
        return np.zeros(0)
    sizes = np.diff(offsets)
    return running - np.repeat(running[np.minimum(offsets[:-1], running.size - 1)], sizes)


@dataclass(frozen=True, eq=False)
class GridLines:
    """L lines on the grid; one that is never on the beam has no samples.

    Attributes:
        offsets: (L + 1,) where each line's samples begin, and where the last ends.
        utc_s, m_deg, e_deg, over, signal_s, turned_deg: (M,) as in `Option`.
    """

    offsets: Indices
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    over: Flags
    signal_s: Floats
    turned_deg: Floats

    @classmethod
    def of(cls, grid: Grid, m_deg: Floats, e_deg: Floats, over: Flags) -> GridLines:
        """The lines of a grid, with the axes (M,) at its moments."""
        turned_deg = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(m_deg)))])
        turned_deg = since_first(turned_deg, grid.offsets)
        return cls(grid.offsets, grid.utc_s, m_deg, e_deg, over, grid.signal_s, turned_deg)

    @classmethod
    def joined(cls, parts: Sequence[GridLines]) -> GridLines:
        """The lines of all parts, one after the other."""

        def column(name: str, kind: type) -> np.ndarray:
            return np.concatenate([np.zeros(0, dtype=kind), *(getattr(one, name) for one in parts)])

        sizes = np.concatenate([np.zeros(0, np.intp), *(np.diff(one.offsets) for one in parts)])
        return cls(
            offsets=np.concatenate([[0], np.cumsum(sizes)]),
            utc_s=column("utc_s", np.float64),
            m_deg=column("m_deg", np.float64),
            e_deg=column("e_deg", np.float64),
            over=column("over", np.bool_),
            signal_s=column("signal_s", np.float64),
            turned_deg=column("turned_deg", np.float64),
        )

    def some(self, lines: Indices, offset_deg: Floats) -> GridLines:
        """Some of the lines (K,), with so much added to the azimuth of each."""
        here, sizes = entries_of(lines, self.offsets), np.diff(self.offsets)[lines]
        return GridLines(
            offsets=np.concatenate([[0], np.cumsum(sizes)]),
            utc_s=self.utc_s[here],
            m_deg=self.m_deg[here] + np.repeat(offset_deg, sizes),
            e_deg=self.e_deg[here],
            over=self.over[here],
            signal_s=self.signal_s[here],
            turned_deg=self.turned_deg[here],
        )
