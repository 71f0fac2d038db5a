"""The horizon unrolled on the dial, against stepping along the travel."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.mount.dial.unrolled import (
    bearing_places_deg,
    dial_ticks,
    repeated_deg,
    span_deg,
    unrolled_lines,
    unrolled_mask,
)
from core.mount.model.station import AzimuthAxis, Mount
from core.place.site import HorizonPoint, mask_elevation_deg

tenths = st.integers(0, 3599).map(lambda n: n / 10.0)
spans = st.integers(3600, 9000).map(lambda n: n / 10.0)


@given(bearing=tenths, zeta=tenths, span=spans)
def test_places_are_all_that_stepping_finds(bearing, zeta, span):
    places = bearing_places_deg(bearing, zeta, span)
    steps = np.arange(0, round(span * 10) + 1)
    here = steps[(steps + round(zeta * 10) - round(bearing * 10)) % 3600 == 0] / 10.0
    assert places == pytest.approx(tuple(here), abs=1e-9)


def test_the_seam_stands_at_both_ends():
    assert bearing_places_deg(184.0, 184.0, 360.0) == (0.0, 360.0)
    assert bearing_places_deg(184.0, 184.0, 450.0) == (0.0, 360.0)
    assert bearing_places_deg(274.0, 184.0, 450.0) == (90.0, 450.0)


def test_span_and_repeats():
    assert span_deg(Mount(azimuth=AzimuthAxis(travel_deg=300))) == 360.0
    assert repeated_deg(Mount(azimuth=AzimuthAxis(travel_deg=300))) == ()
    assert repeated_deg(Mount(azimuth=AzimuthAxis(travel_deg=360))) == ()
    assert repeated_deg(Mount(azimuth=AzimuthAxis(travel_deg=450))) == ((0.0, 90.0), (360.0, 450.0))
    assert repeated_deg(Mount(azimuth=AzimuthAxis(travel_deg=800))) == ((0.0, 800.0),)


@given(
    pairs=st.lists(st.tuples(tenths, st.integers(-5, 40)), min_size=1, max_size=7, unique_by=lambda p: p[0]),
    zeta=tenths,
    span=spans,
)
@example(pairs=[(0.0, 5)], zeta=359.0, span=900.0)
def test_the_unrolled_mask_is_the_mask(pairs, zeta, span):
    horizon = tuple(HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in pairs)
    m, elevation = unrolled_mask(horizon, zeta, span)
    assert m[0] <= 0.0
    assert m[-1] >= span
    assert (np.diff(m) >= 0.0).all()
    wanted = np.linspace(0.0, span, 173)
    assert np.interp(wanted, m, elevation) == pytest.approx(
        mask_elevation_deg(horizon, zeta + wanted), abs=1e-6
    )


def test_no_points_no_mask():
    assert unrolled_mask((), 10.0, 450.0)[0].size == 0


@given(zeta=tenths, span=spans, start=st.integers(-720, 720), sweep=st.integers(-400, 400))
def test_a_line_is_shown_wherever_its_bearings_stand(zeta, span, start, sweep):
    line = np.linspace(start, start + sweep, 40)
    copies = unrolled_lines(line, zeta, span)
    for copy in copies:
        assert np.mod(copy + zeta - line + 180.0, 360.0) == pytest.approx(180.0, abs=1e-6)
        assert copy.max() >= -1e-9
        assert copy.min() <= span + 1e-9
    middle = bearing_places_deg(float(np.mod(line[20], 360.0)), zeta, span)
    assert {round(copy[20], 6) for copy in copies} >= {round(place, 6) for place in middle}


def test_an_empty_line_has_no_copies():
    assert unrolled_lines(np.zeros(0), 0.0, 450.0) == []


def test_ticks_carry_the_dial_and_stop_where_the_travel_does():
    mount = Mount(keyway_bearing_deg=184.0, azimuth=AzimuthAxis(travel_deg=300.0, dial_at_stop_deg=10.0))
    ticks = dial_ticks(mount, 30.0)
    assert [tick.m_deg for tick in ticks] == sorted(tick.m_deg for tick in ticks)
    by_bearing = {tick.bearing_deg: tick for tick in ticks}
    assert len(ticks) == 12
    assert by_bearing[210.0].m_deg == pytest.approx(26.0)
    assert by_bearing[210.0].dial is not None
    assert by_bearing[210.0].dial.shown_deg == 36.0
    assert by_bearing[150.0].dial is None  # m 326, beyond the travel
