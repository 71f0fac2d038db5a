"""Alternatives to a chosen evening: the best evening with one choice forced and all others made anew.

A sweep forward (`sweep`) gives the worth of the best evening up to every start and every end of a contact;
one with time running backward gives the worth of the best rest of it. Their sum at a sample is the worth of
the best evening that has a contact of that option in it, or one that starts or ends there. Solving again for
every question would take a sweep each, and there is one for every option of every pass; two sweeps answer
all of them.

The sum does not know whether a pass is worked in both halves, once before and once after. Such an evening is
worth less than the sum says, and what is told of it is a least cost (`ForcedEvening.exact`).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from core.base.units import Progress, no_progress
from core.mount.evening.order.chains import (
    ChoiceProblem,
    ContactChoice,
    Solution,
    swept,
    traced,
    worked_twice,
)
from core.mount.evening.order.options import turned_round
from core.mount.evening.order.rows import HOPELESS, NOTHING, Rows
from core.mount.evening.order.samples import samples_of


@dataclass(frozen=True)
class ForcedEvening:
    """The best evening with a choice forced.

    Attributes:
        value: what it is worth, as `Units.packed`.
        contacts: by time.
        at: index among them of the contact forced.
        exact: no pass is worked twice in it, and it works all that have a price; else it is worth less than
            ``value``.
    """

    value: int
    contacts: tuple[ContactChoice, ...]
    at: int
    exact: bool

    @property
    def forced(self) -> ContactChoice:
        """The contact forced."""
        return self.contacts[self.at]


class _Meeting(NamedTuple):
    """A sample by its flat indices in both sweeps, and the worth of the evening around it."""

    value: int
    ahead: int
    behind: int


class ForcedChoices:
    """The alternatives to the solution of one problem that has options, its rows telling of every start.

    Raises:
        Cancelled: ``progress`` returned False.
    """

    def __init__(self, problem: ChoiceProblem, solution: Solution, progress: Progress = no_progress) -> None:
        self.problem, self.solution = problem, solution
        assert solution.rows is not None
        self._forward = solution.rows
        mirrored = replace(
            problem,
            options=tuple(turned_round(one) for one in problem.options),
            mover=replace(problem.mover, backward=True),
            mount_start=None,
        )
        samples = samples_of(mirrored.options, mirrored.units)
        self._backward = swept(mirrored, samples, solution.remembered, solution.prices, progress=progress)
        self._ahead = _by_option(self._forward, len(problem.options))
        self._behind = _by_option(self._backward, len(problem.options))

    def with_option(self, option: int) -> ForcedEvening | None:
        """The best evening that works a pass in this option; None where there is none."""
        return self.with_any((option,))

    def with_any(self, options: Iterable[int]) -> ForcedEvening | None:
        """The best evening that works a pass in one of these options; None where there is none."""
        sizes = ((option, self.problem.options[option].utc_s.size) for option in options)
        found = (self._best(option, range(size), ending=True) for option, size in sizes)
        best = max((one for one in found if one is not None), key=lambda one: one.value, default=None)
        return None if best is None else self._traced(best, ending=True)

    def ending(self, option: int, sample: int) -> ForcedEvening | None:
        """The best evening with a contact of this option that ends with this sample."""
        best = self._best(option, range(sample, sample + 1), ending=True)
        return None if best is None else self._traced(best, ending=True)

    def starting(self, option: int, sample: int) -> ForcedEvening | None:
        """The best evening with a contact of this option that starts with this sample."""
        best = self._best(option, range(sample, sample + 1), ending=False)
        return None if best is None else self._traced(best, ending=False)

    def with_pass(self, pass_index: int) -> ForcedEvening | None:
        """The best evening that works this pass; None where there is none."""
        return self.with_any(
            option for option, one in enumerate(self.problem.options) if one.pass_index == pass_index
        )

    def _best(self, option: int, samples: range, ending: bool) -> _Meeting | None:
        """The greatest sum of both sweeps at these samples, no remembered pass worked on both sides."""
        size = self.problem.options[option].utc_s.size
        best = _Meeting(NOTHING, 0, 0)
        for ahead in self._ahead[option]:
            for behind in self._behind[option]:
                if (self._forward.layer[ahead] & self._backward.layer[behind]).any():
                    continue
                a = int(self._forward.offsets[ahead]) + np.arange(samples.start, samples.stop)
                b = int(self._backward.offsets[behind]) + size - 1 - np.arange(samples.start, samples.stop)
                first = self._forward.end_value[a] if ending else self._forward.start_value[a]
                rest = self._backward.start_value[b] if ending else self._backward.end_value[b]
                both = np.where((first > HOPELESS) & (rest > HOPELESS), first + rest, NOTHING)
                place = int(np.argmax(both))
                value = int(both[place]) + int(self._forward.price[ahead])  # both have the contact's price
                if both[place] > HOPELESS and value > best.value:
                    best = _Meeting(value, int(a[place]), int(b[place]))
        return None if best.value == NOTHING else best

    def _traced(self, meeting: _Meeting, ending: bool) -> ForcedEvening:
        """The evening around a sample at which both sweeps meet."""
        value, ahead, behind = meeting
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
        prices = [] if self.solution.prices is None else self.solution.prices.tolist()
        given_back = sum(prices)
        taken = sum(prices[one] for one in passes) if prices else 0
        exact = taken == given_back and not worked_twice(passes)
        return ForcedEvening(value + given_back, contacts, at, exact)

    def _mirrored(self, chain: tuple[ContactChoice, ...]) -> tuple[ContactChoice, ...]:
        """A chain of the backward sweep, by time."""
        last = [self.problem.options[one.option].utc_s.size - 1 for one in chain]
        turned = [ContactChoice(c.option, k - c.last, k - c.first) for c, k in zip(chain, last, strict=True)]
        return tuple(reversed(turned))


def _by_option(rows: Rows, count: int) -> list[list[int]]:
    """The rows of every option."""
    found: list[list[int]] = [[] for _ in range(count)]
    for row, option in enumerate(rows.option.tolist()):
        found[option].append(row)
    return found
