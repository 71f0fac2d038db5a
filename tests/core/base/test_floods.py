from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from core.base.floods import FirstOf, LineCounter, numbered_lines


@given(st.lists(st.integers()), st.integers(0, 5))
def test_the_first_are_kept_and_the_rest_is_counted(items, most):
    first = FirstOf(most)
    for item in items:
        first.add(item)
    assert first.kept == items[:most]
    assert first.more == len(items[most:])
    assert len(first) == len(items)
    assert first.is_full == (len(items) >= most)
    first.count(3)
    assert len(first) == len(items) + 3


@given(st.text("ab\n\r"))
def test_lines_come_as_split_gives_them(text):
    assert list(numbered_lines(text)) == list(enumerate(text.split("\n"), start=1))


@given(st.text("a\n", min_size=1), st.lists(st.integers(0, 200)))
def test_lines_of_positions_in_any_order(text, positions):
    lines = LineCounter(text)
    for position in positions:
        at = position % len(text)
        assert lines.at(at) == text[:at].count("\n") + 1
