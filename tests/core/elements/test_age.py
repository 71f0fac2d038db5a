from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.times import parse_iso
from core.elements.age import AgeLimits, age_days, beyond_age, describe_age, far_words, grade_age, is_far
from tests.core.elements.samples import element_set


@pytest.mark.parametrize(
    ("moment", "days"),
    [
        ("2024-11-03T13:40:48.432Z", 2.3),
        ("2024-11-01T06:28:48.432Z", 0.0),
        ("2024-10-31T04:04:48.432Z", -1.1),
    ],
)
def test_age_is_counted_from_the_epoch_and_signed(moment, days):
    assert age_days(element_set(), parse_iso(moment)) == pytest.approx(days, abs=1e-9)


@given(st.floats(-1e5, 1e5, allow_nan=False))
def test_age_is_the_time_added_to_the_epoch(days):
    elements = element_set()
    assert age_days(elements, elements.epoch_utc_s + days * 86400.0) == pytest.approx(days, abs=1e-8)


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (2.3, "2.3 days old"),
        (-1.1, "epoch 1.1 days ahead"),
        (1.0, "1.0 days old"),
        (0.99, "1.0 days old"),
        (0.97, "23 hours old"),
        (0.5, "12 hours old"),
        (1 / 24, "1 hour old"),
        (-1 / 24, "epoch 1 hour ahead"),
        (0.0, "at its epoch"),
        (0.02, "at its epoch"),
        (-0.02, "at its epoch"),
        (99.94, "99.9 days old"),
        (99.96, "100 days old"),
        (6543.21, "6543 days old"),
    ],
)
def test_age_in_words(days, words):
    assert describe_age(days) == words


@pytest.mark.parametrize(
    ("days", "grade"),
    [
        (0.0, "fresh"),
        (3.0, "fresh"),
        (3.001, "ageing"),
        (7.0, "ageing"),
        (7.001, "old"),
        (14.0, "old"),
        (14.001, "too old to trust"),
    ],
)
def test_grades_by_common_practice_both_ways(days, grade):
    assert grade_age(days) == grade_age(-days) == grade


def test_limits_can_be_others():
    strict = AgeLimits(fresh_days=0.5, ageing_days=1.0, old_days=2.0)
    assert [grade_age(days, strict) for days in (0.4, 0.8, 1.5, 2.5)] == [
        "fresh",
        "ageing",
        "old",
        "too old to trust",
    ]


def test_far_sets_are_told_by_direction_the_furthest_first():
    ages = [("NEAR", 14.0), ("OLD", 15.0), ("OLDER", 30.44), ("AHEAD", -14.01), ("NEAR AHEAD", -14.0)]
    assert [is_far(days) for _name, days in ages] == [False, True, True, True, False]
    old, ahead = far_words(ages)
    assert old.startswith("Elements more than 14 days old at the start: OLDER (30.4), OLD (15.0).")
    assert old.endswith("get newer ones.")
    assert ahead.startswith("Elements with an epoch more than 14 days after the start: AHEAD (14.0).")
    assert "newer" not in ahead
    assert far_words(ages[:1]) == ()
    (many,) = far_words([(f"N{i}", 20.0 + i) for i in range(6)])
    assert "N5 (25.0), N4 (24.0), N3 (23.0), N2 (22.0) and 2 more" in many


def test_what_lies_beyond_the_days_allowed_is_refused_by_direction():
    assert beyond_age(60.0, 60.0) is beyond_age(-60.0, 60.0) is None
    old, ahead = beyond_age(92.3, 60.0), beyond_age(-92.3, 60.0)
    assert old is not None
    assert ahead is not None
    assert old.startswith("its elements are 92.3 days old at the start, more than the 60 allowed")
    assert "newer" in old
    assert ahead.startswith("its elements' epoch lies 92.3 days after the start, more than the 60 allowed")
    assert "newer" not in ahead
    assert beyond_age(92.3, 100.0) is None
