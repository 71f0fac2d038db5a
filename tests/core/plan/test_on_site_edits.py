"""Edits of what is written down on site."""

from __future__ import annotations

import pytest

from core.base.errors import ValueRangeError
from core.plan.on_site_edits import level_rows, with_correction, with_level_rows, with_row, without_rows
from tests.plans import plan_of, short_plan_data

MAST = {"name": "mast", "latitude_deg": 47.3, "longitude_deg": 9.2}


def test_rows_are_added_changed_and_taken_away():
    plan = with_row(plan_of(short_plan_data()), "landmarks", MAST)
    assert plan.landmarks[0].sigma_m == 10.0
    moved = with_row(plan, "landmarks", MAST | {"name": "tower"}, place=0)
    assert [one.name for one in moved.landmarks] == ["tower"]
    assert without_rows(moved, "landmarks", [0]).landmarks == ()


def test_two_landmarks_of_one_name_are_refused():
    plan = with_row(plan_of(short_plan_data()), "landmarks", MAST)
    with pytest.raises(ValueRangeError, match="same name"):
        with_row(plan, "landmarks", MAST)


def test_a_sighting_without_a_dial_is_refused():
    with pytest.raises(ValueRangeError, match="one dial at least"):
        with_row(plan_of(short_plan_data()), "sightings", {"time": "2024-11-01T17:00:00Z", "target": "Sun"})


def test_half_a_turn_is_a_reading_the_other_way():
    assert level_rows(350.0, 0.3, None) == [{"bearing_deg": 350.0, "rise_deg": 0.3}]
    plan = with_level_rows(plan_of(short_plan_data()), level_rows(350.0, 0.3, -0.1))
    assert [(one.bearing_deg, one.rise_deg) for one in plan.level_readings] == [(350.0, 0.3), (170.0, -0.1)]


def test_a_correction_is_of_the_seat_as_it_is_and_changes_nothing_else():
    plan = plan_of(short_plan_data(), mount__keyway_bearing_deg=143.0)
    new = with_correction(plan, -1.5, "upright")
    fitted = new.mount.sighting_correction
    assert fitted is not None
    assert (fitted.deg, fitted.keyway_bearing_deg, fitted.posture) == (-1.5, 143.0, "upright")
    assert fitted.index_hole == plan.mount.index_hole
    assert new.mount.model_copy(update={"sighting_correction": None}) == plan.mount
