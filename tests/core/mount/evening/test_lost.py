"""Seconds lost told apart: against a count second by second, and that they add up."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from core.mount.evening.lost import SecondsLost, lost_in, lost_of
from core.mount.evening.results import Contact
from core.mount.model.results import PassCheck
from core.plan.document import Plan
from tests.evening_plans import full_evening_plan
from tests.lasting import result_of
from tests.seat_evening import seat_plan

PLANS = {
    "seat": seat_plan,
    "little travel": lambda: seat_plan(mount__azimuth__travel_deg=200.0),
    "slow": lambda: seat_plan(mount__azimuth__rate_deg_s=1.0, mount__elevation__rate_deg_s=1.0),
    "crowded": full_evening_plan,
}


@cache
def _plan(name: str) -> Plan:
    return PLANS[name]()


def _by_seconds(contact: Contact, limit_deg: float) -> tuple[float, float]:
    """Seconds over the mask and in the beam before joining and after leaving, in steps of a tenth."""
    check = contact.check
    assert check.pointing is not None
    found = []
    for low, high in (
        (check.pass_.aos.utc_s, contact.start_utc_s),
        (contact.end_utc_s, check.pass_.los.utc_s),
    ):
        at = np.arange(low + 0.05, high, 0.1)
        over = np.zeros(at.size, dtype=bool)
        for start, end in check.pass_.stretches:
            over |= (at >= start) & (at <= end)
        off = np.interp(at, check.pointing.utc_s, check.pointing.off_deg)
        found.append(0.1 * float((over & (off <= limit_deg)).sum()))
    return found[0], found[1]


@pytest.mark.parametrize("name", PLANS)
def test_the_three_add_up_to_what_is_lost(name: str) -> None:
    plan = _plan(name)
    contacts = result_of(plan).order.contacts
    assert contacts
    limit = plan.station.beam_limit_deg
    each = [lost_of(contact, limit) for contact in contacts]
    for contact, lost in zip(contacts, each, strict=True):
        assert min(lost.off_beam_s, lost.let_go_s, lost.before_joining_s) >= 0.0
        assert lost.total_s == pytest.approx(contact.check.seconds_lost, abs=1e-9)
        before, after = _by_seconds(contact, limit)
        assert lost.before_joining_s == pytest.approx(min(before, contact.check.seconds_lost), abs=4.0)
        assert lost.let_go_s == pytest.approx(min(after, contact.check.seconds_lost), abs=4.0)
    whole = lost_in(contacts, limit)
    assert whole.off_beam_s == pytest.approx(sum(one.off_beam_s for one in each))
    assert whole.total_s == pytest.approx(sum(contact.check.seconds_lost for contact in contacts))


def test_a_crowded_evening_lets_go_for_others_and_joins_late() -> None:
    plan = _plan("crowded")
    lost = lost_in(result_of(plan).order.contacts, plan.station.beam_limit_deg)
    assert lost.let_go_s > 60.0
    assert lost.before_joining_s > 60.0


def test_what_no_way_holds_is_off_the_beam_and_not_let_go() -> None:
    plan = _plan("little travel")
    limit = plan.station.beam_limit_deg
    parts = [
        one for one in result_of(plan).order.contacts if one.check.part and one.check.seconds_lost > 30.0
    ]
    assert parts
    assert any(lost_of(one, limit).off_beam_s > 30.0 for one in parts)


def test_a_whole_contact_loses_off_the_beam_alone() -> None:
    plan = _plan("seat")
    whole = [one for one in result_of(plan).order.contacts if one.joined_late_s == one.left_early_s == 0.0]
    assert whole
    for contact in whole:
        slow = replace(contact, check=_losing(contact.check, 12.0))
        assert lost_of(slow, plan.station.beam_limit_deg) == SecondsLost(off_beam_s=12.0)
        away = replace(contact, check=replace(_losing(contact.check, 40.0), pointing=None))
        assert lost_of(away, plan.station.beam_limit_deg) == SecondsLost(off_beam_s=40.0)


def _losing(check: PassCheck, seconds: float) -> PassCheck:
    return replace(check, seconds_lost=seconds)


def test_the_words() -> None:
    assert SecondsLost().words == "nothing lost"
    assert SecondsLost(0.4, 126.0, 0.2).words == "2 min 06 s let go for another contact"
    assert SecondsLost(38.0, 126.0, 20.0).words == (
        "38 s off the beam, 2 min 06 s let go for another contact, 20 s before joining"
    )
