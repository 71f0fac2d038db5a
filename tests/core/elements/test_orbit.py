"""Orbit figures against what the published SGP4 code itself derives from the same elements."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import PropagationError
from core.elements.files import read_element_files
from core.elements.orbit import orbit_of
from core.elements.propagator import satrec
from core.plan.document import Satellite
from tests.plans import elements_data
from tests.shared_data import shared_file

RADIUS_KM = 6378.135  # WGS-72


def elements(**changes):
    return Satellite.model_validate({"name": "x", "elements": elements_data(70001, **changes)}).elements


def test_heights_are_those_sgp4_starts_from():
    compared = 0
    for one in read_element_files([shared_file("data/amateur_20241101.csv")]).sets:
        try:
            record = satrec(one)
        except PropagationError:
            continue
        orbit = orbit_of(one)
        assert orbit.perigee_km == pytest.approx(record.altp * RADIUS_KM, abs=1e-6)
        assert orbit.apogee_km == pytest.approx(record.alta * RADIUS_KM, abs=1e-6)
        compared += 1
    assert compared > 50


def test_a_geostationary_set_has_the_height_everyone_knows():
    """One revolution a sidereal day (1.0027379 rev/day) is 35,786 km over the equator; J2 adds half a km."""
    orbit = orbit_of(elements(MEAN_MOTION=1.0027379, ECCENTRICITY=0.0, INCLINATION=0.0))
    assert orbit.perigee_km == pytest.approx(35_786.0, abs=2.0)
    assert orbit.apogee_km == orbit.perigee_km
    assert orbit.period_min == pytest.approx(1436.07, abs=0.01)


@given(
    st.floats(min_value=1e-6, max_value=19.9),
    st.floats(min_value=0.0, max_value=0.999_999),
    st.floats(min_value=0.0, max_value=180.0),
)
def test_any_elements_give_figures_or_none(motion, eccentricity, inclination):
    orbit = orbit_of(elements(MEAN_MOTION=motion, ECCENTRICITY=eccentricity, INCLINATION=inclination))
    assert math.isnan(orbit.perigee_km) or orbit.apogee_km >= orbit.perigee_km > -RADIUS_KM
    assert orbit.period_min == pytest.approx(1440.0 / motion)
