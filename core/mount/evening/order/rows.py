"""The options laid out for the sweep: all samples in flat columns, row after row.

Where it must be remembered whether a pass was worked already (`solve`), the options that overlap it are held
in several rows, one for each set of remembered passes worked before (a *layer*).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.evening.order.options import Option
from core.mount.evening.order.worth import Ints, Units

#: Less than any evening is worth: nothing leads here.
NOTHING = -(2**62)
#: What is worth less comes of NOTHING with something added to it.
HOPELESS = NOTHING // 2
_TIE_S = 1e-9
#: Signal that grows by less between two moments is rounding.
GROWS_S = 1e-6


@dataclass(frozen=True, eq=False)
class Rows:
    """R rows, an option in a layer each, their samples one after the other in flat columns of length F.

    Moments are seconds since ``begin_utc_s``, so that nothing is lost to the size of POSIX seconds.

    Attributes:
        begin_utc_s: the earliest moment of any.
        option, pass_index, satellite: (R,) the option, its pass and satellite.
        offsets: (R + 1,) where each row's samples begin, and where the last ends.
        first_s, last_s, least_s: (R,) first and last moment, the least contact.
        bonus: (R,) as in `Counted`.
        layer, leaves: (R, P) bool over the remembered passes: worked before this row's contact, and after.
        remembered_until_s: (P,) last moment at which a remembered pass can be started.
        pass_until_s: (R,) the last moment of any option of the row's pass.
        row_of, since_s, m_deg, e_deg, over, whole, spare: (F,) the samples; both worths as in `Counted`.
        may_start, may_end: (F,) bool: signal grows from here on, has grown up to here.
        latest_start: (F,) flat index of the latest start that an end there allows; below the row's offset
            where none.
        full_from: (F,) flat index of the first start from which a contact to here has no more than enough.
        start_value, end_value, came_from: (F,) the sweep's: V, E, and the flat index of the end before a start
            (negative: none).
        won, won_spare: (F,) the greatest V - whole, and V - spare, of any start of the row up to here.
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
    layer: Flags
    leaves: Flags
    remembered_until_s: Floats
    pass_until_s: Floats
    row_of: Indices
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
    won: Ints
    won_spare: Ints

    @property
    def count(self) -> int:
        """R."""
        return int(self.option.size)

    def places_before(self, which: Indices, since_s: float) -> Indices:
        """(W,) the place beyond the last sample of some rows that lies before a moment."""
        found = np.searchsorted(self.place_s, which * self.apart_s + since_s)
        return np.clip(found, self.offsets[which], self.offsets[which + 1])

    @cached_property
    def apart_s(self) -> float:
        """Row after row on one axis of time, rows lie that far apart."""
        return float(self.last_s.max(initial=0.0)) + 10.0

    @cached_property
    def place_s(self) -> Floats:
        """(F,) the samples' moments on that axis."""
        return self.row_of * self.apart_s + self.since_s

    def best_start(self, end: int) -> int:
        """The start, the first of equals, of the contact worth most that ends with a sample (flat indices)."""
        first = int(self.offsets[self.row_of[end]])
        starts = np.arange(first, int(self.latest_start[end]) + 1)
        full = starts >= self.full_from[end]
        bonus = self.bonus[self.row_of[end]]
        won = self.start_value[starts] - np.where(full, self.whole[starts], self.spare[starts])
        return first + int(np.argmax(won + np.where(full, self.whole[end], self.spare[end] + bonus)))


def laid_out(options: tuple[Option, ...], units: Units, remembered: tuple[int, ...]) -> Rows:
    """The rows of a problem.

    Args:
        options: what may be chosen.
        units: of the goals.
        remembered: passes whose having been worked is kept in mind.
    """
    begin_utc_s = min((float(one.utc_s[0]) for one in options), default=0.0)
    lives = _lives(options, begin_utc_s)
    option, layers, opens = [], [], []
    for index, one in enumerate(options):
        others = [p for p in remembered if p != one.pass_index]
        span = _Span(float(one.utc_s[0]) - begin_utc_s, float(one.utc_s[-1]) - begin_utc_s)
        for layer, open_ in _layers(span, others, lives):
            option.append(index)
            layers.append([p in layer for p in remembered])
            opens.append(open_)
    samples = [_samples(one, units, begin_utc_s) for one in options]
    own = [samples[i] for i in option]
    sizes = np.array([one.since_s.size for one in own], dtype=np.intp)
    offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.intp)
    row_of = np.repeat(np.arange(sizes.size), sizes)
    passes = np.array([options[i].pass_index for i in option], dtype=np.intp)
    worked = np.array(layers, dtype=bool).reshape(len(option), len(remembered))
    itself = passes[:, None] == np.array(remembered, dtype=np.intp)[None, :]
    since_s = _flat(own, "since_s", np.float64)
    started = np.array(opens, dtype=np.float64).reshape(-1, 2)[row_of]
    open_now = (since_s >= started[:, 0]) & (since_s <= started[:, 1])
    fresh = np.full(since_s.size, NOTHING, dtype=np.int64)
    return Rows(
        begin_utc_s=begin_utc_s,
        option=np.array(option, dtype=np.intp),
        pass_index=passes,
        satellite=np.array([options[i].satellite for i in option], dtype=np.intp),
        offsets=offsets,
        first_s=since_s[offsets[:-1]],
        last_s=since_s[offsets[1:] - 1],
        least_s=np.array([options[i].least_s for i in option]),
        bonus=np.array([samples[i].bonus for i in option], dtype=np.int64),
        layer=worked,
        leaves=worked | itself,
        remembered_until_s=np.array([lives[p].last_s for p in remembered]),
        pass_until_s=np.array([lives[p].last_s for p in passes.tolist()]),
        row_of=row_of,
        since_s=since_s,
        m_deg=_flat(own, "m_deg", np.float64),
        e_deg=_flat(own, "e_deg", np.float64),
        over=_flat(own, "over", np.bool_),
        whole=_flat(own, "whole", np.int64),
        spare=_flat(own, "spare", np.int64),
        may_start=_flat(own, "may_start", np.bool_) & open_now,
        may_end=_flat(own, "may_end", np.bool_),
        latest_start=_flat(own, "latest_start", np.intp) + offsets[row_of],
        full_from=_flat(own, "full_from", np.intp) + offsets[row_of],
        start_value=fresh,
        end_value=fresh.copy(),
        came_from=np.full(since_s.size, -1, dtype=np.intp),
        won=fresh.copy(),
        won_spare=fresh.copy(),
    )


class _Span(NamedTuple):
    """First and last moment of a stretch, seconds since the beginning."""

    first_s: float
    last_s: float


def _lives(options: tuple[Option, ...], begin_utc_s: float) -> dict[int, _Span]:
    """When each pass can be worked at all, by any of its options."""
    lives: dict[int, _Span] = {}
    for one in options:
        span = _Span(float(one.utc_s[0]) - begin_utc_s, float(one.utc_s[-1]) - begin_utc_s)
        known = lives.get(one.pass_index, span)
        lives[one.pass_index] = _Span(min(known.first_s, span.first_s), max(known.last_s, span.last_s))
    return lives


def _layers(own: _Span, others: list[int], lives: dict[int, _Span]) -> list[tuple[frozenset[int], _Span]]:
    """Sets of remembered passes that may have been worked when this option is started, and when that is.

    A set lives where all its passes do: where one of them is over, it is as good as not remembered.
    """
    found = [(frozenset[int](), own)]
    for one in others:
        for layer, span in list(found):
            both = _Span(max(span.first_s, lives[one].first_s), min(span.last_s, lives[one].last_s))
            if both.first_s <= both.last_s:
                found.append((layer | {one}, both))
    return found


@dataclass(frozen=True, eq=False)
class _Samples:
    """One option's part of the flat columns, as in `Rows`, its indices counted from its own first sample."""

    since_s: Floats
    m_deg: Floats
    e_deg: Floats
    over: Flags
    whole: Ints
    spare: Ints
    bonus: int
    may_start: Flags
    may_end: Flags
    latest_start: Indices
    full_from: Indices


def _samples(option: Option, units: Units, begin_utc_s: float) -> _Samples:
    counted = units.counted(option)
    since_s = option.utc_s - begin_utc_s
    signal_s = option.signal_s[-1] - option.signal_s[::-1] if option.backward else option.signal_s
    grows = np.diff(signal_s) > GROWS_S
    latest = np.searchsorted(since_s, since_s - option.least_s + _TIE_S, side="right") - 1
    return _Samples(
        since_s=since_s,
        m_deg=option.m_deg,
        e_deg=option.e_deg,
        over=option.over,
        whole=counted.whole,
        spare=counted.spare,
        bonus=counted.bonus,
        may_start=np.append(grows, False),
        may_end=np.append(False, grows),
        latest_start=np.minimum(latest, np.arange(since_s.size) - 1),
        full_from=np.searchsorted(signal_s, signal_s - units.rules.enough_s - _TIE_S),
    )


def _flat(samples: list[_Samples], name: str, kind: type) -> np.ndarray:
    return np.concatenate([np.zeros(0, dtype=kind), *(getattr(one, name) for one in samples)])
