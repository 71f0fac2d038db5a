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
Layers multiply where many passes overlap. Where there would be too many (`rows`), passes are not remembered
but priced (`priced`): the evening is then a good one, and is told with what may be missing at most.
"""

from __future__ import annotations

from core.base.units import Progress, no_progress
from core.mount.evening.order.chains import ChoiceProblem, Solution, best_chain, swept, worked_twice
from core.mount.evening.order.priced import priced_solution
from core.mount.evening.order.rows import TooManyLayers
from core.mount.evening.order.samples import samples_of
from core.mount.evening.order.worth import Score

#: A pass with so many times enough signal is left and come back to more often than not.
_LONG = 2.0
#: Each more pass remembered may double the work, so no more are from the first.
_REMEMBERED_AT_FIRST = 3


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
        try:
            rows = swept(problem, samples, remembered, every=every, progress=progress)
        except TooManyLayers:
            return priced_solution(problem, samples, every, progress)
        contacts, value = best_chain(rows)
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
