"""The choice on its own grid of 5 s against a plain loop over every pair of moments."""

from __future__ import annotations

import pytest

from core.mount.evening.order.rules import GRID_S
from core.mount.evening.order.solve import solve
from tests.core.mount.evening.order.evenings import random_evening
from tests.oracles.evening_plain import best_chain


def _agree(seed: int, step_s: float) -> bool:
    """True where no pass came twice, so that the plain loop's answer is the best evening too."""
    evening = random_evening(seed, passes=3, step_s=step_s)
    found = solve(evening.problem)
    goals, _passes = best_chain(evening.plain)
    mine = found.score.worth, found.score.clear
    assert mine <= goals, seed
    assert (mine == goals) or found.remembered, seed
    return not found.remembered


def test_the_grid_finds_what_the_plain_loop_finds() -> None:
    assert sum(_agree(seed, 2 * GRID_S) for seed in range(6)) > 2


@pytest.mark.long
def test_the_grid_finds_what_the_plain_loop_finds_on_many_evenings() -> None:
    assert sum(_agree(seed, GRID_S) for seed in range(200)) > 80
