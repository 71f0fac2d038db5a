"""The memo of stages."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.memo import _KEPT, Memo
from core.place.site import Site


@dataclass(frozen=True, eq=False)
class Handed:
    """What a stage hands on: arrays inside, compared by being the same object."""

    values: np.ndarray


def counted(calls: list[object], value: object):
    def compute() -> object:
        calls.append(value)
        return value

    return compute


def test_equal_inputs_give_the_remembered_object():
    memo, calls = Memo(), []
    first = memo.get("stage", (Site(latitude_deg=1.0, longitude_deg=2.0), 3.0), counted(calls, object()))
    again = memo.get("stage", (Site(latitude_deg=1.0, longitude_deg=2.0), 3.0), counted(calls, object()))
    assert again is first
    assert len(calls) == 1
    assert memo.computed == {"stage": 1}


def test_stages_do_not_answer_for_one_another():
    memo = Memo()
    assert memo.get("one", (1.0,), lambda: "a") == "a"
    assert memo.get("other", (1.0,), lambda: "b") == "b"
    assert memo.computed == {"one": 1, "other": 1}


def test_results_of_other_stages_are_compared_by_being_the_same_object():
    memo = Memo()
    handed, twin = Handed(np.zeros(3)), Handed(np.zeros(3))
    memo.get("stage", (handed,), lambda: 1)
    assert memo.get("stage", (handed,), lambda: 2) == 1
    assert memo.get("stage", (twin,), lambda: 2) == 2


def test_a_remembered_none_is_remembered():
    memo, calls = Memo(), []
    memo.get("stage", (1,), counted(calls, None))
    assert memo.get("stage", (1,), counted(calls, "again")) is None
    assert calls == [None]


def test_a_failing_stage_leaves_nothing_behind():
    memo = Memo()

    def fails() -> int:
        raise ArithmeticError

    with pytest.raises(ArithmeticError):
        memo.get("stage", (1,), fails)
    assert memo.computed == {}
    assert memo.get("stage", (1,), lambda: 5) == 5


def test_it_forgets_the_least_recently_used():
    memo, calls = Memo(), []
    for key in range(_KEPT):
        memo.get("stage", (key,), counted(calls, key))
    memo.get("stage", (0,), counted(calls, "not computed"))  # used just now, so 1 is the oldest
    memo.get("stage", (_KEPT,), counted(calls, _KEPT))
    assert memo.get("stage", (0,), counted(calls, "gone")) == 0
    assert memo.get("stage", (1,), counted(calls, "gone")) == "gone"


@given(st.lists(st.tuples(st.sampled_from("ab"), st.integers(0, 12)), max_size=80))
def test_every_answer_is_the_one_for_its_inputs(requests):
    memo = Memo()
    for stage, key in requests:
        assert memo.get(stage, (key, "x"), lambda stage=stage, key=key: (stage, key)) == (stage, key)
