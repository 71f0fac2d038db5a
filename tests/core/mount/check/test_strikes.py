"""Ways that strike: refused everywhere by one decision, told with time, boom, dials and gap."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.base.times import clock
from core.evaluate import evaluate, identity
from core.mount.check.cable import cable_words, take_up
from core.mount.check.clear_map import clear_map, map_sentence, nearest_words, struck_bearings
from core.mount.check.cure import apply_cure
from core.mount.check.strike_words import boom_words, gap_words
from core.mount.check.strikes import barring_of, kept_clear
from core.mount.check.verdict import check_pass
from core.mount.check.ways import pointing_of_way, struck_ways, ways_of
from core.mount.clearance.gaps import Gaps
from core.mount.clearance.lengths import Boom, Cable, Clearance
from core.mount.drive.motion import steer
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import Topic
from core.mount.model.station import POSTURES
from tests.core.mount.clearance.samples import TWO_YAGIS, station
from tests.evening_plans import full_evening_plan
from tests.lasting import result_of

PLAN = full_evening_plan(
    10, clearance=TWO_YAGIS, mount__keyway_bearing_deg=20.0, mount__elevation__maximum_deg=180.0
)
PLAIN = PLAN.model_copy(update={"clearance": None})


def test_a_refused_way_is_none_and_comes_as_near_as_it_says():
    result, here = result_of(PLAN), PLAN.station
    refused = 0
    for track, check, reason in zip(result.tracks, result.checks, result.reasons, strict=True):
        plain = ways_of(track, replace(here, clearance=None))
        kept = {(way.posture, way.turn) for way in check.ways}
        assert {(s.posture, s.turn) for s in reason.strikes} == {(w.posture, w.turn) for w in plain} - kept
        for strike in reason.strikes:
            refused += 1
            boom = np.array([strike.m_deg + fixed_offset_deg(here.mount)])
            gap, turning, standing = Gaps(station()).least(boom, np.array([strike.e_deg]))
            assert strike.gap_mm == pytest.approx(float(gap[0]))
            assert (strike.turning, strike.standing) == Gaps(station()).names(
                int(turning[0]), int(standing[0])
            )
            assert strike.gap_mm < 70.0
            assert strike.boom_from_keyway_deg == pytest.approx(float(boom[0]) % 360.0)
    assert refused > 2


def test_what_has_no_way_since_it_strikes_says_so_and_what_would_cure_it():
    result, told, cured = result_of(PLAN), 0, 0
    for check, reason, track in zip(result.checks, result.reasons, result.tracks, strict=True):
        if not reason.strikes or check.ways:
            continue
        told += 1
        first = reason.sentences[0]
        assert first.topic is Topic.STRIKE
        strike = next(s for s in reason.strikes if s.posture == reason.strikes[0].posture)
        assert f"{strike.standing} at {clock(strike.utc_s)}: {strike.turning}, boom " in first.text
        assert "elevation dial" in first.text
        assert first.text.endswith("wanted.") or first.text.endswith("to be sure.")
        if reason.cure is not None and reason.cure.change == "keyway_bearing_deg":
            cured += 1
            there = replace(PLAN.station, mount=apply_cure(PLAN.mount, reason.cure))
            assert check_pass(check.pass_, track, there).verdict in POSTURES
    assert told > 0
    assert cured > 0


def test_no_contact_of_the_evening_strikes():
    barring = barring_of(PLAN.station)
    assert barring is not None
    contacts = result_of(PLAN).order.contacts
    assert contacts
    for contact in contacts:
        pointing = contact.check.pointing
        assert pointing is not None
        inside = (pointing.utc_s >= contact.start_utc_s) & (pointing.utc_s <= contact.end_utc_s)
        at = np.flatnonzero(inside)
        assert not barring.steps(pointing.m_deg[at], pointing.e_deg[at]).any()


def test_lengths_of_which_nothing_strikes_change_nothing():
    harmless = Clearance(axis_height_mm=20_000.0, booms=(Boom(tail_mm=10.0, front_mm=10.0),))
    plan = PLAN.model_copy(update={"clearance": harmless})
    assert barring_of(plan.station) is None
    result, plain = evaluate(plan), result_of(PLAIN)
    for one, other in zip(result.checks, plain.checks, strict=True):
        assert (one.ways, one.verdict, one.seconds_lost) == (other.ways, other.verdict, other.seconds_lost)
    assert [r.text for r in result.reasons] == [r.text for r in plain.reasons]
    assert result.order.worth == plain.order.worth


def test_a_plan_that_says_nothing_of_it_keeps_its_identity():
    said = PLAIN.model_copy(update={"clearance": None})
    assert identity(PLAIN) == identity(said)
    assert identity(PLAN) != identity(PLAIN)
    assert struck_ways(result_of(PLAIN).tracks[0], PLAIN.station) == ()


def test_what_is_held_off_strikes_nowhere_and_is_the_way_itself_where_it_is_free():
    result, here = result_of(PLAN), PLAN.station
    barring, held_off = barring_of(here), 0
    assert barring is not None
    for track in result.tracks:
        steered = steer(track, here.mount, here.steering)
        for posture in POSTURES:
            offset = 40.0 - float(track.azimuth_deg.min())
            pointing = pointing_of_way(track, steered, here.mount, posture, offset)
            held = kept_clear(pointing, track, posture, offset, barring, here.beam_limit_deg)
            if not barring.strikes(pointing):
                assert held is pointing
            elif held is not None:
                held_off += 1
                assert not barring.strikes(held)
    assert held_off > 2


def test_bearings_and_gaps_in_words():
    assert boom_words(34.0) == "boom 34 deg right of the keyway"
    assert boom_words(326.0) == "boom 34 deg left of the keyway"
    assert boom_words(359.8) == "boom along the keyway"
    assert gap_words(12.0, 50.0) == "gap 12 mm of 50 wanted"
    assert gap_words(0.2, 50.0) == "they touch, 50 mm wanted"
    assert gap_words(52.0, 50.0) == "gap 52 mm, too near to the 50 wanted to be sure"


def test_the_map_in_words():
    found = clear_map(station())
    assert found.struck.shape == (720, 1440)
    assert map_sentence(found).startswith("Forbidden is ")
    for start, width in struck_bearings(station()):
        inside, beside = (int((start + by) / 0.25) % 1440 for by in (width / 2.0, -0.2))
        assert found.struck[:, inside].any()
        assert not found.struck[:, beside].any()
    words = nearest_words(station(), 100.0, 80.0)
    assert words.startswith("Closest: tail of the 2 m yagi to guy 1, ")
    assert words.endswith("elevation 80 (upright). It strikes: 50 mm wanted.")
    assert "(over the top). Clear: 50 mm wanted." in nearest_words(station(), 0.0, 170.0)
    nothing = Clearance(booms=())
    assert map_sentence(clear_map(nothing)).startswith("Nothing strikes anywhere")
    assert struck_bearings(nothing) == ()


def test_the_cable_winds_up_the_arc_of_the_travel():
    """450 deg at 100 mm: 100 x 450 x pi / 180 = 785.4 mm."""
    assert take_up(Cable(radius_mm=100.0, slack_mm=1000.0), 450.0).needed_mm == pytest.approx(
        785.398, abs=1e-3
    )
    assert take_up(Cable(radius_mm=100.0, slack_mm=1000.0), 450.0).spare_mm == pytest.approx(
        214.602, abs=1e-3
    )
    words = cable_words(Cable(from_keyway_deg=-30.0, radius_mm=100.0, slack_mm=600.0), 450.0)
    assert words == (
        "The cable leaves 30 deg left of the keyway, 1200 mm up. From stop to stop it winds up 785 mm "
        "(100 mm x 450 deg x pi / 180). Slack of 600 mm is too little: 185 mm short."
    )
