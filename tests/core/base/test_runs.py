import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from core.base.runs import run_ends_in_rows, runs_alike, runs_of


def _runs_by_hand(values):
    """Every run of equal values, sample by sample."""
    runs = []
    for index, value in enumerate(values):
        if index and value == values[index - 1]:
            runs[-1] = (runs[-1][0], index + 1)
        else:
            runs.append((index, index + 1))
    return runs


@given(st.lists(st.integers(0, 2), max_size=30))
def test_runs_of_equal_values_are_those_found_one_by_one(values):
    assert runs_alike(np.array(values, dtype=np.int64)) == _runs_by_hand(values)


@given(st.lists(st.booleans(), max_size=30))
def test_runs_of_true_flags_are_those_found_one_by_one(flags):
    by_hand = [(first, beyond) for first, beyond in _runs_by_hand(flags) if flags[first]]
    assert runs_of(np.array(flags, dtype=bool)) == by_hand


def test_a_run_may_start_and_end_with_the_column():
    assert runs_of(np.array([True, True, False, True])) == [(0, 2), (3, 4)]
    assert runs_of(np.array([True])) == [(0, 1)]
    assert runs_of(np.array([False, False])) == runs_of(np.zeros(0, dtype=bool)) == []


@given(st.lists(st.tuples(st.lists(st.booleans(), min_size=3, max_size=3), st.booleans()), max_size=6))
def test_runs_in_rows_go_on_only_where_rows_touch(rows):
    flags = np.array([row for row, _ in rows], dtype=bool).reshape(-1, 3)
    touching = np.array([touches for _, touches in rows[:-1]], dtype=bool)
    first, last = run_ends_in_rows(flags, touching)
    laid = [
        (place, flag) for place, flag in enumerate(flag for row, touches in rows for flag in (*row, touches))
    ]
    # The room between rows that touch is left out; that between others ends every run.
    laid = [(place, flag and place % 4 != 3) for place, flag in laid if place % 4 != 3 or not flag]
    runs = runs_of(np.array([flag for _, flag in laid], dtype=bool))
    assert first.tolist() == [laid[begin][0] for begin, _ in runs]
    assert last.tolist() == [laid[beyond - 1][0] for _, beyond in runs]
