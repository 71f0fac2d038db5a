"""A boom that was sighted along is in the correction: against drawn evenings, for it and for the others."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from core.mount.model.station import Antenna, Station
from core.setup.budget.budget import pointing_budget
from core.setup.budget.terms.term import Absorbed
from tests.core.setup.budget.made import NONE, station, worked
from tests.oracles.pointing_plain import even_moments, off_deg

BOOM = NONE.model_copy(update={"boom_deg": 1.5})
#: Five independent figures of unit mean square without luck: each with either sign, in all combinations.
CORNERS = np.array(np.meshgrid(*[[-1.0, 1.0]] * 5)).reshape(5, -1)
POSTURES = ["upright", "over the top"]


def two(first_skew_deg: float = 0.0, second_skew_deg: float = 0.0) -> Station:
    one = station()
    antennas = (
        Antenna(name="first", skew_deg=first_skew_deg),
        Antenna(name="second", skew_deg=second_skew_deg),
    )
    return replace(one, antennas=antennas)


def rss(there: Station, one, errors, fit) -> list[float]:
    answer = pointing_budget(there, [one], errors, absorbed=fit, draws=4000)
    for told in answer.now.passes:
        assert told.figures.drawn_rms_deg == pytest.approx(told.figures.rss_deg, rel=0.05, abs=0.02)
    return [told.figures.rss_deg for told in answer.now.passes]


def drawn_rms(one, **drawn) -> float:
    columns = {name: np.asarray(values)[:, None] for name, values in drawn.items()}
    utc_s = even_moments(one.stretches, 200)
    off = off_deg(one.pass_, utc_s, columns, one.posture != "upright", (0.0, 0.0))
    return float(np.sqrt(np.square(off).mean()))


@pytest.mark.parametrize("posture", POSTURES)
@pytest.mark.parametrize("sighted_over", [False, True])
def test_it_cancels_near_the_horizon_and_adds_in_the_other_posture(posture, sighted_over):
    one = worked(65.0, posture)
    fit = Absorbed(0.0, sighted="first", sighted_over=sighted_over)
    first, second = rss(two(), one, BOOM, fit)
    booms = 1.5 * CORNERS
    in_azimuth = booms[0] if sighted_over else -booms[0]
    assert first == pytest.approx(drawn_rms(one, across=booms[0], azimuth=in_azimuth), rel=0.01, abs=0.01)
    assert second == pytest.approx(drawn_rms(one, across=booms[1], azimuth=in_azimuth), rel=0.01)
    same = (posture == "over the top") == sighted_over
    assert (first < 1.0) == same
    assert second > 1.5


@pytest.mark.parametrize("posture", POSTURES)
def test_a_typed_skew_is_in_the_correction_too(posture):
    one = worked(65.0, posture)
    first, second = rss(two(2.0, -1.0), one, NONE, Absorbed(0.0, sighted="first"))
    assert first == pytest.approx(drawn_rms(one, across=[2.0], azimuth=[-2.0]), rel=0.01)
    assert second == pytest.approx(drawn_rms(one, across=[-1.0], azimuth=[-2.0]), rel=0.01)


@pytest.mark.parametrize("posture", POSTURES)
def test_a_skew_that_was_fitted_errs_with_the_rest(posture):
    one = worked(65.0, posture)
    root = np.array(
        [
            [0.5, 0.0, 0.0, 0.0, 0.0],
            [0.1, 0.4, 0.0, 0.0, 0.0],
            [0.0, 0.2, 0.3, 0.0, 0.0],
            [0.2, 0.0, 0.1, 0.3, 0.0],
            [-0.6, 0.2, 0.0, 0.3, 0.7],
        ]
    )
    square = tuple(map(tuple, (root @ root.T).tolist()))
    fit = Absorbed(0.5, 0.4, 0.4, square, sighted="first", fitted_skew=True)
    first, second = rss(two(), one, NONE, fit)
    correction, elevation, east, north, skew = root @ CORNERS
    drawn = {
        "azimuth": correction - skew,
        "elevation": elevation,
        "lean_east": east,
        "lean_north": north,
    }
    assert first == pytest.approx(drawn_rms(one, across=skew, **drawn), rel=0.01)
    assert second == pytest.approx(drawn_rms(one, **drawn), rel=0.01)


def test_the_other_antenna_tells_the_sighted_boom_beside_its_own():
    answer = pointing_budget(two(), [worked(65.0)], BOOM, absorbed=Absorbed(0.2, sighted="first"), draws=2)
    names = [[term.name for term in one.figures.terms] for one in answer.now.passes]
    assert "sighted boom" not in names[0]
    assert {"boom", "sighted boom"} <= set(names[1])


def test_without_a_correction_no_boom_is_in_it():
    plain, fitted = (
        pointing_budget(two(), [worked(65.0)], BOOM, absorbed=fit, draws=2).now.passes[0].figures.rss_deg
        for fit in (None, Absorbed(sighted="first"))
    )
    assert plain == fitted


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="none of the antennas first, second"):
        rss(two(), worked(65.0), BOOM, Absorbed(0.2, sighted="third"))
    with pytest.raises(ValueError, match="wants the antenna"):
        Absorbed(0.2, fitted_skew=True)
    with pytest.raises(ValueError, match="2 figures were fitted"):
        rss(two(), worked(65.0), BOOM, Absorbed(0.2, None, None, ((0.04,),), "first", fitted_skew=True))


def test_a_sighting_that_says_nothing_new_leaves_the_total_of_a_lone_antenna():
    """North as good as before, and the boom no longer counted twice: never more than before, upright."""
    errors = BOOM.model_copy(update={"north_deg": 1.0})
    lone = replace(two(), antennas=two().antennas[:1])
    before = rss(lone, worked(65.0), errors, None)
    after = rss(lone, worked(65.0), errors, Absorbed(1.0, sighted="first"))
    assert after[0] < before[0]
    assert math.isfinite(after[0])
