"""The DXF read back by its group codes gives the hole table."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings

from core.mount.model.station import Mount
from core.plate.drawing.rows import whole_holes
from core.plate.shop.dxf import dxf_from_above, dxf_from_below
from core.plate.tables.threads import thread_named
from tests.core.plate.samples import crowded_part, demo_part, mount_of, part_of, plate_of, plates
from tests.core.plate.shop.group_codes import entities_of, header_value, pairs_of

NEAR_MM = 0.01
BOTH = pytest.mark.parametrize(("write", "sign"), [(dxf_from_above, 1.0), (dxf_from_below, -1.0)])


def near(one, other):
    return math.dist(one, other) <= NEAR_MM


def assert_rebuilds(part, write, sign):
    """Every hole by its name: place, diameters and depths, and no circle that belongs to none."""
    entities = entities_of(write(part))
    circles = [one for one in entities if one.kind == "CIRCLE"]
    names = [one for one in entities if one.layer == "NAMES"]
    assert len(names) == len(whole_holes(part))
    left = list(circles)
    for hole, text in zip(whole_holes(part), names, strict=True):
        main = hole.main
        assert text.codes[1] == main.name
        assert near(text.place, (sign * main.x_mm, main.y_mm))
        wanted = [("DRILL", main.diameter_mm, main.cut.high_mm - main.cut.low_mm)]
        if main.thread:
            wanted.append(("TAP", thread_named(main.thread).diameter_mm, main.depth_mm))
        if hole.counterbore is not None:
            wanted.append(("COUNTERBORE", hole.counterbore.diameter_mm, hole.counterbore.depth_mm))
        for work, diameter_mm, deep_mm in wanted:
            found = [
                one
                for one in left
                if one.layer.startswith(work + "_")
                and near(one.place, text.place)
                and abs(2.0 * float(one.codes[40]) - diameter_mm) <= NEAR_MM
                and (one.layer.endswith("THROUGH") or abs(depth_of(one.layer) - deep_mm) <= NEAR_MM)
            ]
            assert found, (main.name, work)
            left.remove(found[0])
    assert {re.match("[A-Z]+", one.layer)[0] for one in left} <= {"OUTSIDE", "STEP"}


def depth_of(layer):
    return float(re.search(r"(?:DEEP|FULL)([\d.]+)", layer)[1])


@BOTH
@settings(max_examples=15)
@given(plate=plates())
def test_a_reader_rebuilds_the_hole_table(write, sign, plate):
    assert_rebuilds(part_of(plate, mount_of(-30.0, 75.0)), write, sign)


@BOTH
@pytest.mark.parametrize("part", [demo_part(), crowded_part()], ids=["demo", "crowded"])
def test_it_does_of_the_demo_and_of_a_crowded_part(write, sign, part):
    assert_rebuilds(part, write, sign)


def test_layers_are_operations_with_their_sizes():
    found = {one.layer for one in entities_of(dxf_from_above(part_of(plate_of())))}
    assert found == {
        "OUTSIDE_D176", "STEP_OUTER_D62_HIGH5_BELOW", "STEP_INNER_D40_HIGH5_BELOW",
        "DRILL_D10.716_THROUGH", "TAP_1-2-13-UNC_FULL17_BELOW",
        "DRILL_D9_THROUGH", "COUNTERBORE_D15_DEEP8.6_BELOW",
        "DRILL_D5_DEEP15_BELOW", "TAP_M6_FULL12_BELOW",
        "DATUM", "NAMES", "NOTES",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("write", "view"), [(dxf_from_above, "SEEN FROM ABOVE"), (dxf_from_below, "SEEN FROM BELOW, MIRRORED")]
)
def test_each_file_says_its_view_its_unit_and_its_part(write, view):
    part = demo_part()
    content = write(part)
    (note,) = [one.codes[1] for one in entities_of(content) if one.layer == "NOTES"]
    assert note == f"{view}, part {part.identity}, mm, layer = operation"
    assert header_value(content, "$INSUNITS") == "4"


def test_the_same_part_gives_the_same_bytes():
    assert dxf_from_above(demo_part()) == dxf_from_above(demo_part())


def test_a_name_cannot_bring_codes_along():
    names = ["%%c5", "^J0", "0 EOF", "\\U+0041", "\\P{x", "Föhre日"]
    holes = [{"name": name, "offset_deg": 20.0 * k} for k, name in enumerate(names)]
    part = part_of(plate_of(), Mount(index_holes=holes, index_hole=names[0]))
    content = dxf_from_above(part)
    written = [one.codes[1] for one in entities_of(content) if one.layer == "NAMES"][-6:]
    assert written == [
        "index % %c5",
        "index 'J0",
        "index 0 EOF",
        "index /U+0041",
        "index /P{x",
        "index Föhre日",
    ]
    assert pairs_of(content)[-1] == (0, "EOF")
    assert sum(pair == (0, "EOF") for pair in pairs_of(content)) == 1
