"""Thousands of random stations: how often the stated intervals hold, and how often a blunder is found."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from core.setup.sightings.answer import SightingFit
from core.setup.sightings.fit import fit_sightings
from tests.core.setup.sightings.made import Kind, Made, made

SETS = 3000
SIZES = [pytest.param(SETS // 100, id="some"), pytest.param(SETS, id="all", marks=pytest.mark.long)]
#: Dials read to half a degree, and rounded to 5 deg: by a dial so divided, and by a hand that writes fives.
KINDS = [
    *(Kind(count) for count in (3, 4, 6, 12)),
    *(Kind(count, sector_deg=60.0) for count in (3, 6, 12)),
    *(Kind(count, division_deg=5.0, rounded_deg=5.0) for count in (3, 4, 6, 12)),
    *(Kind(count, sector_deg=60.0, division_deg=5.0, rounded_deg=5.0) for count in (3, 6, 12)),
    *(Kind(count, division_deg=1.0, rounded_deg=5.0) for count in (3, 12)),
    Kind(6, over_the_top=0.0),
    Kind(6, over_the_top=1.0),
]
FOUND_IN = [
    *(Kind(4, division_deg=size, rounded_deg=step) for size, step in ((1.0, 0.5), (5.0, 5.0))),
    *(Kind(6, 60.0, size, step) for size, step in ((1.0, 0.5), (5.0, 5.0))),
]
THREE = [Kind(3, division_deg=size, rounded_deg=step) for size, step in ((1.0, 0.5), (5.0, 5.0))]
#: A figure misread, a dial read from its other scale, a posture not told.
BLUNDERS = (10.0, 20.0, 30.0, 90.0, 180.0)


def id_of(kind: Kind) -> str:
    dial = f"{kind.rounded_deg:g} of {kind.division_deg:g}"
    return f"{kind.count} in {kind.sector_deg:.0f}, {dial}, {kind.over_the_top}"


@dataclass
class Tally:
    """Shares, in percent."""

    fits: list[SightingFit]
    tables: list[Made]

    def covered(self) -> np.ndarray:
        """Of correction, elevation zero and the lean's two parts: how often the truth is within 95 %."""
        inside = []
        for fit, table in zip(self.fits, self.tables, strict=True):
            sigma = np.sqrt(np.diag(fit.covariance))[:4]
            inside.append(np.abs(np.array(fit.estimates[:4]) - table.truth) <= 1.96 * sigma)
        return 100.0 * np.mean(inside, axis=0)

    def share(self, told: str) -> float:
        return 100.0 * float(np.mean([bool(getattr(fit, told)) for fit in self.fits]))

    def found(self) -> float:
        hits = [fit.outliers == (table.wrong,) for fit, table in zip(self.fits, self.tables, strict=True)]
        return 100.0 * float(np.mean(hits))


def tally(kind: Kind, sets: int, blunders: tuple[float, ...] = ()) -> Tally:
    tables = made(kind, sets, seed=2026, blunders=blunders)
    return Tally([fit_sightings(table.question) for table in tables], tables)


@pytest.mark.parametrize("sets", SIZES)
@pytest.mark.parametrize("kind", KINDS, ids=id_of)
def test_the_intervals_hold_and_a_clean_table_names_no_mistake(kind, sets):
    told = tally(kind, sets)
    covered, named = told.covered(), told.share("explanations")
    left_out = told.share("outliers")
    print(f"{id_of(kind):32s} covered {np.round(covered, 1)}  named {named:.1f}  left out {left_out:.1f}")
    if sets == SETS:
        assert (covered >= 93.0).all()
        assert (covered <= 97.0).all()
        assert named <= 2.0
    else:
        assert covered.mean() >= 88.0  # of 120 chances: three standard deviations and a little
        assert named <= 10.0
    assert left_out <= 2.0 or sets < SETS


@pytest.mark.parametrize("sets", SIZES)
@pytest.mark.parametrize("kind", FOUND_IN, ids=id_of)
def test_one_blunder_is_found(kind, sets):
    told = tally(kind, sets, BLUNDERS)
    covered = told.covered()
    print(f"{id_of(kind):32s} found {told.found():.1f}  covered {np.round(covered, 1)}")
    # One in twenty is missed, and then the interval may be too.
    assert told.found() >= (90.0 if sets == SETS else 80.0)
    assert covered[0] >= (91.0 if sets == SETS else 80.0)


@pytest.mark.parametrize("sets", SIZES)
@pytest.mark.parametrize("kind", THREE, ids=id_of)
def test_three_sightings_cannot_tell_which_is_wrong_and_say_so(kind, sets):
    told = tally(kind, sets, BLUNDERS)
    print(f"{id_of(kind):32s} in doubt {told.share('doubtful'):.1f}  left out {told.share('outliers'):.1f}")
    assert told.share("outliers") == 0.0
    assert told.share("doubtful") >= (90.0 if sets == SETS else 80.0)
    for fit in told.fits:
        if fit.doubtful:
            assert "3 sightings cannot tell which is wrong" in fit.sentences[0]
            assert "correction" in fit.undetermined
            assert fit.correction_sigma_deg > 2.0  # no better than they are apart
