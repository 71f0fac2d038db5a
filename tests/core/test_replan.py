"""The rest of the evening planned again from the present dials, the seat as found and what was missed."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import DialTwiceError, ValueRangeError
from core.base.memo import Memo
from core.base.times import clock, format_iso, parse_iso
from core.evaluate import Result, evaluate
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.joining import AxisAngles, place_at, seconds_between
from core.next_moves import move_words, next_moves
from core.plan.document import Plan
from core.replan import Now, present_place, replan, rest_of_evening, still_meant, wanted_passes
from core.studies import explain
from tests.plans import plan_of, short_plan_data
from tests.seat_evening import seat_plan


@cache
def evening() -> tuple[Plan, Result]:
    plan = seat_plan()
    return plan, evaluate(plan)


def at(utc_s: float, dial: float = 100.0, **more: object) -> Now:
    return Now(utc_s=utc_s, azimuth_dial_deg=dial, **more)  # type: ignore[arg-type]


def ids(result: Result) -> list[tuple[int, int]]:
    """Catalogue number and the minute of the end, which a later start does not change."""
    return [(c.check.pass_.norad_id, round(c.check.pass_.los.utc_s / 60.0)) for c in result.order.contacts]


@settings(max_examples=12, deadline=None)
@given(share=st.floats(0.0, 0.85))
def test_what_is_over_goes_and_what_is_to_come_stays(share: float) -> None:
    plan, before = evening()
    start, end = plan.evening.start_utc_s, plan.evening.end_utc_s
    now_s = round(start + share * (end - start))
    again = replan(plan, at(now_s))
    assert again.plan.evening.start_utc_s == max(now_s, start)
    assert again.plan.evening.end == plan.evening.end
    to_come = [
        one for one, c in zip(ids(before), before.order.contacts, strict=True) if c.start_utc_s > now_s
    ]
    left = ids(again.result)
    assert [one for one in left if one in to_come] == to_come
    # What is not to come is running now.
    running = {
        (p.norad_id, round(p.los.utc_s / 60.0)) for p in before.passes if p.aos.utc_s <= now_s < p.los.utc_s
    }
    assert set(left) - set(to_come) <= running
    assert all(one.los.utc_s <= now_s for one in again.over)
    for contact in again.result.order.contacts:
        assert contact.start_utc_s >= now_s - 1e-3


@settings(max_examples=12, deadline=None)
@given(share=st.floats(0.0, 0.8), dial=st.floats(5.0, 355.0), level=st.floats(0.0, 90.0))
def test_the_first_move_starts_from_the_present_dials(share: float, dial: float, level: float) -> None:
    plan, _before = evening()
    start, end = plan.evening.start_utc_s, plan.evening.end_utc_s
    now_s = round(start + share * (end - start))
    again = replan(plan, at(now_s, dial, elevation_dial_deg=level))
    first = again.result.order.contacts[0]
    move = first.move_before
    assert move is not None
    assert (move.m_from_deg, move.e_from_deg) == (pytest.approx(dial), pytest.approx(level))
    pointing = first.check.pointing
    assert pointing is not None
    there = place_at(pointing, first.start_utc_s)
    needed = max(abs(there[0] - dial) / 6.0, abs(there[1] - level) / 2.5)  # the rates a plan assumes
    assert move.seconds_needed == pytest.approx(needed)
    assert move.seconds_there == pytest.approx(first.start_utc_s - now_s)
    assert move.feasible == (needed <= first.start_utc_s - now_s)
    joined = again.on_first_utc_s
    if move.feasible:
        assert joined == pytest.approx(first.start_utc_s, abs=1e-3)
    elif joined is not None:
        there = place_at(pointing, joined)
        assert joined - now_s >= seconds_between(plan.mount, AxisAngles(dial, level), there) - 1e-3


def test_the_seat_as_found_is_the_seat_planned_with() -> None:
    plan, _before = evening()
    found = at(plan.evening.start_utc_s, keyway_bearing_deg=71.5, index_hole="B")
    again = replan(plan, found)
    assert (again.plan.mount.keyway_bearing_deg, again.plan.mount.index_hole) == (71.5, "B")
    there = evaluate(seat_plan(mount__keyway_bearing_deg=71.5, mount__index_hole="B"))
    verdicts = [check.verdict for check in there.checks]
    assert [check.verdict for check in again.result.checks] == verdicts
    assert again.bearing_deg == pytest.approx((71.5 - 45.0 + 100.0) % 360.0)


def test_a_missed_pass_is_not_wanted_any_more() -> None:
    plan, before = evening()
    gone = before.order.contacts[-1].check.pass_
    again = replan(plan, at(plan.evening.start_utc_s, missed=((gone.norad_id, gone.peak.utc_s + 60.0),)))
    assert ids(again.result) == ids(before)[:-1]
    assert [one.norad_id for one in again.missed] == [gone.norad_id]


def test_picks_that_are_over_or_missed_go_and_the_others_keep_their_worth() -> None:
    _plan, before = evening()
    first, second, third = (contact.check.pass_ for contact in before.order.contacts[:3])
    picks = [
        {"norad_id": one.norad_id, "near": format_iso(one.peak.utc_s), "worth": worth}
        for one, worth in ((first, 2.0), (second, 3.0), (third, 4.0))
    ]
    plan = seat_plan(picks=picks)
    now_s = first.los.utc_s + 1.0
    assert now_s < third.aos.utc_s
    again = replan(plan, at(now_s, missed=((second.norad_id, second.peak.utc_s),)))
    assert [(pick.norad_id, pick.worth) for pick in again.plan.picks] == [(third.norad_id, 4.0)]
    assert [one.norad_id for one in again.over] == [first.norad_id]
    assert again.result.order.unmatched == ()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"utc_s": parse_iso("2024-11-01T20:00:00Z")}, "before the evening's end"),
        ({"azimuth_dial_deg": 380.0}, "between 0 and 360"),
        ({"elevation_dial_deg": 120.0}, "between 0 and 90 deg"),
        ({"time_round": 2}, "1 to 1 for dial 100"),
        ({"missed": ((71000, parse_iso("2024-11-02T20:00:00Z")),)}, "a pass of this evening"),
        ({"missed": ((99, parse_iso("2024-11-01T18:00:00Z")),)}, "a pass of this evening"),
        ({"index_hole": "Q"}, "Q"),
    ],
)
def test_what_cannot_be_is_refused_in_words(change: dict[str, object], words: str) -> None:
    plan, before = evening()
    given_now = {"utc_s": plan.evening.start_utc_s, "azimuth_dial_deg": 100.0} | change
    with pytest.raises(ValueRangeError, match=words):
        rest_of_evening(plan, Now(**given_now), before.passes)  # type: ignore[arg-type]


def test_what_cannot_be_is_refused_before_anything_is_evaluated() -> None:
    plan, _before = evening()
    memo = Memo()
    with pytest.raises(ValueRangeError, match="a pass of this evening"):
        replan(plan, at(plan.evening.start_utc_s, missed=((99, plan.evening.start_utc_s),)), memo)
    assert memo.computed == {"search": 1, "mask": 1}


def test_an_evening_with_nothing_left_is_said_to_be_over() -> None:
    _plan, before = evening()
    one = before.order.contacts[0].check.pass_
    plan = seat_plan(picks=[{"norad_id": one.norad_id, "near": format_iso(one.peak.utc_s)}])
    with pytest.raises(ValueRangeError, match="nothing is left"):
        rest_of_evening(plan, at(one.los.utc_s + 1.0), before.passes)
    missed = at(plan.evening.start_utc_s, missed=((one.norad_id, one.peak.utc_s),))
    with pytest.raises(ValueRangeError, match="nothing is left"):
        rest_of_evening(plan, missed, before.passes)


def test_the_refusal_names_the_end_of_the_last_pass_that_is_wanted() -> None:
    _plan, before = evening()
    one = before.order.contacts[0].check.pass_
    plan = seat_plan(picks=[{"norad_id": one.norad_id, "near": format_iso(one.peak.utc_s)}])
    with pytest.raises(ValueRangeError, match=re.escape(format_iso(one.los.utc_s))):
        rest_of_evening(plan, at(one.los.utc_s + 1.0), before.passes)


@pytest.mark.parametrize("picked", [True, False])
def test_the_pass_the_mount_is_on_is_worked_to_its_end_however_short(picked: bool) -> None:
    """Two minutes before LOS, with a least contact of three; not from another place of the dial."""
    _plan, before = evening()
    contact = next(c for c in before.order.contacts if c.check.chosen is not None and c.left_early_s < 1.0)
    one, pointing = contact.check.pass_, contact.check.pointing
    assert pointing is not None
    picks = [{"norad_id": one.norad_id, "near": format_iso(one.peak.utc_s)}] if picked else []
    plan = seat_plan(picks=picks)
    now_s = contact.end_utc_s - 120.0
    m_deg, e_deg = (float(np.interp(now_s, pointing.utc_s, v)) for v in (pointing.m_deg, pointing.e_deg))
    shown = (
        azimuth_dial(m_deg, plan.mount.azimuth).value_deg,
        elevation_dial(e_deg, plan.mount.elevation).value_deg,
    )
    there = replan(plan, Now(now_s, round(shown[0]), round(shown[1])))
    first = there.result.order.contacts[0]
    assert first.check.pass_.norad_id == one.norad_id
    assert first.end_utc_s == pytest.approx(contact.end_utc_s, abs=1.0)
    assert "the mount is on it already" in explain(there.plan, there.result).why_so[0]
    away = replan(plan, Now(now_s, (round(shown[0]) + 150.0) % 300.0, 0.0))
    began = [
        c
        for c in away.result.order.contacts
        if c.check.pass_.los.utc_s == pytest.approx(one.los.utc_s, abs=1.0)
    ]
    assert not [c for c in began if c.check.pass_.norad_id == one.norad_id]


def test_a_dial_that_reads_the_same_twice_must_be_told_apart() -> None:
    wraps = {"mount__azimuth__dial_wraps_at_deg": 360.0, "mount__azimuth__dial_wraps_to_deg": 0.0}
    mount = plan_of(short_plan_data(), **wraps).mount
    with pytest.raises(DialTwiceError, match=r"dial 20 occurs twice, at 20 and 380 deg .*, 1 or 2$"):
        present_place(mount, at(0.0, 20.0))
    assert present_place(mount, at(0.0, 20.0, time_round=2)).m_deg == 380.0
    assert present_place(mount, at(0.0, 200.0)).m_deg == 200.0


def test_the_plan_before_is_left_as_it_is() -> None:
    plan, _before = evening()
    copy = plan.model_copy(deep=True)
    replan(plan, at(plan.evening.start_utc_s + 3600.0, keyway_bearing_deg=10.0))
    assert plan == copy


def test_the_plan_for_the_rest_taken_as_the_plan_has_the_same_rest() -> None:
    plan, before = evening()
    now_s = plan.evening.start_utc_s + 3600.0
    gone = next(c.check.pass_ for c in before.order.contacts if c.check.pass_.los.utc_s < now_s)
    coming = before.order.contacts[-1].check.pass_
    now = at(now_s, missed=tuple((one.norad_id, one.peak.utc_s) for one in (gone, coming)))
    again = replan(plan, now)
    assert still_meant(plan, now, before.passes) == now
    left = still_meant(again.plan, now, again.result.passes)
    assert left.missed == ((coming.norad_id, coming.peak.utc_s),)
    same = replan(again.plan, left)
    assert same.plan == again.plan
    assert ids(same.result) == ids(again.result)


def test_what_was_wanted_is_the_picks_or_else_what_the_evening_works() -> None:
    plan, before = evening()
    worked = [contact.check.pass_ for contact in before.order.contacts]
    assert list(wanted_passes(plan, before)) == worked
    picks = [{"norad_id": one.norad_id, "near": format_iso(one.peak.utc_s)} for one in worked[1::-1]]
    assert list(wanted_passes(seat_plan(picks=picks), before)) == worked[:2]


def test_the_first_move_tells_when_to_leave_or_when_the_pass_is_joined() -> None:
    plan, before = evening()
    first = before.order.contacts[0]
    early = next_moves(replan(plan, at(first.start_utc_s - 600.0)))
    assert len(early) == 3
    assert early[0].fits
    assert early[0].leave_utc_s == pytest.approx(early[0].start_utc_s - early[0].needed_s)
    assert early[0].joined_utc_s == pytest.approx(early[0].start_utc_s, abs=1e-3)
    assert "leave by" in move_words(early[0])
    assert early[1].joined_utc_s is None


def test_a_move_that_does_not_fit_says_to_leave_at_once_and_when_it_is_there() -> None:
    plan, before = evening()
    early = next_moves(replan(plan, at(before.order.contacts[0].start_utc_s - 600.0)))[0]
    late = replace(early, fits=False, joined_utc_s=early.start_utc_s + 20.0)
    joined = clock(early.start_utc_s + 20.0)
    assert move_words(late).endswith(f"; on it at {joined}.")
    assert "leave at once" in move_words(late)
    assert move_words(replace(late, joined_utc_s=None)).endswith("; too late for it.")
    assert "or lose its start" in move_words(replace(late, first=False))
