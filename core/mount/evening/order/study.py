"""What anything else would have cost: the best evening with one choice forced, all others made anew.

A sweep forward tells what the best evening up to every start and end is worth, one with time running
backward what the best rest of it is. Their sum is the best evening that has a contact of a given option in
it, or one that starts or ends at a given moment: every such question is a re-solving of the whole evening,
and two sweeps answer all of them. Only that a pass be worked once before and after is not asked of the sum:
where the two halves share a pass, the evening is worth less than it says, and the cost told is a least one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.base.units import Progress, no_progress
from core.mount.evening.order.options import turned_round
from core.mount.evening.order.rows import NOTHING, Rows
from core.mount.evening.order.solve import Chosen, Problem, Solution, swept, traced, worked_twice


@dataclass(frozen=True)
class Refused:
    """The best evening with a choice forced.

    Attributes:
        value: what it is worth, as `Units.packed`.
        contacts: by time.
        at: place among them of the contact forced.
        exact: no pass is worked twice in it; else it is worth less than ``value``.
    """

    value: int
    contacts: tuple[Chosen, ...]
    at: int
    exact: bool


class Study:
    """The questions, asked of one solved problem.

    Raises:
        Cancelled: ``progress`` returned False.
    """

    def __init__(self, problem: Problem, solution: Solution, progress: Progress = no_progress) -> None:
        self.problem, self.solution = problem, solution
        self._forward = solution.rows
        mirrored = replace(
            problem,
            options=tuple(turned_round(one) for one in problem.options),
            mover=replace(problem.mover, backward=True),
            standing=None,
        )
        self._backward = swept(mirrored, solution.remembered, progress)
        self._ahead = _by_option(self._forward, len(problem.options))
        self._behind = _by_option(self._backward, len(problem.options))

    def with_option(self, option: int) -> Refused | None:
        """The best evening that works a pass in this option; None where there is none."""
        size = self.problem.options[option].utc_s.size
        return self._best(option, range(size), ending=True)

    def ending(self, option: int, sample: int) -> Refused | None:
        """The best evening with a contact of this option that ends with this sample."""
        return self._best(option, range(sample, sample + 1), ending=True)

    def starting(self, option: int, sample: int) -> Refused | None:
        """The best evening with a contact of this option that starts with this sample."""
        return self._best(option, range(sample, sample + 1), ending=False)

    def with_pass(self, pass_index: int) -> tuple[int, Refused] | None:
        """The best evening that works this pass, and the option it uses."""
        own = (i for i, one in enumerate(self.problem.options) if one.pass_index == pass_index)
        found = [(i, best) for i, best in ((i, self.with_option(i)) for i in own) if best is not None]
        return max(found, key=lambda pair: pair[1].value, default=None)

    def _best(self, option: int, samples: range, ending: bool) -> Refused | None:
        size = self.problem.options[option].utc_s.size
        best, where = NOTHING, (0, 0)
        for ahead in self._ahead[option]:
            for behind in self._behind[option]:
                if (self._forward.layer[ahead] & self._backward.layer[behind]).any():
                    continue
                a = int(self._forward.base[ahead]) + np.arange(samples.start, samples.stop)
                b = int(self._backward.base[behind]) + size - 1 - np.arange(samples.start, samples.stop)
                first = self._forward.end_value[a] if ending else self._forward.start_value[a]
                rest = self._backward.start_value[b] if ending else self._backward.end_value[b]
                both = np.where((first > NOTHING) & (rest > NOTHING), first + rest, NOTHING)
                place = int(np.argmax(both))
                if both[place] > best:
                    best, where = int(both[place]), (int(a[place]), int(b[place]))
        return None if best == NOTHING else self._told(best, *where, ending)

    def _told(self, value: int, ahead: int, behind: int, ending: bool) -> Refused:
        """The evening around a sample, flat indices in both sweeps."""
        if ending:
            before = traced(self._forward, ahead)
            after = self._mirrored(traced(self._backward, int(self._backward.came_from[behind])))
            at = len(before) - 1
        else:
            before = traced(self._forward, int(self._forward.came_from[ahead]))
            after = self._mirrored(traced(self._backward, behind))
            at = len(before)
        contacts = before + after
        passes = [self.problem.options[one.option].pass_index for one in contacts]
        return Refused(value, contacts, at, not worked_twice(passes))

    def _mirrored(self, chain: tuple[Chosen, ...]) -> tuple[Chosen, ...]:
        """A chain of the backward sweep, by time."""
        last = [self.problem.options[one.option].utc_s.size - 1 for one in chain]
        turned = [Chosen(c.option, k - c.last, k - c.first) for c, k in zip(chain, last, strict=True)]
        return tuple(reversed(turned))


def _by_option(rows: Rows, count: int) -> list[list[int]]:
    """The rows of every option."""
    found: list[list[int]] = [[] for _ in range(count)]
    for row, option in enumerate(rows.option.tolist()):
        found[option].append(row)
    return found
