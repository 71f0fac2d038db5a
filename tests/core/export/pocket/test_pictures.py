from __future__ import annotations

import itertools
import math
from xml.etree import ElementTree as Xml

import numpy as np
import pytest

from core.base.drawing import Drawing, Stroke
from core.export.pocket.pictures import lighter, sky_pictures
from tests.core.export.pocket.pages import content_of
from tests.core.sheet.samples import EVERY_KIND, evening


@pytest.fixture(scope="module")
def skies():
    return [card.polar for card in content_of(evening(EVERY_KIND[:4])).cards]


def _lines(drawing):
    return [item.points_mm for item in drawing.items if isinstance(item, Stroke)]


def _off(point, line):
    """How far a point is from a broken line, by many points along it."""
    share = np.linspace(0.0, 1.0, 201)[:, None]
    ends = np.array(line)
    return min(
        float(np.min(np.hypot(*(np.array(a) + share * (np.array(b) - np.array(a)) - point).T)))
        for a, b in itertools.pairwise(ends)
    )


def test_a_lighter_line_is_the_same_to_the_eye(skies):
    points = 0
    for before, after in zip(_lines(skies[0]), _lines(lighter(skies[0])), strict=True):
        assert math.dist(before[0], after[0]) < 0.01
        assert math.dist(before[-1], after[-1]) < 0.01
        assert max(_off(point, after) for point in before) < 0.06
        points += len(before) - len(after)
    assert points > 100


def test_a_closed_line_keeps_its_corners():
    square = ((0.0, 0.0), (5.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0), (0.0, 0.0))
    (kept,) = _lines(lighter(Drawing(10.0, 10.0, (Stroke(square),))))
    assert kept == ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0), (0.0, 0.0))


def test_what_plots_share_is_drawn_once_and_nothing_is_left_out(skies):
    def count(text):
        return sum(
            one.tag in {"polyline", "polygon", "circle", "text"} for one in Xml.fromstring(text).iter()
        )

    pictures = sky_pictures(skies)
    shared = count(pictures.shared)
    assert shared > 50
    for drawing, plot in zip(skies, pictures.plots, strict=True):
        grounds = sum(getattr(item, "on_white", False) for item in drawing.items)
        assert shared + count(plot) == len(drawing.items) + grounds
        assert '<use href="#sky-ground"/>' in plot


def test_without_plots_there_is_nothing():
    assert sky_pictures([]).shared == ""
