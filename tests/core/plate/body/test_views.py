"""The part's pictures, held to points: solid where the body is and no hole, mirrored from below."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.angles import wrap_180, wrap_360
from core.plate.body.features import features_of
from core.plate.body.shape import faces_at
from core.plate.body.views import section_of, view_of
from tests.core.plate.samples import HOLES, mount_of, plate_of, plates


@given(plates(), st.floats(-1.0, 1.0), st.floats(-0.05, 1.05))
def test_the_section_is_solid_where_the_body_is(plate, across, up):
    features = features_of(plate, HOLES)
    section = section_of(plate, features, "A")
    x = across * plate.outside_diameter_mm / 2.0
    z = up * plate.thickness_mm
    angle = math.radians(section.right_deg if x >= 0.0 else section.left_deg)
    place = (abs(x) * math.sin(angle), abs(x) * math.cos(angle))
    low, high = faces_at(plate, *place)
    edges = [low, high]
    inside = low <= z <= high
    for feature in features:
        if feature.cut is not None:
            hole = feature.cut
            apart = math.hypot(place[0] - hole.x_mm, place[1] - hole.y_mm)
            edges += [hole.low_mm, hole.high_mm]
            if abs(apart - hole.radius_mm) < 1e-6:
                return  # on a wall
            inside = inside and not (apart < hole.radius_mm and hole.low_mm <= z <= hole.high_mm)
    walls = [one for piece in section.solid for one in (piece.left_mm, piece.right_mm)]
    if min(abs(z - edge) for edge in edges) < 1e-6 or min(abs(x - wall) for wall in walls) < 1e-6:
        return

    def within(piece):
        return piece.left_mm <= x <= piece.right_mm and piece.low_mm <= z <= piece.high_mm

    drawn = any(map(within, section.solid)) and not any(map(within, section.cuts))
    assert drawn == inside


def test_the_section_goes_through_the_hole_in_use_and_the_bolt_most_opposite():
    features = features_of(plate_of(), HOLES)
    section = section_of(plate_of(), features, "B")
    assert section.right_deg == 30.0
    bolts = [one.angle_deg for one in features if one.role == "bolt"]
    off = [abs(wrap_180(angle - 210.0)) for angle in bolts]
    assert abs(wrap_180(section.left_deg - 210.0)) == pytest.approx(min(off))
    cut = {piece.name for piece in section.cuts}
    assert {"index B", "centre"} <= cut
    assert any(name.startswith("bolt") for name in cut)
    right = [piece for piece in section.cuts if piece.name == "index B"]
    assert [(piece.left_mm + piece.right_mm) / 2.0 for piece in right] == pytest.approx(
        [plate_of().index_pin.circle_radius_mm]
    )


def test_without_bolts_the_section_is_straight():
    plate = plate_of(bolts=None)
    section = section_of(plate, features_of(plate, HOLES), "B")
    assert (section.left_deg, section.right_deg) == (210.0, 30.0)


def test_from_below_everything_lies_mirrored_with_both_offsets_as_they_are():
    plate, mount = plate_of(), mount_of(0.0, -30.0, 100.0)
    features = features_of(plate, mount)
    above, below = (view_of(plate, features, side, "B") for side in ("above", "below"))
    for one, other in zip(above.rounds, below.rounds, strict=True):
        assert (other.name, other.x_mm, other.y_mm) == (one.name, -one.x_mm, one.y_mm)
    for one, other in zip(above.labels, below.labels, strict=True):
        assert (one.drilled_deg, one.offset_deg) == (other.drilled_deg, other.offset_deg)
        assert other.angle_deg == pytest.approx(wrap_360(-one.angle_deg))
        assert wrap_360(-one.offset_deg) == pytest.approx(one.drilled_deg)
    assert [one.name for one in above.labels if one.in_use] == ["B"]


def test_what_is_cut_from_below_is_hidden_from_above():
    plate = plate_of(bolts__counterbore_side="below")
    features = features_of(plate, HOLES)
    hidden = {side: {one.name for one in view_of(plate, features, side, "A").rounds if one.hidden} for side in
              ("above", "below")}  # fmt: skip
    assert {"bolt 1 head", "index A", "step"} <= hidden["above"]
    assert "bolt 1" not in hidden["above"] | hidden["below"]
    assert hidden["below"] == set()
    threads = {one.name: one.thread_mm for one in view_of(plate, features, "below", "A").rounds}
    assert threads["index A"] > 0.0
    assert threads["bolt 1"] == 0.0
