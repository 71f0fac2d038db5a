"""Moves between contacts that would strike: told, with an order that is clear."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.mount.check.strikes import barring_of
from core.mount.drive.slew import move_angles
from core.mount.evening.cautions import cautions_of, joining_with_caution, turning_elevation_deg
from core.mount.evening.joining import AxisAngles, idle_place, joining, place_at, seconds_between
from core.mount.evening.line import evening_line
from tests.core.mount.clearance.samples import TWO_YAGIS
from tests.evening_plans import full_evening_plan
from tests.lasting import result_of

PLAN = full_evening_plan(
    14, clearance=TWO_YAGIS, mount__keyway_bearing_deg=20.0, mount__elevation__maximum_deg=180.0
)


def test_every_move_that_strikes_is_told_and_no_other():
    order, barring = result_of(PLAN).order, barring_of(PLAN.station)
    assert barring is not None
    legs = evening_line(order, PLAN.mount, 0.0)
    struck = [
        leg.contact
        for leg in legs
        if leg.kind in {"move", "stowing", "misfit"} and barring.steps(leg.m_deg, leg.e_deg).any()
    ]
    assert [one.contact for one in order.cautions] == struck
    assert struck
    for caution in order.cautions:
        name = "stow" if caution.contact < 0 else order.contacts[caution.contact].check.pass_.satellite
        assert caution.text.startswith(f"Made straight, the move to {name} at ")
        assert "Clear is: " in caution.text or "No order" in caution.text


def test_the_order_that_is_told_is_clear():
    barring = barring_of(PLAN.station)
    assert barring is not None
    mount = PLAN.mount
    # Elevation 75 all the way goes through the arcs of the legs and the guy.
    here, there = AxisAngles(10.0, 75.0), AxisAngles(300.0, 75.0)
    straight = barring.steps(np.array([here.m_deg, there.m_deg]), np.array([here.e_deg, there.e_deg]))
    assert straight.any()
    at = turning_elevation_deg(here, there, barring, mount)
    assert at is not None
    m_deg = np.array([here.m_deg, here.m_deg, there.m_deg, there.m_deg])
    assert not barring.steps(m_deg, np.array([here.e_deg, at, at, there.e_deg])).any()


def test_without_lengths_there_are_none():
    plain = PLAN.model_copy(update={"clearance": None})
    order = result_of(plain).order
    assert order.cautions == ()
    assert cautions_of(order, plain.station) == ()


def test_joining_says_where_the_straight_move_from_idle_strikes() -> None:
    barring, told = barring_of(PLAN.station), []
    assert barring is not None
    mount = PLAN.mount
    for m_deg in (20.0, 120.0, 240.0, 330.0):
        idle = idle_place(mount, m_deg)
        for contact in result_of(PLAN).order.contacts:
            found = joining_with_caution(contact.check, PLAN.station, idle)
            plain = joining(contact.check, mount, idle)
            assert found is not None
            assert replace(found, caution="") == plain
            pointing, struck = contact.check.pointing, False
            assert pointing is not None
            for utc_s in (found.start_utc_s, found.from_idle_utc_s):
                if utc_s is not None:
                    there = place_at(pointing, utc_s)
                    seconds = np.linspace(0.0, seconds_between(mount, idle, there), 1500)
                    axes = move_angles(mount, idle.m_deg, there.m_deg, idle.e_deg, there.e_deg, seconds)
                    struck |= bool(barring.steps(*axes).any())
            assert found.caution.startswith("Straight from idle it strikes ") == struck
            assert found.caution.endswith(
                "From elsewhere not every straight move is clear: look before you turn."
            )
            told.append(struck)
    assert {True, False} == set(told)


def test_without_lengths_joining_has_no_caution() -> None:
    plain = PLAN.model_copy(update={"clearance": None})
    for contact in result_of(plain).order.contacts:
        found = joining_with_caution(contact.check, plain.station, idle_place(plain.mount))
        assert found == joining(contact.check, plain.mount, idle_place(plain.mount))
