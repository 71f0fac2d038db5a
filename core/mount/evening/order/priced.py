"""The order where so many long passes overlap that not all of them can be remembered.

Each pass has a price (a multiplier of Lagrange), taken for every contact and given back once. Of chains that
work no pass twice none is worth less by that than it is, so that the best chain at any prices bounds the best
evening from above; and the dearer a pass, the less it pays to come back to it. Prices begin all the
same, at about what lets a chain have as many contacts as there are passes; they rise where a pass is worked
twice and fall where it is not worked (steps of a subgradient, as long as Polyak's).

A chain that comes back is mended: every pass worked twice may be started while its longest contact lasts and
not elsewhere, and the rest is chosen anew, without prices, until none is. Where that leaves the mount idle,
each pass worked may be started from the end of the contact before it, and all is chosen once more. The best
evening so found is told with what the best of all may be worth more at most; where that is nothing, it is the
best.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Indices
from core.base.units import Progress, no_progress
from core.mount.evening.order.chains import (
    ChoiceProblem,
    ContactChoice,
    Solution,
    best_chain,
    swept,
    worked_twice,
)
from core.mount.evening.order.samples import TIE_S, Samples
from core.mount.evening.order.worth import Ints

#: So often prices are changed at most.
MOST_ROUNDS = 30
#: A price for all is looked for in so many halves.
HALVES = 7
#: Idle time of a mended evening is used up in so many steps; where it is worth less than this share of the
#: best so far it would gain nothing.
_STEPS, _NEAR = 3, 0.97
#: The share of Polyak's step that is taken: his is for one who knows the best evening.
_STEP = 0.7


@dataclass(frozen=True)
class _Chain:
    """Some contacts and what they are worth, without prices."""

    contacts: tuple[ContactChoice, ...] = ()
    value: int = 0


def priced_solution(
    problem: ChoiceProblem, samples: Samples, every: bool, progress: Progress = no_progress
) -> Solution:
    """A good evening, and what the best of all may be worth more at most; as in `solve`.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    passes = np.array([one.pass_index for one in problem.options])
    prices = cheapest = _even_prices(problem, samples, passes, progress)
    best, bound, rounds = _Chain(), None, 0
    while rounds < MOST_ROUNDS and best.value != bound:
        rounds += 1
        contacts, value = best_chain(swept(problem, samples, (), prices, False, progress))
        worked = passes[[one.option for one in contacts]]
        most = value + sum(prices.tolist())
        if bound is None or most < bound:
            bound, cheapest = most, prices
        chain = _Chain(contacts, value + sum(prices[worked].tolist()))
        if worked_twice(worked.tolist()):
            chain = _mended(problem, samples, contacts, progress)
            if chain.value > _NEAR * best.value:
                chain = _filled(problem, samples, chain, progress)
        best = max(best, chain, key=lambda one: one.value)
        prices = _moved(prices, np.bincount(worked, minlength=prices.size) - 1, most - best.value)
    assert bound is not None
    rows = swept(problem, samples, (), cheapest, every, progress)
    score = problem.units.score(best.value)
    return Solution(best.contacts, best.value, score, rounds, (), rows, cheapest, bound - best.value)


def _even_prices(problem: ChoiceProblem, samples: Samples, passes: Indices, progress: Progress) -> Ints:
    """(P,) one price for all passes there are (O,), by pass index."""
    there = np.bincount(passes) > 0
    dearest = max(one.worth for one in problem.options)
    low, high = 0, problem.units.seconds(problem.units.rules.enough_s * dearest)
    for _ in range(HALVES):
        middle = (low + high) // 2
        contacts, _value = best_chain(swept(problem, samples, (), middle * there, False, progress))
        low, high = (middle, high) if len(contacts) > there.sum() else (low, middle)
    return high * there


def _moved(prices: Ints, too_often: Ints, gap: int) -> Ints:
    """The prices after a step: passes worked twice dearer, those not worked cheaper, none below nothing."""
    direction = np.where((prices > 0) | (too_often > 0), too_often, 0)
    length = _STEP * gap / max(int((direction**2).sum()), 1)
    return np.maximum(prices + np.rint(length * direction).astype(np.int64), 0)


def _mended(
    problem: ChoiceProblem, samples: Samples, contacts: tuple[ContactChoice, ...], progress: Progress
) -> _Chain:
    """The best chain that works none of these contacts' passes twice, each near the longest of its contacts.

    The stretch in which a pass may be started is halved from try to try, so that one start is left soon.
    """
    share, value = 1.0, 0
    while twice := worked_twice(problem.options[one.option].pass_index for one in contacts):
        samples = _held(problem, samples, contacts, twice, share)
        contacts, value = best_chain(swept(problem, samples, (), None, False, progress))
        share /= 2.0
    return _Chain(contacts, value)


def _filled(problem: ChoiceProblem, samples: Samples, chain: _Chain, progress: Progress) -> _Chain:
    """A chain that is worth more, with its passes started sooner and others between them, or the same."""
    for _ in range(_STEPS):
        opened = _opened(problem, samples, chain.contacts)
        contacts, value = best_chain(swept(problem, opened, (), None, False, progress))
        if value <= chain.value:
            return chain
        better = _Chain(contacts, value)
        if worked_twice(problem.options[one.option].pass_index for one in contacts):
            better = _mended(problem, opened, contacts, progress)
        if better.value <= chain.value:
            return chain
        chain = better
    return chain


def _opened(problem: ChoiceProblem, samples: Samples, contacts: tuple[ContactChoice, ...]) -> Samples:
    """The samples with starts of a contact's pass only from the end of the contact before it to its own."""
    stretches: dict[int, tuple[float, float]] = {}
    before_s = -math.inf
    for one in contacts:
        option = problem.options[one.option]
        end_s = float(option.utc_s[one.last]) - samples.begin_utc_s
        stretches[option.pass_index] = before_s, end_s
        before_s = end_s
    return _started_within(problem, samples, stretches)


def _held(
    problem: ChoiceProblem,
    samples: Samples,
    contacts: tuple[ContactChoice, ...],
    twice: set[int],
    share: float,
) -> Samples:
    """The samples with starts of some passes only in the first share of the longest contact of each."""
    kept: dict[int, tuple[float, float, float]] = {}
    for one in contacts:
        option = problem.options[one.option]
        start_s, end_s = option.utc_s[[one.first, one.last]] - samples.begin_utc_s
        signal_s = float(option.signal_s[one.last] - option.signal_s[one.first])
        until_s = start_s + share * (end_s - start_s)
        kept[option.pass_index] = max(
            kept.get(option.pass_index, (-1.0, 0.0, 0.0)), (signal_s, start_s, until_s)
        )
    return _started_within(problem, samples, {one: kept[one][1:] for one in twice})


def _started_within(
    problem: ChoiceProblem, samples: Samples, stretches: dict[int, tuple[float, float]]
) -> Samples:
    """The samples with starts of some passes only from a first to a last second."""
    may_start = samples.may_start.copy()
    for number, option in enumerate(problem.options):
        if option.pass_index in stretches:
            start_s, until_s = stretches[option.pass_index]
            here = slice(samples.offsets[number], samples.offsets[number + 1])
            since_s = samples.since_s[here]
            may_start[here] &= (since_s >= start_s - TIE_S) & (since_s <= until_s + TIE_S)
    return replace(samples, may_start=may_start)
