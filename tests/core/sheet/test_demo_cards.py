"""Cards of contacts that the evening cuts: the demo's evening leaves and joins passes for one another."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from core.base.times import clock
from core.evaluate import Result
from core.mount.dial.readings import azimuth_dial
from core.mount.evening.results import Contact
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
    times = [line.utc for line in card.lines]
    assert min(times) >= clock(contact.start_utc_s)
    assert max(times) <= clock(contact.end_utc_s)
    told = " ".join(card.below)
    assert ("early, for pass" in told) == (contact.left_early_s > 60.0)
    assert ("late, after pass" in told) == (contact.joined_late_s > 60.0)
    pointing = contact.check.pointing
    assert pointing is not None
    turned = pointing.m_deg[pointing.worked]
    assert f"{abs(turned[-1] - turned[0]):.0f} deg" in line.turn
    told = "is worked, from dial" if contact.check.part is None else "Worked in part, "
    assert told in contact.reason.text


def test_heading_rows_and_reason_have_the_same_seconds_and_dials() -> None:
    plan, result, content = made()
    seen = 0
    cards = zip(result.order.contacts, content.cards, content.evening.lines, strict=True)
    for index, (contact, card, line) in enumerate(cards):
        assert line.utc == card.utc == f"{card.lines[0].utc} to {card.lines[-1].utc}"
        assert line.start_azimuth == card.start_azimuth == card.lines[0].azimuth
        if index:
            assert f"azimuth {card.start_azimuth.text}," in content.cards[index - 1].after
        whole = contact.joined_late_s < 1e-6 and contact.left_early_s < 1e-6
        if contact.check.chosen is None or not whole:
            continue
        seen += 1
        dial = azimuth_dial(_m_deg(contact, card.lines[0].utc), plan.mount.azimuth)
        assert f"dial {dial.text}" in contact.reason.text
    assert seen >= 3


def _m_deg(contact: Contact, words: str) -> float:
    """Mechanical azimuth at a printed second."""
    pointing = contact.check.pointing
    assert pointing is not None
    seconds = range(math.floor(pointing.utc_s[0]), math.ceil(pointing.utc_s[-1]) + 1)
    moment = next(float(second) for second in seconds if clock(float(second)) == words)
    return float(np.interp(moment, pointing.utc_s, pointing.m_deg))


def test_cards_tell_the_light_and_the_frequencies_of_their_satellites() -> None:
    plan, result, content = made()
    assert {card.light.split(" until")[0] for card in content.cards} == {
        *("sunlit", "in shadow", "in the Earth's shadow")
    }
    for contact, card in zip(result.order.contacts, content.cards, strict=True):
        told = plan.transponders_of(contact.check.pass_.norad_id)
        assert len(card.radio) == len(told)
        assert all(len(line) <= 110 for line in card.radio)
    assert any(card.radio for card in content.cards)


@pytest.mark.parametrize("after_s", [0.0, 1.9, -1.9, 2.1, -30.0])
def test_the_nearest_moment_is_told_where_it_is_not_that_of_the_peak(after_s: float) -> None:
    plan, result, _ = made()
    contact = result.order.contacts[0]
    pass_ = contact.check.pass_
    tca = replace(pass_.tca, utc_s=pass_.peak.utc_s + after_s)
    other = replace(pass_, stay=replace(pass_.stay, tca=tca))
    moved = replace(contact, check=replace(contact.check, pass_=other))
    order = replace(result.order, contacts=(moved,))
    (card,) = sheet_content(plan, replace(result, order=order), plan.evening.start_utc_s).cards
    assert (f" km {clock(tca.utc_s)}" in card.peak) == (abs(after_s) > 2.0)
