"""Grid north against a projection of its own: Krueger's series, and the meridian's direction on the map."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.place.site import Site
from core.setup.grid import grid_north, utm_zone


def on_the_map(latitude_deg: float, east_deg: float) -> tuple[float, float]:
    """Transverse Mercator of WGS-84 in units of its rectifying radius (Krueger 1912, third order in n)."""
    n = (1.0 / 298.257223563) / (2.0 - 1.0 / 298.257223563)
    lat, east = math.radians(latitude_deg), math.radians(east_deg)
    e = 2.0 * math.sqrt(n) / (1.0 + n)
    t = math.sinh(math.atanh(math.sin(lat)) - e * math.atanh(e * math.sin(lat)))
    xi, eta = math.atan2(t, math.cos(east)), math.atanh(math.sin(east) / math.hypot(1.0, t))
    series = (n / 2 - 2 * n**2 / 3 + 5 * n**3 / 16, 13 * n**2 / 48 - 3 * n**3 / 5, 61 * n**3 / 240)
    easting = eta + sum(
        a * math.cos(2 * k * xi) * math.sinh(2 * k * eta) for k, a in enumerate(series, start=1)
    )
    northing = xi + sum(
        a * math.sin(2 * k * xi) * math.cosh(2 * k * eta) for k, a in enumerate(series, start=1)
    )
    return easting, northing


@given(st.floats(-79.0, 83.0), st.floats(-3.4, 3.4))
def test_the_convergence_is_how_the_meridian_runs_over_the_map(latitude_deg, east_deg):
    low, high = (on_the_map(latitude_deg + step, east_deg) for step in (-1e-4, 1e-4))
    meridian_on_map = math.degrees(math.atan2(high[0] - low[0], high[1] - low[1]))
    found = grid_north(Site(latitude_deg=latitude_deg, longitude_deg=9.0 + east_deg), 9.0)
    # True north lies so far from the grid's up: what points up on the map has the true bearing minus that.
    assert found is not None
    assert found.convergence_deg == pytest.approx(-meridian_on_map, abs=1e-3)


def test_zones_and_where_there_are_none():
    assert utm_zone(Site(latitude_deg=47.2, longitude_deg=8.5)) == 32
    assert utm_zone(Site(latitude_deg=60.0, longitude_deg=4.0)) == 32  # not 31: south-western Norway
    assert utm_zone(Site(latitude_deg=78.0, longitude_deg=15.0)) == 33  # Svalbard
    assert utm_zone(Site(latitude_deg=0.0, longitude_deg=180.0)) == 1
    assert grid_north(Site(latitude_deg=88.0, longitude_deg=8.5)) is None
    with pytest.raises(ValueRangeError, match="central_meridian_deg"):
        grid_north(Site(latitude_deg=47.2, longitude_deg=8.5), 60.0)


def test_a_zone_of_the_grid_never_turns_it_by_more_than_three_degrees():
    """A sanity cap of the trade (common practice): minutes of arc read as degrees would break it."""
    for latitude in range(-80, 85, 4):
        for longitude in range(-180, 180, 7):
            found = grid_north(Site(latitude_deg=float(latitude), longitude_deg=float(longitude)))
            assert (
                found is None
                or abs(found.convergence_deg) < 6.0 * abs(math.sin(math.radians(latitude))) + 0.1
            )
