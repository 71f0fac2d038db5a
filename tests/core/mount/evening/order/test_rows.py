"""The rows: their starts and ends are those of contacts that there can be."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.evening.order.rows import Rows, laid_out
from core.mount.evening.order.samples import samples_of
from tests.core.mount.evening.order.evenings import random_evening


def _contacts(rows: Rows, may_start: np.ndarray, may_end: np.ndarray) -> tuple[set[int], set[int]]:
    """Starts and ends of all pairs of one row that the row's least contact allows, one by one."""
    pairs = {
        (start, end)
        for end in np.flatnonzero(may_end).tolist()
        for start in range(int(rows.offsets[rows.row_of[end]]), int(rows.latest_start[end]) + 1)
        if may_start[start]
    }
    return {start for start, _ in pairs}, {end for _, end in pairs}


@pytest.mark.parametrize("seed", range(4))
def test_no_start_is_without_an_end_and_no_end_without_a_start(seed: int) -> None:
    problem = random_evening(seed, passes=4, step_s=20.0).problem
    samples = samples_of(problem.options, problem.units)
    passes = sorted({one.pass_index for one in problem.options})
    left_out = 0
    for remembered in ((), (passes[0],), tuple(passes[1:3])):
        rows = laid_out(problem.options, samples, remembered)
        sizes = np.diff(samples.offsets)[rows.option]
        entry = np.concatenate(
            [samples.offsets[one] + np.arange(size) for one, size in zip(rows.option, sizes, strict=True)]
        )
        may_start, may_end = samples.may_start[entry], samples.may_end[entry]
        for row in range(rows.count):  # where the row's layer lives
            open_s = [rows.first_s[row], rows.last_s[row]]
            for one, is_in in zip(remembered, rows.layer[row], strict=True):
                if is_in:
                    own = [i for i, option in enumerate(problem.options) if option.pass_index == one]
                    since_s = np.concatenate(
                        [samples.since_s[slice(*samples.offsets[[i, i + 1]])] for i in own]
                    )
                    open_s = [max(open_s[0], since_s.min()), min(open_s[1], since_s.max())]
            here = slice(rows.offsets[row], rows.offsets[row + 1])
            may_start[here] &= (rows.since_s[here] >= open_s[0]) & (rows.since_s[here] <= open_s[1])
        starts, ends = _contacts(rows, may_start, may_end)
        assert set(np.flatnonzero(rows.may_start)) == starts
        assert set(np.flatnonzero(rows.may_end)) == ends
        left_out += may_start.sum() - len(starts) + may_end.sum() - len(ends)
    assert left_out > 50
