"""What the sweep leaves out, and the tables it goes by."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.evening.order.last_ends import last_ends
from core.mount.evening.order.rows import HOPELESS, laid_out
from core.mount.evening.order.runs import runs_of_ends
from core.mount.evening.order.samples import samples_of
from core.mount.evening.order.solve import solve
from tests.core.mount.evening.order.evenings import random_evening


@pytest.mark.parametrize("seed", range(8))
def test_starts_left_out_change_no_end_and_no_contact(seed: int) -> None:
    problem = random_evening(seed, passes=4, step_s=15.0).problem
    found, whole = solve(problem), solve(problem, every=True)
    assert (found.contacts, found.value) == (whole.contacts, whole.value)
    assert found.rows is not None
    assert whole.rows is not None
    ends = [np.maximum(rows.end_value, HOPELESS) for rows in (found.rows, whole.rows)]
    np.testing.assert_array_equal(*ends)
    assert (
        np.maximum(found.rows.start_value, HOPELESS) <= np.maximum(whole.rows.start_value, HOPELESS)
    ).all()


def test_starts_are_left_out() -> None:
    problem = random_evening(0, passes=4, step_s=15.0).problem
    found, whole = (solve(problem, every=every).rows for every in (False, True))
    assert found is not None
    assert whole is not None
    assert (found.start_value < whole.start_value).sum() > 10


@pytest.mark.parametrize("seed", range(4))
def test_the_last_end_of_a_run_up_to_a_moment(seed: int) -> None:
    problem = random_evening(seed, passes=3, step_s=20.0).problem
    rows = laid_out(problem.options, samples_of(problem.options, problem.units), ())
    runs = runs_of_ends(rows, problem.mover, problem.units)
    last, every = last_ends(rows, runs), np.arange(runs.row.size)
    moments = np.arange(rows.moments_s.size)
    entries = last.entries(every[:, None], moments)
    for run in every.tolist():
        own = np.arange(runs.first[run], runs.beyond[run])
        upto = (runs.since_s[own] <= rows.moments_s[:, None]).sum(axis=1)
        np.testing.assert_array_equal(last.place[entries[run]], runs.first[run] - 1 + upto)
        samples = np.append(rows.row_of.size, runs.sample[own])[upto]
        np.testing.assert_array_equal(last.sample[entries[run]], samples)
