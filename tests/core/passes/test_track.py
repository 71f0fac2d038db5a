"""Passes cut from stays: against a dense scan of invented flights whose path is known in closed form."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import core.elements.propagator
import core.passes.search
from core.base.angles import unwrap_deg
from core.base.errors import ValueRangeError
from core.base.times import parse_iso
from core.elements.model import ElementSet
from core.passes.frames import Observer, angle_rates, azimuth_elevation, range_rate, slant_range
from core.passes.search import find_stays
from core.passes.stays import Cut, Event, Stay
from core.passes.track import Pass, cut_pass, cut_passes, predict, stay_at
from core.place.site import HorizonPoint, Site, mask_elevation_deg
from tests.shared_data import shared_file
from tests.stays import arc_stay

START = parse_iso("2024-11-01T16:00:00Z")
EARTH_KM = 6371.0
Path = Callable[[np.ndarray], tuple[np.ndarray, np.ndarray]]


def flight(height_km: float, bearing_deg: float, miss_deg: float, mu: float = 398600.4) -> tuple[Path, float]:
    """A circular flight over a round Earth that stands still: its path, and half its time over the horizon.

    It passes ``miss_deg`` (as seen from the Earth's centre) beside the station, heading for ``bearing_deg``.
    """
    radius = EARTH_KM + height_km
    rate = np.sqrt(mu / radius**3)
    heading = np.array([np.sin(np.radians(bearing_deg)), np.cos(np.radians(bearing_deg)), 0.0])
    side = np.array([heading[1], -heading[0], 0.0])
    miss = np.radians(miss_deg)
    overhead = np.cos(miss) * np.array([0.0, 0.0, 1.0]) + np.sin(miss) * side

    def path(utc_s: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        angle = rate * (np.asarray(utc_s) - START)[..., None]
        position = radius * (np.cos(angle) * overhead + np.sin(angle) * heading)
        velocity = radius * rate * (np.cos(angle) * heading - np.sin(angle) * overhead)
        return position - np.array([0.0, 0.0, EARTH_KM]), velocity

    return path, float(np.arccos(EARTH_KM / radius / np.cos(miss)) / rate)


def stay_of(path: Path, start: float, end: float, cut: Cut | None = None, knots: int = 60) -> Stay:
    utc_s = np.linspace(start, end, knots)
    fine = np.linspace(start, end, 20001)
    position, _ = path(fine)
    azimuth, elevation = azimuth_elevation(position)
    away = slant_range(position)

    def event(i: int) -> Event:
        return Event(float(fine[i]), float(azimuth[i]), float(elevation[i]), float(away[i]))

    return Stay(
        "INVENTED", 90001, utc_s, *path(utc_s), cut, event(int(elevation.argmax())), event(int(away.argmin()))
    )


@st.composite
def flights(draw: st.DrawFn) -> tuple[Path, Stay]:
    height_km = draw(st.floats(300.0, 3000.0))
    reach = np.degrees(np.arccos(EARTH_KM / (EARTH_KM + height_km)))
    miss = draw(st.one_of(st.floats(0.0, 0.95), st.floats(0.0, 0.02))) * reach
    path, half = flight(height_km, draw(st.floats(0.0, 360.0)), miss)
    return path, stay_of(path, START - half, START + half)


def points(*pairs: tuple[float, float]) -> tuple[HorizonPoint, ...]:
    return tuple(HorizonPoint(azimuth_deg=azimuth, elevation_deg=elevation) for azimuth, elevation in pairs)


masks = st.lists(
    st.tuples(st.floats(0.0, 359.99), st.floats(-5.0, 60.0)),
    min_size=1,
    max_size=25,
    unique_by=lambda point: round(point[0], 1),
).map(lambda pairs: points(*pairs))


def clearance(
    path: Path, horizon: tuple[HorizonPoint, ...], minimum_deg: float, utc_s: np.ndarray
) -> np.ndarray:
    azimuth, elevation = azimuth_elevation(path(utc_s)[0])
    return elevation - np.maximum(mask_elevation_deg(horizon, azimuth), minimum_deg)


def assert_stretches_are_true(path: Path, stay: Stay, horizon, minimum_deg: float, cut: Pass | None) -> None:
    """Over the mask inside the stretches, under it outside, at every twentieth of a second.

    Right at a crossing and where the clearance is less than the interpolation's error either is right.
    """
    grid = np.arange(stay.utc_s[0], stay.utc_s[-1], 0.05)
    g = clearance(path, horizon, minimum_deg, grid)
    inside = np.zeros(grid.size, dtype=bool)
    edge = np.zeros(grid.size, dtype=bool)
    for start, end in cut.stretches if cut else ():
        inside |= (grid >= start) & (grid <= end)
        edge |= (np.abs(grid - start) < 1e-3) | (np.abs(grid - end) < 1e-3)
    wrong = (inside != (g > 0.0)) & ~edge & (np.abs(g) > 1e-4)
    assert _longest_run(wrong) * 0.05 < 2.0
    # What is wrong for less than two seconds must be rare slivers, not the ends of stretches.
    assert wrong.sum() < 40


def _longest_run(flags: np.ndarray) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], flags.astype(np.int8), [0]])))
    return int((edges[1::2] - edges[::2]).max(initial=0))


@settings(max_examples=80, deadline=None)
@given(flown=flights(), horizon=masks, minimum_deg=st.sampled_from([0.0, 5.0, -5.0, 20.0]))
def test_stretches_agree_with_a_dense_scan(flown, horizon, minimum_deg):
    path, stay = flown
    assert_stretches_are_true(path, stay, horizon, minimum_deg, cut_pass(stay, horizon, minimum_deg))


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
    assert stay.utc_s[0] <= starts[0]
    assert ends[-1] <= stay.utc_s[-1]
    assert np.all(ends > starts)
    assert np.all(starts[1:] > ends[:-1])
    assert set(starts) | set(ends) <= set(cut.utc_s)
    assert np.all(np.diff(cut.utc_s) > 0.0)
    fast = cut.los.utc_s - cut.aos.utc_s <= 2000.0
    assert np.diff(cut.utc_s).max() <= (0.5 if fast else 60.0) + 1e-6
    assert (cut.peak, cut.tca, cut.cut) == (stay.peak, stay.tca, None)
    crossings = np.concatenate([starts, ends])
    crossings = crossings[(crossings > stay.utc_s[0]) & (crossings < stay.utc_s[-1])]
    azimuth, elevation = azimuth_elevation(stay_at(stay, crossings)[0])
    threshold = np.maximum(mask_elevation_deg(horizon, azimuth), minimum_deg)
    assert elevation == pytest.approx(threshold, abs=1e-3)
    g = cut.elevation_deg - np.maximum(mask_elevation_deg(horizon, cut.azimuth_deg), minimum_deg)
    assert np.all(g[cut.over_mask] > -1e-3)
    assert np.all(g[~cut.over_mask] < 1e-3)


@settings(max_examples=60, deadline=None)
@given(flown=flights())
def test_samples_are_the_stays_own_states_and_unwrap_safely(flown):
    _, stay = flown
    cut = cut_pass(stay, (), 0.0)
    assert cut is not None
    position, velocity = stay_at(stay, cut.utc_s)
    azimuth, elevation = azimuth_elevation(position)
    assert np.array_equal(cut.azimuth_deg, azimuth)
    assert np.array_equal(cut.elevation_deg, elevation)
    assert np.array_equal(cut.range_km, slant_range(position))
    assert np.array_equal(cut.range_rate_km_s, range_rate(position, velocity))
    rates = angle_rates(position, velocity)
    assert np.array_equal(cut.azimuth_rate_deg_s, rates[0])
    assert np.array_equal(cut.elevation_rate_deg_s, rates[1])
    steps = np.abs(np.diff(unwrap_deg(cut.azimuth_deg)))
    assert np.all((steps <= 90.0) | (np.diff(cut.utc_s) <= 2e-4))


def test_interpolation_follows_the_path():
    path, half = flight(500.0, 30.0, 3.0)
    stay = stay_of(path, START - half, START + half)
    times = np.linspace(stay.utc_s[0], stay.utc_s[-1], 5000)
    position, velocity = stay_at(stay, times)
    truth_position, truth_velocity = path(times)
    assert np.abs(position - truth_position).max() < 1e-5
    assert np.abs(velocity - truth_velocity).max() < 5e-6
    at_knots = stay_at(stay, stay.utc_s)
    assert at_knots[0] == pytest.approx(stay.position_km, abs=1e-9)
    assert at_knots[1] == pytest.approx(stay.velocity_km_s, abs=1e-12)


def test_times_outside_a_stay_are_refused():
    path, half = flight(500.0, 30.0, 3.0)
    stay = stay_of(path, START - half, START + half)
    with pytest.raises(ValueRangeError, match="utc_s is"):
        stay_at(stay, np.array([START, START + half + 1.0]))
    with pytest.raises(ValueRangeError, match="utc_s is"):
        stay_at(stay, np.array([START - half - 1.0]))
    assert stay_at(stay, np.zeros(0))[0].shape == (0, 3)


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
    for values in (cut.azimuth_deg, cut.azimuth_rate_deg_s, cut.elevation_rate_deg_s):
        assert np.all(np.isfinite(values))
    assert cut.elevation_deg.max() > 89.9999


def test_narrow_notch_gives_its_own_stretch_to_the_millisecond():
    # Heading north-east at 60 deg, passing south: the wall has one slot, one degree wide.
    path, half = flight(800.0, 60.0, 8.0)
    stay = stay_of(path, START - half, START + half)
    horizon = points((0, 80), (119.5, 80), (119.50001, 0), (120.5, 0), (120.50001, 80))
    cut = cut_pass(stay, horizon, 0.0)
    assert cut is not None
    ((start, end),) = cut.stretches
    azimuth, _ = azimuth_elevation(path(np.array([start, end]))[0])
    assert sorted(azimuth) == pytest.approx([119.5, 120.5], abs=1e-4)
    _, rate = path(np.array([start]))
    assert 2.0 < end - start < 20.0
    assert rate.shape == (1, 3)
    assert (cut.aos.utc_s, cut.los.utc_s) == (start, end)


def test_upright_step_in_the_mask_is_crossed_at_its_bearing():
    path, half = flight(800.0, 60.0, 8.0)
    stay = stay_of(path, START - half, START + half)
    horizon = points((150, 0), (150, 85), (200, 85), (200, 0))
    cut = cut_pass(stay, horizon, 5.0)
    assert cut is not None
    (first, second) = cut.stretches
    azimuth, _ = azimuth_elevation(path(np.array([first[1], second[0]]))[0])
    assert sorted(azimuth) == pytest.approx([150.0, 200.0], abs=1e-4)
    assert not cut.over_mask[(cut.utc_s > first[1]) & (cut.utc_s < second[0])].any()
    assert cut.peak.azimuth_deg == pytest.approx(150.0, abs=5.0)


def test_mask_over_everything_and_minimum_over_the_peak_leave_nothing():
    path, half = flight(500.0, 200.0, 6.0)
    stay = stay_of(path, START - half, START + half)
    assert cut_pass(stay, points((0, 89)), 0.0) is None
    assert cut_pass(stay, (), stay.peak.elevation_deg + 0.01) is None
    sliver = cut_pass(stay, (), stay.peak.elevation_deg - 0.001)
    assert sliver is not None
    assert sliver.los.utc_s - sliver.aos.utc_s < 5.0


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
    behind = azimuth_elevation(stay.position_km[:1])[0][0]
    horizon = points((behind - 10, 0), (behind - 9.9, 80), (behind + 1, 80), (behind + 1.1, 0))
    found = cut_pass(stay, horizon, 0.0)
    assert found is not None
    assert found.cut == "end"
    assert found.aos.utc_s > stay.utc_s[0]


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

    monkeypatch.setattr(core.passes.search, "satrec", forbidden)
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


def test_mask_points_a_hair_apart_are_a_step() -> None:
    """Two points 1e-308 deg apart once overflowed the slope between them."""
    points = (
        HorizonPoint(azimuth_deg=0.0, elevation_deg=3.0),
        HorizonPoint(azimuth_deg=1e-308, elevation_deg=20.0),
        HorizonPoint(azimuth_deg=180.0, elevation_deg=3.0),
    )
    step = (
        HorizonPoint(azimuth_deg=0.0, elevation_deg=3.0),
        HorizonPoint(azimuth_deg=0.0, elevation_deg=20.0),
        HorizonPoint(azimuth_deg=180.0, elevation_deg=3.0),
    )
    stay = arc_stay(1, 0.0, 60.0)
    got, expected = cut_pass(stay, points, 5.0), cut_pass(stay, step, 5.0)
    assert got is not None
    assert expected is not None
    assert got.aos.utc_s == pytest.approx(expected.aos.utc_s, abs=1e-3)
    assert got.stretches[0] == pytest.approx(expected.stretches[0], abs=1e-3)
