"""The unrolled horizon at its seam and its ends: every copy of a line that shows, and none that does not."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.dial.unrolled import (
    bearing_places_deg,
    dial_ticks,
    repeated_deg,
    unrolled_lines,
    unrolled_mask,
)
from core.mount.model.station import AzimuthAxis, Mount
from core.place.site import HorizonPoint


@given(
    zeta=st.integers(0, 359),
    span=st.integers(360, 900),
    start=st.integers(-720, 720),
    sweep=st.integers(-400, 400),
)
def test_a_line_is_shown_once_for_every_turn_that_holds_any_of_it(zeta, span, start, sweep) -> None:
    line = np.linspace(start, start + sweep, 9)
    low, high = min(start, start + sweep) - zeta, max(start, start + sweep) - zeta
    turns = [k for k in range(-9, 10) if high + 360 * k >= 0 and low + 360 * k <= span]
    copies = unrolled_lines(line, float(zeta), float(span))
    assert [copy[0] for copy in copies] == pytest.approx([start - zeta + 360 * k for k in turns])
    assert all(np.diff(copy) == pytest.approx(np.diff(line)) for copy in copies)


def test_a_touch_of_the_seam_is_on_it() -> None:
    """A bearing a hair before the stop's, from rounding, stands on the stop; one 1e-5 before it does not."""
    assert bearing_places_deg(183.9999999, 184.0, 450.0) == (0.0, 360.0)
    assert bearing_places_deg(183.99999, 184.0, 450.0) == pytest.approx((359.99999,))
    assert bearing_places_deg(94.0000005, 4.0, 450.0) == pytest.approx((90.0, 450.0), abs=1e-6)
    assert bearing_places_deg(94.00001, 4.0, 450.0) == pytest.approx((90.00001,))
    assert bearing_places_deg(10.0, 4.0, 3.0) == ()


def test_repeats_begin_above_a_full_circle_and_meet_at_two() -> None:
    def repeats(travel_deg: float) -> tuple[tuple[float, float], ...]:
        return repeated_deg(Mount(azimuth=AzimuthAxis(travel_deg=travel_deg)))

    assert repeats(360.0000001) == ()
    assert repeats(360.5) == ((0.0, 0.5), (360.0, 360.5))
    assert repeats(719.0) == ((0.0, 359.0), (360.0, 719.0))
    assert repeats(720.0) == ((0.0, 720.0),)


def test_the_masks_step_keeps_both_corners_in_their_order() -> None:
    """A wall from 100 to 150, given as steps; on an axis that begins at 120 and shows it twice."""
    wall = [(100.0, 0.0), (100.0, 20.0), (150.0, 20.0), (150.0, 0.0)]
    m, elevation = unrolled_mask(
        [HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in wall], 120.0, 450.0
    )
    shown = [(float(a), float(e)) for a, e in zip(m, elevation, strict=True) if -20.0 <= a <= 450.0]
    turn = [(-20.0, 0.0), (-20.0, 20.0), (30.0, 20.0), (30.0, 0.0)]
    assert shown == [*turn, *((a + 360.0, e) for a, e in turn)]


def test_a_corner_at_360_comes_before_one_at_0() -> None:
    points = [
        HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in ((0.0, 9.0), (360.0, 2.0), (90.0, 4.0))
    ]
    m, elevation = unrolled_mask(points, 0.0, 360.0)
    seam = m == 0.0
    assert elevation[seam].tolist() == [2.0, 9.0]
    assert np.interp(45.0, m, elevation) == pytest.approx(6.5)
    assert np.interp(225.0, m, elevation) == pytest.approx(3.0)


def test_ticks_of_an_overlap_stand_twice_with_their_dial() -> None:
    mount = Mount(keyway_bearing_deg=30.0, azimuth=AzimuthAxis(travel_deg=450.0, dial_at_stop_deg=5.0))
    ticks = [
        (tick.m_deg, tick.bearing_deg, tick.dial and tick.dial.shown_deg) for tick in dial_ticks(mount, 90.0)
    ]
    assert ticks == [
        (60.0, 90.0, 65.0),
        (150.0, 180.0, 155.0),
        (240.0, 270.0, 245.0),
        (330.0, 0.0, 335.0),
        (420.0, 90.0, 425.0),
    ]
    on_the_stop = Mount(azimuth=AzimuthAxis(travel_deg=270.0))
    assert [tick.dial is None for tick in dial_ticks(on_the_stop, 90.0)] == [False] * 4 + [True]
