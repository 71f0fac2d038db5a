"""Ragged tables against plain lists of lists."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.ragged import distinct, entries_of, first_least, joined, parted, places_in, ranges

counts = st.lists(st.integers(0, 5), max_size=8)
tables = st.lists(st.lists(st.integers(-3, 3), max_size=5), max_size=8)


@given(counts)
def test_places_count_from_nought_in_every_row(sizes):
    assert places_in(np.array(sizes, dtype=np.intp)).tolist() == [n for size in sizes for n in range(size)]


@given(st.lists(st.tuples(st.integers(-9, 9), st.integers(0, 4)), max_size=8))
def test_ranges_are_those_of_python(pairs):
    first = np.array([start for start, _ in pairs], dtype=np.intp)
    beyond = first + np.array([size for _, size in pairs], dtype=np.intp)
    row, number = ranges(first, beyond)
    wanted = [(i, n) for i, (start, size) in enumerate(pairs) for n in range(start, start + size)]
    assert list(zip(row.tolist(), number.tolist(), strict=True)) == wanted


@given(st.lists(st.integers(1, 6), max_size=8))
def test_stretches_are_cut_into_equal_parts(parts):
    stretch, share = parted(np.array(parts, dtype=np.intp))
    wanted = [(i, n / count) for i, count in enumerate(parts) for n in range(count)]
    assert stretch.tolist() == [i for i, _ in wanted]
    assert share == pytest.approx([where for _, where in wanted])


@given(tables, st.data())
def test_entries_of_rows_in_any_order(rows, data):
    offsets = np.concatenate([[0], np.cumsum([len(row) for row in rows])]).astype(np.intp)
    flat = np.array([entry for row in rows for entry in row], dtype=np.intp)
    order = data.draw(st.lists(st.integers(0, len(rows) - 1), max_size=9)) if rows else []
    found = flat[entries_of(np.array(order, dtype=np.intp), offsets)]
    assert found.tolist() == [entry for row in order for entry in rows[row]]


@given(st.lists(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 5)), max_size=5), max_size=4))
def test_stretches_of_a_row_are_joined_over_what_is_less_than_a_gap(rows):
    row, start, end, wanted = [], [], [], []
    for number, stretches in enumerate(rows):
        at = 0
        for order, (wait, length) in enumerate(stretches):
            if order and wait < 2:
                wanted[-1][1] = len(row)
            else:
                wanted.append([len(row), len(row)])
            row.append(number)
            start.append(at + wait)
            end.append(at := at + wait + length)
    columns = np.array(row, dtype=np.intp), np.array(start, dtype=float), np.array(end, dtype=float)
    first, last = joined(*columns, 2.0)
    assert [list(pair) for pair in zip(first.tolist(), last.tolist(), strict=True)] == wanted


@given(tables)
def test_the_first_of_the_least_of_every_row_that_has_any(rows):
    row = np.array([i for i, costs in enumerate(rows) for _ in costs], dtype=np.intp)
    cost = np.array([entry for costs in rows for entry in costs], dtype=float)
    begins = np.cumsum([0, *[len(costs) for costs in rows]])
    wanted = [begins[i] + costs.index(min(costs)) for i, costs in enumerate(rows) if costs]
    assert first_least(row, cost).tolist() == wanted


@given(st.lists(st.floats(-3.0, 3.0).map(lambda value: round(value, 1) + 0.0), max_size=30))
def test_distinct_values_are_those_of_a_set_rising(values):
    found = distinct(np.array(values, dtype=float))
    assert found.tolist() == sorted(set(values))
