"""Passes cut from stays: what they say of themselves, how they are sampled, and that nothing propagates."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import core.elements.propagator
import core.passes.domain
from core.base.angles import unwrap_deg
from core.elements.model import ElementSet
from core.passes.frames import Observer, angle_rates, azimuth_elevation, slant_range
from core.passes.search import find_stays
from core.passes.stays import stay_at
from core.passes.track import cut_pass, cut_passes, predict
from core.place.site import Site, mask_elevation_deg
from tests.core.passes.flights import START, flight, flights, masks, points, stay_of
from tests.shared_data import shared_file


@settings(max_examples=80, deadline=None)
@given(flown=flights(), horizon=masks, minimum_deg=st.sampled_from([0.0, 5.0, -5.0, 20.0]))
def test_a_pass_is_what_it_says(flown, horizon, minimum_deg):
    _, stay = flown
    cut = cut_pass(stay, horizon, minimum_deg)
    if cut is None:
        return
    starts, ends = np.array(cut.stretches).T
    assert cut.aos.utc_s == starts[0] == cut.utc_s[0]
    assert cut.los.utc_s == ends[-1] == cut.utc_s[-1]
    assert stay.start_utc_s <= starts[0]
    assert ends[-1] <= stay.end_utc_s
    assert np.all(ends > starts)
    assert np.all(starts[1:] > ends[:-1])
    assert set(starts) | set(ends) <= set(cut.utc_s)
    assert np.all(np.diff(cut.utc_s) > 0.0)
    fast = cut.los.utc_s - cut.aos.utc_s <= 2000.0
    assert np.diff(cut.utc_s).max() <= (0.5 if fast else 60.0) + 1e-6
    assert (cut.peak, cut.tca, cut.cut) == (stay.peak, stay.tca, None)
    crossings = np.concatenate([starts, ends])
    crossings = crossings[(crossings > stay.start_utc_s) & (crossings < stay.end_utc_s)]
    azimuth, elevation = azimuth_elevation(stay_at(stay, crossings)[0])
    threshold = np.maximum(mask_elevation_deg(horizon, azimuth), minimum_deg)
    assert elevation == pytest.approx(threshold, abs=1e-3)
    g = cut.elevation_deg - np.maximum(mask_elevation_deg(horizon, cut.azimuth_deg), minimum_deg)
    over = np.searchsorted(starts, cut.utc_s, side="right") > np.searchsorted(ends, cut.utc_s, side="left")
    assert np.all(g[over] > -1e-3)
    assert np.all(g[~over] < 1e-3)


@settings(max_examples=60, deadline=None)
@given(flown=flights())
def test_samples_are_the_stays_own_states_and_unwrap_safely(flown):
    _, stay = flown
    cut = cut_pass(stay, (), 0.0)
    assert cut is not None
    position, _ = stay_at(stay, cut.utc_s)
    azimuth, elevation = azimuth_elevation(position)
    assert np.array_equal(cut.azimuth_deg, azimuth)
    assert np.array_equal(cut.elevation_deg, elevation)
    assert np.array_equal(cut.range_km, slant_range(position))
    steps = np.abs(np.diff(unwrap_deg(cut.azimuth_deg)))
    assert np.all((steps <= 90.0) | (np.diff(cut.utc_s) <= 2e-4))


def test_overhead_pass_never_steps_more_than_a_quarter_turn():
    for miss_deg in (1e-2, 1e-3, 1e-4, 1e-5):
        path, half = flight(400.0, 12.0, miss_deg)
        cut = cut_pass(stay_of(path, START - half, START + half), (), 0.0)
        assert cut is not None
        steps = np.diff(unwrap_deg(cut.azimuth_deg))
        assert np.abs(steps).max() <= 90.0
        assert abs(steps.sum()) == pytest.approx(180.0, abs=1.0)
        assert np.diff(cut.utc_s).min() > 1e-5


def test_straight_through_the_zenith_keeps_finite_samples():
    path, half = flight(400.0, 12.0, 0.0)
    cut = cut_pass(stay_of(path, START - half, START + half), (), 0.0)
    assert cut is not None
    for values in (cut.azimuth_deg, *angle_rates(*stay_at(cut.stay, cut.utc_s))):
        assert np.all(np.isfinite(values))
    assert cut.elevation_deg.max() > 89.9999


@pytest.mark.parametrize(
    ("cut", "minimum_deg", "expected"),
    [
        ("both", 0.0, "both"),
        ("start", 0.0, "start"),
        ("end", 0.0, "end"),
        ("both", 30.0, None),
        (None, 0.0, None),
    ],
)
def test_only_ends_that_are_no_crossings_are_cut(cut, minimum_deg, expected):
    path, half = flight(500.0, 200.0, 2.0)
    stay = stay_of(path, START - 0.8 * half, START + 0.8 * half, cut)
    found = cut_pass(stay, (), minimum_deg)
    assert found is not None
    assert found.cut == expected


def test_cut_start_hidden_by_the_mask_is_no_cut_aos():
    path, half = flight(500.0, 90.0, 5.0)
    stay = stay_of(path, START - 0.8 * half, START + 0.8 * half, "both")
    behind = azimuth_elevation(stay_at(stay, np.array([stay.start_utc_s]))[0])[0][0]
    horizon = points((behind - 10, 0), (behind - 9.9, 80), (behind + 1, 80), (behind + 1.1, 0))
    found = cut_pass(stay, horizon, 0.0)
    assert found is not None
    assert found.cut == "end"
    assert found.aos.utc_s > stay.start_utc_s


def test_slow_flight_is_sampled_by_angle():
    # So weak a pull that the flight takes hours.
    path, half = flight(20000.0, 45.0, 10.0)
    stay = stay_of(path, START - half, START + half, knots=400)
    cut = cut_pass(stay, (), 0.0)
    assert cut is not None
    assert cut.los.utc_s - cut.aos.utc_s > 2 * 3600.0
    assert np.diff(cut.utc_s).max() <= 60.0 + 1e-6
    unit = stay_at(stay, cut.utc_s)[0] / cut.range_km[:, None]
    step_deg = np.degrees(np.arccos(np.clip(np.sum(unit[1:] * unit[:-1], axis=1), -1.0, 1.0)))
    assert step_deg.max() <= 0.31
    assert cut.utc_s.size < 4000


def test_passes_come_by_aos():
    stays = []
    for delay in (900.0, 0.0, 450.0):
        path, half = flight(500.0, 200.0, 2.0)
        stays.append(
            stay_of(
                lambda t, d=delay, p=path: p(np.asarray(t) - d), START + delay - half, START + delay + half
            )
        )
    times = [cut.aos.utc_s for cut in cut_passes(stays, (), 5.0)]
    assert len(times) == 3
    assert times == sorted(times)


def test_editing_the_mask_propagates_nothing(monkeypatch):
    elements = ElementSet.model_validate(
        {
            "OBJECT_NAME": "INVENTED",
            "EPOCH": "2024-11-01T12:00:00",
            "MEAN_MOTION": 14.8,
            "ECCENTRICITY": 0.001,
            "INCLINATION": 97.8,
            "RA_OF_ASC_NODE": 20.0,
            "ARG_OF_PERICENTER": 90.0,
            "MEAN_ANOMALY": 10.0,
            "NORAD_CAT_ID": 90001,
        }
    )
    stays = find_stays([elements], Observer(47.2, 9.1, 1300.0), START, START + 43200.0).stays

    def forbidden(*_args: object) -> None:
        raise AssertionError("a mask edit propagated")

    import sgp4.api

    monkeypatch.setattr(core.passes.domain, "satrec", forbidden)
    monkeypatch.setattr(core.elements.propagator, "satrec", forbidden)
    monkeypatch.setattr(sgp4.api, "Satrec", forbidden)
    monkeypatch.setattr(sgp4.api, "SatrecArray", forbidden)
    with pytest.raises(AssertionError, match="propagated"):
        find_stays([elements], Observer(47.2, 9.1, 1300.0), START, START + 43200.0)
    open_sky = cut_passes(stays, (), 0.0)
    walled = cut_passes(stays, points((0, 10), (90, 20), (91, 3), (93, 3), (94, 20), (270, 10)), 2.0)
    assert len(open_sky) == len(stays)
    assert sum(b - a for cut in walled for a, b in cut.stretches) < sum(
        b - a for cut in open_sky for a, b in cut.stretches
    )


def test_an_evening_of_real_amateur_satellites():
    """77 satellites from 16:00 to midnight: 147 passes over 5 deg, counted with Skyfield 1.55."""
    from core.elements.files import read_element_files

    sets = read_element_files([shared_file("data/amateur_20241101.csv")]).sets
    site = Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0, minimum_elevation_deg=5.0)
    passes, refused = predict(sets, site, START, START + 8 * 3600.0)
    assert refused == ()
    assert len(passes) == 147
    assert sum(cut.cut is not None for cut in passes) == 8
