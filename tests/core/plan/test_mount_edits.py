"""Edits of the mount that change more than one value at once."""

from __future__ import annotations

import json

import pytest

from core.base.edits import changed, field_range
from core.base.errors import ValueRangeError
from core.mount.dial.readings import azimuth_dial, elevation_dial, shifted_dial
from core.mount.model.calibration import CalibrationPoint
from core.mount.model.station import MOST_HOLES, AzimuthAxis
from core.plan.document import Plan
from core.plan.mount_edits import (
    with_dial_true,
    with_new_hole,
    with_new_reading,
    with_renamed_hole,
    with_wrap,
    without_hole,
    without_reading,
)
from core.plan.storage import plan_from_text
from tests.plans import full_plan_data, plan_of, short_plan_data


@pytest.fixture
def full() -> Plan:
    return plan_from_text(json.dumps(full_plan_data()), "test")


@pytest.fixture
def short() -> Plan:
    return plan_from_text(json.dumps(short_plan_data()), "test")


def test_a_new_hole_takes_the_first_free_letter(full):
    renamed = with_renamed_hole(full, 0, "B2")
    assert [hole.name for hole in with_new_hole(full).mount.index_holes] == ["A", "B", "C"]
    assert [hole.name for hole in with_new_hole(renamed).mount.index_holes] == ["B2", "B", "A"]


def test_a_plate_has_so_many_holes_at_most(full):
    crowded = full
    for _ in range(MOST_HOLES - 2):
        crowded = with_new_hole(crowded)
    assert len({hole.name for hole in crowded.mount.index_holes}) == MOST_HOLES == 24
    with pytest.raises(ValueRangeError, match="a list of at most 24 items"):
        with_new_hole(crowded)


def test_what_names_a_hole_follows_its_name(full):
    renamed = with_renamed_hole(full, 1, "far")
    assert renamed.mount.index_hole == "far"
    assert renamed.mount.sighting_correction is not None
    assert renamed.mount.sighting_correction.index_hole == "far"
    assert with_renamed_hole(full, 0, "near").mount.index_hole == "B"


@pytest.mark.parametrize("name", ["", "B", "x" * 25])
def test_a_name_that_cannot_be_is_refused(full, name):
    with pytest.raises(ValueRangeError):
        with_renamed_hole(full, 0, name)


def test_without_the_hole_in_use_the_first_one_left_is(full):
    assert without_hole(full, 1).mount.index_hole == "A"
    assert without_hole(full, 0).mount.index_hole == "B"
    with pytest.raises(ValueRangeError):
        without_hole(without_hole(full, 0), 0)


def test_a_wrap_is_set_and_left_out_as_a_whole(full, short):
    wrapped = with_wrap(short, (180.0, -180.0))
    assert wrapped.mount.azimuth.dial_wraps_to_deg == -180.0
    assert "travel_deg" not in wrapped.mount.azimuth.model_fields_set
    free = with_wrap(full, None)
    assert not {"dial_wraps_at_deg", "dial_wraps_to_deg"} & free.mount.azimuth.model_fields_set
    assert free.mount.azimuth.travel_deg == 430.0
    with pytest.raises(ValueRangeError, match="more than"):
        with_wrap(full, (0.0, 360.0))


@pytest.mark.parametrize("axis", ["azimuth", "elevation"])
def test_a_new_reading_leaves_the_dial_as_it_reads(axis):
    """Added at what the dial reads so far, so nothing jumps until a figure is typed."""
    plan = plan_of(short_plan_data())
    more = with_new_reading(with_new_reading(plan, axis), axis)
    read = azimuth_dial if axis == "azimuth" else elevation_dial
    for degrees in (0.0, 30.0, 77.0, 120.0):
        before, after = (read(degrees, getattr(one.mount, axis)).value_deg for one in (plan, more))
        assert after == pytest.approx(before, abs=1e-9)
    assert without_reading(without_reading(more, axis, 0), axis, 0).mount == plan.mount


def test_the_dial_is_set_true_in_the_seat_of_the_plan():
    plan = plan_of(short_plan_data(), mount__keyway_bearing_deg=100.0)
    assert with_dial_true(plan, 250.0).mount.azimuth.dial_at_stop_deg == 100.0
    assert with_dial_true(plan, -110.0).mount.azimuth.dial_at_stop_deg == 100.0
    with pytest.raises(ValueRangeError, match="from 0 to 360"):
        with_dial_true(plan, 361.0)


@pytest.mark.parametrize("axis", ["azimuth", "elevation"])
def test_a_reading_beyond_what_a_dial_can_show_is_refused_in_a_sentence(axis):
    """A dial set far off has no more room for one."""
    far = {"mount__azimuth__dial_at_stop_deg": 0.0, "mount__azimuth__dial_scale": 1.0}
    plan = plan_of(short_plan_data(), **far)
    axis_now = getattr(plan.mount, axis)
    points = tuple(CalibrationPoint(axis_deg=deg, dial_deg=deg) for deg in (0.0, 30.0))
    limit = field_range(CalibrationPoint, "axis_deg")[1]
    last = CalibrationPoint(axis_deg=limit, dial_deg=limit)
    full = changed(plan, f"mount.{axis}.calibration", (*points, last))
    assert getattr(full.mount, axis) != axis_now
    with pytest.raises(ValueRangeError):
        with_new_reading(full, axis)


def test_a_dial_that_cannot_read_so_far_off_is_refused_in_a_sentence():
    plan = plan_of(short_plan_data())
    axis = plan.mount.azimuth
    limit = field_range(AzimuthAxis, "dial_at_stop_deg")[1]
    with pytest.raises(ValueRangeError, match="dial_at_stop_deg"):
        shifted_dial(axis, 2.0 * limit)
