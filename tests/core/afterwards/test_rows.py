"""The log laid beside the evening."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from core.afterwards.rows import evening_log
from core.afterwards.words import summary_words, unmatched_words
from core.base.memo import Memo
from core.base.times import format_iso
from core.base.units import DAY_S
from core.evaluate import evaluate, identity
from core.sheet.content import sheet_content
from tests.core.afterwards.evenings import evening, evening_data
from tests.lasting import result_of
from tests.plans import plan_of


def near(pass_, later_s: float = 0.0) -> dict[str, object]:
    return {"norad_id": pass_.norad_id, "near": format_iso(pass_.peak.utc_s + later_s), "worked": True}


def test_there_is_a_row_for_each_contact_with_the_sheets_number():
    plan, result = evening()
    rows = evening_log(plan, result).rows
    sheet = sheet_content(plan, result, 0.0)
    assert [(row.number, row.pass_.satellite) for row in rows] == [
        (line.number, line.satellite) for line in sheet.evening.lines
    ]
    assert [row.number for row in rows] == [card.number for card in sheet.cards]
    assert all(row.entry is None and row.best_utc_s == row.pass_.peak.utc_s for row in rows)


@pytest.mark.parametrize("share", [-0.49, 0.0, 0.49])
def test_an_entry_is_of_the_pass_whose_peak_is_nearest_within_half_a_period(share):
    plan, result = evening()
    period_s = DAY_S / plan.satellites[0].elements.mean_motion_rev_day
    alone = [p for p in result.passes if p.norad_id == 70003] or [result.passes[0]]
    pass_ = alone[0]
    logged = plan_of(evening_data(), log=[near(pass_, share * period_s)])
    log = evening_log(logged, result_of(logged))
    assert [row.pass_ for row in log.rows if row.entry] == [pass_]
    assert not log.unmatched


def test_a_result_of_copies_has_the_same_rows():
    """As it comes from another process, stage by stage."""
    plan, result = evening()
    copies = replace(result, order=pickle.loads(pickle.dumps(result.order)))
    rows = evening_log(plan, copies).rows
    assert [row.number for row in rows] == [row.number for row in evening_log(plan, result).rows]


def test_what_means_no_pass_is_told_and_so_is_a_second_entry_of_one():
    _plan, result = evening()
    first = result.order.contacts[0].check.pass_
    entries = [
        near(first),
        near(first, 30.0),
        near(first, DAY_S),
        {"norad_id": 99999, "near": format_iso(first.peak.utc_s)},
    ]
    logged = plan_of(evening_data(), log=entries)
    log = evening_log(logged, result_of(logged))
    assert [row.place for row in log.rows if row.entry] == [0]
    assert [place for place, _entry in log.doubled] == [1]
    assert [place for place, _entry in log.unmatched] == [2, 3]
    day = format_iso(first.peak.utc_s + DAY_S)[:16].replace("T", " ")
    assert unmatched_words(log, logged) == (
        f"No pass of {first.satellite} near {day} UTC: its entry has no row.",
        f"An entry near {format_iso(first.peak.utc_s)[:16].replace('T', ' ')} UTC is of catalogue number "
        "99999, which is not among the satellites.",
        f"Two entries are of the same pass of {first.satellite}: the first counts.",
    )


def test_a_pass_that_was_worked_without_being_planned_has_a_row_after_the_contacts():
    plan, result = evening()
    left = evening_log(plan, result).others
    assert len(left) == len(result.passes) - len(result.order.contacts) > 0
    logged = plan_of(evening_data(), log=[near(left[0].pass_)])
    log = evening_log(logged, result_of(logged))
    assert log.rows[-1].number is None
    assert log.rows[-1].pass_ == left[0].pass_
    assert len(log.rows) == len(result.order.contacts) + 1
    assert len(log.others) == len(left) - 1
    assert summary_words(log) == "6 contacts planned: 0 worked, 6 not noted; 1 pass more."


def test_the_log_changes_nothing_that_is_computed():
    plan, memo = evening()[0], Memo()
    result = evaluate(plan, memo)
    logged = plan_of(evening_data(), log=[near(result.passes[0])])
    again = evaluate(logged, memo)
    assert identity(logged) == identity(plan)
    assert again.order is result.order
    assert again.checks is result.checks
