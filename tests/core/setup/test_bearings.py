"""One direction by three bearings: to and fro, held against the definitions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.place.declination import Declination
from core.setup.bearings import Reference, bearings_as_typed, three_bearings
from core.setup.grid import GridNorth

ANGLES = st.floats(-180.0, 180.0)
BEARINGS = st.floats(0.0, 359.99)


def declination(deg: float) -> Declination:
    return Declination(deg, 0.4, "WMM2025", True, "")


def apart(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


@given(BEARINGS, ANGLES, st.floats(-10.0, 10.0))
def test_each_typed_back_gives_the_same_direction(true_deg, east_deg, convergence_deg):
    north, grid = declination(east_deg), GridNorth(9.0, convergence_deg, 32)
    found = three_bearings(true_deg, north, grid)
    typed: list[tuple[Reference, float]] = [
        ("true", found.true_deg),
        ("magnetic", found.magnetic_deg),
        ("grid", found.grid_deg or 0.0),
    ]
    for reference, deg in typed:
        again = bearings_as_typed(deg, reference, north, grid)
        assert apart(again.true_deg, true_deg) < 1e-9
        assert 0.0 <= again.true_deg < 360.0


def test_the_compass_reads_less_where_magnetic_north_lies_east():
    found = bearings_as_typed(100.0, "magnetic", declination(3.8), GridNorth(9.0, 0.07, 32))
    assert (found.true_deg, found.grid_deg) == (pytest.approx(103.8), pytest.approx(103.73))


def test_near_a_pole_there_is_no_map_bearing():
    assert three_bearings(10.0, declination(0.0), None).grid_deg is None
    with pytest.raises(ValueRangeError, match="near a pole"):
        bearings_as_typed(10.0, "grid", declination(0.0), None)
