"""The ends and the starts of contacts as the sweep goes through them, block by block (`blocks`)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Indices
from core.mount.evening.order.rows import Rows
from core.mount.evening.order.worth import Ints


@dataclass(frozen=True, eq=False)
class EndTable:
    """All ends, by block, row and time.

    Attributes:
        sample: (N,) flat indices.
        latest: (N,) where the latest start that each allows stands in `StartTable`; each has one (`rows`).
        whole: (N,) as in `Rows`.
    """

    sample: Indices
    latest: Indices
    whole: Ints


@dataclass(frozen=True, eq=False)
class LongEnds:
    """The ends whose contacts may have more than enough signal, by block, the last row first.

    Attributes:
        number: (L,) which of `EndTable`.
        before: (L,) where the last start with more than enough stands in `StartTable`.
        spare: (L,) what is added to V - spare of a start with more than enough.
        first, beyond: (L,) flat indices of the first sample with no more than enough, and of the one beyond
            the latest; the same where there is none.
        upto: (B + 1,) where those of each block begin.
    """

    number: Indices
    before: Indices
    spare: Ints
    stretch: Indices
    upto: Indices


@dataclass(frozen=True, eq=False)
class StartTable:
    """All starts, block by block, in each row by moment, with holes where a row has no start at a moment.

    Attributes:
        sample: (S,) flat indices; of a hole the one beyond all samples.
        whole, spare: (S,) as in `Rows`.
        sure: (S,) whole, and what the longest contact from there falls short of having every second of signal
            counted in full: V - sure + whole after it is less than or as much as what a later start of the
            row must be worth to be better for any end.
        place: (F,) where the last start of the same row up to each sample stands; S where there is none.
    """

    sample: Indices
    whole: Ints
    spare: Ints
    sure: Ints
    place: Indices


@dataclass(frozen=True, eq=False)
class Starts:
    """The starts without the holes, in the same order, and their kinds: those of a row in one posture.

    Attributes:
        sample: (Q,) flat indices.
        cell: (Q,) where each stands in the table of its block.
        moment: (Q,) its moment, counted from the first of its block.
        kind: (Q,) its kind, counted from the first of its block.
        azimuth_s, elevation_s: (Q,) both axes in seconds at their faster rates, in single precision.
        kind_row, kind_over: (J,) row and posture of all kinds, block by block.
    """

    sample: Indices
    cell: Indices
    moment: Indices
    kind: Indices
    azimuth_s: NDArray[np.float32]
    elevation_s: NDArray[np.float32]
    kind_row: Indices
    kind_over: Flags


def long_ends(rows: Rows, ends: EndTable, starts: StartTable, upto: Indices) -> LongEnds:
    """The long ends among some; ``upto`` (B + 1,) is where those of each block begin."""
    full = rows.full_from[ends.sample]
    number = np.flatnonzero(full > rows.offsets[rows.row_of[ends.sample]])
    begins = np.searchsorted(number, upto)
    # In each block from the last row to the first, so that nothing is gone through between two stretches.
    turned = np.repeat(begins[:-1] + begins[1:] - 1, np.diff(begins)) - np.arange(number.size)
    number = number[turned]
    sample, full = ends.sample[number], full[number]
    row, latest = rows.row_of[sample], rows.latest_start[sample]
    return LongEnds(
        number=number,
        before=starts.place[np.minimum(full - 1, latest)],
        spare=rows.spare[sample] + rows.bonus[row],
        stretch=np.column_stack([full, np.maximum(latest + 1, full)]),
        upto=begins,
    )


def start_table(rows: Rows, starts: Indices, place: Indices, size: int) -> StartTable:
    """The table of so many places, of starts (flat indices) that have a place each."""
    sample = np.full(size, rows.row_of.size)
    sample[place] = starts
    last = np.maximum.accumulate(np.where(rows.may_start, np.arange(rows.row_of.size), -1))
    at = np.full(rows.row_of.size + 1, size)
    at[starts] = place

    def told(values: np.ndarray) -> np.ndarray:
        return values.take(sample, mode="clip")  # what stands in a hole is never asked

    whole, spare = told(rows.whole), told(rows.spare)
    return StartTable(
        sample=sample,
        whole=whole,
        spare=spare,
        sure=_sure(rows, whole, spare, told(rows.row_of)),
        place=at[np.where(last >= rows.offsets[rows.row_of], last, -1)],
    )


def _sure(rows: Rows, whole: Ints, spare: Ints, row: Indices) -> Ints:
    """``sure`` of starts by what they are told to be worth, and their rows."""
    most = np.maximum.reduceat(rows.whole - rows.spare, rows.offsets[:-1]) - rows.bonus
    short = most[row] - whole + spare
    return np.asarray(whole + np.maximum(short, 0, out=short))
