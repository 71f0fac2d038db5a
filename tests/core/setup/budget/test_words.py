"""The budget in sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.setup.along_track import along_track_s
from core.setup.budget.answer import PassTime
from core.setup.budget.budget import pointing_budget
from core.setup.budget.terms.term import Absorbed
from core.setup.budget.words import (
    OUTSIDE,
    antenna_sentence,
    gained_sentence,
    improve_words,
    loss_words,
    rules_sentence,
    time_words,
)
from tests.core.setup.budget.made import NONE, station, worked

AOS = 1_730_485_900.0  # 2024-11-01T18:31:40Z


@pytest.mark.parametrize(
    ("sigma_s", "crosses", "words"),
    [
        (3.0, True, "AOS 19:31:40 +- 6 s"),
        (0.1, True, "AOS 19:31:40 +- 1 s"),
        (3.0, False, "in sight before 19:31:40"),
    ],
)
def test_a_time_is_told_with_twice_its_deviation(sigma_s, crosses, words):
    assert time_words(PassTime("Alder", 70001, AOS, sigma_s, crosses), "Europe/Zurich") == words


def test_age_and_clock_make_the_time_uncertain_together():
    one = worked(60.0, age_days=8.0)
    (time,) = pointing_budget(station(), [one], NONE.model_copy(update={"clock_s": 2.0}), draws=2).times
    assert time.sigma_s == pytest.approx((along_track_s(8.0) ** 2 + 4.0) ** 0.5)
    assert time.crosses


def test_an_evening_in_a_sentence():
    budget = pointing_budget(station(), [worked(60.0)], absorbed=Absorbed(0.5, 0.5), draws=50)
    (one,) = budget.now.antennas
    sentence = antenna_sentence(one)
    assert sentence.startswith(
        f"{one.figures.rss_deg:.1f} deg on the yagi, {one.figures.loss_db:.1f} dB; 95 % "
    )
    assert sentence.endswith("Improve first: step lag.")
    assert rules_sentence(budget.now) == sentence
    old = budget.before.antennas[0].figures.rss_deg
    assert gained_sentence(budget) == (
        f"The sighting: from {old:.1f} to {one.figures.rss_deg:.1f} deg on the yagi."
    )


def test_nothing_gained_before_the_sighting():
    assert gained_sentence(pointing_budget(station(), [worked(60.0)], draws=2)) == ""


def test_terms_that_do_as_much_are_told_and_none_is_not():
    figures = pointing_budget(station(), [worked(60.0)], draws=2).now.antennas[0].figures
    tied = replace(figures, improve_first="lean", ties=("clock",))
    assert improve_words(tied) == "lean or clock, which do as much"
    assert improve_words(replace(figures, improve_first="", ties=())) == ""


def test_beyond_the_main_lobe_no_figure_is_told():
    assert loss_words(None) == OUTSIDE
    assert loss_words(0.44) == "0.4 dB"
