"""What a fit of sightings takes away, and what its covariance puts there instead."""

from __future__ import annotations

import math

import numpy as np
import pytest

from core.setup.budget.budget import pointing_budget
from core.setup.budget.terms.fitted import absorbed_by
from core.setup.budget.terms.term import FIXED, Absorbed, North
from core.setup.model import PointingErrors
from tests.core.setup.budget.made import NONE, TILT, even_draws, station, worked
from tests.oracles.pointing_plain import even_moments, off_deg


def budget(absorbed=None, errors=None, one=None, **inputs):
    one = worked(60.0) if one is None else one
    return pointing_budget(station(tilt=TILT), [one], errors, absorbed=absorbed, draws=200, **inputs)


def sizes(one) -> dict[str, float]:
    return {term.name: term.deg for term in one.passes[0].figures.terms}


def test_before_any_sighting_there_is_no_after():
    answer = budget()
    assert answer.after is None
    assert answer.now is answer.before


@pytest.mark.parametrize(
    ("absorbed", "gone", "come"),
    [
        (
            Absorbed(correction_sigma_deg=0.4),
            {"north", "keyway play", "index play"},
            {"azimuth by the sightings"},
        ),
        (Absorbed(elevation_zero_sigma_deg=0.4), {"elevation zero"}, {"elevation by the sightings"}),
        (
            Absorbed(0.4, 0.4, 0.4),
            {"north", "keyway play", "index play", "elevation zero", "lean"},
            {"azimuth by the sightings", "elevation by the sightings", "lean by the sightings"},
        ),
        (Absorbed(), set(), set()),
    ],
)
def test_what_was_fitted_drops_out_and_its_sigma_takes_its_place(absorbed, gone, come):
    answer = budget(absorbed)
    before, after = sizes(answer.before), sizes(answer.now)
    assert set(before) - set(after) == gone
    assert set(after) - set(before) == come
    assert gone <= {term.name for term in answer.before.antennas[0].terms if term.absorbed}
    assert {name: before[name] for name in set(before) & set(after)} == {
        name: after[name] for name in set(before) & set(after)
    }


def test_a_better_fit_is_a_smaller_total():
    before, fine, coarse = (
        budget(fit).now.antennas[0].figures.rss_deg for fit in (None, Absorbed(0.2, 0.2), Absorbed(0.9, 0.9))
    )
    assert fine < coarse < before


def test_independent_figures_are_the_same_with_a_covariance_or_without():
    plain = Absorbed(0.5, 0.3, 0.4)
    square = np.diag([0.25, 0.09, 0.16, 0.16])
    joint = Absorbed(0.5, 0.3, 0.4, covariance_deg2=tuple(map(tuple, square.tolist())))
    one, other = (budget(fit).now.passes[0].figures for fit in (plain, joint))
    assert other.rss_deg == pytest.approx(one.rss_deg, rel=1e-12)
    assert {term.name for term in other.terms} >= {"the sightings' fit"}


@pytest.mark.parametrize("posture", ["upright", "over the top"])
def test_figures_that_err_together_do_so_on_the_sky(posture):
    """Against drawn evenings: correction with the lean toward east, elevation zero with that toward north."""
    one = worked(60.0, posture)
    square = np.array(
        [[0.64, 0.0, 0.55, 0.0], [0.0, 0.36, 0.0, -0.4], [0.55, 0.0, 0.64, 0.0], [0.0, -0.4, 0.0, 0.64]]
    )
    fit = Absorbed(0.8, 0.6, 0.8, covariance_deg2=tuple(map(tuple, square.tolist())))
    got = sizes(budget(fit, NONE, one).now)["the sightings' fit"]
    even = np.stack([even_draws((3000, 1), "normal", seed)[:, 0] for seed in range(4)])
    independent = np.linalg.solve(np.linalg.cholesky(np.cov(even)), even)
    cast = np.linalg.cholesky(square) @ independent
    drawn = dict(zip(("azimuth", "elevation", "lean_east", "lean_north"), cast[..., None], strict=True))
    off = off_deg(
        one.pass_,
        even_moments(one.stretches, 40),
        drawn,
        posture != "upright",
        (TILT["angle_deg"], TILT["toward_deg"]),
    )
    assert got == pytest.approx(float(np.sqrt(np.square(off).mean())), rel=0.01)


def test_a_covariance_of_something_else_is_refused():
    with pytest.raises(ValueError, match="2 figures were fitted"):
        budget(Absorbed(0.5, 0.5, covariance_deg2=((0.25,),)))


NAMES = ("correction", "elevation zero", "lean east", "lean north", "skew", "axes not square", "gear play")


def test_a_fit_is_taken_as_it_tells_its_unknowns():
    root = np.tril(np.random.default_rng(4).uniform(0.1, 0.5, (7, 7)))
    square = root @ root.T
    fit = absorbed_by(NAMES, square, "yagi", sighted_over=True)
    assert fit.sigmas_deg == pytest.approx(
        (*np.sqrt(np.diag(square)[:2]), np.sqrt(np.diag(square)[2:4].max()))
    )
    assert np.array(fit.covariance_deg2) == pytest.approx(square[:5, :5])
    assert (fit.sighted, fit.sighted_over, fit.fitted_skew) == ("yagi", True, True)
    turned = [6, 4, 0, 3, 5, 1, 2]
    again = absorbed_by([NAMES[i] for i in turned], square[np.ix_(turned, turned)], "yagi", sighted_over=True)
    assert np.array(again.covariance_deg2) == pytest.approx(square[:5, :5])
    assert "boom" not in sizes(budget(fit).now)


def test_what_a_fit_does_not_determine_stays_as_it_was():
    square = np.diag([np.inf, 0.04, 0.09, np.inf, 0.5, 0.1, 0.1])
    fit = absorbed_by(NAMES, square, "yagi")
    assert fit.sigmas_deg == (None, pytest.approx(0.2), None)
    assert (fit.sighted, fit.fitted_skew) == (None, False)
    before, after = budget().now, budget(fit).now
    assert set(sizes(before)) - set(sizes(after)) == {"elevation zero"}
    nothing = budget(absorbed_by(NAMES, np.diag([np.inf] * 7))).now
    assert nothing.passes[0].figures.rss_deg == pytest.approx(before.passes[0].figures.rss_deg)
    assert nothing.antennas[0].terms[0].name == "north"


def test_no_boom_is_in_what_was_not_sighted_along_one():
    fit = absorbed_by(NAMES, np.diag([0.04] * 7))
    assert not fit.fitted_skew
    assert "boom" in sizes(budget(fit).now)


def test_these_terms_and_no_others_a_fit_takes_away():
    terms = budget().before.antennas[0].terms
    taken = {term.name for term in terms if term.absorbed}
    assert taken == {"north", "keyway play", "index play", "elevation zero", "lean"}


def test_north_by_a_method_has_its_name_and_its_size():
    terms = budget(north=North(0.4, "the Sun's shadow")).before.antennas[0].terms
    north = next(term for term in terms if term.name == "north")
    assert (north.size, north.source, north.default) == (0.4, "the Sun's shadow", "2 deg")


def test_every_term_says_where_it_is_from_and_its_default():
    for one in (budget().now, budget(Absorbed(0.5, 0.5, 0.5)).now):
        for term in one.antennas[0].terms:
            assert term.source
            assert term.default
            assert term.unit in ("deg", "s")


def test_a_typed_figure_says_so():
    terms = budget(errors=PointingErrors(wind_deg=0.9)).now.antennas[0].terms
    told = {term.name: term.source for term in terms}
    assert told["wind"] == "typed in the plan"
    assert told["boom"] == "assumed; common practice, no source"


def test_what_is_fixed_and_what_is_random_add_up():
    answer = budget().now
    for figures in (answer.passes[0].figures, answer.antennas[0].figures):
        fixed = math.sqrt(sum(term.deg**2 for term in figures.terms if term.kind == FIXED))
        assert figures.fixed_deg == pytest.approx(fixed)
        assert math.hypot(figures.fixed_deg, figures.random_deg) == pytest.approx(figures.rss_deg)
