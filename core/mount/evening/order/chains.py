"""A problem of choice, and the chains of contacts that a sweep finds best."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.base.units import Progress, no_progress
from core.mount.evening.order.moves import Mover
from core.mount.evening.order.options import Option
from core.mount.evening.order.rows import Rows, laid_out
from core.mount.evening.order.rules import MountStart
from core.mount.evening.order.samples import Samples
from core.mount.evening.order.sweep import sweep
from core.mount.evening.order.worth import Ints, Score, Units


@dataclass(frozen=True, eq=False)
class ChoiceProblem:
    """All that the choice depends on.

    Attributes:
        options: what may be chosen.
        mover: moves between contacts.
        units: what things cost, and in which units it is counted.
        mount_start: where the mount stands when it begins; None: where the first contact starts.
    """

    options: tuple[Option, ...]
    mover: Mover
    units: Units
    mount_start: MountStart | None = None


@dataclass(frozen=True)
class ContactChoice:
    """One contact: the index of its option, and the samples of that which it starts and ends with."""

    option: int
    first: int
    last: int


@dataclass(frozen=True, eq=False)
class Solution:
    """The best evening.

    Attributes:
        contacts: by time.
        value: both goals in one whole number.
        score: one by one.
        rounds: how often the problem was solved until no pass was worked twice.
        remembered: the passes that had to be remembered for that.
        rows: what the last sweep found, for asking what else would have cost; None where there are no
        options.
        prices: of each pass by its index, in whole numbers, that the last sweep had (`priced`); None: none.
        short: the best evening may be worth so much more at most; 0 where this is it.
    """

    contacts: tuple[ContactChoice, ...]
    value: int
    score: Score
    rounds: int
    remembered: tuple[int, ...]
    rows: Rows | None
    prices: Ints | None = None
    short: int = 0


def worked_twice(passes: Iterable[int]) -> set[int]:
    """Passes that come more than once."""
    seen: set[int] = set()
    twice: set[int] = set()
    for one in passes:
        (twice if one in seen else seen).add(one)
    return twice


def swept(
    problem: ChoiceProblem,
    samples: Samples,
    remembered: tuple[int, ...],
    prices: Ints | None = None,
    every: bool = True,
    progress: Progress = no_progress,
) -> Rows:
    """The rows of a problem that has options, with what every end is worth, and every start or those of use.

    Args:
        problem, samples: what is chosen from.
        remembered, prices: as in `laid_out`.
        every, progress: as in `sweep`.

    Raises:
        TooManyLayers: too many passes are to be remembered.
        Cancelled: ``progress`` returned False.
    """
    rows = laid_out(problem.options, samples, remembered, prices)
    sweep(rows, problem.mover, problem.units, problem.mount_start, every, progress)
    return rows


def best_chain(rows: Rows) -> tuple[tuple[ContactChoice, ...], int]:
    """The chain worth most, and its worth; nothing where none is worth anything."""
    best = int(np.argmax(rows.end_value))
    value = int(rows.end_value[best])
    return (traced(rows, best), value) if value > 0 else ((), 0)


def traced(rows: Rows, end: int) -> tuple[ContactChoice, ...]:
    """The chain that ends with a sample (flat index; negative: none), in the order of the sweep."""
    chain: list[ContactChoice] = []
    while end >= 0:
        row = int(rows.row_of[end])
        base = int(rows.offsets[row])
        start = rows.best_start(end)
        chain.append(ContactChoice(int(rows.option[row]), start - base, end - base))
        end = int(rows.came_from[start])
    return tuple(reversed(chain))
