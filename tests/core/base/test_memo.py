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
    """A stage that answers so, whatever its inputs, and notes that it was asked."""

    def compute(*_inputs: object) -> object:
        calls.append(value)
        return value

    return compute


def test_equal_inputs_give_the_remembered_object():
    memo, calls = Memo(), []
    first = memo.call("stage", counted(calls, object()), Site(latitude_deg=1.0, longitude_deg=2.0), 3.0)
    again = memo.call("stage", counted(calls, object()), Site(latitude_deg=1.0, longitude_deg=2.0), 3.0)
    assert again is first
    assert len(calls) == 1
    assert memo.computed == {"stage": 1}


def test_stages_do_not_answer_for_one_another():
    memo = Memo()
    assert memo.call("one", counted([], "a"), 1.0) == "a"
    assert memo.call("other", counted([], "b"), 1.0) == "b"
    assert memo.computed == {"one": 1, "other": 1}


def test_results_of_other_stages_are_compared_by_being_the_same_object():
    memo = Memo()
    handed, twin = Handed(np.zeros(3)), Handed(np.zeros(3))
    assert memo.call("stage", counted([], 1), handed) == 1
    assert memo.call("stage", counted([], 2), handed) == 1
    assert memo.call("stage", counted([], 2), twin) == 2


def test_a_remembered_none_is_remembered():
    memo, calls = Memo(), []
    memo.call("stage", counted(calls, None), 1)
    assert memo.call("stage", counted(calls, "again"), 1) is None
    assert calls == [None]


def test_a_failing_stage_leaves_nothing_behind():
    memo = Memo()

    def fails(_input: int) -> int:
        raise ArithmeticError

    with pytest.raises(ArithmeticError):
        memo.call("stage", fails, 1)
    assert memo.computed == {}
    assert memo.call("stage", counted([], 5), 1) == 5


def test_it_forgets_the_least_recently_used():
    memo, calls = Memo(), []
    for key in range(_KEPT):
        memo.call("stage", counted(calls, key), key)
    memo.call("stage", counted(calls, "not computed"), 0)  # used just now, so 1 is the oldest
    memo.call("stage", counted(calls, _KEPT), _KEPT)
    assert memo.call("stage", counted(calls, "gone"), 0) == 0
    assert memo.call("stage", counted(calls, "gone"), 1) == "gone"


def test_the_stage_is_handed_its_inputs_and_what_is_not_compared():
    memo = Memo()

    def stage(one: int, other: str, progress: object) -> tuple[object, ...]:
        return one, other, progress

    assert memo.call("stage", stage, 1, "a", progress="first") == (1, "a", "first")
    assert memo.call("stage", stage, 1, "a", progress="second") == (1, "a", "first")
    assert memo.computed == {"stage": 1}


def test_an_input_given_by_name_would_not_be_compared_and_is_refused():
    memo = Memo()
    with pytest.raises(TypeError, match=r"by position, not \['limit'\]"):
        memo.call("stage", lambda _one, limit: limit, 1, limit=2)
    assert memo.computed == {}


@given(st.lists(st.tuples(st.sampled_from("ab"), st.integers(0, 12)), max_size=80))
def test_every_answer_is_the_one_for_its_inputs(requests):
    memo = Memo()
    for stage, key in requests:
        assert memo.call(stage, lambda key, x, stage=stage: (stage, key, x), key, "x") == (stage, key, "x")


def test_what_another_memo_remembers_is_taken_over_ahead_of_the_own():
    mine, other = Memo(kept=2), Memo()
    for number in (1, 2):
        mine.call("double", lambda value: [2 * value], number)
    known = other.call("double", lambda value: [2 * value], 3)
    mine.take_over(other)
    assert mine.computed == {"double": 3}
    assert mine.call("double", lambda value: [2 * value], 3) is known
    assert mine.computed == {"double": 3}
    mine.call("double", lambda value: [2 * value], 1)  # the oldest was let go for it
    assert mine.computed == {"double": 4}


def test_what_is_forgotten_is_computed_again():
    memo = Memo()
    for stage in ("double", "half"):
        memo.call(stage, lambda value: [value], 1)
    memo.forget("double")
    memo.forget("never asked")
    for stage in ("double", "half"):
        memo.call(stage, lambda value: [value], 1)
    assert memo.computed == {"double": 2, "half": 1}
