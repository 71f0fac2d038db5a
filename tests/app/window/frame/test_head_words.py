"""What the head strip says of the elements' age: by direction."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from app.window.frame.head_words import head_words
from tests.evening_plans import evening_plan


@pytest.mark.parametrize(
    ("ages", "words"),
    [
        ((2.0, 2.0), "elements 2.0 days old"),
        ((1.0, 3.5), "elements 1.0 to 3.5 days old"),
        ((-30.0, -2.0), "elements with epochs to 30.0 days ahead"),
        ((-1.5, 3.0), "elements to 3.0 days old, epochs to 1.5 days ahead"),
    ],
)
def test_epochs_after_the_evening_are_not_called_old(ages, words):
    result = SimpleNamespace(element_ages=[("A", 1, age) for age in ages])
    context = SimpleNamespace(plan=evening_plan(), result=result, result_plan=None)
    assert head_words(context).ages == words
