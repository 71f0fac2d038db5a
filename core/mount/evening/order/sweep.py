"""The sweep over the grid: what the best evening up to every start and every end of a contact is worth.

The recurrence is that of `solve`. It is filled in block by block: no contact being shorter than the least,
what ends within a block of that length began before it, so that a whole block is a few array operations.

Of the ends before a start only those of the last minutes are searched for one that leaves time for the move;
older ones leave time for any move, and of those only the best are kept (`_PastEnds`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Indices
from core.base.errors import Cancelled
from core.base.units import Progress, no_progress
from core.mount.evening.order.moves import ROUNDING_S, Mover
from core.mount.evening.order.rows import NOTHING, Rows
from core.mount.evening.order.rules import EveningRules, MountStart
from core.mount.evening.order.worth import Ints, Units

#: `came_from` of a contact that begins the evening.
_FIRST = -1
#: Slots at once, at most: what a block of them needs stays in the processor's cache.
_MOST_SLOTS = 36


def sweep(
    rows: Rows,
    mover: Mover,
    units: Units,
    rules: EveningRules,
    mount_start: MountStart | None,
    step_s: float,
    progress: Progress = no_progress,
) -> None:
    """Fill in start_value, end_value, came_from and latest_end of the rows.

    Args:
        rows: laid out, nothing filled in yet.
        mover, units, rules, mount_start: as in `ChoiceProblem`.
        step_s: the grid.
        progress: called for every block of slots.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    # Slot j holds a moment in (step (j - 1), step j]: so many slots apart, any move fits.
    old = math.ceil(mover.longest_s() / step_s + 1e-9) + 1
    size = min(max(int(rows.least_s / step_s + 1e-9), 1), _MOST_SLOTS)
    past = _PastEnds(rows, units)
    by_first = np.argsort(rows.first, kind="stable")
    waiting, active = 0, np.zeros(0, dtype=np.int64)
    slot, end = int(rows.first.min()), int(rows.last.max())
    begin = slot
    settings = _SweepSettings(rows, mover, units, units.change(rules.change_cost_s), mount_start, old, step_s)
    while slot <= end:
        if not progress(slot - begin, end - begin, "choosing the evening"):
            raise Cancelled
        stop = min(slot + size, end + 1)
        upto = int(np.searchsorted(rows.first[by_first], stop, side="left"))
        active = np.concatenate([active, by_first[waiting:upto]])
        waiting = upto
        over = rows.last[active] < slot - old
        past.add(active[over], slot, rules.change_cost_s > 0.0)
        active = active[~over]
        if active.size:
            _block(settings, active, past.ends, slot, stop)
            slot = stop
        else:
            slot = int(rows.first[by_first[waiting]]) if waiting < rows.count else end + 1


@dataclass(frozen=True, eq=False)
class _SweepSettings:
    """What every block needs.

    Attributes:
        rows, mover, units, mount_start, step_s: as given to `sweep`.
        change: what a change of satellite takes from the whole number.
        old: so many slots apart, there is time for any move.
    """

    rows: Rows
    mover: Mover
    units: Units
    change: int
    mount_start: MountStart | None
    old: int
    step_s: float


class _PastEnds:
    """The ends of contacts that are so long over that any later start can follow them.

    Of those that no later start can tell apart but by their worth, only the best in the first two goals are
    kept, all of them where several tie, since the move from each is another.
    """

    def __init__(self, rows: Rows, units: Units) -> None:
        self._rows, self._room = rows, units.travel_room
        self._best: dict[tuple[int, int, tuple[int, ...]], list[int]] = {}
        self._ends = np.zeros(0, dtype=np.int64)

    def add(self, over: Indices, slot: int, by_satellite: bool) -> None:
        """Rows whose last slot is long past."""
        rows = self._rows
        for row in over.tolist():
            end = int(rows.latest_end[rows.base[row] + rows.last[row] - rows.first[row]])
            if end >= 0:
                self._put(end, row, slot, by_satellite)
        if over.size:
            self._rekey(slot, by_satellite)

    def _rekey(self, slot: int, by_satellite: bool) -> None:
        """Passes that are over now need not be told apart any more."""
        before, self._best = self._best, {}
        for ends in before.values():
            for end in ends:
                self._put(end, int(self._rows.row_of[end]), slot, by_satellite)
        self._ends = np.array([end for ends in self._best.values() for end in ends], dtype=np.int64)

    def _put(self, end: int, row: int, slot: int, by_satellite: bool) -> None:
        rows = self._rows
        own = int(rows.pass_index[row])
        alive = rows.leaves[row] & (rows.remembered_until >= slot)
        key = (
            int(rows.satellite[row]) if by_satellite else 0,
            own if rows.pass_until[own] >= slot else -1,
            tuple(np.flatnonzero(alive).tolist()),
        )
        held = self._best.setdefault(key, [])
        mine = self._upper(end)
        best = self._upper(held[0]) if held else mine
        if mine > best:
            self._best[key] = [end]
        elif mine == best and not any(self._alike(end, other) for other in held):
            held.append(end)

    def _upper(self, end: int) -> int:
        """The first two goals."""
        return -(-int(self._rows.end_value[end]) // self._room)

    def _alike(self, one: int, other: int) -> bool:
        rows = self._rows
        return bool(
            rows.m_deg[one] == rows.m_deg[other]
            and rows.e_deg[one] == rows.e_deg[other]
            and rows.end_value[one] <= rows.end_value[other]
        )

    @property
    def ends(self) -> Indices:
        """Flat indices of the ends kept."""
        return self._ends


def _block(settings: _SweepSettings, active: Indices, past: Indices, slot: int, stop: int) -> None:
    """Ends, then starts, of the slots from ``slot`` to ``stop`` (not included)."""
    rows = settings.rows
    slots = np.arange(slot, stop)
    flat, inside = _window(rows, active, slots)
    _fill_ends(rows, flat, inside)
    starts = inside & rows.may_start[flat]
    some = starts.any(axis=1)
    if some.any():
        _fill_starts(settings, active, active[some], flat[some], starts[some], past, slots)
    open_ = inside & (rows.start_value[flat] > NOTHING)
    gained = np.where(open_, rows.start_value[flat] - rows.value[flat], NOTHING)
    gained[:, 0] = np.maximum(gained[:, 0], _carried(rows.gained, rows, active, slot, NOTHING))
    gained = np.maximum.accumulate(gained, axis=1)
    rows.gained[flat[inside]] = gained[inside]


def _window(rows: Rows, which: Indices, slots: Indices) -> tuple[Indices, Flags]:
    """(R', S) flat indices of some rows at these slots, held inside each row, and where they are inside."""
    here = slots[None, :] - rows.first[which][:, None]
    most = (rows.last - rows.first)[which][:, None]
    return rows.base[which][:, None] + np.clip(here, 0, most), (here >= 0) & (here <= most)


def _carried(values: Ints, rows: Rows, which: Indices, slot: int, otherwise: int) -> Ints:
    """(R',) a running value of each row at the slot before."""
    before = rows.base[which] + np.minimum(slot - 1, rows.last[which]) - rows.first[which]
    return np.where(slot > rows.first[which], values[np.maximum(before, 0)], otherwise)


def _fill_ends(rows: Rows, flat: Indices, inside: Flags) -> None:
    """E and the latest end of a block, from the starts before it."""
    which = rows.row_of[flat[:, 0]]
    latest = rows.latest_start[flat]
    gained = np.where(
        inside & rows.may_end[flat] & (latest >= 0), rows.gained[np.maximum(latest, 0)], NOTHING
    )
    real = gained > NOTHING
    rows.end_value[flat[real]] = rows.value[flat[real]] + gained[real]
    ends = np.where(real, flat, -1)
    ends[:, 0] = np.maximum(ends[:, 0], _latest_before(rows, which, flat[:, 0], inside[:, 0]))
    ends = np.maximum.accumulate(ends, axis=1)
    rows.latest_end[flat[inside]] = ends[inside]


def _latest_before(rows: Rows, which: Indices, flat: Indices, inside: Flags) -> Indices:
    """(R',) the latest end before a block."""
    return np.where(inside & (flat > rows.base[which]), rows.latest_end[np.maximum(flat - 1, 0)], -1)


def _fill_starts(
    settings: _SweepSettings,
    active: Indices,
    which: Indices,
    flat: Indices,
    starts: Flags,
    past: Indices,
    slots: Indices,
) -> None:
    """V of a block: for each start the best end before it, of every row and of what is long over."""
    rows = settings.rows
    ends = _latest_in_time(settings, active, which, flat, starts, slots)
    ends = np.concatenate(
        [ends, np.broadcast_to(past[None, :, None], (flat.shape[0], past.size, slots.size))], 1
    )
    value = _followed(settings, which, flat, ends, slots)
    best = value.argmax(axis=1)[:, None, :]
    value = np.take_along_axis(value, best, axis=1)[:, 0, :]
    ends = np.take_along_axis(ends, best, axis=1)[:, 0, :]
    fresh = _begun(settings, flat)
    first = fresh >= value
    value, ends = np.where(first, fresh, value), np.where(first, _FIRST, ends)
    rows.start_value[flat[starts]] = value[starts]
    rows.came_from[flat[starts]] = ends[starts]


def _latest_in_time(
    settings: _SweepSettings, active: Indices, which: Indices, flat: Indices, starts: Flags, slots: Indices
) -> Indices:
    """(Y, X, S) of each active row the latest end that leaves time to move to each start; -1 where none.

    Args:
        active: (X,) rows. which: (Y,) rows, with ``flat`` (Y, S) their samples and ``starts`` where a
        contact may start.
        slots: (S,).
    """
    rows, old = settings.rows, settings.old
    wide, inside = _window(rows, active, np.arange(slots[0] - old, slots[-1] + 1))
    real = inside & (rows.end_value[wide] > NOTHING)
    utc_s = np.where(real, rows.utc_s[wide], np.inf)
    m_deg, e_deg = rows.m_deg[wide], rows.e_deg[wide]
    begun = slots[None, :] - old >= rows.first[active][:, None]
    found = np.where(begun, rows.latest_end[wide[:, : slots.size]], -1)
    found = np.repeat(found[None, :, :], which.size, axis=0)
    looking = starts[:, None, :] & (rows.pass_index[which][:, None] != rows.pass_index[active])[:, :, None]
    start_s, start_m, start_e = (v[flat][:, None, :] for v in (rows.utc_s, rows.m_deg, rows.e_deg))
    spare = start_s - (settings.mover.margin_s - ROUNDING_S)
    moves = settings.mover.repeated_moves((m_deg, e_deg), (start_m, start_e), found.shape)
    for lag in range(int(settings.mover.margin_s / settings.step_s), old):
        then = slice(old - lag, old - lag + slots.size)
        if not real[:, then].any():
            continue
        needed = moves(then)
        needed += utc_s[:, then]
        fits = needed <= spare
        fits &= looking
        np.copyto(found, wide[None, :, then], where=fits)
        looking ^= fits
        if not looking.any():
            break
    return found


def _followed(settings: _SweepSettings, which: Indices, flat: Indices, ends: Indices, slots: Indices) -> Ints:
    """(Y, X, S) what each start is worth after each end, `NOTHING` where it cannot follow."""
    rows = settings.rows
    there = np.maximum(ends, 0)
    before = rows.row_of[there]
    apart = rows.pass_index[before] != rows.pass_index[which][:, None, None]
    allowed = (ends >= 0) & apart & (rows.end_value[there] > NOTHING)
    for one, until in enumerate(rows.remembered_until.tolist()):
        if until >= slots[0]:
            unknown = rows.leaves[before, one] & ~rows.layer[which, one][:, None, None]
            allowed &= ~(unknown & (slots <= until)[None, None, :])
    start = flat[:, None, :]
    gap_s = rows.utc_s[start] - rows.utc_s[there]
    travel = settings.mover.travel_deg(
        rows.m_deg[there], rows.m_deg[start], rows.e_deg[there], rows.e_deg[start], gap_s
    )
    value = rows.end_value[there] - settings.units.moved(travel)
    if settings.change:
        value = value - settings.change * (rows.satellite[before] != rows.satellite[which][:, None, None])
    return np.where(allowed, value, NOTHING)


def _begun(settings: _SweepSettings, flat: Indices) -> Ints:
    """(Y, S) what each start is worth as the evening's first."""
    if settings.mount_start is None:
        return np.zeros(flat.shape, dtype=np.int64)
    rows, (m_deg, e_deg) = settings.rows, settings.mount_start.axes
    gap_s = rows.utc_s[flat] - settings.mount_start.utc_s
    needed = settings.mover.seconds(m_deg, rows.m_deg[flat], e_deg, rows.e_deg[flat])
    travel = settings.mover.travel_deg(m_deg, rows.m_deg[flat], e_deg, rows.e_deg[flat], gap_s)
    fits = needed + settings.mover.margin_s <= gap_s + ROUNDING_S
    return np.where(fits, -settings.units.moved(travel), NOTHING)
