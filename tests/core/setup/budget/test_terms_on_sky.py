"""Every term alone, and all together, against evenings drawn through vectors of the tests' own."""

from __future__ import annotations

import numpy as np
import pytest

from core.setup.along_track import along_track_s
from core.setup.budget.budget import pointing_budget
from core.setup.budget.terms.term import Absorbed
from core.setup.model import PointingErrors
from tests.core.setup.budget.made import NONE, TILT, even_draws, station, worked
from tests.oracles.pointing_plain import even_moments, off_deg, turning_back

EVENINGS, MOMENTS = 600, 60
#: Of a root mean square: draws without luck are good to this, for errors of a degree or so.
WITHIN = 0.02
FIXED, RANDOM = (EVENINGS, 1), (EVENINGS, MOMENTS)

#: Name of the term, the field that sizes it, its size, and what the oracle draws for it.
NORMAL = {
    "north": ("north_deg", 1.5, ("azimuth",), FIXED),
    "keyway play": ("keyway_play_deg", 0.8, ("azimuth",), FIXED),
    "index play": ("index_play_deg", 0.8, ("azimuth",), FIXED),
    "lean": ("lean_deg", 1.2, ("lean_north", "lean_east"), FIXED),
    "wind": ("wind_deg", 1.0, ("azimuth", "elevation"), RANDOM),
    "boom": ("boom_deg", 1.5, ("across",), FIXED),
    "clock": ("clock_s", 2.0, ("seconds",), FIXED),
}


def errors(**fields: float) -> PointingErrors:
    return NONE.model_copy(update=fields)


def told(one, name, stations, assumed, **inputs) -> float:
    """One term's root mean square on the sky, of a pass."""
    budget = pointing_budget(stations, [one], assumed, draws=10, **inputs)
    figures = budget.now.passes[0].figures
    return next(term.deg for term in figures.terms if term.name == name)


def drawn_rms(one, drawn, tilt=(TILT["angle_deg"], TILT["toward_deg"])) -> float:
    utc_s = even_moments(one.stretches, MOMENTS)
    off = off_deg(one.pass_, utc_s, drawn, one.posture != "upright", tilt)
    return float(np.sqrt(np.square(off).mean()))


@pytest.mark.parametrize("posture", ["upright", "over the top"])
@pytest.mark.parametrize("name", list(NORMAL))
def test_a_normal_term_alone_is_what_drawn_evenings_give(name, posture):
    field, size, turns, shape = NORMAL[name]
    one = worked(68.0, posture)
    drawn = {turned: size * even_draws(shape, "normal", seed) for seed, turned in enumerate(turns)}
    assert told(one, name, station(tilt=TILT), errors(**{field: size})) == pytest.approx(
        drawn_rms(one, drawn), rel=WITHIN
    )


def test_reading_a_dial_to_half_a_division_is_even_over_it():
    one = worked(68.0)
    axes = {
        "azimuth": {"dial_division_deg": 4.0, "dial_scale": -2.0},
        "elevation": {"dial_division_deg": 1.0, "readout_step_deg": 3.0},
    }
    terms = pointing_budget(station(**axes), [one], draws=2).now.antennas[0].terms
    (source,) = (term.source for term in terms if term.name == "dial readout")
    assert "divisions of 4 and 1 deg, steps of 0 and 3 deg in azimuth and elevation" in source
    drawn = {
        "azimuth": 1.0 * even_draws(RANDOM, "uniform", 1),
        "elevation": 1.5 * even_draws(RANDOM, "uniform", 2),
    }
    assert told(one, "dial readout", station(tilt=TILT, **axes), NONE) == pytest.approx(
        drawn_rms(one, drawn), rel=WITHIN
    )


def test_a_deadband_is_even_over_its_width_both_ways():
    one = worked(40.0)
    axes = {"azimuth": {"deadband_deg": 2.0}, "elevation": {"deadband_deg": 0.5}}
    drawn = {
        "azimuth": 2.0 * even_draws(RANDOM, "uniform", 1),
        "elevation": 0.5 * even_draws(RANDOM, "uniform", 2),
    }
    assert told(one, "deadband", station(tilt=TILT, **axes), NONE) == pytest.approx(
        drawn_rms(one, drawn), rel=WITHIN
    )


@pytest.mark.parametrize("posture", ["upright", "over the top"])
@pytest.mark.parametrize(("came_from", "rose"), [(None, None), ("left", True), ("right", False)])
def test_backlash_shows_on_the_flank_that_was_not_sighted(came_from, rose, posture):
    one = worked(68.0, posture)
    utc_s = even_moments(one.stretches, MOMENTS)
    back, falls = turning_back(one.pass_, utc_s, (TILT["angle_deg"], TILT["toward_deg"]))
    falls = ~falls if posture == "over the top" else falls
    azimuth = 0.5 if came_from is None else np.where(back if came_from == "left" else ~back, 1.0, 0.0)
    elevation = 0.5 if rose is None else np.where(falls if rose else ~falls, 1.0, 0.0)
    drawn = {
        "azimuth": 1.6 * azimuth * even_draws(FIXED, "flank", 1),
        "elevation": 1.6 * elevation * even_draws(FIXED, "flank", 2),
    }
    fit = Absorbed(came_from=came_from, rose=rose)
    got = told(one, "backlash", station(tilt=TILT), errors(backlash_deg=1.6), absorbed=fit)
    assert got == pytest.approx(drawn_rms(one, drawn), rel=WITHIN)


def test_age_counts_by_how_fast_the_satellite_moves():
    one = worked(68.0, age_days=9.0)
    drawn = {"seconds": along_track_s(9.0) * even_draws(FIXED, "normal", 1)}
    assert told(one, "element age", station(tilt=TILT), NONE) == pytest.approx(
        drawn_rms(one, drawn), rel=WITHIN
    )


def test_a_hand_is_at_most_half_a_step_ahead_or_behind():
    one = worked(68.0)
    drawn = {"ahead": 2.0 * even_draws(RANDOM, "uniform", 1)}
    assert told(one, "step lag", station(tilt=TILT), errors(hand_step_deg=4.0)) == pytest.approx(
        drawn_rms(one, drawn), rel=WITHIN
    )


def test_a_step_is_no_longer_than_the_way_there_is_to_go():
    whole = worked(68.0)
    short = worked(68.0, end_utc_s=whole.pass_.aos.utc_s + 10.0)
    utc_s = np.array(short.stretches[0])
    ends = off_deg(short.pass_, utc_s, {"seconds": np.array([[10.0]])}, False, (0.0, 0.0))
    lag = told(short, "step lag", station(), errors(hand_step_deg=60.0))
    assert lag == pytest.approx(float(ends[0, 0]) / 2.0 / 3.0**0.5, rel=0.01)


@pytest.mark.parametrize("posture", ["upright", "over the top"])
def test_a_typed_skew_is_whole_on_the_sky(posture):
    assert told(worked(80.0, posture), "skew", station(skew_deg=-3.0), NONE) == pytest.approx(3.0)


@pytest.mark.parametrize("posture", ["upright", "over the top"])
def test_all_terms_together(posture):
    """Within 3 %: the root sum of squares, the product's own draws, and the tests' draws."""
    one = worked(62.0, posture, age_days=9.0)
    some = errors(
        north_deg=1.5,
        keyway_play_deg=0.5,
        lean_deg=1.0,
        boom_deg=1.5,
        wind_deg=0.7,
        clock_s=2.0,
        hand_step_deg=5.0,
        backlash_deg=1.0,
    )
    there = station(skew_deg=1.0, tilt=TILT, azimuth={"dial_division_deg": 3.0})
    seeds = iter(range(100))

    def draw(size: float, distribution: str = "normal", shape=FIXED) -> np.ndarray:
        return size * even_draws(shape, distribution, next(seeds))

    drawn = {
        "azimuth": draw(1.5)
        + draw(0.5)
        + draw(0.5, "flank")
        + draw(0.7, shape=RANDOM)
        + draw(1.5, "uniform", RANDOM),
        "elevation": draw(0.5, "flank") + draw(0.7, shape=RANDOM),
        "lean_north": draw(1.0),
        "lean_east": draw(1.0),
        "across": 1.0 + draw(1.5),
        "seconds": draw(2.0) + draw(along_track_s(9.0)),
        "ahead": draw(2.5, "uniform", RANDOM),
    }
    utc_s = even_moments(one.stretches, MOMENTS)
    off = off_deg(one.pass_, utc_s, drawn, posture != "upright", (TILT["angle_deg"], TILT["toward_deg"]))
    figures = pointing_budget(there, [one], some, draws=6000).now.passes[0].figures
    rms = float(np.sqrt(np.square(off).mean()))
    assert figures.rss_deg == pytest.approx(rms, rel=0.03)
    assert figures.drawn_rms_deg == pytest.approx(rms, rel=0.03)
    assert figures.drawn_loss_db == pytest.approx(float((12.0 * (off / 30.0) ** 2).mean()), rel=0.06)
    assert figures.off_95_deg == pytest.approx(float(np.quantile(off, 0.95)), rel=0.03)
    assert off.max() <= figures.worst_deg
