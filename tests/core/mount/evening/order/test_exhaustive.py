"""The choice against every choice there is."""

from __future__ import annotations

from unittest.mock import patch

import pytest

from core.mount.evening.order.solve import solve
from tests.core.mount.evening.order.evenings import random_evening
from tests.oracles.evening_exhaustive import best_evening


def _agree(seed: int) -> tuple[bool, int, int, int]:
    evening = random_evening(seed)
    # Every other pair of evenings remembers no pass until it was worked twice.
    with patch("core.mount.evening.order.solve._REMEMBERED_AT_FIRST", 0 if seed % 4 < 2 else 3):
        found = solve(evening.problem)
    best = best_evening(evening.plain)
    assert best is not None
    assert (found.score.worth, found.score.clear) == best.goals, seed
    return evening.overlapping, evening.splits, found.rounds, best.evenings


def _campaign(seeds: range) -> None:
    seen = [_agree(seed) for seed in seeds]
    assert sum(overlapping for overlapping, *_rest in seen) == len(seeds) // 2
    assert sum(splits for _o, splits, *_rest in seen) > len(seeds) // 4
    assert max(rounds for _o, _s, rounds, _n in seen) > 1  # some were worked twice at first


def test_the_choice_is_the_best_of_all_choices() -> None:
    _campaign(range(24))


@pytest.mark.long
def test_the_choice_is_the_best_of_all_choices_on_many_evenings() -> None:
    _campaign(range(2400))
