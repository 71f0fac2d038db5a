"""The model of the dials against the oracle's mount, and its derivatives against differences."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.model.chain import tilt_matrix
from core.mount.model.station import Tilt
from core.setup.sightings.model import COUNT, Rows, derivatives, predicted_deg, residuals_deg, unit
from tests.oracles.sighting_mount import axes_for, looks_along, pointing_at

AZIMUTHS = np.arange(0.0, 360.0, 30.0)


def small(limit: float) -> st.SearchStrategy[float]:
    return st.floats(-limit, limit)


def rows_at(elevation: float, over: bool, zeta: float = 0.0, reference: float = 1.0) -> Rows:
    count = AZIMUTHS.size
    return Rows(
        index=np.arange(2 * count),
        azimuth=np.arange(2 * count) < count,
        measured_deg=np.zeros(2 * count),
        sigma_deg=np.ones(2 * count),
        sky=np.tile(unit(AZIMUTHS, np.full(count, elevation)), (2, 1)),
        sense=np.full(2 * count, -1.0 if over else 1.0),
        side=np.where(np.arange(2 * count) % 3 == 0, 1.0, -1.0),
        rate_deg_s=np.full(2 * count, 0.01),
        landmark=np.arange(2 * count) % 3 - 1,
        landmark_sigma_deg=np.ones((2, 2)),
        at_stop_deg=zeta,
        reference=reference,
    )


@settings(max_examples=12)
@given(
    lean=st.tuples(small(5.0), small(5.0)),
    elevation=st.floats(-5.0, 75.0),
    over=st.booleans(),
    skew=small(4.0),
    axis=small(2.0),
    correction=small(180.0),
    zero=small(10.0),
    play=small(2.0),
    reference=st.sampled_from([1.0, -1.0]),
)
def test_the_dials_show_what_the_oracles_mount_shows(
    lean, elevation, over, skew, axis, correction, zero, play, reference
):
    rows = rows_at(elevation, over, 113.0, reference)
    unknowns = np.zeros(COUNT + 4)
    unknowns[:7] = correction, zero, *lean, skew, axis, play
    m, e = predicted_deg(rows, unknowns)
    mount = {
        "zeta": 113.0 + correction - reference * skew,
        "lean_east": lean[0],
        "lean_north": lean[1],
        "skew": skew,
        "axis": axis,
    }
    true_m, true_e = axes_for(
        mount, pointing_at(AZIMUTHS, np.full(AZIMUTHS.size, elevation)), np.full(12, over)
    )
    apart = (m[:12] - rows.side[:12] * play - true_m + 180.0) % 360.0 - 180.0
    assert np.abs(apart).max() < 1e-6
    assert np.abs(e[12:] + zero - true_e).max() < 1e-6


@settings(max_examples=12)
@given(elevation=st.floats(0.0, 70.0), over=st.booleans(), reference=st.sampled_from([1.0, -1.0]))
def test_derivatives_are_those_of_the_model(elevation, over, reference):
    rows, step = rows_at(elevation, over, 20.0, reference), 1e-4
    unknowns = np.zeros(COUNT + 4)
    slopes = derivatives(rows, unknowns)
    for place in range(unknowns.size):
        moved = np.zeros(unknowns.size)
        moved[place] = step
        by = (residuals_deg(rows, -moved) - residuals_deg(rows, moved)) / (2.0 * step)
        assert np.abs(by - slopes[:, place]).max() < 1e-3, place


def test_the_oracle_leans_as_the_chain_does():
    sky = pointing_at(np.array([40.0]), np.array([25.0]))
    lean = Tilt(angle_deg=3.0, toward_deg=70.0)
    mount = {
        "zeta": 40.0,
        "skew": 0.0,
        "axis": 0.0,
        "lean_east": 3.0 * np.sin(np.radians(70.0)),
        "lean_north": 3.0 * np.cos(np.radians(70.0)),
    }
    assert np.allclose(looks_along(mount, np.zeros(1), np.array([25.0])), sky @ tilt_matrix(lean).T)
