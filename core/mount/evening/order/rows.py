"""The options laid out flat for the sweep, in layers where a pass must be remembered."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats
from core.mount.evening.order.options import Option
from core.mount.evening.order.worth import Ints, Units

Indices = NDArray[np.int64]

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

    @property
    def count(self) -> int:
        """R."""
        return int(self.option.size)


def laid_out(options: tuple[Option, ...], units: Units, remembered: tuple[int, ...], step_s: float) -> Rows:
    """The rows of a problem.

    Args:
        options: what may be chosen.
        units: of the goals.
        remembered: passes whose having been worked is kept in mind.
        step_s: the grid.
    """
    lives = {one: _life(options, one) for one in remembered}
    option, layers, opens = [], [], []
    for index, one in enumerate(options):
        own = (one.first_slot, one.last_slot)
        others = [p for p in remembered if p != one.pass_index]
        for layer, (low, high) in _layers(own, others, lives):
            option.append(index)
            layers.append([p in layer for p in remembered])
            opens.append((low, high))
    sizes = np.array([options[i].utc_s.size for i in option], dtype=np.int64)
    base = np.concatenate([[0], np.cumsum(sizes)])[:-1].astype(np.int64) if option else np.zeros(0, np.int64)
    flat = [_flat(options[i], units, (lo, hi)) for i, (lo, hi) in zip(option, opens, strict=True)]
    total = int(sizes.sum())
    which = np.array(option, dtype=np.int64)
    layer_flags = np.array(layers, dtype=bool).reshape(len(option), len(remembered))
    passes = np.array([options[i].pass_index for i in option], dtype=np.int64)
    own_bit = passes[:, None] == np.array(remembered, dtype=np.int64)[None, :]
    latest = [np.where(part[6] >= 0, part[6] + start, -1) for part, start in zip(flat, base, strict=True)]
    until: dict[int, int] = {}
    for one in options:
        end = one.last_slot
        until[one.pass_index] = max(until.get(one.pass_index, end), end)

    def joined(place: int, kind: type) -> NDArray[np.generic]:
        return np.concatenate([part[place] for part in flat]) if flat else np.zeros(0, dtype=kind)

    first = np.array([options[i].first_slot for i in option], dtype=np.int64)
    return Rows(
        option=which,
        pass_index=passes,
        satellite=np.array([options[i].satellite for i in option], dtype=np.int64),
        base=base,
        first=first,
        last=first + sizes - 1,
        layer=layer_flags,
        leaves=layer_flags | own_bit,
        remembered_until=np.array([lives[p][1] for p in remembered], dtype=np.int64),
        pass_until=until,
        row_of=np.repeat(np.arange(which.size), sizes),
        utc_s=joined(0, float),  # type: ignore[arg-type]
        m_deg=joined(1, float),  # type: ignore[arg-type]
        e_deg=joined(2, float),  # type: ignore[arg-type]
        value=joined(3, int),  # type: ignore[arg-type]
        may_start=joined(4, bool),  # type: ignore[arg-type]
        may_end=joined(5, bool),  # type: ignore[arg-type]
        latest_start=np.concatenate(latest) if latest else np.zeros(0, np.int64),
        start_value=np.full(total, NOTHING, dtype=np.int64),
        gained=np.full(total, NOTHING, dtype=np.int64),
        end_value=np.full(total, NOTHING, dtype=np.int64),
        came_from=np.full(total, -1, dtype=np.int64),
        latest_end=np.full(total, -1, dtype=np.int64),
        least_s=min((options[i].least_s for i in option), default=0.0),
    )


def _life(options: tuple[Option, ...], pass_index: int) -> tuple[int, int]:
    """First and last slot of a pass, over all its options."""
    own = [one for one in options if one.pass_index == pass_index]
    return min(one.first_slot for one in own), max(one.last_slot for one in own)


def _layers(
    own: tuple[int, int], others: list[int], lives: dict[int, tuple[int, int]]
) -> list[tuple[frozenset[int], tuple[int, int]]]:
    """Sets of remembered passes that may have been worked when this option is started, and the slots then.

    A set lives where all its passes do: where one of them is over, it is as good as not remembered.
    """
    found = [(frozenset[int](), own)]
    for one in others:
        low, high = lives[one]
        for layer, (first, last) in list(found):
            both = max(first, low), min(last, high)
            if both[0] <= both[1]:
                found.append((layer | {one}, both))
    return found


def _flat(
    option: Option, units: Units, opens: tuple[int, int]
) -> tuple[Floats, Floats, Floats, Ints, Flags, Flags, Indices]:
    signal, clear, travel = units.counted(option)
    upper = signal * units.clear_room + clear
    grows = np.diff(upper) > 0
    slots = option.first_slot + np.arange(option.utc_s.size)
    may_start = np.append(grows, False) & (slots >= opens[0]) & (slots <= opens[1])
    may_end = np.append(False, grows)
    latest = np.searchsorted(option.utc_s, option.utc_s - option.least_s + _TIE_S, side="right") - 1
    latest = np.minimum(latest, np.arange(slots.size) - 1)
    value = units.packed(signal, clear, travel)
    return option.utc_s, option.m_deg, option.e_deg, value, may_start, may_end, latest
