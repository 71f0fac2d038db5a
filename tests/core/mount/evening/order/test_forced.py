"""What a forced choice costs, against every evening that makes it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from core.mount.evening.order.chains import ChoiceProblem
from core.mount.evening.order.forced import ForcedChoices, ForcedEvening
from core.mount.evening.order.solve import solve
from tests.core.mount.evening.order.evenings import RandomEvening, plain_option, random_evening
from tests.oracles.evening_exhaustive import Best, best_evening


def each_forced(
    evening: RandomEvening, alternatives: ForcedChoices
) -> Iterator[tuple[int, ForcedEvening, Best]]:
    """Every option that can be had, the evening forced to it, and the best of all that have it."""
    problem = evening.problem
    for index, option in enumerate(problem.options):
        found = alternatives.with_option(index)
        others = [one for one in problem.options if one.pass_index != option.pass_index]
        options = [plain_option(one) for one in (*others, option)]
        best = best_evening(evening.plain | {"options": options}, must=option.pass_index)
        assert (found is None) == (best is None)
        if found is not None and best is not None:
            yield index, found, best


def _goals(problem: ChoiceProblem, forced: ForcedEvening) -> tuple[int, int]:
    score = problem.units.score(forced.value)
    return score.worth, score.clear


def _asked(seed: int) -> tuple[int, int]:
    """How many options were asked about, and how many of the answers were exact."""
    evening = random_evening(seed, passes=5)
    problem = evening.problem
    alternatives = ForcedChoices(problem, solve(problem, every=True))
    asked = exact = 0
    for index, found, best in each_forced(evening, alternatives):
        asked += 1
        exact += found.exact
        assert found.forced.option == index
        if found.exact:
            assert _goals(problem, found) == best.goals, (seed, index)
        else:
            assert _goals(problem, found) > best.goals
    return asked, exact


def _campaign(seeds: range) -> None:
    seen = [_asked(seed) for seed in seeds]
    asked, exact = sum(a for a, _e in seen), sum(e for _a, e in seen)
    assert asked > 3 * len(seeds)
    assert exact > 0.9 * asked


def test_a_forced_way_costs_what_the_best_evening_with_it_is_worth_less() -> None:
    _campaign(range(12))


@pytest.mark.long
def test_a_forced_way_costs_that_on_many_evenings() -> None:
    _campaign(range(1200))


@pytest.mark.parametrize("seed", range(8))
def test_forcing_what_was_chosen_changes_nothing(seed: int) -> None:
    problem = random_evening(seed).problem
    solution = solve(problem, every=True)
    alternatives = ForcedChoices(problem, solution)
    for chosen in solution.contacts:
        for found in (
            alternatives.with_option(chosen.option),
            alternatives.starting(chosen.option, chosen.first),
            alternatives.ending(chosen.option, chosen.last),
        ):
            assert found is not None
            assert found.value == solution.value
