"""What no station has is refused by its field, with the range, in a plan file and when an edit brings it."""

from __future__ import annotations

import copy
import json

import pytest

from core.base.edits import changed
from core.base.errors import PlanError, ValueRangeError
from core.mount.dial.readings import shifted_dial
from core.mount.model.station import AzimuthAxis
from core.plan.document import Plan
from core.plan.quantities import QUANTITIES
from core.plan.storage import plan_from_text
from tests.plans import full_plan_data

#: Key path, a value that no station has, and the range that is told.
BEYOND = [
    ("mount.azimuth.rate_deg_s", 1e-9, "0.05 to 360"),
    ("mount.azimuth.rate_back_deg_s", 0.049, "0.05 to 360"),
    ("mount.elevation.rate_deg_s", 0.0, "0.05 to 360"),
    ("mount.elevation.rate_deg_s", 361.0, "0.05 to 360"),
    ("mount.azimuth.acceleration_deg_s2", 1e-9, "0.001 to 1000"),
    ("mount.azimuth.travel_deg", 1e-300, "1 to 1440"),
    ("mount.azimuth.dial_scale", 1e7, "-1000 to 1000"),
    ("mount.azimuth.dial_scale", -1e9, "-1000 to 1000"),
    ("mount.azimuth.dial_at_stop_deg", 1e6, "-3600 to 3600"),
    ("mount.azimuth.dial_wraps_at_deg", 1e17, "-3600 to 3600"),
    ("mount.azimuth.dial_wraps_to_deg", -1e17, "-3600 to 3600"),
    ("mount.azimuth.dial_division_deg", 1e-300, "0.01 to 90"),
    ("mount.elevation.dial_division_deg", 0.0, "0.01 to 90"),
    ("mount.elevation.dial_offset_deg", 1e9, "-3600 to 3600"),
    ("mount.keyway_bearing_deg", 1e17, "-1440 to 1440"),
    ("mount.datum_to_stop_deg", -1e17, "-1440 to 1440"),
    ("mount.elevation_unit_offset_deg", 1e17, "-1440 to 1440"),
    ("mount.sighting_correction.keyway_bearing_deg", 1e17, "-1440 to 1440"),
    ("mount.drive.duty", 1e-9, "0.01 to 1"),
    ("mount.drive.duty_window_s", 1e-9, "0.1 to 7200"),
    ("antennas.0.beamwidth_deg", 0.09, "0.1 to 180"),
    ("satellites.0.transponders.0.downlink_hz", 145.868, "1000000 to 1e+12"),
    ("satellites.0.transponders.0.uplink_hz", 1e13, "1000000 to 1e+12"),
    ("satellites.0.transponders.0.bandwidth_hz", 0.0, "1 to 1000000000"),
    ("satellites.0.transponders.0.tone_hz", 5.0, "20 to 5000"),
    ("sightings.0.azimuth_dial_deg", 1e17, "-3600 to 3600"),
    ("sightings.0.elevation_dial_deg", 1e17, "-3600 to 3600"),
]


def with_value(path: str, value: object) -> dict:
    data = node = copy.deepcopy(full_plan_data())
    *before, last = (int(key) if key.isdigit() else key for key in path.split("."))
    for key in before:
        node = node[key] if isinstance(key, int) else node.setdefault(key, {})
    node[last] = value
    return data


@pytest.mark.parametrize(("path", "value", "allowed"), BEYOND)
def test_a_file_is_refused_by_field_with_the_range(path, value, allowed):
    with pytest.raises(PlanError) as caught:
        plan_from_text(json.dumps(with_value(path, value)), "evening")
    assert caught.value.place.replace("[1]", ".0") == path
    assert caught.value.reason == f"is {json.dumps(value)}, it must be {allowed}"


@pytest.mark.parametrize(("path", "value", "allowed"), BEYOND)
def test_an_edit_is_refused_by_field_with_the_range(path, value, allowed):
    plan = plan_from_text(json.dumps(full_plan_data()), "evening")
    with pytest.raises(ValueRangeError) as caught:
        changed(plan, path, value)
    assert (caught.value.field, caught.value.allowed) == (path, allowed)


def test_what_is_typed_is_held_to_no_more():
    """A typed value is asked back before the plan refuses it: its range lies within the file's."""
    for path, value, _allowed in BEYOND:
        quantity = QUANTITIES.get(path.replace(".0.", "."))
        if quantity is not None and not quantity.bearing:
            assert not quantity.low <= value <= quantity.high


@pytest.mark.parametrize(
    ("path", "item", "most"),
    [
        ("mount.index_holes", {"name": "A", "offset_deg": 0.0}, 24),
        ("site.horizon", {"azimuth_deg": 1.0, "elevation_deg": 1.0}, 2000),
        ("antennas", {"name": "x"}, 16),
        ("seat_limits", {"from_deg": 1.0, "to_deg": 2.0}, 100),
        ("mount.azimuth.calibration", {"axis_deg": 1.0, "dial_deg": 1.0}, 500),
    ],
)
def test_a_list_has_so_many_items_at_most(path, item, most):
    with pytest.raises(PlanError) as caught:
        plan_from_text(json.dumps(with_value(path, [item] * (most + 1))), "evening")
    assert caught.value.place == path
    assert f"it must be a list of at most {most} items" in caught.value.reason


def test_a_dial_comes_round_a_hundred_times_at_most():
    """Every jump is a mark and a place that one figure may stand for."""
    wraps = {"travel_deg": 450.0, "dial_wraps_at_deg": 4.5, "dial_wraps_to_deg": 0.0}
    assert AzimuthAxis(**wraps).dial_wraps_at_deg == 4.5
    for change in ({"dial_wraps_at_deg": 4.4}, {"dial_scale": -1.1}, {"dial_wraps_at_deg": 1e-300}):
        with pytest.raises(ValueError, match=r"times the dial jumps along the travel, it must be 100 times"):
            AzimuthAxis(**(wraps | change))


def test_a_dial_shifted_beyond_every_dial_is_refused():
    with pytest.raises(ValueRangeError, match=r"dial_at_stop_deg is 3700\.0, it must be -3600 to 3600"):
        shifted_dial(AzimuthAxis(dial_at_stop_deg=3500.0), 200.0)


def test_the_range_of_an_epoch_is_the_years_of_spaceflight():
    for year, good in (("1956", False), ("1957", True), ("2099", True), ("2100", False), ("9999", False)):
        data = full_plan_data()
        data["satellites"][0]["elements"]["EPOCH"] = f"{year}-01-01T00:00:00"
        if good:
            assert isinstance(plan_from_text(json.dumps(data), "evening"), Plan)
        else:
            with pytest.raises(PlanError, match=f"is {year}-01-01, it must be in the years 1957 to 2099"):
                plan_from_text(json.dumps(data), "evening")
