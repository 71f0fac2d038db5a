"""What every evening keeps to, whatever it is made of."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import Cancelled
from core.base.units import Progress
from core.mount.evening.evening import explain_evening, order_evening, worked_span
from core.mount.evening.joining import AxisAngles, idle_place, place_at
from core.mount.evening.order.rules import GRID_S, EveningRules, MountStart, Wanted
from core.mount.evening.results import Contact, EveningOrder
from core.mount.model.results import Reason
from core.mount.model.station import Antenna, AzimuthAxis, Drive, ElevationAxis, Mount, Station
from core.passes.track import Pass
from tests.core.mount.evening.order.evenings import a_pass, order_of, question_of

ANTENNAS = (Antenna(beamwidth_deg=24.0),)


def ordered(
    passes: tuple[Pass, ...],
    mount: Mount,
    rules: EveningRules | None = None,
    wanted: tuple[Wanted, ...] | None = None,
    mount_start: MountStart | None = None,
    shortest_s: float = 180.0,
) -> EveningOrder:
    question = question_of(
        passes,
        Station(mount, ANTENNAS),
        shortest_s,
        picks=wanted,
        rules=rules or EveningRules(),
        mount_start=mount_start,
    )
    return order_of(question)


def places(contact: Contact) -> tuple[tuple[float, float], tuple[float, float]]:
    """Both axes at the start and at the end."""
    pointing = contact.check.pointing
    assert pointing is not None
    return place_at(pointing, contact.start_utc_s), place_at(pointing, contact.end_utc_s)


@settings(max_examples=25, deadline=None)
@given(
    starts=st.lists(
        st.tuples(st.floats(0.0, 3000.0), st.floats(0.0, 359.0), st.floats(200.0, 900.0)),
        min_size=1,
        max_size=6,
    ),
    travel_deg=st.sampled_from([360.0, 450.0]),
    maximum_deg=st.sampled_from([90.0, 180.0]),
    margin_s=st.sampled_from([0.0, 25.0]),
    settle_s=st.sampled_from([0.0, 4.0]),
    idle_m_deg=st.sampled_from([None, 150.0]),
)
def test_an_evening_can_be_done_by_the_hand_on_the_controller(
    starts: list[tuple[float, float, float]],
    travel_deg: float,
    maximum_deg: float,
    margin_s: float,
    settle_s: float,
    idle_m_deg: float | None,
) -> None:
    mount = Mount(
        azimuth=AzimuthAxis(travel_deg=travel_deg),
        elevation=ElevationAxis(maximum_deg=maximum_deg),
        drive=Drive(settle_s=settle_s),
    )
    rules = EveningRules(move_margin_s=margin_s, idle_m_deg=idle_m_deg)
    passes = tuple(a_pass(number, *one) for number, one in enumerate(starts))
    order = ordered(passes, mount, rules)
    worked = [contact.check.pass_.norad_id for contact in order.contacts]
    assert len(set(worked)) == len(worked)
    assert len(worked) + len(order.left_out) == len(passes)
    for contact in order.contacts:
        assert contact.end_utc_s - contact.start_utc_s >= 180.0 - 1e-6
        assert worked_span(contact.check) == pytest.approx((contact.start_utc_s, contact.end_utc_s), abs=1e-6)
        pass_ = contact.check.pass_
        assert contact.joined_late_s == pytest.approx(contact.start_utc_s - pass_.aos.utc_s, abs=1e-3)
        assert contact.left_early_s == pytest.approx(pass_.los.utc_s - contact.end_utc_s, abs=1e-3)
        for moment, end in ((contact.start_utc_s, pass_.aos.utc_s), (contact.end_utc_s, pass_.los.utc_s)):
            on_grid = abs(moment / GRID_S - round(moment / GRID_S)) < 1e-6
            sampled = np.abs(pass_.utc_s - moment).min() < 1e-6  # the first or last moment on the beam
            assert on_grid or sampled or abs(moment - end) < 1e-3
        (start, _e), (end_m, _el) = places(contact)
        assert contact.wrap_before_deg == pytest.approx(start - travel_deg / 2.0, abs=1e-6)
        assert contact.wrap_after_deg == pytest.approx(end_m - travel_deg / 2.0, abs=1e-6)
    for before, after in itertools.pairwise(order.contacts):
        move = after.move_before
        assert move is not None
        assert move.feasible
        left, due = places(before)[1], places(after)[0]
        turning, tipping = abs(due[0] - left[0]) / 6.0, abs(due[1] - left[1]) / 2.5
        needed = max(turning, tipping)
        needed += settle_s if needed > 0.0 else 0.0
        assert move.seconds_needed == pytest.approx(needed, abs=1e-6)
        assert move.seconds_there == pytest.approx(after.start_utc_s - before.end_utc_s)
        assert needed + margin_s <= move.seconds_there + 1e-6


def far_apart() -> tuple[Pass, ...]:
    return a_pass(1, 0.0, 60.0), a_pass(2, 900.0, 150.0)


def test_idle_is_gone_to_where_both_moves_and_the_margin_fit() -> None:
    mount = Mount()
    order = ordered(far_apart(), mount, EveningRules(idle_m_deg=100.0, move_margin_s=10.0))
    rest, move = order.rests[0], order.contacts[1].move_before
    assert move is not None
    assert (rest.kind, rest.after, (rest.m_deg, rest.e_deg)) == ("idle", 0, idle_place(mount, 100.0))
    there = max(abs(move.m_from_deg - 100.0) / 6.0, abs(move.e_from_deg) / 2.5)
    back = max(abs(move.m_to_deg - 100.0) / 6.0, abs(move.e_to_deg) / 2.5)
    assert rest.start_utc_s == pytest.approx(order.contacts[0].end_utc_s + there)
    assert rest.end_utc_s == pytest.approx(order.contacts[1].start_utc_s - back - 10.0)
    assert rest.end_utc_s is not None
    assert rest.start_utc_s < rest.end_utc_s
    assert ordered(far_apart(), mount, EveningRules(idle_m_deg=100.0, move_margin_s=340.0)).rests == ()
    stay = rest.end_utc_s - rest.start_utc_s
    for short_s, stays in ((29.0, False), (31.0, True)):
        margin_s = 10.0 + stay - short_s
        found = ordered(far_apart(), mount, EveningRules(idle_m_deg=100.0, move_margin_s=margin_s)).rests
        assert bool(found) == stays, "half a minute is stood there at least"
    assert ordered(far_apart(), mount).rests == ()


def test_it_is_stowed_after_the_last() -> None:
    order = ordered(far_apart(), Mount(), EveningRules(stow_elevation_deg=85.0))
    rest = order.rests[-1]
    m_deg, e_deg = places(order.contacts[-1])[1]
    assert (rest.kind, rest.after, rest.m_deg, rest.e_deg, rest.end_utc_s) == ("stow", 1, 225.0, 85.0, None)
    taken = max(abs(m_deg - 225.0) / 6.0, abs(e_deg - 85.0) / 2.5)
    assert rest.start_utc_s == pytest.approx(order.contacts[-1].end_utc_s + taken)


def test_a_picked_pass_shorter_than_the_least_contact_is_worked_whole() -> None:
    short = a_pass(1, 0.0, 60.0, seconds=150.0)
    question = question_of((short,), Station(Mount(), ANTENNAS), picks=(Wanted(0, 1.0),))
    contact = order_of(question).contacts[0]
    assert (contact.start_utc_s, contact.end_utc_s) == pytest.approx((short.aos.utc_s, short.los.utc_s))
    assert "shorter than the least contact" in explain_evening(question).why_so[0]
    whole = question_of((a_pass(1, 0.0, 60.0),), Station(Mount(), ANTENNAS))
    assert "shorter" not in explain_evening(whole).why_so[0]


def test_it_begins_where_the_mount_stands() -> None:
    passes = far_apart()
    free = ordered(passes, Mount()).contacts[0]
    place = AxisAngles(440.0, 60.0)
    bound = ordered(passes, Mount(), mount_start=MountStart(place, free.start_utc_s - 10.0))
    move = bound.contacts[0].move_before
    assert move is not None
    assert (move.m_from_deg, move.e_from_deg) == place
    assert move.feasible
    assert move.seconds_there == pytest.approx(bound.contacts[0].start_utc_s - free.start_utc_s + 10.0)
    # A second before, nothing is reached; it is joined as soon as a step of the grid allows.
    assert bound.contacts[0].start_utc_s > free.start_utc_s
    assert move.seconds_there - move.seconds_needed < GRID_S + 1.0


def test_worth_decides_between_passes_at_the_same_time() -> None:
    passes = a_pass(1, 0.0, 60.0), a_pass(2, 0.0, 240.0)
    for dear in (0, 1):
        wanted = tuple(Wanted(i, 2.0 if i == dear else 1.0) for i in range(2))
        order = ordered(passes, Mount(), wanted=wanted)
        longest = max(order.contacts, key=lambda contact: contact.end_utc_s - contact.start_utc_s)
        assert longest.check.pass_.norad_id == dear + 1


def test_the_greatest_worths_of_the_longest_evening_still_fit_one_number() -> None:
    passes = tuple(a_pass(i, 86_000.0 * i, 60.0 + i, 900.0) for i in range(15))
    wanted = tuple(Wanted(i, 1000.0) for i in range(15))
    order = ordered(passes, Mount(), wanted=wanted)
    heard = sum(1000.0 * contact.check.seconds_in_all for contact in order.contacts)
    assert len(order.contacts) == 15
    assert order.worth.signal_s == pytest.approx(heard, rel=1e-4)


def test_the_choice_can_be_cancelled() -> None:
    question = question_of(far_apart(), Station(Mount(), ANTENNAS))
    calls: list[str] = []

    def until(number: int) -> Progress:
        return lambda _done, _total, what: calls.append(what) is None and len(calls) < number

    for number in (1, 4, 8):
        calls.clear()
        with pytest.raises(Cancelled):
            order_evening(question, (Reason(), Reason()), progress=until(number))
        assert calls == ["choosing the evening"] * number


def test_without_a_least_contact_none_is_shorter_than_a_step() -> None:
    order = ordered((*far_apart(), a_pass(3, 100.0, 200.0)), Mount(), shortest_s=0.0)
    assert len(order.contacts) >= 2
    assert min(one.end_utc_s - one.start_utc_s for one in order.contacts) >= GRID_S - 1e-6
