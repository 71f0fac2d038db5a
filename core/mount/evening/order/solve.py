"""The exact joint choice: which passes, each in which way, from when to when.

Dynamic programming over the grid. With C(o, s, t) what a contact of option o from s to t is worth (`worth`),
the best that an evening can be worth that ends with option o at t, and that starts it at s, is

    E[o, t] = max over s, t - s >= least(o), of (V[o, s] + C(o, s, t)),
    V[o', s'] = max over (o, t), t + move + margin <= s', of (E[o, t] - change - turning of the move).

C is concave in its seconds of signal, two straight lines, so that two running greatest values answer the
first line (`sweep`); of the ends before a start only a few need be looked at (`runs`, `past`).

One contact a pass: two in a row on one pass are never joined; where the best chain still works a pass twice
(leaving it for another and coming back), the problem is solved again with that pass remembered: every option
overlapping it is then held twice, in a layer where the pass is unworked and one where it has been, and may
only be started in that. The chain without a second contact that comes of this is the optimum: the chains
allowed always include every evening with one contact a pass, and never anything worth more than it says.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.base.units import Progress, no_progress
from core.mount.evening.order.moves import Mover
from core.mount.evening.order.options import Option
from core.mount.evening.order.rows import Rows, laid_out
from core.mount.evening.order.rules import MountStart
from core.mount.evening.order.samples import Samples, samples_of
from core.mount.evening.order.sweep import sweep
from core.mount.evening.order.worth import Score, Units

#: A pass with so many times enough signal is left and come back to more often than not.
_LONG = 2.0
#: Each more pass remembered may double the work, so no more are from the first.
_REMEMBERED_AT_FIRST = 3


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


@dataclass(frozen=True)
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
    """

    contacts: tuple[ContactChoice, ...]
    value: int
    score: Score
    rounds: int
    remembered: tuple[int, ...]
    rows: Rows | None


def solve(problem: ChoiceProblem, progress: Progress = no_progress, every: bool = False) -> Solution:
    """The best evening.

    Args:
        problem: what is chosen from.
        progress: called all along.
        every: the rows are to tell what every start and end is worth, as `ForcedChoices` asks of them.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    if not problem.options:
        return Solution((), 0, Score(0, 0), 0, (), None)
    samples = samples_of(problem.options, problem.units)
    remembered, rounds = _long_ones(problem), 0
    while True:
        rounds += 1
        rows = swept(problem, samples, remembered, every, progress)
        contacts, value = _best_chain(rows)
        twice = worked_twice(problem.options[one.option].pass_index for one in contacts)
        if not twice:
            return Solution(contacts, value, problem.units.score(value), rounds, remembered, rows)
        remembered = tuple(sorted({*remembered, *twice}))


def _long_ones(problem: ChoiceProblem) -> tuple[int, ...]:
    """The passes that would be left and come back to once they have enough: remembered from the first."""
    longest_s: dict[int, float] = {}
    for one in problem.options:
        longest_s[one.pass_index] = max(longest_s.get(one.pass_index, 0.0), float(one.signal_s[-1]))
    least_s = _LONG * problem.units.rules.enough_s
    long_ = sorted(
        (one for one, seconds in longest_s.items() if seconds > least_s), key=longest_s.__getitem__
    )
    return tuple(sorted(long_[max(len(long_) - _REMEMBERED_AT_FIRST, 0) :]))


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
    every: bool = True,
    progress: Progress = no_progress,
) -> Rows:
    """The rows of a problem that has options, with what every end is worth, and every start or those of use.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    rows = laid_out(problem.options, samples, remembered)
    sweep(rows, problem.mover, problem.units, problem.mount_start, every, progress)
    return rows


def _best_chain(rows: Rows) -> tuple[tuple[ContactChoice, ...], int]:
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
