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


def test_pixels_are_a_row_a_point():
    assert pixels(np.array([1.0, 2.0]), np.array([3.0, 4.0])).tolist() == [[1.0, 3.0], [2.0, 4.0]]
