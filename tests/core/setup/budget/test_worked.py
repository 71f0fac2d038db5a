"""Which pass, posture and seconds a budget takes from a verdict or a contact."""

from __future__ import annotations

import pytest

from core.evaluate import evaluate
from core.mount.model.results import Part, PassCheck, Split, Verdict
from core.setup.budget.budget import pointing_budget
from core.setup.budget.worked import worked_pass
from tests.core.setup.budget.made import worked
from tests.plans import plan_of, short_plan_data

PASS = worked(60.0).pass_
AOS, LOS = PASS.aos.utc_s, PASS.los.utc_s


def check(verdict: Verdict, **details) -> PassCheck:
    return PassCheck(PASS, (), verdict, False, 0.0, 0.0, None, None, **details)


def split(to_posture: str) -> Split:
    return Split(AOS + 100.0, AOS + 160.0, "over the top", 0, to_posture, 1, 0.0, 0.0, "full turn")


def test_a_pass_out_of_reach_has_no_budget():
    assert worked_pass(check(Verdict.OUT_OF_REACH), 1.0) is None


def test_a_part_is_in_its_own_posture():
    part = Part(AOS, LOS, "over the top", 0)
    one = worked_pass(check(Verdict.PART, part=part), 2.0, (AOS + 5.0, LOS - 5.0))
    assert (one.posture, one.changes_utc_s, one.age_days) == ("over the top", None, 2.0)
    assert one.stretches[0][0] == AOS + 5.0
    assert one.stretches[-1][1] == LOS - 5.0


@pytest.mark.parametrize(("to_posture", "changes"), [("upright", AOS + 160.0), ("over the top", None)])
def test_a_split_changes_posture_when_its_move_is_over(to_posture, changes):
    one = worked_pass(check(Verdict.SPLIT, split=split(to_posture)), 0.0)
    assert (one.posture, one.changes_utc_s) == ("over the top", changes)
    assert (one.start_utc_s, one.end_utc_s) == (AOS, LOS)


def test_an_evening_as_it_is_planned():
    plan = plan_of(short_plan_data())
    result = evaluate(plan)
    ages = {norad_id: days for _, norad_id, days in result.element_ages}
    taken = [
        worked_pass(one.check, ages[one.check.pass_.norad_id], (one.start_utc_s, one.end_utc_s))
        for one in result.order.contacts
    ]
    answer = pointing_budget(plan.station, taken, plan.pointing, draws=1500).now
    assert [one.norad_id for one in answer.passes] == [one.pass_.norad_id for one in taken]
    for one in answer.passes:
        assert one.figures.drawn_rms_deg == pytest.approx(one.figures.rss_deg, rel=0.08)
        assert 0.0 < one.figures.rss_deg < one.figures.off_95_deg < one.figures.worst_deg
