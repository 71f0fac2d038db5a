"""What is fixed for the evening is drawn once for it; what is an antenna's own is drawn for it alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.mount.model.station import Antenna
from core.setup.budget.draws import drawn_evenings
from core.setup.budget.terms.table import term_table
from core.setup.budget.terms.term import FIXED, Term, alone
from core.setup.budget.worked import moments_of
from core.setup.model import PointingErrors
from tests.core.setup.budget.made import NONE, TILT, station, worked
from tests.oracles.pointing_plain import even_moments, off_deg

#: Low all through, so that an azimuth error is as much on the sky whenever it is looked at.
PASSES = [worked(16.0, "upright", 1), worked(16.0, "upright", 2)]


def drawn(errors: PointingErrors):
    there = replace(station(), antennas=(Antenna(name="first"), Antenna(name="second")))
    tables = [term_table(there, one, errors, [0.0, 0.0]) for one in there.antennas]
    return drawn_evenings(tables, [30.0, 30.0], moments_of(PASSES, there.mount.tilt), None, 5, 1500)


def alike(one: np.ndarray, other: np.ndarray) -> float:
    return float(np.corrcoef(one, other)[0, 1])


#: What is off by a known amount: what the budget and what the oracle call it.
KNOWN = {
    "azimuth": ("azimuth", 4.0),
    "elevation": ("elevation", -3.0),
    "lean east": ("lean_east", 3.0),
    "lean north": ("lean_north", -2.0),
    "track, seconds": ("seconds", 6.0),
    "track, degrees": ("ahead", 5.0),
    "boom across": ("across", 3.0),
}


@pytest.mark.parametrize("posture", ["upright", "over the top"])
@pytest.mark.parametrize("turned_round", [None, *KNOWN])
def test_known_errors_of_some_degrees_add_as_exact_vectors(posture, turned_round):
    """All at once, and with any one the other way: nothing is left to luck but which moments are seen."""
    one = worked(70.0, posture)
    sizes = {name: -size if name == turned_round else size for name, (_, size) in KNOWN.items()}
    terms = tuple(
        Term(name, FIXED, "known", (alone(name, size),), size, "deg", "", "") for name, size in sizes.items()
    )
    mount = station(tilt=TILT).mount
    (told,) = drawn_evenings([terms], [30.0], moments_of([one], mount.tilt), None, 1, 4000)
    off = off_deg(
        one.pass_,
        even_moments(one.stretches, 400),
        {KNOWN[name][0]: np.array([[size]]) for name, size in sizes.items()},
        posture != "upright",
        (TILT["angle_deg"], TILT["toward_deg"]),
    )
    assert told.rms_deg[0] == pytest.approx(float(np.sqrt(np.square(off).mean())), rel=0.015)
    assert told.off_95_deg[0] == pytest.approx(float(np.quantile(off, 0.95)), rel=0.015)
    assert told.off_deg.max() <= off.max() + 0.1


def test_north_is_the_same_on_both_passes_and_for_both_antennas():
    first, second = drawn(NONE.model_copy(update={"north_deg": 2.0}))
    assert alike(first.off_deg[:, 0], first.off_deg[:, 1]) > 0.95
    assert alike(first.off_deg[:, 0], second.off_deg[:, 0]) > 0.95


def test_wind_is_another_on_every_pass_and_the_same_for_both_antennas():
    first, second = drawn(NONE.model_copy(update={"wind_deg": 2.0}))
    assert abs(alike(first.off_deg[:, 0], first.off_deg[:, 1])) < 0.1
    assert alike(first.off_deg[:, 0], second.off_deg[:, 0]) > 0.95


def test_a_boom_is_the_same_on_both_passes_and_another_for_the_other_antenna():
    first, second = drawn(NONE.model_copy(update={"boom_deg": 2.0}))
    assert alike(first.off_deg[:, 0], first.off_deg[:, 1]) > 0.95
    assert abs(alike(first.off_deg[:, 0], second.off_deg[:, 0])) < 0.1


def test_elements_are_another_on_every_pass_and_a_clock_is_not():
    errors = NONE.model_copy(update={"clock_s": 5.0})
    first, _ = drawn(errors)
    other, _ = drawn(NONE)
    assert alike(first.off_deg[:, 0], first.off_deg[:, 1]) > 0.6
    assert abs(alike(other.off_deg[:, 0], other.off_deg[:, 1])) < 0.1


def test_of_a_whole_evening_so_much_stays_within():
    first, _ = drawn(NONE.model_copy(update={"north_deg": 2.0}))
    weights = np.broadcast_to(first.seconds, first.off_deg.shape)
    inside = first.off_deg <= first.evening_within_deg(0.9)
    assert abs(float(weights[inside].sum() / weights.sum()) - 0.9) < 0.001
