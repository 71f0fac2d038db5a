"""The options laid out for the sweep: all samples in flat columns, row after row.

Where it must be remembered whether a pass was worked already (`solve`), the options that overlap it are held
in several rows, one for each set of remembered passes worked before (a *layer*).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.evening.order.options import Option
from core.mount.evening.order.rules import GRID_S
from core.mount.evening.order.samples import Samples
from core.mount.evening.order.worth import Ints

#: So many samples in all rows, and pairs of a start and a row near it, are gone through at most: a gigabyte,
#: and some twenty seconds.
MOST_SAMPLES = 3_000_000
MOST_PAIRS = 2_000_000_000

#: Less than any evening is worth: nothing leads here.
NOTHING = -(2**62)
#: What is worth less comes of NOTHING with something added to it.
HOPELESS = NOTHING // 2
#: More than any evening is worth.
NEVER = -NOTHING


class TooManyLayers(Exception):
    """More would have to be held than is reasonable."""


@dataclass(frozen=True, eq=False)
class Rows:
    """R rows, an option in a layer each, their samples one after the other in flat columns of length F.

    Moments are seconds since ``begin_utc_s``, so that nothing is lost to the size of POSIX seconds.

    Attributes:
        begin_utc_s: the earliest moment of any.
        option, pass_index, satellite: (R,) the option, its pass and satellite.
        offsets: (R + 1,) where each row's samples begin, and where the last ends.
        first_s, last_s, least_s: (R,) first and last moment, the least contact.
        bonus: (R,) as in `Samples`.
        price: (R,) what each contact of a row is worth less.
        layer, leaves: (R, P) bool over the remembered passes: worked before this row's contact, and after.
        remembered_until_s: (P,) last moment at which a remembered pass can be started.
        pass_until_s: (R,) the last moment of any option of the row's pass.
        moments_s: (M,) as in `Samples`.
        row_of, moment, since_s, m_deg, e_deg, over, whole, spare: (F,) as in `Samples`.
        may_start, may_end, latest_start, full_from: (F,) as in `Samples`, as flat indices; starts only where
            the row's layer lives, starts and ends only where a contact of the row can have them.
        start_value, end_value, came_from: (F,) the sweep's: V, E, and the flat index of the end before a
            start (negative: none).
    """

    begin_utc_s: float
    option: Indices
    pass_index: Indices
    satellite: Indices
    offsets: Indices
    first_s: Floats
    last_s: Floats
    least_s: Floats
    bonus: Ints
    price: Ints
    layer: Flags
    leaves: Flags
    remembered_until_s: Floats
    pass_until_s: Floats
    moments_s: Floats
    row_of: Indices
    moment: Indices
    since_s: Floats
    m_deg: Floats
    e_deg: Floats
    over: Flags
    whole: Ints
    spare: Ints
    may_start: Flags
    may_end: Flags
    latest_start: Indices
    full_from: Indices
    start_value: Ints
    end_value: Ints
    came_from: Indices

    @property
    def count(self) -> int:
        """R."""
        return int(self.option.size)

    def best_start(self, end: int) -> int:
        """The start of the contact worth most that ends with a sample (flat indices), the first of equals."""
        first = int(self.offsets[self.row_of[end]])
        starts = np.arange(first, int(self.latest_start[end]) + 1)
        full = starts >= self.full_from[end]
        bonus = self.bonus[self.row_of[end]]
        won = self.start_value[starts] - np.where(full, self.whole[starts], self.spare[starts])
        return first + int(np.argmax(won + np.where(full, self.whole[end], self.spare[end] + bonus)))


def laid_out(
    options: tuple[Option, ...],
    samples: Samples,
    remembered: tuple[int, ...],
    prices: Ints | None = None,
) -> Rows:
    """The rows of a problem.

    Args:
        options, samples: what may be chosen, and its samples.
        remembered: passes whose having been worked is kept in mind.
        prices: what a contact of each pass, by its index, is worth less, in whole numbers; None: nothing.

    Raises:
        TooManyLayers: it would take more than `MOST_SAMPLES` or `MOST_PAIRS`.
    """
    ends = (samples.since_s[at].tolist() for at in (samples.offsets[:-1], samples.offsets[1:] - 1))
    spans = [_Span(*both) for both in zip(*ends, strict=True)]
    lives = _lives(options, spans)
    every = np.array([one.pass_index for one in options])
    which, worked, opens = _layers(np.array(spans), np.diff(samples.offsets), every, remembered, lives)
    sizes = np.diff(samples.offsets)[which]
    offsets = np.concatenate([[0], np.cumsum(sizes)])
    row_of = np.repeat(np.arange(sizes.size), sizes)
    moved = np.repeat(offsets[:-1] - samples.offsets[which], sizes)
    entry = np.arange(row_of.size) - moved
    passes = every[which]
    itself = passes[:, None] == np.array(remembered, dtype=np.intp)
    since_s = samples.since_s[entry]
    first_s, last_s = np.repeat(opens, sizes, axis=1)
    open_now = (since_s >= first_s) & (since_s <= last_s)
    latest = samples.latest_start[entry] + moved
    may_start, may_end = _of_use(samples.may_start[entry] & open_now, samples.may_end[entry], latest, offsets)
    fresh = np.full(since_s.size, NOTHING, dtype=np.int64)
    return Rows(
        begin_utc_s=samples.begin_utc_s,
        option=which,
        pass_index=passes,
        satellite=np.array([one.satellite for one in options])[which],
        offsets=offsets,
        first_s=since_s[offsets[:-1]],
        last_s=since_s[offsets[1:] - 1],
        least_s=np.array([one.least_s for one in options])[which],
        bonus=samples.bonus[which],
        price=np.zeros(which.size, dtype=np.int64) if prices is None else prices[passes],
        layer=worked,
        leaves=worked | itself,
        remembered_until_s=np.array([lives[p].last_s for p in remembered]),
        pass_until_s=np.array([lives[p].last_s for p in passes.tolist()]),
        moments_s=samples.moments_s,
        row_of=row_of,
        moment=samples.moment[entry],
        since_s=since_s,
        m_deg=samples.m_deg[entry],
        e_deg=samples.e_deg[entry],
        over=samples.over[entry],
        whole=samples.whole[entry],
        spare=samples.spare[entry],
        may_start=may_start,
        may_end=may_end,
        latest_start=latest,
        full_from=samples.full_from[entry] + moved,
        start_value=fresh,
        end_value=fresh.copy(),
        came_from=np.full(since_s.size, -1, dtype=np.intp),
    )


def _of_use(may_start: Flags, may_end: Flags, latest_start: Indices, offsets: Indices) -> tuple[Flags, Flags]:
    """Those of the starts and ends of rows (F,) that have an end and a start of the same row to go with."""
    entry, begins, sizes = np.arange(may_start.size), offsets[:-1], np.diff(offsets)
    last = np.maximum.reduceat(np.where(may_end, latest_start, -1), begins)
    may_start = may_start & (entry <= np.repeat(last, sizes))
    first = np.minimum.reduceat(np.where(may_start, entry, entry.size), begins)
    return may_start, may_end & (latest_start >= np.repeat(first, sizes))


class _Span(NamedTuple):
    """First and last moment of a stretch, seconds since the beginning."""

    first_s: float
    last_s: float


def _lives(options: tuple[Option, ...], spans: Sequence[_Span]) -> dict[int, _Span]:
    """When each pass can be worked at all, by any of its options."""
    lives: dict[int, _Span] = {}
    for one, span in zip(options, spans, strict=True):
        known = lives.get(one.pass_index, span)
        lives[one.pass_index] = _Span(min(known.first_s, span.first_s), max(known.last_s, span.last_s))
    return lives


def _layers(
    spans: Floats, sizes: Indices, passes: Indices, remembered: tuple[int, ...], lives: dict[int, _Span]
) -> tuple[Indices, Flags, Floats]:
    """Sets of remembered passes that may have been worked when an option is started, and when that is.

    A set lives where all its passes do: where one of them is over, it is as good as not remembered.

    Args:
        spans, sizes, passes: (O, 2), (O,) and (O,) those of the options.
        remembered, lives: as in `laid_out` and `_lives`.

    Returns:
        Of R rows, by option, the option (R,), which passes of ``remembered`` are in the set (R, P), and the
        first and the last moment of it (2, R).

    Raises:
        TooManyLayers: as `laid_out`.
    """
    option, (first_s, last_s) = np.arange(passes.size), spans.T
    layer = np.zeros((passes.size, len(remembered)), dtype=bool)
    for bit, one in enumerate(remembered):
        late_s, early_s = np.maximum(first_s, lives[one].first_s), np.minimum(last_s, lives[one].last_s)
        more = np.flatnonzero((late_s <= early_s) & (passes[option] != one))
        with_it = layer[more]
        with_it[:, bit] = True
        option, layer = np.append(option, option[more]), np.concatenate([layer, with_it])
        first_s, last_s = np.append(first_s, late_s[more]), np.append(last_s, early_s[more])
        if sizes[option].sum() > MOST_SAMPLES or _pairs(first_s, last_s, spans[option, 1]) > MOST_PAIRS:
            raise TooManyLayers
    order = np.argsort(option, kind="stable")
    return option[order], layer[order], np.stack([first_s, last_s])[:, order]


def _pairs(first_s: Floats, last_s: Floats, end_s: Floats) -> float:
    """How many pairs of a start and a row near it there are, about, by when rows are started and end (R,)."""
    near = np.searchsorted(np.sort(first_s), last_s, side="right") - np.searchsorted(np.sort(end_s), first_s)
    return float((near * (last_s - first_s)).sum()) / GRID_S
