"""The whole answer: the rose over true bearings, the load, and the sentences."""

from __future__ import annotations

import numpy as np
import pytest

from core.base.angles import wrap_180
from core.mount.clearance.lengths import Clearance, Guy, Leg
from core.stand import words
from core.stand.answer import stand_answer
from core.stand.model import HungMass, Mass, Near, StandGuy
from tests.core.stand.stands import ring, worked_stand


def told(found):
    return " ".join(words.cautions(found))


@pytest.mark.parametrize("keyway_deg", [0.0, 143.0, 359.9])
def test_the_rose_turns_with_the_keyway_and_holds_the_exact_directions(keyway_deg):
    found = stand_answer(worked_stand(), None, keyway_deg)
    toward = found.rose.toward_deg
    assert (np.diff(toward) > 0.0).all()
    assert (toward >= 0.0).all()
    assert (toward < 360.0).all()
    for leg in (0.0, 120.0, 240.0):  # a corner toward each leg, an edge opposite
        assert np.abs(wrap_180(toward - keyway_deg - leg)).min() < 1e-9
        assert np.abs(wrap_180(toward - keyway_deg - leg - 180.0)).min() < 1e-9
    by_one = [found.tip_mean_m_s(float(at)) for at in toward]
    assert found.rose.mean_m_s == pytest.approx(by_one)
    assert found.rose.mean_m_s.min() == pytest.approx(found.tip_mean_m_s(found.weakest_deg))
    assert found.rose.mean_m_s.max() == pytest.approx(found.tip_mean_m_s(found.strongest_deg))


def test_the_load_against_the_rating():
    stand = worked_stand(tripod_rating_kg=27.4, tripod_mass_kg=9.0)
    found = stand_answer(stand, None, 0.0)
    assert (found.load.kg, found.load.holds) == (27.4, True)
    more = stand_answer(stand.model_copy(update={"hung": (HungMass(mass_kg=0.5),)}), None, 0.0)
    assert more.load.holds is False
    assert words.load_sentence(more) == "27.9 kg on a tripod rated for 27.4 kg: 0.5 kg too much."
    assert words.load_sentence(more) in words.cautions(more)
    unrated = stand_answer(worked_stand(), None, 0.0)
    assert unrated.load.holds is None
    assert "not typed" in words.load_sentence(unrated)


def test_guys_that_press_the_tripod_over_its_rating_are_told():
    guys = tuple(StandGuy(from_keyway_deg=at, peg_radius_mm=600.0) for at in (0.0, 120.0, 240.0))
    stand = worked_stand(tripod_rating_kg=30.0, guys=guys)
    assert "pressing down" in told(stand_answer(stand, None, 0.0, gust_m_s=20.0))
    assert "pressing down" not in told(stand_answer(stand, None, 0.0, gust_m_s=2.0))
    assert "draws its peg up" in words.guy_sentence(stand_answer(stand, None, 0.0).guys.forces[0])


def test_the_wind_is_told_both_ways_round():
    assert words.toward_text(213.0) == "toward 213.0 deg true (wind from 33.0)"
    found = stand_answer(worked_stand(), None, 10.0)
    assert "tips it" in words.weakest_sentence(found)
    assert "wind from" in words.weakest_sentence(found)


def test_a_stand_that_falls_by_itself_says_so():
    found = stand_answer(worked_stand(masses=(Mass(mass_kg=9.0, height_mm=0.0, radius_mm=800.0),)), None, 0.0)
    assert words.weakest_sentence(found).startswith("0 m/s")
    assert found.advice == "take down"


def test_the_centre_of_mass_in_words():
    turning = Mass(mass_kg=3.0, height_mm=1500.0, radius_mm=90.0, turns=True)
    aside = Mass(mass_kg=6.0, height_mm=600.0, from_keyway_deg=90.0, radius_mm=100.0)
    found = stand_answer(worked_stand(masses=(turning, aside)), None, 0.0)
    assert words.centre_sentence(found) == (
        "0.90 m over the ground, 67 mm off the axis, 90 deg from the keyway: the centre of 9.0 kg. "
        "What turns moves it by 30 mm, to any side."
    )
    assert words.centre_sentence(stand_answer(worked_stand(), None, 0.0)) == (
        "0.90 m over the ground, on the axis: the centre of 27.4 kg."
    )


def test_legs_and_guys_told_twice_and_not_alike_are_a_caution():
    legs = tuple(Leg(from_keyway_deg=at - 360.0, radius_mm=750.0) for at in (240.0, 0.0, 120.0))
    guy = {"from_keyway_deg": 60.0, "height_mm": 1100.0, "peg_radius_mm": 1700.0}
    stand = worked_stand(guys=(StandGuy(**guy),))
    alike = stand_answer(stand, Clearance(legs=legs, guys=(Guy(**guy),)), 0.0)
    assert "clearance" not in told(alike)
    other = stand_answer(stand, Clearance(legs=legs[:2], guys=(Guy(),)), 0.0)
    assert "The stand's legs are not where the clearance's are" in told(other)
    assert "The stand's guys are not where the clearance's are" in told(other)
    assert "clearance" not in told(stand_answer(worked_stand(), Clearance(), 0.0))


def test_the_cautions_come_with_every_answer():
    found = stand_answer(worked_stand(), None, 0.0)
    for always in (words.NO_CERTIFICATE, words.LINES_CAUTION):
        assert always in words.cautions(found)
    assert "utility" in words.LINES_CAUTION
    assert "own mass is not typed" in told(found)
    assert "own mass is not typed" not in told(stand_answer(worked_stand(tripod_mass_kg=8.0), None, 0.0))
    assert "held by no guy" in told(stand_answer(worked_stand(guys=(StandGuy(),)), None, 0.0))


def test_what_it_could_fall_on_in_words():
    near = (
        Near(name="path", bearing_deg=90.0, distance_m=1.0),
        Near(name="line", bearing_deg=0.0, distance_m=40.0),
    )
    known = {"highest_mm": 1400.0}
    assert words.fall_sentence(stand_answer(worked_stand(near=near, **known), None, 0.0)).endswith(
        "It could strike path."
    )
    far = stand_answer(worked_stand(near=near[1:], **known), None, 0.0)
    assert words.fall_sentence(far).endswith("It reaches none of the 1 thing near by.")
    assert words.fall_sentence(stand_answer(worked_stand(), None, 0.0)).endswith("Nothing near by is typed.")


def test_without_a_boom_nothing_is_said_to_be_out_of_reach():
    """A tripod and masses say nothing of how far the booms come down."""
    near = (Near(name="line", bearing_deg=0.0, distance_m=40.0),)
    found = stand_answer(worked_stand(near=near), None, 0.0)
    told_of_it = words.fall_sentence(found)
    assert "m and more from the axis: no boom's length" in told_of_it
    assert told_of_it.endswith("What it reaches near by is not known.")
    assert "reaches none" not in told_of_it
    assert not found.fall.top_known
    assert stand_answer(worked_stand(near=near, highest_mm=2500.0), None, 0.0).fall.top_known


def test_ballast_over_the_rating_goes_on_the_feet():
    stand = worked_stand(tripod_rating_kg=30.0, legs=ring(3, 600.0))
    assert "lay it on the feet" in words.ballast_sentence(stand_answer(stand, None, 0.0, gust_m_s=20.0))
    assert words.ballast_sentence(stand_answer(stand, None, 0.0, gust_m_s=2.0)).startswith("0 kg")
