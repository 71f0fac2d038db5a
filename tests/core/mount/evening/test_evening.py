from __future__ import annotations

import numpy as np
import pytest

from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.evening import worked_span
from core.mount.evening.order.rules import Wanted
from core.mount.model.station import Antenna, AzimuthAxis, Drive, ElevationAxis, Mount, Station
from core.passes.track import Pass, cut_pass
from tests.core.mount.check.test_splits import LATE, swing
from tests.core.mount.evening.order.evenings import order_of, question_of
from tests.evening_plans import evening_plan
from tests.lasting import result_of
from tests.stays import arc_stay

ANTENNAS = (Antenna(),)
MOUNT = Mount(azimuth=AzimuthAxis(travel_deg=450.0, guard_deg=5.0, rate_deg_s=6.0), elevation=ElevationAxis())


def a_pass(norad_id: int, start_s: float, azimuth_deg: float, seconds: float = 600.0) -> Pass:
    pass_ = cut_pass(arc_stay(norad_id, start_s, azimuth_deg, seconds), (), 5.0)
    assert pass_ is not None
    return pass_


def ordered(passes: tuple[Pass, ...], wanted: tuple[Wanted, ...] | None = None, shortest: float = 180.0):
    return order_of(question_of(passes, Station(MOUNT, ANTENNAS), shortest, picks=wanted))


def test_the_move_takes_the_slower_axis_time() -> None:
    order = ordered((a_pass(1, 0.0, 60.0), a_pass(2, 900.0, 150.0)))
    first, second = order.contacts
    move = second.move_before
    assert first.move_before is None
    assert move is not None
    turning = abs(move.m_to_deg - move.m_from_deg) / 6.0
    tipping = abs(move.e_to_deg - move.e_from_deg) / 2.5
    assert move.seconds_needed == pytest.approx(max(turning, tipping))
    assert move.seconds_there == pytest.approx(second.start_utc_s - first.end_utc_s)
    assert move.feasible == (move.seconds_needed <= move.seconds_there)


def test_of_overlapping_passes_one_is_left_early_for_the_other() -> None:
    first, second = ordered((a_pass(1, 0.0, 60.0), a_pass(2, 300.0, 150.0))).contacts
    move = second.move_before
    assert move is not None
    assert move.feasible
    assert 0.0 < move.seconds_there < 60.0
    assert first.left_early_s + second.joined_late_s == pytest.approx(
        first.check.pass_.los.utc_s - second.check.pass_.aos.utc_s + move.seconds_there
    )
    for contact in (first, second):
        pointing = contact.check.pointing
        assert pointing is not None
        assert worked_span(contact.check) == (contact.start_utc_s, contact.end_utc_s)
        assert contact.check.seconds_lost == pytest.approx(
            contact.left_early_s + contact.joined_late_s, abs=0.01
        )


def test_of_passes_at_the_same_time_one_is_left_out_and_told() -> None:
    order = ordered((a_pass(1, 0.0, 60.0), a_pass(2, 10.0, 60.0)), (Wanted(0, 1.0), Wanted(1, 2.0)))
    assert [contact.check.pass_.norad_id for contact in order.contacts] == [2]
    check, why = order.left_out[0]
    assert check.pass_.norad_id == 1
    assert why == "overlaps MADE-2"


def test_the_cable_is_counted_from_mid_travel() -> None:
    contact = ordered((a_pass(1, 0.0, 60.0),)).contacts[0]
    pointing = contact.check.pointing
    assert pointing is not None
    assert contact.wrap_before_deg == pytest.approx(pointing.m_deg[0] - 225.0)
    assert contact.wrap_after_deg == pytest.approx(pointing.m_deg[-1] - 225.0)


def test_short_contacts_are_left_out_unless_picked() -> None:
    short = a_pass(1, 0.0, 60.0, seconds=150.0)
    order = ordered((short,))
    assert order.contacts == ()
    assert "shorter than the least contact" in order.left_out[0][1]
    assert len(ordered((short,), wanted=(Wanted(0, 1.0),)).contacts) == 1


def test_without_a_pick_a_pass_is_not_in_the_evening() -> None:
    passes = (a_pass(1, 0.0, 60.0), a_pass(2, 900.0, 150.0))
    order = ordered(passes, wanted=(Wanted(1, 3.0),))
    assert [contact.check.pass_.norad_id for contact in order.contacts] == [2]
    assert order.contacts[0].worth == 3.0


def test_a_way_insisted_on_is_followed_or_told() -> None:
    passes = (a_pass(1, 0.0, 60.0),)
    tracks = mount_tracks(passes, MOUNT.tilt)
    check = check_passes(passes, tracks, Station(MOUNT, ANTENNAS))[0]
    other = next(way for way in check.ways if way != check.chosen)
    order = ordered(passes, wanted=(Wanted(0, 1.0, (other.posture, other.turn)),))
    assert order.contacts[0].check.chosen == other
    assert order.contacts[0].reason.text.startswith(other.posture.capitalize())
    pointing = order.contacts[0].check.pointing
    assert pointing is not None
    np.testing.assert_allclose(pointing.m_deg[0], other.m_aos_deg)
    told = ordered(passes, wanted=(Wanted(0, 1.0, ("upright", 7)),))
    assert "does not hold upright in turn 7" in told.unmatched[0]
    assert told.contacts[0].check.chosen in check.ways


def test_the_worked_span_lies_over_the_mask() -> None:
    contact = ordered((a_pass(1, 0.0, 60.0),)).contacts[0]
    start, end = worked_span(contact.check)
    assert (start, end) == (contact.check.pass_.aos.utc_s, contact.check.pass_.los.utc_s)


@pytest.mark.parametrize("settle_s", [0.0, 4.0, 10.0])
def test_settling_after_a_split_is_no_signal(settle_s: float) -> None:
    """What the choice counts of a split worked whole is what the verdict keeps of it."""
    bearing = LATE.keyway_bearing_deg - 10.0
    mount = LATE.model_copy(update={"drive": Drive(settle_s=settle_s), "keyway_bearing_deg": bearing})
    pass_ = swing()
    question = question_of((pass_,), Station(mount, ANTENNAS))
    checks, order = question.checks, order_of(question)
    (contact,) = order.contacts
    split = contact.check.split
    assert split is not None
    assert order.worth.signal_s == pytest.approx(checks[0].seconds_in_all - checks[0].seconds_lost, abs=1.0)
    if split.settling_utc_s is None:
        assert settle_s == 0.0
    else:
        assert split.end_utc_s - split.settling_utc_s == pytest.approx(settle_s)


def test_a_pass_shorter_than_a_step_is_not_called_shorter_than_a_least_contact_of_nothing():
    hours = {"start": "2024-11-01T17:15:00.4Z", "end": "2024-11-01T17:15:03Z"}
    order = result_of(evening_plan(evening=hours, shortest_contact_s=0)).order
    assert [why for _check, why in order.left_out] == ["3 s, too short to be planned"]
