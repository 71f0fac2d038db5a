"""The section: hatched where there is metal, outlined where metal meets air."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from core.base.drawing import Stroke
from core.plate.drawing.dimension import THICK_MM
from core.plate.drawing.section import Cut, section, turned_holes
from tests.core.plate.samples import part_of, plate_of, plates

SCALE, AXIS_MM, TOP_MM = 2.0, 400.0, 200.0


def metal_at(part, x_mm, z_mm):
    """By the plate's own words: body, step, and the cylinders of the three holes that are turned in."""
    plate, step = part.plate, part.plate.step
    if abs(x_mm) > plate.outside_diameter_mm / 2.0 or not 0.0 < z_mm < plate.thickness_mm:
        return False
    if step is not None:
        in_layer = (
            z_mm < step.height_mm if step.side == "below" else z_mm > plate.thickness_mm - step.height_mm
        )
        if in_layer and not step.inner_diameter_mm / 2.0 < abs(x_mm) < step.outer_diameter_mm / 2.0:
            return False
    for one in turned_holes(part):
        for feature in (one.hole.main, one.hole.counterbore):
            if feature is not None:
                cut = feature.cut
                if abs(x_mm - one.at_mm) < cut.radius_mm and cut.low_mm < z_mm < cut.high_mm:
                    return False
    return True


def strokes(part):
    cut = Cut(AXIS_MM, TOP_MM, SCALE, part.plate.thickness_mm)
    found = section(part, cut, 900.0)
    return [one for one in found if isinstance(one, Stroke)]


def on_part(part, x, y):
    return (x - AXIS_MM) / SCALE, part.plate.thickness_mm - (y - TOP_MM) / SCALE


@settings(max_examples=8)
@given(plate=plates())
def test_hatching_lies_in_metal(plate):
    part = part_of(plate)
    hatching = [one for one in strokes(part) if one.width_mm == 0.13]
    assert hatching
    for one in hatching:
        (x1, y1), (x2, y2) = one.points_mm
        for share in (0.1, 0.5, 0.9):
            assert metal_at(part, *on_part(part, x1 + share * (x2 - x1), y1 + share * (y2 - y1)))


@settings(max_examples=20)
@given(plate=plates())
def test_an_outline_has_metal_on_one_side_alone(plate):
    part = part_of(plate)
    for one in strokes(part):
        if one.width_mm != THICK_MM:
            continue
        (x1, y1), (x2, y2) = one.points_mm
        length = math.dist((x1, y1), (x2, y2))
        if length < 0.05:
            continue
        x, y = (x1 + x2) / 2.0, (y1 + y2) / 2.0
        off = 0.005 * (y2 - y1) / length, 0.005 * (x2 - x1) / length
        sides = [metal_at(part, *on_part(part, x + s * off[0], y + s * off[1])) for s in (-1.0, 1.0)]
        assert sorted(sides) == [False, True]


def test_one_hole_of_each_kind_at_its_distance_from_the_axis():
    turned = turned_holes(part_of(plate_of()))
    assert [one.hole.main.name for one in turned] == ["bolt 1", "centre", "index A"]
    assert [one.at_mm for one in turned] == pytest.approx([-62.0, 0.0, 47.0])
