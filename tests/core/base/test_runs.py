import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from core.base.runs import runs_alike, runs_of


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
