"""Cards of contacts that the evening cuts: the demo's evening leaves and joins passes for one another."""

from __future__ import annotations

from functools import cache

import pytest

from core.base.times import clock
from core.evaluate import Result
from core.plan.document import Plan
from core.plan.storage import plan_from_text
from core.sheet.content import SheetContent, sheet_content
from tests.bench.make_demo import DEMO_FILE
from tests.lasting import result_of


@cache
def made() -> tuple[Plan, Result, SheetContent]:
    plan = plan_from_text(DEMO_FILE.read_text(encoding="utf-8"))
    result = result_of(plan)
    return plan, result, sheet_content(plan, result, plan.evening.start_utc_s)


def cut_contacts() -> list[int]:
    contacts = made()[1].order.contacts
    return [i for i, one in enumerate(contacts) if one.joined_late_s > 60.0 or one.left_early_s > 60.0]


def test_the_demo_cuts_some() -> None:
    assert len(cut_contacts()) >= 2


@pytest.mark.parametrize("place", range(2))
def test_a_cut_contact_is_printed_as_far_as_it_is_worked(place: int) -> None:
    _, result, content = made()
    index = cut_contacts()[place]
    contact, card, line = result.order.contacts[index], content.cards[index], content.evening.lines[index]
    times = [row.utc for row in card.rows]
    assert min(times) >= clock(contact.start_utc_s)
    assert max(times) <= clock(contact.end_utc_s)
    told = " ".join(card.facts)
    assert ("early, for pass" in told) == (contact.left_early_s > 60.0)
    assert ("late, after pass" in told) == (contact.joined_late_s > 60.0)
    pointing = contact.check.pointing
    assert pointing is not None
    turned = pointing.m_deg[pointing.worked]
    assert f"{abs(turned[-1] - turned[0]):.0f} deg" in line.turn
    assert contact.check.part is not None or "is worked, from dial" in contact.reason.text
