"""The latest end in time, by halving, against looking at every end of a run."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.evening.order.chains import ChoiceProblem
from core.mount.evening.order.moves import ROUNDING_S
from core.mount.evening.order.rows import laid_out
from core.mount.evening.order.runs import latest_in_time, runs_of_ends
from core.mount.evening.order.samples import samples_of
from tests.core.mount.evening.order.evenings import random_evening


def _agree(problem: ChoiceProblem) -> int:
    """How many pairs of a start and a run have an end in time that is neither the first nor the last."""
    mover = problem.mover
    rows = laid_out(problem.options, samples_of(problem.options, problem.units), ())
    runs = runs_of_ends(rows, mover, problem.units)
    starts = np.flatnonzero(rows.may_start)[::7]
    telling = 0
    for start in starts.tolist():
        moment = rows.since_s[start : start + 1]
        for run in range(runs.row.size):
            own = np.arange(runs.first[run], runs.beyond[run])
            end = runs.sample[own]
            needed = mover.seconds(rows.m_deg[end], rows.m_deg[start], rows.e_deg[end], rows.e_deg[start])
            fits = rows.since_s[end] + needed + mover.margin_s <= rows.since_s[start] + ROUNDING_S
            wanted = own[fits][-1] if fits.any() else runs.first[run] - 1
            upto = np.array([own[0] - 1 + (rows.since_s[end] <= moment).sum()])
            found = latest_in_time(runs, rows, mover, np.array([run]), np.array([start]), upto)
            assert found[0] == wanted
            telling += bool(own[0] < wanted < upto[0])
    return telling


@pytest.mark.parametrize("seed", range(6))
def test_the_latest_end_in_time_is_found(seed: int) -> None:
    assert _agree(random_evening(seed, passes=3, step_s=20.0).problem) >= 0


def test_ends_in_the_middle_of_a_run_are_among_them() -> None:
    assert sum(_agree(random_evening(seed, passes=3, step_s=20.0).problem) for seed in range(0, 10, 2)) > 20


@pytest.mark.parametrize("seed", range(8))
def test_within_a_run_a_later_end_is_worth_more_than_moving_on_from_it_costs(seed: int) -> None:
    problem = random_evening(seed, passes=4, step_s=15.0).problem
    units = problem.units
    rows = laid_out(problem.options, samples_of(problem.options, units), ())
    runs = runs_of_ends(rows, problem.mover, units)
    assert sorted(runs.sample.tolist()) == np.flatnonzero(rows.may_end).tolist()
    for run in range(runs.row.size):
        end = runs.sample[runs.first[run] : runs.beyond[run]]
        assert set(rows.row_of[end]) == {runs.row[run]}
        assert len(set(rows.over[end])) == 1
        turning = units.rules.turn_cost_s * np.abs(np.diff(rows.m_deg[end])) / 360.0
        whole, spare = (
            np.diff(worth[end]) / units.clear_room * units.worth_s for worth in (rows.whole, rows.spare)
        )
        assert (whole >= turning).all()
        beyond_enough = rows.full_from[end[1:]] > rows.offsets[runs.row[run]]
        assert (spare >= turning)[beyond_enough].all()
