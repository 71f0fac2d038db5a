"""The numbers of an evening's contacts stand apart, however many there are."""

from __future__ import annotations

from itertools import combinations

import pytest

from core.mount.evening.drawn import drawn_pass
from core.sheet.drawing.strip import ALONE_MM, IN_THE_LIST_MM, evening_strip
from tests.evening_plans import full_evening_plan
from tests.lasting import result_of


@pytest.mark.parametrize("size_mm", [IN_THE_LIST_MM, ALONE_MM])
def test_no_two_numbers_touch(size_mm: tuple[float, float]) -> None:
    plan = full_evening_plan(40)
    result = result_of(plan)
    contacts = result.order.contacts
    passes = [drawn_pass(contact.check, plan.mount) for contact in contacts]
    strip = evening_strip(contacts, passes, plan.mount, result.time_zone, size_mm)
    numbers = [
        item
        for item in strip.items
        if item.kind == "label" and item.bold and item.size_pt == 9.0 and item.text.isdigit()
    ]
    assert [int(one.text) for one in numbers] == list(range(1, len(contacts) + 1))
    assert len(contacts) >= 26
    for one, other in combinations(numbers, 2):
        aside = abs(one.x_mm - other.x_mm) - 2.0 * (len(one.text) + len(other.text)) / 2.0
        assert max(aside, abs(one.y_mm - other.y_mm) - 2.5) > 0.0, (one.text, other.text)
