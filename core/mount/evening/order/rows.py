"""The options laid out for the sweep: all samples in flat arrays, so that a block of slots is one expression.

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
_TIE_S = 1e-9


@dataclass(frozen=True, eq=False)
class Rows:
    """R rows, an option in a layer each, their samples one after the other in flat arrays of length F.

    Attributes:
        option, pass_index, satellite, base, first, last: (R,) the option, its pass and satellite, where the
            row's samples begin in the flat arrays, its first and last slot.
        layer, leaves: (R, P) bool over the remembered passes: worked before this row's contact, and after.
        remembered_until: (P,) last slot at which a remembered pass can be started.
        pass_until: by pass, the last slot of any of its options.
        row_of, utc_s, m_deg, e_deg, value: (F,) the samples; value as `Units.packed`.
        may_start, may_end: (F,) bool.
        latest_start: (F,) flat index of the latest start that an end there allows, -1 where none.
        start_value, gained, end_value, came_from, latest_end: (F,) the sweep's: V, the greatest V - value up
            to here, E, the flat index of the end before a start (negative: none), and the latest flat index
            up to here with an E (-1: none).
        least_s: of all rows.
    """

    option: Indices
    pass_index: Indices
    satellite: Indices
    base: Indices
    first: Indices
    last: Indices
    layer: Flags
    leaves: Flags
    remembered_until: Indices
    pass_until: dict[int, int]
    row_of: Indices
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    value: Ints
    may_start: Flags
    may_end: Flags
    latest_start: Indices
    start_value: Ints
    gained: Ints
    end_value: Ints
    came_from: Indices
    latest_end: Indices
    least_s: float

    @cached_property
    def best_start(self) -> Indices:
        """(F,) flat index of the start that ``gained`` is of, the first of equals; once it is filled in."""
        before = np.concatenate([[NOTHING], self.gained[:-1]])
        before[self.base] = NOTHING
        return np.maximum.accumulate(np.where(self.gained > before, np.arange(self.gained.size), 0))

    @property
    def count(self) -> int:
        """R."""
        return int(self.option.size)


def laid_out(options: tuple[Option, ...], units: Units, remembered: tuple[int, ...]) -> Rows:
    """The rows of a problem.

    Args:
        options: what may be chosen.
        units: of the goals.
        remembered: passes whose having been worked is kept in mind.
    """
    lives = {one: _life(options, one) for one in remembered}
    option, layers, opens = [], [], []
    for index, one in enumerate(options):
        others = [p for p in remembered if p != one.pass_index]
        for layer, slots in _layers(_Slots(one.first_slot, one.last_slot), others, lives):
            option.append(index)
            layers.append([p in layer for p in remembered])
            opens.append(slots)
    samples = [_samples(options[i], units, started) for i, started in zip(option, opens, strict=True)]
    sizes = np.array([one.utc_s.size for one in samples], dtype=np.int64)
    base = np.concatenate([[0], np.cumsum(sizes)])[:-1].astype(np.int64)
    total = int(sizes.sum())
    passes = np.array([options[i].pass_index for i in option], dtype=np.int64)
    worked = np.array(layers, dtype=bool).reshape(len(option), len(remembered))
    own = passes[:, None] == np.array(remembered, dtype=np.int64)[None, :]
    latest = [
        np.where(one.latest_start >= 0, one.latest_start + start, -1)
        for one, start in zip(samples, base, strict=True)
    ]
    until: dict[int, int] = {}
    for one in options:
        until[one.pass_index] = max(until.get(one.pass_index, one.last_slot), one.last_slot)
    first = np.array([options[i].first_slot for i in option], dtype=np.int64)
    return Rows(
        option=np.array(option, dtype=np.int64),
        pass_index=passes,
        satellite=np.array([options[i].satellite for i in option], dtype=np.int64),
        base=base,
        first=first,
        last=first + sizes - 1,
        layer=worked,
        leaves=worked | own,
        remembered_until=np.array([lives[p].last for p in remembered], dtype=np.int64),
        pass_until=until,
        row_of=np.repeat(np.arange(sizes.size), sizes),
        utc_s=np.concatenate([np.zeros(0), *(one.utc_s for one in samples)]),
        m_deg=np.concatenate([np.zeros(0), *(one.m_deg for one in samples)]),
        e_deg=np.concatenate([np.zeros(0), *(one.e_deg for one in samples)]),
        value=np.concatenate([np.zeros(0, np.int64), *(one.value for one in samples)]),
        may_start=np.concatenate([np.zeros(0, bool), *(one.may_start for one in samples)]),
        may_end=np.concatenate([np.zeros(0, bool), *(one.may_end for one in samples)]),
        latest_start=np.concatenate([np.zeros(0, np.int64), *latest]),
        start_value=np.full(total, NOTHING, dtype=np.int64),
        gained=np.full(total, NOTHING, dtype=np.int64),
        end_value=np.full(total, NOTHING, dtype=np.int64),
        came_from=np.full(total, -1, dtype=np.int64),
        latest_end=np.full(total, -1, dtype=np.int64),
        least_s=min((options[i].least_s for i in option), default=0.0),
    )


class _Slots(NamedTuple):
    """First and last slot of a stretch of the grid."""

    first: int
    last: int


def _life(options: tuple[Option, ...], pass_index: int) -> _Slots:
    """Where a pass can be worked at all, by any of its options."""
    own = [one for one in options if one.pass_index == pass_index]
    return _Slots(min(one.first_slot for one in own), max(one.last_slot for one in own))


def _layers(own: _Slots, others: list[int], lives: dict[int, _Slots]) -> list[tuple[frozenset[int], _Slots]]:
    """Sets of remembered passes that may have been worked when this option is started, and the slots then.

    A set lives where all its passes do: where one of them is over, it is as good as not remembered.
    """
    found = [(frozenset[int](), own)]
    for one in others:
        for layer, slots in list(found):
            both = _Slots(max(slots.first, lives[one].first), min(slots.last, lives[one].last))
            if both.first <= both.last:
                found.append((layer | {one}, both))
    return found


@dataclass(frozen=True, eq=False)
class _Samples:
    """One row's part of the flat arrays, as in `Rows` but for ``latest_start``: (K,), an index in the row."""

    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    value: Ints
    may_start: Flags
    may_end: Flags
    latest_start: Indices


def _samples(option: Option, units: Units, started: _Slots) -> _Samples:
    signal, clear, travel = units.counted(option)
    grows = np.diff(signal * units.clear_room + clear) > 0
    slots = option.first_slot + np.arange(option.utc_s.size)
    latest = np.searchsorted(option.utc_s, option.utc_s - option.least_s + _TIE_S, side="right") - 1
    return _Samples(
        utc_s=option.utc_s,
        m_deg=option.m_deg,
        e_deg=option.e_deg,
        value=units.packed(signal, clear, travel),
        may_start=np.append(grows, False) & (slots >= started.first) & (slots <= started.last),
        may_end=np.append(False, grows),
        latest_start=np.minimum(latest, np.arange(slots.size) - 1),
    )
