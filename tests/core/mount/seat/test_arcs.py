from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.units import INSIDE_DEG
from core.mount.check.ways import Reach
from core.mount.model.station import AzimuthAxis
from core.mount.seat.arcs import Arcs, clear_arcs, ends_deg, holds, middles_deg, room_deg

arcs_lists = st.lists(st.tuples(st.floats(-720.0, 720.0), st.floats(-50.0, 400.0)), min_size=1, max_size=8)


def arcs_of(pairs: list[tuple[float, float]]) -> Arcs:
    return Arcs(np.array([start for start, _ in pairs]), np.array([width for _, width in pairs]))


def plainly_inside(start: float, width: float, bearing: float) -> bool:
    """By walking the turns: is there a whole turn that brings the bearing into [start, start + width]?"""
    return width >= 0.0 and any(start <= bearing + 360.0 * k <= start + width for k in range(-5, 6))


@given(pairs=arcs_lists, bearing=st.floats(0.0, 360.0, exclude_max=True))
def test_holds_is_being_inside_on_some_turn(pairs: list[tuple[float, float]], bearing: float) -> None:
    got = holds(arcs_of(pairs), np.array([bearing]))[0]
    for inside, (start, width) in zip(got, pairs, strict=True):
        near = any(
            abs(bearing + 360.0 * k - edge) < 1e-5 for k in range(-5, 6) for edge in (start, start + width)
        )
        assert near or inside == plainly_inside(start, width, bearing)


@given(pairs=arcs_lists)
def test_between_ends_nothing_changes(pairs: list[tuple[float, float]]) -> None:
    arcs = arcs_of(pairs)
    ends = ends_deg(arcs)
    middles = middles_deg(ends)
    following = np.append(ends[1:], ends[0] + 360.0) if ends.size else np.array([])
    for k, end in enumerate(ends):
        if following[k] - end < 1e-3:
            continue
        inner = np.mod(np.linspace(end + 1e-5, following[k] - 1e-5, 7), 360.0)
        assert (holds(arcs, inner) == holds(arcs, middles[k : k + 1])).all()


def test_only_a_width_that_is_nothing_but_rounding_is_made_nothing() -> None:
    """Clear from 100 - width to 100 on a travel of 360 with no guard: a sweep of 360 - width."""
    axis = AzimuthAxis(travel_deg=360.0, guard_deg=0.0)
    for width, told in (
        (0.5, 0.5),
        (INSIDE_DEG / 2.0, INSIDE_DEG / 2.0),
        (-INSIDE_DEG / 2.0, 0.0),
        (-0.5, -0.5),
    ):
        reach = Reach("upright", True, True, 100.0, 460.0 - width, np.inf, np.inf)
        assert clear_arcs((reach,), axis).width_deg[0] == pytest.approx(told, abs=1e-9)


def test_ends_touch_inside() -> None:
    arcs = arcs_of([(10.0, 20.0)])
    bearings = np.array([10.0, 30.0, 10.0 - 1e-7, 30.0 + 1e-7, 10.0 - 1e-5, 30.0 + 1e-5])
    assert holds(arcs, bearings)[:, 0].tolist() == [True, True, True, True, False, False]


def test_an_arc_of_nothing_is_one_bearing() -> None:
    assert holds(arcs_of([(350.0, 0.0)]), np.array([350.0, 350.1, -10.0]))[:, 0].tolist() == [
        True,
        False,
        True,
    ]


def test_ends_a_hair_apart_across_north_count_once() -> None:
    assert ends_deg(arcs_of([(0.0, 20.0), (-1e-9, 40.0)])).size == 3


@given(start=st.floats(-400.0, 400.0), width=st.floats(0.0, 359.0), share=st.floats(0.0, 1.0))
def test_room_is_the_way_to_the_nearer_end(start: float, width: float, share: float) -> None:
    bearing = np.array([(start + share * width) % 360.0])
    expected = min(share, 1.0 - share) * width
    room = room_deg(arcs_of([(start, width)]), np.zeros(1, dtype=np.intp), bearing)
    assert room[0] == pytest.approx(expected, abs=1e-6)
