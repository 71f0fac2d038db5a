"""Many lines at once are the lines one by one, and a line keeps its ends and its course."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPointF

from app.window.views.polygons import pixels, polygon, polyline, polylines

SIZES = (1, 2, 3, 40, 2, 200)


@pytest.fixture
def lines():
    draw = np.random.default_rng(5)
    return [np.cumsum(draw.normal(scale=1.5, size=(size, 2)), axis=0) for size in SIZES]


def test_a_polygon_has_every_point(lines):
    for line in lines:
        assert list(polygon(line)) == [QPointF(x, y) for x, y in line.tolist()]


def test_many_lines_are_each_by_itself(lines):
    together = polylines(np.concatenate(lines), SIZES)
    assert together == [polyline(line) for line in lines]
    assert polylines(np.zeros((0, 2)), []) == []


def test_a_thinned_line_keeps_its_ends_and_stays_by_its_course(lines):
    for line in lines:
        kept = np.array([(point.x(), point.y()) for point in polyline(line)])
        assert (kept[0] == line[0]).all()
        assert (kept[-1] == line[-1]).all()
        nearest = np.abs(line[:, None] - kept).sum(axis=2).min(axis=1)
        assert nearest.max() < 10.0


def points_of(line):
    return np.array([(point.x(), point.y()) for point in line])


def off_line(points, line):
    """How far each point is off the nearest piece of a line, by the geometry of triangles."""
    begin, step = line[:-1], np.diff(line, axis=0)
    share = np.clip(((points[:, None] - begin) * step).sum(axis=2) / (step**2).sum(axis=1), 0.0, 1.0)
    return np.hypot(*np.moveaxis(points[:, None] - begin - share[..., None] * step, 2, 0)).min(axis=1)


@pytest.mark.parametrize("radius", [6.0, 40.0, 900.0])
def test_a_curve_is_followed_by_few_points_to_a_fraction_of_a_pixel(radius):
    angle = np.linspace(0.0, min(3.0, 300.0 / radius), 2000)
    curve = radius * pixels(np.cos(angle), np.sin(angle))
    kept = points_of(polyline(curve))
    assert off_line(curve, kept).max() < 0.12
    assert len(kept) < 60


def test_a_corner_between_long_straight_lines_stays_where_it_is():
    along = np.linspace(0.0, 200.0, 401)[:, None]
    legs = [along * (1.0, 0.0), (200.0, 0.0) + along * (0.3, 1.0)]
    kept = points_of(polyline(np.concatenate(legs)))
    assert np.abs(kept - (200.0, 0.0)).max(axis=1).min() < 2.5
    assert off_line(np.concatenate(legs), kept).max() < 1.2
    assert len(kept) < 40


def test_pixels_are_a_row_a_point():
    assert pixels(np.array([1.0, 2.0]), np.array([3.0, 4.0])).tolist() == [[1.0, 3.0], [2.0, 4.0]]
