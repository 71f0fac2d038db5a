"""Play, and in how many ways the part goes together."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.plate.body.fits import fits_ways, play_deg, pushed_deg, rotator_ways
from tests.core.plate.samples import HOLES, mount_of, plate_of

CIRCLE = {"thread": "M8", "count": 4, "circle_diameter_mm": 120.0}


def free_turn_deg(width_mm: float, head_mm: float, spigot_mm: float, radius_mm: float) -> float:
    """By trying: the greatest turn at which the spigot's play still keeps the head in the slot."""
    turns = np.radians(np.linspace(0.0, 10.0, 200_001))
    sideways = radius_mm * np.sin(turns) - spigot_mm / 2.0
    return float(np.degrees(turns[sideways + head_mm / 2.0 <= width_mm / 2.0 + 1e-12].max()))


@settings(max_examples=20)
@given(st.floats(0.0, 1.5), st.floats(0.0, 0.5), st.floats(30.0, 120.0))
def test_free_play_is_how_far_the_head_can_turn_in_the_slot(clearance_mm, spigot_mm, radius_mm):
    plate = plate_of(
        step__clearance_mm=spigot_mm,
        index_pin={"thread": "M5", "circle_radius_mm": radius_mm},
        keyway={"width_mm": 8.5 + clearance_mm, "depth_mm": 6.0},
    )
    assert play_deg(plate) == pytest.approx(
        free_turn_deg(8.5 + clearance_mm, 8.5, spigot_mm, radius_mm), abs=1e-4
    )


@pytest.mark.parametrize(
    ("clearance_mm", "radius_mm", "play"),
    [(0.2, 50.0, 0.11), (0.5, 50.0, 0.29)],
)
def test_the_trades_figures(clearance_mm, radius_mm, play):
    """0.2 mm at 50 mm: 0.11 deg; computed in the trade notes, no published source."""
    plate = plate_of(
        step__clearance_mm=0.0,
        index_pin={"thread": "M5", "circle_radius_mm": radius_mm},
        keyway={"width_mm": 8.5 + clearance_mm, "depth_mm": 6.0},
    )
    assert play_deg(plate) == pytest.approx(play, abs=0.005)


def test_pushed_to_one_side_the_pins_play_is_an_offset_and_the_steps_is_left():
    plate = plate_of(step__clearance_mm=0.2, keyway={"width_mm": 10.5, "depth_mm": 7.0})
    off_deg, left_deg = pushed_deg(plate)
    assert off_deg == pytest.approx(math.degrees(math.asin(0.25 / 47.0)))
    assert left_deg == pytest.approx(math.degrees(math.asin(0.1 / 47.0)))
    assert play_deg(plate) == pytest.approx(off_deg + left_deg, abs=1e-5)


def test_anodising_takes_play_from_the_step():
    bare, coated = plate_of(step__clearance_mm=0.2), plate_of(step__clearance_mm=0.2, anodise_um=50.0)
    assert pushed_deg(coated)[1] == pytest.approx(0.75 * pushed_deg(bare)[1], rel=1e-5)


@pytest.mark.parametrize(
    ("changes", "ways"),
    [
        ({}, 1),
        ({"keyway__right_across": True}, 2),
        ({"step": None}, 1),
        ({"step": None, "index_pin__engaged_mm": 50.0}, 1),
        ({"step": None, "bolts": None}, 1),
        ({"step": None, "bolts": None, "index_pin__engaged_mm": 50.0}, 2),
        ({"step": None, "bolts": None, "index_pin__engaged_mm": 50.0, "keyway__right_across": True}, 4),
        ({"bolts": None, "index_pin__engaged_mm": 50.0}, 1),
    ],
)
def test_key_bolts_and_step_tell_in_how_many_ways_the_part_goes_in(changes, ways):
    assert fits_ways(plate_of(**changes), HOLES) == ways


def turned_onto_itself(places, turns) -> int:
    """By rotation matrices: how many of these turns lay every bolt on a bolt."""
    points = np.array(places)
    count = 0
    for turn in turns:
        angle = math.radians(turn)
        matrix = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
        apart = np.linalg.norm((points @ matrix.T)[:, None, :] - points[None, :, :], axis=2)
        count += bool((apart.min(axis=1) < 0.3).all())
    return count


@settings(max_examples=30)
@given(st.integers(1, 8), st.floats(0.0, 360.0), st.sets(st.integers(0, 7), max_size=3))
def test_the_rotator_goes_on_in_as_many_ways_as_its_pattern_turns_onto_itself(count, first_deg, left_out):
    angles = [first_deg + k * 360.0 / count for k in range(count) if k not in left_out] or [first_deg]
    places = [(60.0 * math.sin(math.radians(a)), 60.0 * math.cos(math.radians(a))) for a in angles]
    plate = plate_of(bolts={"thread": "M8", "points_mm": places})
    assert rotator_ways(plate) == turned_onto_itself(places, np.arange(0.0, 360.0, 360.0 / count))


def test_one_bolt_set_aside_tells_the_rotators_ways_apart():
    places = [(60.0, 0.0), (0.0, -60.0), (-60.0, 0.0), (6.0, 59.7)]
    assert rotator_ways(plate_of(bolts=CIRCLE)) == 4
    assert rotator_ways(plate_of(bolts={"thread": "M8", "rectangle_mm": [80.0, 60.0]})) == 2
    assert rotator_ways(plate_of(bolts={"thread": "M8", "points_mm": places})) == 1
    assert rotator_ways(plate_of(bolts=None)) == 1


def test_another_hole_changes_no_fit():
    plate = plate_of()
    assert fits_ways(plate, mount_of(0.0)) == fits_ways(plate, mount_of(0.0, 180.0, 90.0))
