"""Places on the station view: bearings to points and back, and labels that never cover each other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRectF

from app.window.pages.keyway.views.station_view_geometry import (
    CompassFrame,
    compass_in,
    label_box,
    placed,
    qt_arc,
)
from core.base.angles import wrap_180

bearings = st.floats(0.0, 359.99)


def test_north_is_up_and_east_is_right() -> None:
    disc = CompassFrame(100.0, 100.0, 50.0)
    for bearing, x, y in (
        (0.0, 100.0, 50.0),
        (90.0, 150.0, 100.0),
        (180.0, 100.0, 150.0),
        (270.0, 50.0, 100.0),
    ):
        point = disc.point(bearing, 50.0)
        assert (point.x(), point.y()) == pytest.approx((x, y))


@given(bearings, st.floats(5.0, 400.0))
def test_a_point_knows_its_bearing_and_distance(bearing: float, radius: float) -> None:
    disc = compass_in(900.0, 700.0)
    point = disc.point(bearing, radius)
    assert wrap_180(disc.bearing_of(point) - bearing) == pytest.approx(0.0, abs=1e-6)
    assert disc.distance_of(point) == pytest.approx(radius)


def test_qt_counts_the_other_way_round_from_east() -> None:
    assert qt_arc(0.0, 90.0) == (90 * 16, -90 * 16)
    assert qt_arc(350.0, 370.0) == (-260 * 16, -20 * 16)


@given(bearings, bearings, bearings, st.sampled_from([(640.0, 470.0), (760.0, 560.0), (1180.0, 720.0)]))
def test_three_labels_are_clear_of_each_other_and_of_the_disc(
    keyway: float, first: float, second: float, size: tuple[float, float]
) -> None:
    disc = compass_in(*size)
    within = QRectF(2.0, 0.0, size[0] - 4.0, size[1] - 26.0)
    boxes = [
        label_box(disc, at, disc.radius + 33.0, wide, tall)
        for at, wide, tall in ((keyway, 96.0, 17.0), (first, 130.0, 34.0), (second, 80.0, 34.0))
    ]
    found = placed(boxes, [], disc, within)
    assert all(within.contains(box) for box in found)
    for index, box in enumerate(found):
        assert box.size() == boxes[index].size()
        assert not any(box.intersects(other) for other in found[:index])
        corners = (box.topLeft(), box.topRight(), box.bottomLeft(), box.bottomRight(), box.center())
        assert min(disc.distance_of(corner) for corner in corners) > disc.radius


@pytest.mark.parametrize("rings", [1, 14, 32, 90])
def test_rings_lie_between_the_plate_and_the_compass(rings: int) -> None:
    disc = compass_in(700.0, 500.0)
    radii = [disc.ring_radius(ring, rings) for ring in range(rings)]
    assert radii == sorted(radii, reverse=True)
    assert disc.plate * 1.5 < radii[-1]
    assert radii[0] < disc.radius - 8.0
