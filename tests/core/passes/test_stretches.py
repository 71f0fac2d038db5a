"""When a stay is over mask and minimum elevation: against a dense scan of invented flights."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.angles import wrap_180
from core.passes.frames import angle_rates, azimuth_elevation
from core.passes.search import find_stays
from core.passes.stays import Stay, StayTable, stay_at
from core.passes.track import Pass, cut_pass, pass_table
from core.place.site import HorizonPoint, mask_elevation_deg
from tests.core.passes.flights import START, Path, flight, flights, masks, points, stay_of
from tests.core.passes.test_search import HILL, HOUR, invented
from tests.stays import arc_stay


def clearance(
    path: Path, horizon: tuple[HorizonPoint, ...], minimum_deg: float, utc_s: np.ndarray
) -> np.ndarray:
    azimuth, elevation = azimuth_elevation(path(utc_s)[0])
    return elevation - np.maximum(mask_elevation_deg(horizon, azimuth), minimum_deg)


def assert_stretches_are_true(path: Path, stay: Stay, horizon, minimum_deg: float, cut: Pass | None) -> None:
    """Over the mask inside the stretches, under it outside, at every twentieth of a second.

    Right at a crossing and where the clearance is less than the interpolation's error either is right.
    """
    grid = np.arange(stay.start_utc_s, stay.end_utc_s, 0.05)
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
    assert first[1] < second[0]
    assert cut.peak.azimuth_deg == pytest.approx(150.0, abs=5.0)


def test_mask_over_everything_and_minimum_over_the_peak_leave_nothing():
    path, half = flight(500.0, 200.0, 6.0)
    stay = stay_of(path, START - half, START + half)
    assert cut_pass(stay, points((0, 89)), 0.0) is None
    assert cut_pass(stay, (), stay.peak.elevation_deg + 0.01) is None
    sliver = cut_pass(stay, (), stay.peak.elevation_deg - 0.001)
    assert sliver is not None
    assert sliver.los.utc_s - sliver.aos.utc_s < 5.0


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


def test_a_high_satellite_meets_upright_edges_to_the_millisecond():
    """It flies seven times as long from look to look as a low one; the cubics there were off by 1.6 ms."""
    edges = [30.0 * slot + wide for slot in range(12) for wide in (7.3, 20.4)]
    heights = [(80, 0), (0, 80)] * 12
    horizon = points(*((edge, height) for edge, pair in zip(edges, heights, strict=True) for height in pair))
    high = [invented(NORAD_CAT_ID=91000 + n, MEAN_MOTION=2.0056, MEAN_ANOMALY=50.0 * n) for n in range(6)]
    table = find_stays(high, HILL, START, START + 24.0 * HOUR).table
    met = 0
    for one in pass_table(table, horizon, 5.0):
        utc_s = np.array(one.stretches).ravel()
        states = stay_at(one.stay, utc_s)
        azimuth, elevation = azimuth_elevation(states[0])
        off_deg = np.abs(wrap_180(azimuth[:, None] - np.array(edges))).min(axis=1)
        off_s = (off_deg / np.abs(angle_rates(*states)[0]))[(off_deg < 0.05) & (elevation > 5.01)]
        assert (off_s < 1e-3).all()
        met += off_s.size
    assert met > 50


@settings(max_examples=30, deadline=None)
@given(flown=st.lists(flights(), min_size=2, max_size=5), horizon=masks, minimum_deg=st.floats(-5.0, 40.0))
def test_many_stays_at_once_are_cut_as_each_alone(flown, horizon, minimum_deg):
    """Columns of many stays lie side by side; none is to see anything of its neighbour."""
    named = enumerate(stay for _path, stay in flown)
    stays = tuple(dataclasses.replace(stay, norad_id=90001 + number) for number, stay in named)
    together = pass_table(StayTable.of(stays), horizon, minimum_deg)
    alone = {stay.norad_id: cut_pass(stay, horizon, minimum_deg) for stay in stays}
    assert {one.norad_id for one in together} == {number for number, one in alone.items() if one is not None}
    assert [one.aos.utc_s for one in together] == sorted(one.aos.utc_s for one in together)
    for one in together:
        other = alone[one.norad_id]
        assert len(one.stretches) == len(other.stretches)
        assert np.array(one.stretches) == pytest.approx(np.array(other.stretches), abs=2e-5)
        assert (one.cut, one.peak, one.tca) == (other.cut, other.peak, other.tca)
        assert one.stay in stays
