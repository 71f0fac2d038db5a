"""Ranges of what is typed, beside those of what a plan file may say."""

from __future__ import annotations

import pytest

from core.base.edits import field_range
from core.plan.document import Plan
from core.plan.quantities import QUANTITIES
from tests.test_readme import model_in


def holder_of(path: str):
    model = Plan
    for name in path.split(".")[:-1]:
        model = model_in(model.model_fields[name].annotation)[0]
    return model, path.rpartition(".")[2]


@pytest.mark.parametrize("path", QUANTITIES)
def test_what_is_typed_is_within_what_a_plan_may_say(path):
    quantity = QUANTITIES[path]
    low, high = field_range(*holder_of(path))
    unit = 1e6 if quantity.unit == "MHz" else 1.0
    least, most = (0.0, 360.0) if quantity.bearing else (quantity.low, quantity.high)
    assert low <= least * unit < most * unit <= high


def test_every_number_that_can_be_typed_has_a_range():
    assert all(
        q.bearing or (abs(q.low) < float("inf") and abs(q.high) < float("inf")) for q in QUANTITIES.values()
    )
