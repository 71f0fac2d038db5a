"""Going through a list with progress told, and stopping; in each stage of an evaluation too."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import Cancelled
from core.base.memo import Memo
from core.base.progress import reported
from core.base.units import no_progress
from core.elements.reading import read_elements
from core.evaluate import evaluate
from tests.plans import elements_data, plan_of, short_plan_data

STAGES = (
    "searching passes",
    "cutting passes to the horizon",
    "turning to the mount",
    "following",
    "finding ways",
    "giving reasons",
    "choosing the evening",
)


@given(st.lists(st.integers(), max_size=40), st.integers(min_value=1, max_value=9))
def test_every_item_comes_once_and_the_end_is_told(items, every):
    told: list[tuple[int, int, str]] = []
    assert list(reported(items, "walking", lambda *a: bool(told.append(a)) or True, every)) == items
    assert told == [(done, len(items), "walking") for done in [*range(0, len(items), every), len(items)]]


@given(st.integers(min_value=1, max_value=40), st.integers(min_value=0, max_value=10))
def test_an_end_asked_for_comes_before_the_next_item(size, calls):
    left, seen = [calls], []

    def progress(*_):
        left[0] -= 1
        return left[0] >= 0

    if calls >= size + 1:
        assert list(reported(range(size), "walking", progress, every=1)) == list(range(size))
        return
    with pytest.raises(Cancelled):
        seen.extend(reported(range(size), "walking", progress, every=1))
    assert left[0] == -1


@pytest.mark.parametrize("stage", STAGES)
def test_every_stage_of_an_evaluation_tells_and_stops(stage):
    plan, memo = plan_of(short_plan_data()), Memo()
    with pytest.raises(Cancelled):
        evaluate(plan, memo, lambda _done, _total, what: what != stage)
    done = set(memo.computed) - {"reach", "joined"}  # which tell nothing
    names = ["search", "mask", "frame", "following", "ways", "reasons", "order"]
    assert done == set(names[: STAGES.index(stage)])
    assert evaluate(plan, memo).identity == evaluate(plan).identity  # and goes on from where it stopped
    assert all(memo.computed[name] == 1 for name in names)


def test_reading_elements_tells_and_stops():
    import json

    text = json.dumps([elements_data(70000 + number) for number in range(1200)])
    told: list[tuple[int, int, str]] = []
    reading = read_elements(text, "f", lambda *a: bool(told.append(a)) or True)
    assert len(reading.sets) == 1200
    assert [done for done, _total, _what in told] == [0, 500, 1000]
    with pytest.raises(Cancelled):
        read_elements(text, "f", lambda done, _total, _what: done < 500)
    assert no_progress(1, 2, "x")
