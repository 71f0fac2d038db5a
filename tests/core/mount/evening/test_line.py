"""The evening's line: unbroken from the first start to stow, and nowhere faster than the axes are."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.joining import AxisAngles
from core.mount.evening.line import Leg, evening_line, on_line, wrap_deg
from core.mount.evening.order.rules import MountStart
from core.mount.evening.results import Contact, EveningOrder, Halt, Move
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import Antenna, AzimuthAxis, Drive, ElevationAxis, Mount, Station
from tests.core.mount.evening.test_evening import a_pass

ANTENNAS = (Antenna(),)
UNTIL_S = 9000.0


def _order(
    mount: Mount, gaps_s: list[float], azimuths_deg: list[float], rests: tuple[Halt, ...] = ()
) -> EveningOrder:
    """Every pass worked whole, whether the moves between fit or not."""
    starts = np.concatenate([[0.0], np.cumsum([600.0 + gap for gap in gaps_s])])
    passes = tuple(
        a_pass(n + 1, float(start), azimuth)
        for n, (start, azimuth) in enumerate(zip(starts, azimuths_deg, strict=False))
    )
    contacts: list[Contact] = []
    for check in check_passes(passes, mount_tracks(passes, mount.tilt), Station(mount, ANTENNAS)):
        if check.pointing is not None:
            contacts.append(_contact(check, mount, contacts[-1] if contacts else None))
    return EveningOrder(tuple(contacts), rests=rests)


def _contact(check: PassCheck, mount: Mount, before: Contact | None) -> Contact:
    pointing = check.pointing
    assert pointing is not None
    worked = np.flatnonzero(pointing.worked)
    first, last = worked[[0, -1]].tolist()
    start, end = float(pointing.utc_s[first]), float(pointing.utc_s[last])
    m_deg, e_deg = float(pointing.m_deg[first]), float(pointing.e_deg[first])
    move = None
    if before is not None:
        was = before.check.pointing
        assert was is not None
        m_was = float(np.interp(before.end_utc_s, was.utc_s, was.m_deg))
        e_was = float(np.interp(before.end_utc_s, was.utc_s, was.e_deg))
        needed = max(abs(m_deg - m_was) / 6.0, abs(e_deg - e_was) / 2.5)
        gap = start - before.end_utc_s
        move = Move(needed, gap, m_was, m_deg, e_was, e_deg, feasible=needed <= gap)
    middle = mount.azimuth.travel_deg / 2.0
    wrap = (m_deg - middle, float(pointing.m_deg[last]) - middle)
    return Contact(check, Reason(), 1.0, True, start, end, move, *wrap)


def _line(mount: Mount, order: EveningOrder) -> tuple[Leg, ...]:
    stow = Halt("stow", len(order.contacts) - 1, mount.azimuth.travel_deg / 2.0, 90.0, 0.0, None)
    return evening_line(replace(order, rests=(*order.rests, stow)), mount, UNTIL_S)


mounts = st.builds(
    lambda travel, acceleration, settle, together: Mount(
        azimuth=AzimuthAxis(travel_deg=travel, guard_deg=5.0, acceleration_deg_s2=acceleration),
        elevation=ElevationAxis(),
        drive=Drive(settle_s=settle, both_axes_at_once=together),
    ),
    st.sampled_from([360.0, 450.0]),
    st.sampled_from([None, 0.5, 3.0]),
    st.sampled_from([0.0, 4.0]),
    st.booleans(),
)
evenings = st.tuples(
    st.lists(st.floats(-300.0, 400.0), min_size=3, max_size=3),
    st.lists(st.floats(0.0, 359.0), min_size=4, max_size=4),
)


@settings(max_examples=25, deadline=None)
@given(mounts, evenings)
def test_each_leg_begins_where_and_when_the_one_before_ends(mount, evening):
    line = _line(mount, _order(mount, *evening))
    for before, after in pairwise(line):
        assert after.utc_s[0] == pytest.approx(before.utc_s[-1], abs=1e-6)
        assert (after.m_deg[0], after.e_deg[0]) == pytest.approx(before.end, abs=1e-6)
    assert line[0].kind == "contact"
    assert line[-1].kind == "stowed"
    assert line[-1].end == pytest.approx((mount.azimuth.travel_deg / 2.0, 90.0))
    assert line[-1].utc_s[-1] >= UNTIL_S


@settings(max_examples=25, deadline=None)
@given(mounts, evenings)
def test_moves_keep_the_rates_the_guards_and_the_time(mount, evening):
    order = _order(mount, *evening)
    line = _line(mount, order)
    for leg in line:
        assert leg.m_deg.min() >= 5.0 - 1e-6
        assert leg.m_deg.max() <= mount.azimuth.travel_deg - 5.0 + 1e-6
        if leg.kind in {"move", "stowing"}:
            seconds = np.diff(leg.utc_s)
            assert (seconds >= 0.0).all()
            assert (np.abs(np.diff(leg.m_deg)) <= 6.0 * seconds + 1e-6).all()
            assert (np.abs(np.diff(leg.e_deg)) <= 2.5 * seconds + 1e-6).all()
    misfits = {leg.contact for leg in line if leg.kind == "misfit"}
    assert {
        n for n, c in enumerate(order.contacts) if c.move_before and not c.move_before.feasible
    } <= misfits


def test_the_contacts_of_the_line_are_the_pointing_of_what_is_worked():
    mount = Mount()
    order = _order(mount, [200.0], [60.0, 150.0])
    short = replace(order.contacts[0], start_utc_s=order.contacts[0].start_utc_s + 33.3)
    leg = evening_line(replace(order, contacts=(short, order.contacts[1])), mount, 0.0)[0]
    pointing = short.check.pointing
    assert pointing is not None
    assert (leg.utc_s[0], leg.utc_s[-1]) == (short.start_utc_s, short.end_utc_s)
    np.testing.assert_allclose(leg.m_deg, np.interp(leg.utc_s, pointing.utc_s, pointing.m_deg))
    np.testing.assert_allclose(leg.e_deg, np.interp(leg.utc_s, pointing.utc_s, pointing.e_deg))


def test_it_waits_at_the_next_start_and_not_where_it_left():
    mount = Mount()
    line = _line(mount, _order(mount, [300.0], [60.0, 200.0]))
    assert [leg.kind for leg in line] == ["contact", "move", "wait", "contact", "stowing", "stowed"]
    wait, after = line[2], line[3]
    assert wait.m_deg.tolist() == pytest.approx([float(after.m_deg[0])] * 2)
    assert wait.utc_s[1] - wait.utc_s[0] > 100.0
    assert [leg.contact for leg in line] == [0, 1, 1, 1, -1, -1]


def test_without_contacts_there_is_no_line():
    assert evening_line(EveningOrder(()), Mount(), UNTIL_S) == ()


def test_without_a_stow_the_mount_is_left_where_the_last_contact_ends():
    mount = Mount()
    line = evening_line(_order(mount, [], [60.0]), mount, UNTIL_S)
    assert [leg.kind for leg in line] == ["contact", "left"]
    assert line[1].end == line[0].end
    assert (line[1].utc_s[0], line[1].utc_s[1]) == (line[0].utc_s[-1], UNTIL_S)


def test_in_the_idle_place_it_stands_from_getting_there_to_leaving():
    mount = Mount()
    plain = _order(mount, [900.0], [60.0, 200.0])
    start = plain.contacts[1].start_utc_s
    halt = Halt("idle", 0, 225.0, 0.0, start - 800.0, start - 120.0)
    line = _line(mount, replace(plain, rests=(halt,)))
    kinds = ["contact", "move", "idle", "move", "wait", "contact", "stowing", "stowed"]
    assert [leg.kind for leg in line] == kinds
    away, idle, back = line[1], line[2], line[3]
    assert idle.m_deg.tolist() == [225.0, 225.0]
    assert idle.utc_s.tolist() == [away.utc_s[-1], start - 120.0]
    assert back.utc_s[0] == start - 120.0
    assert [leg.contact for leg in line[1:6]] == [1] * 5


def test_a_moment_of_the_line_is_read_between_its_samples():
    mount = Mount()
    line = _line(mount, _order(mount, [300.0, -200.0], [60.0, 200.0, 90.0]))
    assert on_line(line, float(line[0].utc_s[0]) - 1.0) is None
    for leg in line:
        if leg.kind == "misfit":
            continue
        middle = float(leg.utc_s[0] + leg.utc_s[-1]) / 2.0
        place = on_line((leg,), middle)
        assert place is not None
        assert (place.kind, place.contact) == (leg.kind, leg.contact)
        assert place.m_deg == pytest.approx(float(np.interp(middle, leg.utc_s, leg.m_deg)))
        assert place.e_deg == pytest.approx(float(np.interp(middle, leg.utc_s, leg.e_deg)))
    misfit = next(leg for leg in line if leg.kind == "misfit")
    assert on_line((misfit,), float(misfit.utc_s[1])) is None
    assert on_line(line, UNTIL_S + 1.0) is None


def test_the_wrap_of_a_contact_is_that_of_its_ends():
    mount = Mount()
    contact = _order(mount, [], [60.0]).contacts[0]
    leg = evening_line(EveningOrder((contact,)), mount, 0.0)[0]
    assert wrap_deg(float(leg.m_deg[0]), mount) == pytest.approx(contact.wrap_before_deg)
    assert wrap_deg(leg.end[0], mount) == pytest.approx(contact.wrap_after_deg)


def test_where_the_mount_stands_first_the_line_begins() -> None:
    mount = Mount()
    order = _order(mount, [], [60.0])
    move = Move(0.0, 90.0, 300.0, 0.0, 40.0, 0.0, feasible=True)
    start = MountStart(AxisAngles(300.0, 40.0), order.contacts[0].start_utc_s - 90.0)
    begun = replace(order, contacts=(replace(order.contacts[0], move_before=move),))
    line = evening_line(begun, mount, UNTIL_S, start)
    assert [leg.kind for leg in line[:3]] == ["move", "wait", "contact"]
    first = line[0]
    assert (first.utc_s[0], first.m_deg[0], first.e_deg[0]) == (start.utc_s, 300.0, 40.0)
    assert [leg.contact for leg in line[:3]] == [0, 0, 0]
    assert evening_line(EveningOrder(()), mount, UNTIL_S, start) == ()
