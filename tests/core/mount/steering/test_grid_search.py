"""The grid's bounds: a pass that no path comes near must not take all memory."""

from __future__ import annotations

import tracemalloc

import numpy as np

from core.mount.steering.grid_search import AxisBounds, Target, search_grid


def test_a_hopeless_pass_takes_no_more_room_than_is_allowed() -> None:
    """The satellite stands a quarter turn outside the travel, so that every cell is as useful as the next."""
    utc_s = np.linspace(0.0, 1500.0, 301)
    elevation = 40.0 + 30.0 * np.sin(utc_s / 500.0)
    target = Target(utc_s, np.full(301, 480.0), elevation, np.ones(301, dtype=bool))
    bounds = AxisBounds((0.0, 390.0), (0.0, 180.0), (2.0, 2.0), (1.0, 1.0))
    tracemalloc.start()
    try:
        found = search_grid(target, bounds, 390.0, 180.0)
        _now, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert peak < 400e6
    assert found is not None
    m_deg, e_deg = found
    assert np.abs(np.diff(m_deg)).max() <= 2.0 * 5.0 + 1e-6
    assert np.abs(np.diff(e_deg)).max() <= 1.0 * 5.0 + 1e-6
